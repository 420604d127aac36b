//! Entries: the fields around the body, the body of each kind, and the fold of any set of entries.

use std::collections::BTreeMap;

use serde_json::Value;
use shared::log::fold::{
    Card, CustomerState, Entries, JobState, PairHistoryLoader, PairState, ShopState, Summary, TicketState,
    bench,
};
use shared::log::{Body, ReceivedEntry, SubjectId, SubjectKind, about};
use shared::price::records::PairFacts;

use crate::{headed, text};

/// The input: one entry as JSON, as it is stored and sent.
pub(crate) fn entry(data: &[u8]) {
    let Some(held) = text(data).and_then(|text| serde_json::from_str::<ReceivedEntry>(text).ok()) else {
        return;
    };
    let written = serde_json::to_string(&held).unwrap();
    let again: ReceivedEntry = serde_json::from_str(&written).unwrap();
    assert_eq!(again, held, "an entry is read as it was written");
    assert_eq!(serde_json::to_string(&again).unwrap(), written);
    if held.entry.check().is_ok() {
        assert!(held.entry.body.len() <= shared::log::Entry::MAX_BODY);
    }
    assert!(about(&held.entry).contains(&held.entry.subject.id));
    read(&held);
}

/// The input: the kind of an entry on the first line, then its body.
pub(crate) fn body(data: &[u8]) {
    let Some((kind, body)) = headed(data) else { return };
    let mut held = ReceivedEntry::unsent(support::sample::Pen::new(1).raw(
        SubjectKind::Job,
        SubjectId(uuid::Uuid::from_u128(7)),
        kind,
        body,
    ));
    read(&held);
    // Fields that a newer app may add do not change what this version reads.
    if let Ok(Value::Object(mut fields)) = serde_json::from_str::<Value>(body) {
        let before = Body::of(&held.entry);
        fields.insert(
            "field_of_a_later_app".to_owned(),
            serde_json::json!([1, {"a": null}]),
        );
        held.entry.body = serde_json::to_string(&fields).unwrap();
        if before != Body::Unknown {
            assert!(
                same(&Body::of(&held.entry), &before),
                "an unknown field is passed over"
            );
        }
    }
}

/// Reads an entry's body, writes it, and reads it again.
fn read(held: &ReceivedEntry) {
    let body = Body::of(&held.entry);
    let Some(text) = body.to_text() else { return };
    let mut again = held.entry.clone();
    again.body = text;
    assert!(same(&Body::of(&again), &body), "a body is read as it was written");
    JobState::of([held]);
    TicketState::of([held]);
    PairState::of([held]);
    CustomerState::of([held]);
    ShopState::of([held]);
}

/// Whether two bodies are equal. Decimal numbers in fields of any type are compared after rounding, because the JSON
/// parser may miss the nearest number by the last bit. That has no consequences: a stored body is never written again.
fn same(one: &Body, two: &Body) -> bool {
    let rounded = |body: &Body| {
        let text = body.to_text()?;
        let mut value: Value = serde_json::from_str(&text).ok()?;
        round(&mut value);
        Some(value)
    };
    one == two || rounded(one) == rounded(two)
}

fn round(value: &mut Value) {
    match value {
        Value::Number(number) if number.is_f64() => {
            *value = format!("{:.9e}", number.as_f64().unwrap_or_default()).into();
        }
        Value::Array(values) => values.iter_mut().for_each(round),
        Value::Object(fields) => fields.values_mut().for_each(round),
        _ => {}
    }
}

/// The input: entries as JSON, one per line. Their state does not depend on their order.
pub(crate) fn fold(data: &[u8]) {
    let Some(text) = text(data) else { return };
    let lines = text.lines().take(60);
    let entries: Entries = lines
        .filter_map(|line| serde_json::from_str::<ReceivedEntry>(line).ok())
        .collect();
    let forwards: Vec<&ReceivedEntry> = entries.iter().collect();
    let backwards: Vec<&ReceivedEntry> = forwards.iter().rev().copied().collect();
    let mut by_subject: BTreeMap<SubjectId, Vec<ReceivedEntry>> = BTreeMap::new();
    for held in &forwards {
        for id in about(&held.entry) {
            by_subject.entry(id).or_default().push((*held).clone());
        }
    }
    assert_eq!(
        JobState::of(forwards.iter().copied()),
        JobState::of(backwards.iter().copied()),
        "the order of arrival decides nothing"
    );
    for id in by_subject.keys() {
        let mut gather = PairHistoryLoader::pair(*id);
        loop {
            let wanted = gather.wanted();
            if wanted.is_empty() {
                break;
            }
            for one in wanted {
                gather.give(one, by_subject.get(&one).into_iter().flatten().cloned());
            }
        }
        let life = gather.finish();
        let summary = Summary::of(&life);
        let written = serde_json::to_string(&summary).unwrap();
        assert_eq!(serde_json::from_str::<Summary>(&written).unwrap(), summary);
        let facts = PairFacts::of(&life);
        let _ = (
            facts.months(),
            facts.stamps().count(),
            facts.waits().count(),
            summary.search_text(),
        );
        Card::of(&life);
        let job = JobState::of(by_subject.get(id).into_iter().flatten());
        let _ = bench::remaining(&job);
        let _ = bench::open_questions(&job).count()
            + bench::open_waits(&job).count()
            + bench::parts_out(&job).count();
        let _ = bench::open_waits(&job).map(bench::ends).count();
    }
}
