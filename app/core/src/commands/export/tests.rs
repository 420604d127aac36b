mod whose;

use std::collections::BTreeSet;

use proptest::prelude::*;
use serde_json::Value;
use shared::log::body::{Blob, Body, Detail, Note, Opened, Photo, Shows, field};
use shared::log::fold::ShopState;
use shared::log::{Entry, EntryId, PersonId, ReceivedEntry, Subject, SubjectId, SubjectKind, about};
use shared::price::minor::Minor;
use shared::trade::operations;
use support::every::{Stay, every_kind};
use support::sample::{Pen, blob_of, unsent};
use uuid::Uuid;

use super::*;
use crate::commands::money;

/// Everything that these entries say about a customer.
fn collected(customer: SubjectId, entries: &[ReceivedEntry]) -> CustomerRecords {
    let mut loader = CustomerLoader::new(customer);
    loop {
        let wanted = loader.wanted();
        if wanted.is_empty() {
            return loader.finish();
        }
        for id in wanted {
            let of_it = entries.iter().filter(|one| about(&one.entry).contains(&id));
            loader.give(id, of_it.cloned().collect());
        }
    }
}

/// The page of these records, without pictures.
fn plain_page(records: &CustomerRecords) -> String {
    page(records, &ShopState::default(), "2 March 2026", &[])
}

fn ids<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> BTreeSet<EntryId> {
    entries.into_iter().map(|one| one.entry.id).collect()
}

/// A stay with entries of every kind, each made by the stay's person; and one entry of a newer app.
fn whole_stay() -> (Stay, Vec<ReceivedEntry>) {
    let mut pen = Pen::new(1);
    let mut subject = |kind| Subject::new(kind, pen.subject());
    let stay = Stay {
        shop: subject(SubjectKind::Shop),
        customer: subject(SubjectKind::Customer),
        pair: subject(SubjectKind::Pair),
        ticket: subject(SubjectKind::Ticket),
        job: subject(SubjectKind::Job),
        earlier: subject(SubjectKind::Job).id,
        person: PersonId(Uuid::from_u128(9)),
        secret: "ab".repeat(16),
        full: blob_of(b"picture", "image/jpeg"),
        thumb: blob_of(b"small", "image/jpeg"),
        voice: blob_of(b"spoken", "audio/webm"),
    };
    let mut entries: Vec<Entry> = Vec::new();
    every_kind(&stay, |subject, body, over| {
        let mut entry = pen.entry(subject.kind.clone(), subject.id, &body);
        entry.over = over;
        entry.person = Some(stay.person);
        let id = entry.id;
        entries.push(entry);
        id
    });
    let newer = r#"{"seen_at":"the far bench"}"#;
    entries.push(pen.raw(SubjectKind::Job, stay.job.id, "hologram", newer));
    (stay, unsent(&entries))
}

/// The stay's own records and the shop's state.
fn of_stay(stay: &Stay, entries: &[ReceivedEntry]) -> (CustomerRecords, ShopState) {
    let of_shop = entries.iter().filter(|one| one.entry.subject == stay.shop);
    (collected(stay.customer.id, entries), ShopState::of(of_shop))
}

fn source(blob: &Blob, content: &str) -> (String, String) {
    let url = format!("data:{};base64,{content}", blob.media_type);
    (blob.sha256.clone(), url)
}

/// A person who brings one pair on one ticket.
struct Visit {
    customer: SubjectId,
    pair: SubjectId,
    ticket: SubjectId,
    job: SubjectId,
    entries: Vec<Entry>,
}

/// What a customer of this name brings; `pair`, if it is one that another customer has brought before.
fn visit(pen: &mut Pen, name: &str, pair: Option<SubjectId>) -> Visit {
    let [customer, new, ticket, job] = [(); 4].map(|()| pen.subject());
    let (known, pair) = (pair.is_some(), pair.unwrap_or(new));
    let opened = |pair, ticket, customer| {
        let body = Opened {
            pair,
            ticket,
            customer,
        };
        Body::Opened(body)
    };
    let mut entries = vec![
        pen.entry(SubjectKind::Customer, customer, &opened(None, None, None)),
        pen.entry(SubjectKind::Customer, customer, &detail(field::NAME, name)),
        pen.entry(SubjectKind::Ticket, ticket, &opened(None, None, Some(customer))),
        pen.entry(SubjectKind::Job, job, &opened(Some(pair), Some(ticket), None)),
        pen.entry(SubjectKind::Job, job, &remark(&format!("{name} will call"))),
    ];
    if !known {
        entries.push(pen.entry(SubjectKind::Pair, pair, &opened(None, None, Some(customer))));
        entries.push(pen.entry(
            SubjectKind::Pair,
            pair,
            &detail(field::LOOK, &format!("derby of {name}")),
        ));
    }
    Visit {
        customer,
        pair,
        ticket,
        job,
        entries,
    }
}

fn detail(field: &str, value: &str) -> Body {
    Body::Detail(Detail {
        field: field.to_owned(),
        value: value.into(),
    })
}

fn remark(text: &str) -> Body {
    Body::Note(Note {
        of: None,
        text: text.to_owned(),
        voice: None,
    })
}

/// The entries in the JSON of a page, by id.
fn in_json(page: &str) -> Vec<ReceivedEntry> {
    let (_, rest) = page.split_once("id=\"entries\">").unwrap();
    let (json, after) = rest.split_once("</script>").unwrap();
    assert_eq!(after, "</body></html>");
    let mut entries: Vec<ReceivedEntry> = serde_json::from_str(json).unwrap();
    entries.sort_by_key(|one| one.entry.id);
    entries
}

#[test]
fn every_kind_has_words() {
    // People are the shop's, and in no customer's file.
    let kinds = Body::KINDS.iter().filter(|kind| **kind != "person");
    for kind in kinds {
        assert_ne!(words::export::kind(kind), *kind);
    }
}

#[test]
fn every_entry_of_every_kind_is_in_it_once() {
    let (stay, entries) = whole_stay();
    let (records, shop) = of_stay(&stay, &entries);
    let theirs: Vec<_> = entries
        .iter()
        .filter(|one| ![&stay.shop, &stay.material()].contains(&&one.entry.subject))
        .collect();
    assert_eq!(ids(&records.entries), ids(theirs.iter().copied()));
    let html = page(&records, &shop, "2 March 2026", &[]);
    for (before, one) in theirs.iter().enumerate() {
        let (number, kind) = (before + 1, words::export::kind(&one.entry.kind));
        let line = format!("<li id=\"n{number}\" value=\"{number}\"><b>{kind}</b>, 14 November 2023, 23:13");
        assert_eq!(html.matches(&line).count(), 1, "{line}");
    }
}

#[test]
fn a_person_reads_what_was_agreed_done_found_paid_and_said() {
    let (stay, entries) = whole_stay();
    let (records, shop) = of_stay(&stay, &entries);
    let html = page(&records, &shop, "2 March 2026", &[]);
    let (price, worth) = (money(&shop, Minor(2100)), money(&shop, Minor(1800)));
    let deposit = money(&shop, Minor(1000));
    let lines = [
        "<h1>Everything stored about Ada Example</h1>",
        "<li>name: Ada Example</li>",
        "<li>telephone: +00 000 0000</li>",
        "<h2>brown derby, 14 November 2023, 23:13</h2>",
        &format!("<li>price: {price}</li>"),
        &format!("<li>worth: {worth}</li>"),
        &format!("<li>amount: {deposit}</li>"),
        &format!("<li>operation: {}</li>", operations::name("half_sole")),
        "<li>which shoe: left</li>",
        "<li>remark: Under the leather wrap</li>",
        "<li>remark: Roughed twice</li>",
        "<li>in words: 22 mm, seven</li>",
        "<li>block mm: 24.5</li>",
        "<li>text: The heel is board inside.</li>",
        "<li>to be called: after six</li>",
        "<li>what is left: <ul><li>text: Dark edges, as … asked</li></ul></li>",
        "<li>done: New half soles</li>",
        "<li>ticked: Feel inside for points, Heels level</li>",
        "<li>next check: 1 October 2026</li>",
        "<li>seen at: the far bench</li>",
        "withdrawn later",
        "replaced later",
    ];
    for line in lines {
        assert!(html.contains(line), "{line}\n{html}");
    }
}

#[test]
fn people_of_the_shop_appear_by_their_role() {
    let (stay, entries) = whole_stay();
    let (records, shop) = of_stay(&stay, &entries);
    let html = page(&records, &shop, "2 March 2026", &[]);
    assert!(
        html.contains("23:13, a helper"),
        "the last that was noted of them"
    );
    assert!(!html.contains("at the bench"), "their name");
}

#[test]
fn the_json_has_the_same_entries_exactly() {
    let (stay, mut entries) = whole_stay();
    let mut pen = Pen::new(2);
    let odd = "</script><!-- \u{2028} \"quoted\" \\u003c & <b>";
    entries.extend(unsent(&[pen.entry(SubjectKind::Job, stay.job.id, &remark(odd))]));
    let (records, shop) = of_stay(&stay, &entries);
    assert_eq!(
        in_json(&page(&records, &shop, "2 March 2026", &[])),
        records.entries
    );
    assert!(
        records
            .entries
            .iter()
            .any(|one| one.entry.body.contains("</script>"))
    );
}

#[test]
fn a_photograph_is_in_it_once_with_what_it_shows() {
    let (stay, entries) = whole_stay();
    let (records, shop) = of_stay(&stay, &entries);
    let named: Vec<_> = records
        .blobs()
        .into_iter()
        .map(|blob| (blob.full, blob.thumb))
        .collect();
    let photograph = (stay.full.clone(), Some(stay.thumb.clone()));
    assert_eq!(named, [photograph, (stay.voice.clone(), None)]);
    let sources = [
        source(&stay.full, "cGljdHVyZQ=="),
        source(&stay.voice, "c3Bva2Vu"),
    ];
    let html = page(&records, &shop, "2 March 2026", &sources);
    let picture = format!(
        "<li>photograph: <img id=\"{}\" alt=\"As brought\" src=\"data:image/jpeg;base64,cGljdHVyZQ==\"></li>",
        stay.full.sha256
    );
    assert_eq!(html.matches("<img ").count(), 1);
    assert!(html.contains(&picture));
    assert_eq!(
        html.matches("src=\"data:audio/webm;base64,c3Bva2Vu\"></audio>")
            .count(),
        1
    );
    assert!(html.contains(&format!("<a href=\"#{}\">shown already</a>", stay.full.sha256)));
    assert!(!html.contains("not on this device"));
}

#[test]
fn where_the_full_photograph_is_missing_the_small_one_is_shown() {
    let (stay, entries) = whole_stay();
    let (records, shop) = of_stay(&stay, &entries);
    let html = page(
        &records,
        &shop,
        "2 March 2026",
        &[source(&stay.thumb, "c21hbGw=")],
    );
    assert!(html.contains("<li>photograph: not on this device</li>"));
    assert_eq!(html.matches("<img ").count(), 1);
    assert!(html.contains("<li>small photograph: <img "));
}

#[test]
fn what_was_erased_says_so() {
    let mut pen = Pen::new(1);
    let mut visit = visit(&mut pen, "Ada Example", None);
    for entry in &mut visit.entries {
        if entry.subject.id == visit.customer {
            entry.body = String::new();
        }
    }
    let html = plain_page(&collected(visit.customer, &unsent(&visit.entries)));
    assert!(html.contains("<h1>Everything stored about this customer</h1>"));
    assert_eq!(html.matches("<p>Its content was erased.</p>").count(), 2);
}

/// A page about a customer with this name, remark, plain field, photograph and entry of a newer app.
fn written(text: &str) -> String {
    let mut pen = Pen::new(1);
    let mut visit = visit(&mut pen, text, None);
    let blob = Blob {
        sha256: text.to_owned(),
        media_type: text.to_owned(),
        ..blob_of(b"", "")
    };
    let photo = Photo::new(blob.clone(), blob, Shows::from(text));
    let newer = serde_json::json!({ text: [text, { text: text }] }).to_string();
    visit.entries.extend([
        pen.entry(SubjectKind::Pair, visit.pair, &detail(text, text)),
        pen.entry(SubjectKind::Job, visit.job, &detail(field::TAG, text)),
        pen.entry(SubjectKind::Job, visit.job, &Body::Photo(photo)),
        pen.raw(SubjectKind::Job, visit.job, "hologram", &newer),
        pen.raw(SubjectKind::Job, visit.job, "hologram", text),
    ]);
    let entries = unsent(&visit.entries);
    let shop = ShopState::of_values(
        &[(field::NAME.to_owned(), Value::from(text))]
            .into_iter()
            .collect(),
    );
    let sources = [(text.to_owned(), text.to_owned())];
    page(
        &collected(visit.customer, &entries),
        &shop,
        "2 March 2026",
        &sources,
    )
}

#[test]
fn markup_in_what_people_write_is_text() {
    let html = written("\"><img src=x onerror='alert(1)'></script><script>alert(2)</script>");
    for raw in ["<img src=x", "<script>", "\"><img src"] {
        assert!(!html.contains(raw), "{raw}");
    }
    // In the block of JSON, where no attribute can begin, an apostrophe stays one.
    let (read, _) = html.split_once("type=\"application/json\"").unwrap();
    assert!(!read.contains("onerror='"));
    assert_eq!(html.matches("</script>").count(), 1);
    assert!(html.contains("&quot;&gt;&lt;img src=x onerror=&#39;alert(1)&#39;&gt;"));
}

proptest! {
    /// Whatever people write, the page has the same elements. (The text begins like no code, hash or id.)
    #[test]
    fn what_people_write_makes_no_element(text in "\\PC{1,40}|[<>\"'&/!-]{1,20}|</?[a-z]{1,6}[ />]") {
        let elements = |html: &str| html.matches('<').count();
        let text = ["+", &text].concat();
        prop_assert_eq!(elements(&written(&text)), elements(&written("+")));
    }
}
