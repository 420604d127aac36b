//! Customers from contact cards: vCard 4.0 (RFC 6350), and 3.0 and 2.1 as telephones write them.
//!
//! What the older versions do otherwise was read in files of telephones: quoted-printable values with soft line breaks and
//! parameters without a name in 2.1; common practice, no source.

use super::read::{CustomersFile, ReadCustomer, UnreadLine};
use super::text::eight_bits;

/// Properties about the card and not about the customer: they are passed over without a word.
const ABOUT_THE_CARD: [&str; 7] = ["VERSION", "PRODID", "REV", "UID", "KIND", "SOURCE", "CLASS"];

/// Whether a card begins in a text.
pub(super) fn has_cards(text: &str) -> bool {
    text.lines().any(|line| {
        line.trim_start_matches('\u{feff}')
            .trim_end()
            .eq_ignore_ascii_case("BEGIN:VCARD")
    })
}

/// Reads every card of a text.
pub(super) fn read(text: &str) -> CustomersFile {
    let mut file = CustomersFile::default();
    let mut card: Option<ReadCard> = None;
    // A card inside another one, such as that of an assistant, is passed over.
    let mut inside = 0_usize;
    for (line, content) in unfolded(text) {
        let Some(property) = CardProperty::of(&content) else {
            if !content.trim().is_empty() {
                let why = words::shop::bring::not_a_line_of_a_card();
                file.unread.push(UnreadLine::new(line, &content, why));
            }
            continue;
        };
        match (property.name.as_str(), card.as_mut()) {
            ("BEGIN", None) => {
                card = Some(ReadCard {
                    line,
                    ..ReadCard::default()
                });
            }
            ("BEGIN", Some(_)) => inside += 1,
            ("END", Some(_)) if inside > 0 => inside -= 1,
            ("END", Some(_)) => {
                if let Some(card) = card.take() {
                    card.hand_over(&mut file);
                }
            }
            (_, Some(card)) if inside == 0 => card.note(&property),
            _ => {}
        }
    }
    if let Some(card) = card {
        let why = words::shop::bring::card_does_not_end();
        let line = UnreadLine::new(card.line, card.text(), why);
        file.unread.push(line);
    }
    file
}

/// The lines of a text as they were before they were folded, each with its number, counted from 1. A line that begins with
/// a space or a tab continues the one before it (RFC 6350, 3.2). In vCard 2.1, so does the line after a quoted-printable
/// one that ends with `=`, and every line of a picture.
fn unfolded(text: &str) -> Vec<(usize, String)> {
    let text = text.trim_start_matches('\u{feff}');
    let mut lines: Vec<(usize, String)> = Vec::new();
    let mut is_soft = false;
    let mut is_picture = false;
    for (at, line) in text.lines().enumerate() {
        match (lines.last_mut(), line.strip_prefix([' ', '\t'])) {
            (Some((_, last)), _) if is_soft => {
                last.pop();
                last.push_str(line);
            }
            (Some((_, last)), Some(rest)) => last.push_str(rest),
            (Some((_, last)), None) if is_picture && !line.contains(':') => last.push_str(line),
            _ => {
                lines.push((at + 1, line.to_owned()));
                is_picture = has_parameter(line, &["BASE64", "ENCODING=B"]);
            }
        }
        is_soft = lines
            .last()
            .is_some_and(|(_, last)| last.ends_with('=') && has_parameter(last, &["QUOTED-PRINTABLE"]));
    }
    lines
}

/// Whether one of these words is a parameter of a property, or the value of one.
fn has_parameter(line: &str, wanted: &[&str]) -> bool {
    let head = line.split(':').next().unwrap_or_default().to_ascii_uppercase();
    head.split(';').skip(1).any(|parameter| {
        let value = parameter.rsplit('=').next().unwrap_or_default();
        wanted.contains(&parameter) || wanted.contains(&value)
    })
}

/// A property of a card: `name;parameters:value` (RFC 6350, 3.3).
struct CardProperty {
    /// Its name in upper case, without its group.
    name: String,
    /// Its parameters in upper case: `TYPE=HOME,CELL`, or in 2.1 `CELL`.
    parameters: Vec<String>,
    /// Its value, in which what RFC 6350, 3.4 escapes is still escaped.
    value: String,
}

impl CardProperty {
    fn of(line: &str) -> Option<Self> {
        let (head, value) = split_outside_quotes(line, ':')?;
        let mut parts = Vec::new();
        let mut rest = head;
        while let Some((part, more)) = split_outside_quotes(rest, ';') {
            parts.push(part);
            rest = more;
        }
        parts.push(rest);
        let mut parts = parts.into_iter().map(|part| part.trim().to_ascii_uppercase());
        let name = parts.next()?;
        let name = name.rsplit('.').next().unwrap_or_default().to_owned();
        let value = if has_parameter(head, &["QUOTED-PRINTABLE"]) {
            eight_bits(&from_quoted_printable(value))
        } else {
            value.to_owned()
        };
        (!name.is_empty()).then(|| Self {
            name,
            parameters: parts.collect(),
            value,
        })
    }

    /// Whether it is the number of a mobile telephone.
    fn is_mobile(&self) -> bool {
        self.parameters.iter().any(|parameter| {
            let types = parameter.strip_prefix("TYPE=").unwrap_or(parameter);
            types.split(',').any(|one| one.trim_matches('"') == "CELL")
        })
    }

    /// Its value as a text on one line.
    fn text(&self) -> String {
        unescaped(&self.value)
    }

    /// The components of its value, each as a text on one line (RFC 6350, 3.3: separated by semicolons).
    fn components(&self) -> Vec<String> {
        let mut components = vec![String::new()];
        let mut letters = self.value.chars();
        while let Some(letter) = letters.next() {
            let Some(last) = components.last_mut() else { break };
            match letter {
                '\\' => {
                    last.push('\\');
                    last.extend(letters.next());
                }
                ';' => components.push(String::new()),
                other => last.push(other),
            }
        }
        components.iter().map(|component| unescaped(component)).collect()
    }
}

/// The text before and after the first `separator` that is not between double quotes.
fn split_outside_quotes(text: &str, separator: char) -> Option<(&str, &str)> {
    let mut quoted = false;
    let (at, _) = text.char_indices().find(|(_, letter)| {
        quoted ^= *letter == '"';
        !quoted && *letter == separator
    })?;
    let (before, after) = text.split_at(at);
    Some((before, after.strip_prefix(separator)?))
}

/// The bytes of a quoted-printable value (RFC 2045, 6.7).
fn from_quoted_printable(value: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(value.len());
    let mut rest = value.as_bytes();
    while let Some((first, after)) = rest.split_first() {
        let digits = after
            .get(..2)
            .filter(|_| *first == b'=')
            .and_then(|digits| std::str::from_utf8(digits).ok());
        match digits.and_then(|digits| u8::from_str_radix(digits, 16).ok()) {
            Some(byte) => {
                bytes.push(byte);
                rest = after.get(2..).unwrap_or_default();
            }
            None => {
                bytes.push(*first);
                rest = after;
            }
        }
    }
    bytes
}

/// A text without its escapes (RFC 6350, 3.4), on one line.
fn unescaped(text: &str) -> String {
    let mut all = String::with_capacity(text.len());
    let mut letters = text.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' => match letters.next() {
                Some('n' | 'N') => all.push('\n'),
                Some(escaped) => all.push(escaped),
                None => all.push('\\'),
            },
            other => all.push(other),
        }
    }
    let lines = all.split(['\r', '\n']).map(str::trim);
    let lines: Vec<&str> = lines.filter(|line| !line.is_empty()).collect();
    lines.join(", ")
}

/// What a card says, as far as it is read.
#[derive(Default)]
struct ReadCard {
    line: usize,
    full_name: String,
    name: String,
    organization: String,
    numbers: Vec<(String, bool)>,
    emails: Vec<String>,
    addresses: Vec<String>,
    notes: Vec<String>,
    unknown: Vec<String>,
}

impl ReadCard {
    fn note(&mut self, property: &CardProperty) {
        match property.name.as_str() {
            "FN" if self.full_name.is_empty() => self.full_name = property.text(),
            "N" => self.name = name_of(&property.components()),
            "ORG" => self.organization = joined(&property.components(), ", "),
            "TEL" => self.numbers.push((number(property), property.is_mobile())),
            "EMAIL" => self.emails.push(property.text()),
            "ADR" => self.addresses.push(joined(&property.components(), ", ")),
            "NOTE" => self.notes.push(property.text()),
            known if ABOUT_THE_CARD.contains(&known) => {}
            other => self.unknown.push(other.to_owned()),
        }
    }

    /// What names the card in a list.
    fn text(&self) -> &str {
        let said = [&self.full_name, &self.name, &self.organization];
        let said = said.into_iter().find(|text| !text.is_empty());
        said.map_or("BEGIN:VCARD", String::as_str)
    }

    fn hand_over(mut self, file: &mut CustomersFile) {
        let is_named = !self.full_name.is_empty() || !self.name.is_empty();
        if is_named && !self.organization.is_empty() {
            self.unknown.push("ORG".to_owned());
        }
        self.unknown.iter().for_each(|name| file.note_unknown(name));
        let names = [&self.full_name, &self.name, &self.organization];
        let name = names.into_iter().find(|name| !name.is_empty());
        let mut customer = ReadCustomer {
            line: self.line,
            name: name.cloned().unwrap_or_default(),
            email: joined(&self.emails, ", "),
            address: joined(&self.addresses, "; "),
            note: joined(&self.notes, ", "),
            ..ReadCustomer::default()
        };
        customer.set_numbers(&self.numbers);
        file.take(customer, self.text());
    }
}

/// Those of these texts that say something, with `between` them.
fn joined(texts: &[String], between: &str) -> String {
    let said = texts.iter().map(String::as_str).filter(|text| !text.is_empty());
    said.collect::<Vec<_>>().join(between)
}

/// The name as it is spoken, from its components (RFC 6350, 6.2.2): family name, given name, further names; titles are left
/// out.
fn name_of(components: &[String]) -> String {
    let part = |at: usize| components.get(at).map(|names| names.replace(',', " "));
    let parts = [part(1), part(2), part(0)];
    joined(&parts.map(Option::unwrap_or_default), " ")
}

/// The number of a telephone: a text, or the address of one (`tel:+1-555;ext=12`, RFC 3966), whose extension is written
/// after an `x`.
fn number(property: &CardProperty) -> String {
    let text = property.text();
    let of_scheme = text
        .split_once(':')
        .filter(|(scheme, _)| scheme.eq_ignore_ascii_case("tel"));
    let Some((_, address)) = of_scheme else {
        return text;
    };
    let mut parts = address.split(';');
    let number = parts.next().unwrap_or_default();
    match parts.find_map(|part| part.strip_prefix("ext=")) {
        Some(extension) => [number, " x", extension].concat(),
        None => number.to_owned(),
    }
}
