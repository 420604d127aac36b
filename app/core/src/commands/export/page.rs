//! The file with everything of one customer: a page that a person reads, and its entries as JSON.

use serde_json::{Map, Number, Value};
use shared::log::body::{Body, Role, Sold, field};
use shared::log::fold::{Item, PairState, ShopState, TicketState, summary};
use shared::log::supersession::{ReadEntry, Supersession};
use shared::log::{EntryId, MadeAt, PersonId, ReceivedEntry, Subject, SubjectKind};
use shared::price::bill;
use shared::price::minor::Minor;
use shared::trade::formulas::day::Day;
use shared::trade::{CameWith, Component, Condition, Construction, Goods, Material, operations};

use super::super::counter::counted_goods;
use super::super::shop::money;
use super::loader::CustomerRecords;
use crate::pair_history::{caption, day_of};

/// Before the title. The page loads nothing and runs nothing, also where it is opened from a folder.
const HEAD: &str = "<meta charset=\"utf-8\"><meta http-equiv=\"Content-Security-Policy\" \
    content=\"default-src 'none'; img-src data:; media-src data:; style-src 'unsafe-inline'\">\
    <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"><style>\
    body{font:16px/1.5 system-ui,sans-serif;max-width:50rem;margin:2rem auto;padding:0 1rem}\
    img{max-width:100%;display:block}li{overflow-wrap:anywhere}p{margin:.5rem 0 0}ul{margin:0}</style>";

/// Everything of a customer as one HTML file that needs nothing else.
///
/// `day` is the day on which it is made, in words. `sources` are the photographs and voice notes by their SHA-256, each as a
/// `data:` URL. Workers of the shop appear by their role, because their names are other people's data.
pub fn page(records: &CustomerRecords, shop: &ShopState, day: &str, sources: &[(String, String)]) -> String {
    let all: Vec<&ReceivedEntry> = records.entries.iter().collect();
    let mut page = CustomerPage {
        shop,
        sources,
        standing: &Supersession::of(all),
        embedded: Vec::new(),
        shows: String::new(),
    };
    let title = words::export::everything_of(&name(records));
    let made = match shop.name() {
        Some(shop) => words::export::made_by_on(shop, day),
        None => day.to_owned(),
    };
    let mut html = [
        "<!DOCTYPE html><html lang=\"",
        words::current().tag(),
        "\"><head>",
        HEAD,
    ]
    .concat();
    html.push_str(&element("title", &escaped(&title)));
    html.push_str("</head><body>");
    html.push_str(&element("h1", &escaped(&title)));
    html.push_str(&element("p", &escaped(&made)));
    html.push_str(&element("p", words::export::for_machines()));
    for subject in &records.subjects {
        html.push_str(&page.section(records, subject));
    }
    html.push_str("<script type=\"application/json\" id=\"entries\">");
    html.push_str(&json(page.standing));
    html.push_str("</script></body></html>");
    html
}

/// The customer's name, or words for it.
fn name(records: &CustomerRecords) -> String {
    let customers = records.subjects.iter();
    let customers = customers.filter(|subject| subject.kind == SubjectKind::Customer);
    // Plain fields are read alike for every kind of subject.
    let details = |subject| PairState::of(records.about(subject)).details;
    let mut named = customers.filter_map(|subject| Some(details(subject).text(field::NAME)?.to_owned()));
    let unnamed = || words::export::this_customer().to_owned();
    named.next_back().unwrap_or_else(unnamed)
}

/// The entries as a JSON list, one in each line, exactly as they are stored. A script element ends at the first `</script`
/// in it, so `<` is written as the escape for it.
fn json(entries: &Supersession<'_>) -> String {
    let entry = |read: &ReadEntry<'_>| {
        serde_json::to_string(read.received).expect("entries have string keys and no failing serialisers")
    };
    let lines: Vec<String> = entries.history().iter().map(entry).collect();
    ["[\n", &lines.join(",\n").replace('<', "\\u003c"), "\n]"].concat()
}

/// What the lines of the page are made from.
struct CustomerPage<'a> {
    shop: &'a ShopState,
    sources: &'a [(String, String)],
    /// All entries in order: an entry's place in it is its number on the page.
    standing: &'a Supersession<'a>,
    /// The photographs and voice notes that are on the page already.
    embedded: Vec<String>,
    /// What the photograph of the entry that is being written shows.
    shows: String,
}

impl CustomerPage<'_> {
    /// A subject with the entries about it.
    fn section(&mut self, records: &CustomerRecords, subject: &Subject) -> String {
        let standing = self.standing;
        let numbered = standing.history().iter().enumerate();
        let own = numbered.filter(|(_, read)| read.received.entry.subject.id == subject.id);
        let entries: Vec<String> = own.map(|(at, read)| self.entry(at + 1, read)).collect();
        let heading = element("h2", &escaped(&heading(records, subject)));
        [
            "<section>",
            &heading,
            &self.goods(records, subject),
            "<ol>",
            &entries.concat(),
            "</ol></section>",
        ]
        .concat()
    }

    /// The goods that are sold on a ticket, each with its number, price, tax and day; empty if there are none. Of a ticket
    /// with several lines the taxes may differ in their sum from the bill's by a rounding, because that is calculated on
    /// the whole.
    fn goods(&self, records: &CustomerRecords, subject: &Subject) -> String {
        if subject.kind != SubjectKind::Ticket {
            return String::new();
        }
        let ticket = TicketState::of(records.about(subject));
        let line = |item: &Item<Sold>| {
            let goods = counted_goods(&item.body.what, item.body.count);
            let due = bill::due(std::iter::once(bill::goods(&item.body)), ticket.tax());
            let (price, day) = (money(self.shop, due.minor), when(item.at));
            let line = match due.tax {
                Some(tax) => words::export::goods_sold_with_tax(&goods, &price, &money(self.shop, tax), &day),
                None => words::export::goods_sold(&goods, &price, &day),
            };
            element("li", &escaped(&line))
        };
        let lines: Vec<String> = ticket.sold.iter().map(line).collect();
        if lines.is_empty() {
            return String::new();
        }
        [
            element("h3", words::export::sold()),
            element("ul", &lines.concat()),
        ]
        .concat()
    }

    /// An entry: what it is, when and by whom it was made, whether it still stands, and its fields.
    fn entry(&mut self, number: usize, read: &ReadEntry<'_>) -> String {
        let entry = &read.received.entry;
        let standing = if self.standing.is_retracted(entry.id) {
            words::export::withdrawn_later()
        } else if self.standing.is_replaced(entry.id) {
            words::export::replaced_later()
        } else {
            ""
        };
        let about = [&when(entry.made_at), self.role(entry.person), standing];
        let about: Vec<&str> = about.into_iter().filter(|word| !word.is_empty()).collect();
        let number = number.to_string();
        let opening = ["<li id=\"n", &number, "\" value=\"", &number, "\"><b>"].concat();
        let kind = escaped(words::export::kind(&entry.kind));
        let fields = self.fields_of(read);
        [
            &opening,
            &kind,
            "</b>, ",
            &escaped(&about.join(", ")),
            &fields,
            "</li>",
        ]
        .concat()
    }

    /// The fields of an entry; a body that is no JSON as it is.
    fn fields_of(&mut self, read: &ReadEntry<'_>) -> String {
        self.shows = match &read.body {
            Body::Photo(photo) => caption(photo).to_owned(),
            _ => words::history::other_photo().to_owned(),
        };
        let body = &read.received.entry.body;
        match (&read.body, serde_json::from_str::<Value>(body)) {
            (Body::Detail(detail), _) => element("ul", &self.field(&detail.field, &detail.value)),
            (_, Ok(value)) => self.value("", &value),
            _ if body.is_empty() => element("p", words::export::content_erased()),
            _ => element("p", &escaped(body)),
        }
    }

    /// A field and its value as an item of a list; nothing if it only names something that is not on the page.
    fn field(&mut self, name: &str, value: &Value) -> String {
        // Where the full photograph is missing, the small one is in its place.
        let value = match self.value(name, value) {
            missing if name == "thumb" && missing == words::export::not_on_this_device() => String::new(),
            value => value,
        };
        if value.is_empty() {
            return value;
        }
        let label = escaped(&words::export::field(name).replace('_', " "));
        element("li", &[&label, ": ", &value].concat())
    }

    /// A value as HTML; empty if there is nothing to say.
    fn value(&mut self, name: &str, value: &Value) -> String {
        match value {
            Value::Null => String::new(),
            Value::Bool(true) => words::pair::answer_yes().to_owned(),
            Value::Bool(false) => words::pair::answer_no().to_owned(),
            Value::Number(number) => escaped(&self.number(name, number)),
            Value::String(text) => self.text(name, text),
            Value::Array(list) => {
                let all = list.iter().map(|one| self.value(name, one));
                let all: Vec<String> = all.filter(|one| !one.is_empty()).collect();
                let apart = if list.iter().any(Value::is_object) {
                    ""
                } else {
                    ", "
                };
                all.join(apart)
            }
            Value::Object(fields) => self.object(fields),
        }
    }

    /// A photograph or voice note itself, anything else as the list of its fields.
    fn object(&mut self, fields: &Map<String, Value>) -> String {
        let text = |name: &str| fields.get(name).and_then(Value::as_str);
        if let (Some(hash), Some(media_type)) = (text("sha256"), text("media_type")) {
            return self.blob(hash, media_type.starts_with("audio/"));
        }
        let all: Vec<String> = fields
            .iter()
            .map(|(name, value)| self.field(name, value))
            .collect();
        match all.concat() {
            none if none.is_empty() => none,
            all => element("ul", &all),
        }
    }

    /// A photograph or voice note: the first time in full, then as a link.
    fn blob(&mut self, hash: &str, sound: bool) -> String {
        let Some((_, source)) = self.sources.iter().find(|(known, _)| known == hash) else {
            return words::export::not_on_this_device().to_owned();
        };
        let (id, source) = (escaped(hash), escaped(source));
        if self.embedded.iter().any(|known| known == hash) {
            return ["<a href=\"#", &id, "\">", words::export::shown_already(), "</a>"].concat();
        }
        self.embedded.push(hash.to_owned());
        if sound {
            return ["<audio controls id=\"", &id, "\" src=\"", &source, "\"></audio>"].concat();
        }
        let shows = escaped(&self.shows);
        [
            "<img id=\"",
            &id,
            "\" alt=\"",
            &shows,
            "\" src=\"",
            &source,
            "\">",
        ]
        .concat()
    }

    fn number(&self, name: &str, number: &Number) -> String {
        let money_fields = ["minor", "price_minor", "worth_minor", field::IF_HIDDEN];
        match number.as_i64() {
            Some(amount) if money_fields.contains(&name) => money(self.shop, Minor(amount)),
            Some(whole) => whole.to_string(),
            None => number.as_f64().unwrap_or_default().to_string(),
        }
    }

    /// A text; for the id of an entry a link to it, for the hash of a photograph the photograph. Nothing for the id of
    /// anything else, which only machines read.
    fn text(&mut self, name: &str, text: &str) -> String {
        if text.len() == 64 && text.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return self.blob(text, false);
        }
        let id = text.parse::<EntryId>().ok().filter(|_| text.len() == 36);
        let Some(id) = id else {
            return escaped(&in_words(name, text));
        };
        let place = self.standing.history().iter().position(|read| read.id() == id);
        place.map_or_else(String::new, |at| {
            let number = (at + 1).to_string();
            let words = words::export::entry_number(at + 1);
            ["<a href=\"#n", &number, "\">", &words, "</a>"].concat()
        })
    }

    /// Who made an entry, without the name.
    fn role(&self, person: Option<PersonId>) -> &'static str {
        let people = self.shop.people.iter().rev();
        let mut known = people.filter(|item| Some(item.body.person) == person);
        match known.next().map(|item| &item.body.role) {
            Some(Role::Repairer) => words::export::a_repairer(),
            Some(Role::Helper) => words::export::a_helper(),
            _ => words::export::the_shop(),
        }
    }
}

/// The heading of a subject: what it is, and when it was opened.
fn heading(records: &CustomerRecords, subject: &Subject) -> String {
    let about = records.about(subject);
    let opened = about.first().map(|first| when(first.entry.made_at));
    let state = PairState::of(about);
    let what = match (&subject.kind, state.details.text(field::TAG)) {
        (SubjectKind::Customer, _) => return words::export::customer().to_owned(),
        (SubjectKind::Pair, _) => summary::named(&summary::title(&state)).to_owned(),
        (SubjectKind::Job, Some(tag)) => words::pair::job(tag),
        (SubjectKind::Job, None) => words::pair::job_without_number().to_owned(),
        _ => words::export::drop_off().to_owned(),
    };
    words::export::heading_and_day(&what, &opened.unwrap_or_default())
}

/// When an entry was made, on the clock of the device that made it; empty if that clock was years wrong.
fn when(at: MadeAt) -> String {
    const DAY_MIN: i64 = 24 * 60;
    let minutes = at.utc.0.div_euclid(60_000) + i64::from(at.offset_min);
    let of_day = u32::try_from(minutes.rem_euclid(DAY_MIN)).unwrap_or(0);
    day_of(at).map_or_else(String::new, |day| {
        words::time::day_and_time(&day.words(), of_day / 60, of_day % 60)
    })
}

/// A value of a field as a person reads it: codes by the trade's words, days in words, anything else as it is.
fn in_words(name: &str, text: &str) -> String {
    match name {
        "operation" | "operations" => operations::name(text).to_owned(),
        "part" => Component::from(text).words().to_owned(),
        "condition" => Condition::from(text).words().to_owned(),
        field::GOODS => Goods::from(text).words().to_owned(),
        field::MATERIALS | field::LINING => Material::from(text).words().to_owned(),
        field::CAME_WITH => CameWith::from(text).words().to_owned(),
        field::CONSTRUCTION_GUESSED | field::CONSTRUCTION_OPENED | field::CONSTRUCTION_LEFT => {
            Construction::from(text).words().to_owned()
        }
        field::DAY | "next_check" => Day::parse(text).map_or_else(|| text.to_owned(), Day::words),
        _ if text.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_') => text.replace('_', " "),
        _ => text.to_owned(),
    }
}

/// An element with this content, which is HTML already.
fn element(name: &str, content: &str) -> String {
    ["<", name, ">", content, "</", name, ">"].concat()
}

/// A text as it may stand in HTML, also between the quotes of an attribute.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            other => safe.push(other),
        }
    }
    safe
}
