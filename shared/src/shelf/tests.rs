//! Tests of the shelf. The amounts that are expected are added up by hand beside each test.

mod counting;
mod older_list;
mod ordering;
mod together;

use serde_json::{Value, json};
use uuid::{Builder, Uuid};

use super::*;
use crate::log::body::*;
use crate::log::fold::{Entries, JobState, PairState, ShopState};
use crate::log::{
    DeviceId, Draft, Entry, EntryId, MadeAt, ReceivedEntry, Stamp, Subject, SubjectId, SubjectKind, UnixMs,
};
use crate::price::records::JobFacts;

const MINUTE: i64 = 60_000;
/// 2026-03-02T08:00:00Z.
const MORNING: i64 = 1_772_438_400_000;

fn entry_id(n: u16) -> EntryId {
    let [a, b] = n.to_be_bytes();
    EntryId(Builder::from_unix_timestamp_millis(2_000, &[a, b, 0, 0, 0, 0, 0, 0, a, b]).into_uuid())
}

fn sheet() -> Subject {
    Subject::new(SubjectKind::Material, SubjectId(Uuid::from_u128(0x5e)))
}

fn job() -> Subject {
    Subject::new(SubjectKind::Job, SubjectId(Uuid::from_u128(0x10b)))
}

/// The n-th entry, made n minutes after eight.
fn said(n: u16, subject: &Subject, body: &Body, over: &[u16]) -> ReceivedEntry {
    let at = UnixMs(MORNING + i64::from(n) * MINUTE);
    ReceivedEntry::unsent(Entry {
        id: entry_id(n),
        subject: subject.clone(),
        stamp: Stamp { ms: at, counter: 0 },
        made_at: MadeAt {
            utc: at,
            offset_min: 60,
        },
        device: DeviceId(Uuid::from_u128(1)),
        device_seq: u64::from(n) + 1,
        person: None,
        over: over.iter().map(|n| entry_id(*n)).collect(),
        kind: body.kind().unwrap().to_owned(),
        version: 1,
        body: body.to_text().unwrap(),
    })
}

/// The entries of drafts, the first of them with this number.
fn written(first: u16, drafts: Vec<Draft>) -> Vec<ReceivedEntry> {
    let numbered = (first..).zip(drafts);
    numbered
        .map(|(n, draft)| said(n, &draft.subject, &draft.body, &[]))
        .collect()
}

/// A rubber sheet of which a pair of half soles takes an eighth, a quarter of that wasted; least two sheets.
fn opened() -> Vec<ReceivedEntry> {
    let fields = [
        (field::NAME, json!("Rubber sheet")),
        (field::COLOUR, json!("black")),
        (material_field::KIND, json!("sheet")),
        (material_field::UNIT, json!("sheet")),
        (material_field::SIZE, json!("60 × 40 cm")),
        (material_field::THICKNESS_MM, json!(6.5)),
        (material_field::SUPPLIER, json!("Brack & Daughters")),
        (material_field::COST_MINOR, json!(3_000)),
        (material_field::LEAST, json!(2_000)),
    ];
    let mut fields: Vec<(String, Value)> = fields
        .into_iter()
        .map(|(name, value)| (name.to_owned(), value))
        .collect();
    fields.push((material_field::takes("half_sole"), json!(156)));
    // Before everything else of the day.
    let mut entries = written(500, opening(sheet().id, fields));
    for held in &mut entries {
        held.entry.stamp.ms = UnixMs(MORNING - MINUTE);
        held.entry.made_at.utc = UnixMs(MORNING - MINUTE);
    }
    entries
}

fn counted(n: u16, difference: i64, seen: i64, over: &[u16]) -> ReceivedEntry {
    let body = Counted {
        difference_thousandths: difference,
        on_hand_thousandths: seen,
    };
    said(n, &sheet(), &Body::Counted(body), over)
}

fn arrived(n: u16, thousandths: u32, order: Option<u16>) -> ReceivedEntry {
    let body = Delivery {
        order: order.map(entry_id),
        thousandths,
        cost_minor: None,
    };
    said(n, &sheet(), &Body::Delivery(body), &[])
}

fn ordered(n: u16, thousandths: u32) -> ReceivedEntry {
    let body = Ordered {
        thousandths,
        note: String::new(),
    };
    said(n, &sheet(), &Body::Ordered(body), &[])
}

fn step(n: u16, side: Side, used: Vec<Used>) -> ReceivedEntry {
    let step = Step {
        operation: "half_sole".into(),
        side,
        note: String::new(),
        minutes: None,
        used,
        line: None,
        cement: None,
    };
    said(n, &job(), &Body::Step(step), &[])
}

fn of_sheet(thousandths: u32) -> Vec<Used> {
    vec![Used {
        material: "Rubber sheet".to_owned(),
        thousandths,
        material_id: Some(sheet().id),
    }]
}

fn by_name(material: &str, thousandths: u32) -> Vec<Used> {
    vec![Used {
        material: material.to_owned(),
        thousandths,
        material_id: None,
    }]
}

fn taken_back(n: u16, subject: &Subject, entry: u16) -> ReceivedEntry {
    let entry = entry_id(entry);
    said(n, subject, &Body::Retracted(Retracted { entry }), &[])
}

fn shop(fields: &[(&str, Value)]) -> ShopState {
    let fields = fields.iter();
    ShopState::of_values(
        &fields
            .map(|(name, value)| ((*name).to_owned(), value.clone()))
            .collect(),
    )
}

fn job_state(entries: &Entries) -> JobState {
    JobState::of(
        entries
            .iter()
            .filter(|one| one.entry.subject.kind == SubjectKind::Job),
    )
}

fn facts(entries: &Entries) -> JobFacts {
    JobFacts::of(job().id, &job_state(entries), None, &PairState::default())
}

fn shelf(entries: &Entries, shop: &ShopState) -> Shelf {
    let materials = Materials::of(entries);
    let usage = uses(&facts(entries), &UsualTakes::of(&materials, shop));
    Shelf::of(&materials, &usage)
}

/// The only row, of the entries of [`opened`] and these.
fn row(more: &[ReceivedEntry]) -> ShelfRow {
    let entries = opened().into_iter().chain(more.iter().cloned()).collect();
    let mut rows = shelf(&entries, &ShopState::default()).rows;
    assert_eq!(rows.len(), 1);
    rows.remove(0)
}
