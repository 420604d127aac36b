//! Finding what entries say of a person by name, so that it can be erased with the person.
//!
//! Only written words are found: nothing is known of what is said in a voice note or seen in a photograph.

use std::ops::Range;

use serde_json::Value;

use super::body::{Body, field};
use super::entry::Entry;

/// The least letters of a single word of a name that is looked for by itself.
const LEAST_LETTERS: usize = 3;
/// The least digits of a telephone number that is looked for.
const LEAST_DIGITS: usize = 6;
/// The most digits, the last ones, by which numbers are compared.
const MOST_DIGITS: usize = 7;
/// What stands where a mention was.
pub(super) const GONE: &str = "…";
/// Plain fields whose value is a code, a number or a day.
const CODED_FIELDS: [&str; 8] = [
    field::GOODS,
    field::TAG,
    field::DAY,
    field::READY_FROM,
    field::IF_HIDDEN,
    field::CONSTRUCTION_GUESSED,
    field::CONSTRUCTION_OPENED,
    field::CONSTRUCTION_LEFT,
];

/// The names and telephone numbers of one person.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PersonNames {
    /// The words of each name, in lower case.
    names: Vec<Vec<String>>,
    /// The last digits of each number.
    numbers: Vec<String>,
}

/// An entry that mentions the person.
#[derive(Debug, Clone, PartialEq)]
pub struct Mention {
    /// The text in which the person is mentioned, whole.
    pub text: String,
    /// Whether a whole name or a telephone number stands there, and not only one word of a name.
    pub certain: bool,
    /// The content of the entry without the mention; `None` if nothing of it remains.
    pub left: Option<Value>,
}

/// Where a text mentions the person.
#[derive(Debug, Default)]
struct Found {
    ranges: Vec<Range<usize>>,
    certain: bool,
}

impl PersonNames {
    /// From all names and telephone numbers that the person has or had.
    pub fn new<'a>(
        names: impl IntoIterator<Item = &'a str>,
        numbers: impl IntoIterator<Item = &'a str>,
    ) -> Self {
        let mut all = Self::default();
        for name in names {
            let parts: Vec<String> = parts(name).map(|part| name[part].to_lowercase()).collect();
            if !parts.is_empty() && !all.names.contains(&parts) {
                all.names.push(parts);
            }
        }
        for number in numbers {
            let digits = subscriber(number);
            if digits.len() >= LEAST_DIGITS && !all.numbers.contains(&digits) {
                all.numbers.push(digits);
            }
        }
        all
    }

    /// Whether there is nothing to look for.
    pub fn is_empty(&self) -> bool {
        self.names.is_empty() && self.numbers.is_empty()
    }

    /// Whether an entry mentions the person, and what is left of it without the mention.
    pub fn mention(&self, entry: &Entry) -> Option<Mention> {
        let mut body: Value = serde_json::from_str(&entry.body).ok()?;
        let known = Body::of(entry) != Body::Unknown;
        let (mut text, mut certain) = (None, false);
        for place in texts(&entry.kind, known, &mut body) {
            let found = self.find(place);
            if found.ranges.is_empty() {
                continue;
            }
            certain |= found.certain;
            text.get_or_insert_with(|| place.clone());
            *place = without(place, &found.ranges);
        }
        Some(Mention {
            text: text?,
            certain,
            left: (known && says_anything(&entry.kind, &body)).then_some(body),
        })
    }

    fn find(&self, text: &str) -> Found {
        let mut found = Found::default();
        let places: Vec<Range<usize>> = parts(text).collect();
        let words: Vec<String> = places
            .iter()
            .map(|place| text[place.clone()].to_lowercase())
            .collect();
        for name in &self.names {
            for at in 0..words.len() {
                if words[at..].starts_with(name) {
                    found.certain = true;
                    found
                        .ranges
                        .push(places[at].start..places[at + name.len() - 1].end);
                } else if name.contains(&words[at]) && words[at].chars().count() >= LEAST_LETTERS {
                    found.ranges.push(places[at].clone());
                }
            }
        }
        for range in numbers(text) {
            if self.numbers.contains(&subscriber(&text[range.clone()])) {
                found.certain = true;
                found.ranges.push(range);
            }
        }
        found
    }
}

/// The words of a text: runs of letters and digits.
fn parts(text: &str) -> impl Iterator<Item = Range<usize>> {
    let mut rest = text.char_indices().peekable();
    std::iter::from_fn(move || {
        let (start, _) = rest.by_ref().find(|(_, letter)| letter.is_alphanumeric())?;
        let mut end = text.len();
        while let Some((at, letter)) = rest.peek() {
            if !letter.is_alphanumeric() {
                end = *at;
                break;
            }
            rest.next();
        }
        Some(start..end)
    })
}

/// The telephone numbers of a text: runs of digits, however they are separated.
fn numbers(text: &str) -> impl Iterator<Item = Range<usize>> {
    let continues = |letter: char| matches!(letter, '0'..='9' | ' ' | '-' | '/' | '.' | '(' | ')');
    let mut from = 0;
    std::iter::from_fn(move || {
        let start = from + text[from..].find(|letter: char| letter.is_ascii_digit())?;
        let run = &text[start..];
        let run = &run[..run.find(|letter| !continues(letter)).unwrap_or(run.len())];
        let end = start + run.rfind(|letter: char| letter.is_ascii_digit())? + 1;
        from = end;
        Some(start..end)
    })
}

/// The last digits of a number, at most so many as tell one subscriber from another: without country and area code.
fn subscriber(number: &str) -> String {
    let digits: Vec<char> = number.chars().filter(char::is_ascii_digit).collect();
    digits[digits.len().saturating_sub(MOST_DIGITS)..]
        .iter()
        .collect()
}

/// The text without these places, which may overlap.
fn without(text: &str, places: &[Range<usize>]) -> String {
    let mut places = places.to_vec();
    places.sort_by_key(|place| (place.start, place.end));
    let mut left = String::new();
    let mut from = 0;
    for place in places {
        if place.start >= from {
            left.push_str(&text[from..place.start]);
            left.push_str(GONE);
        }
        from = from.max(place.end);
    }
    left.push_str(&text[from..]);
    or_nothing(left)
}

/// The text, or an empty one if it has neither letters nor digits.
pub(super) fn or_nothing(text: String) -> String {
    let says_anything = text.chars().any(char::is_alphanumeric);
    if says_anything { text } else { String::new() }
}

/// The texts of a body in which a person may be mentioned. In a kind that this version cannot read, every text. What
/// only links entries and subjects, and codes of the trade, are none.
pub(super) fn texts<'v>(kind: &str, known: bool, body: &'v mut Value) -> Vec<&'v mut String> {
    let names: &[&str] = match kind {
        _ if !known => return all_texts(body),
        "published" => return all_texts(body),
        "detail" => &["value"],
        "step" | "skipped" | "wait" | "complaint" | "ordered" => &["note"],
        "damage" => &["note", "part", "condition"],
        "taken_out" => &["part"],
        "redo" => &["scrap"],
        "question" => &["text", "choices"],
        "answer" => &["call_at"],
        "measured" => &["say", "given"],
        "note" => &["text"],
        "mention_erased" => return texts_left(body),
        _ => &[],
    };
    texts_of(body, names)
}

/// The texts of what is left of an entry. Its kind is not said, and no field of these has another meaning in any kind.
fn texts_left(body: &mut Value) -> Vec<&mut String> {
    let names = [
        "call_at",
        "choices",
        "condition",
        "given",
        "note",
        "part",
        "say",
        "scrap",
        "text",
        "value",
    ];
    match body.get_mut("left") {
        // What is left is itself an entry that erases a mention.
        Some(left) if left.get("entry").is_some() => texts_left(left),
        Some(left) => texts_of(left, &names),
        None => Vec::new(),
    }
}

/// The texts in these fields of a body.
fn texts_of<'v>(body: &'v mut Value, names: &[&str]) -> Vec<&'v mut String> {
    let is_coded = body["field"]
        .as_str()
        .is_some_and(|field| CODED_FIELDS.contains(&field));
    let Value::Object(fields) = body else {
        return Vec::new();
    };
    let fields = fields
        .iter_mut()
        .filter(|(name, _)| names.contains(&name.as_str()) && !(is_coded && name.as_str() == "value"));
    let texts = fields.flat_map(|(name, value)| match name.as_str() {
        "choices" => said(value),
        _ => all_texts(value),
    });
    texts.collect()
}

/// What the choices of a question say, without the codes of the work that they stand for.
fn said(choices: &mut Value) -> Vec<&mut String> {
    match choices {
        Value::Array(choices) => choices.iter_mut().flat_map(said_by).collect(),
        other => all_texts(other),
    }
}

fn said_by(choice: &mut Value) -> Vec<&mut String> {
    match choice {
        Value::Object(fields) => fields.get_mut("say").map_or_else(Vec::new, all_texts),
        other => all_texts(other),
    }
}

/// Every text of a value. The names of fields are none.
fn all_texts(value: &mut Value) -> Vec<&mut String> {
    match value {
        Value::String(text) => vec![text],
        Value::Array(values) => values.iter_mut().flat_map(all_texts).collect(),
        Value::Object(fields) => fields.values_mut().flat_map(all_texts).collect(),
        Value::Null | Value::Bool(_) | Value::Number(_) => Vec::new(),
    }
}

/// Whether a body still says something once the mention is out of it. A section of the card was written for the person,
/// and is taken away whole.
pub(super) fn says_anything(kind: &str, body: &Value) -> bool {
    match kind {
        "published" => false,
        "detail" => body["value"] != "",
        "note" => body["text"] != "" || !body["voice"].is_null(),
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names() -> PersonNames {
        PersonNames::new(["Ottoline Brack"], ["030 555 0142"])
    }

    fn left(text: &str) -> (String, bool) {
        let found = names().find(text);
        (without(text, &found.ranges), found.certain)
    }

    #[test]
    fn a_name_is_found_in_whole_and_in_part_whatever_its_case() {
        assert_eq!(
            left("for OTTOLINE Brack's wedding"),
            ("for …'s wedding".into(), true)
        );
        assert_eq!(
            left("Mrs Brack wants them dark"),
            ("Mrs … wants them dark".into(), false)
        );
        assert_eq!(left("a bracket of brass"), ("a bracket of brass".into(), false));
        assert_eq!(left("Ottoline Brack"), (String::new(), true));
    }

    #[test]
    fn a_number_is_found_however_it_is_written() {
        for written in ["0305550142", "030/555-0142", "(030) 555 01 42", "+00 30 555 0142"] {
            assert!(left(written).1, "{written}");
        }
        assert_eq!(left("030 555 0142 after six").0, "… after six");
        assert_eq!(left("030 555 0143"), ("030 555 0143".into(), false));
    }
}
