//! A device with its database in memory, and the drafts of a small shop.

mod customer;
mod sale;
pub(crate) mod story;

use app_core::store::kv::{Row, RowValue};
use app_core::store::memory::{Memory, now};
use app_core::store::scripted::Scripted;
use app_core::store::tables;
use app_core::store::{KvStore, NewBlob, Surroundings};
use serde_json::Value as Json;
use sha2::{Digest, Sha256};
use shared::log::Draft;
use shared::log::body::{
    Agreed, Blob, Body, Detail, HandedOver, Opened, Photo, Role, Shows, Side, Step, field,
};
use shared::log::fold::{Entries, PairHistory, PairHistoryLoader, Summary};
use shared::log::{EntryId, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs, about};
use shared::price::minor::Minor;
use shared::price::records::PairFacts;
use shared::sync::machine::{Progress, Settled};
use shared::sync::messages::JoinAnswer;
use shared::sync::{Code, Problem};
use uuid::Uuid;

pub(crate) use customer::fresh_customer_lines;
pub(crate) use sale::{facts_in, fresh_sale_lines, fresh_sales, pay, sale, sell, stored_sales, take_back};

/// A store on a memory database.
pub(crate) type Store = KvStore<Memory, Scripted>;

/// 2026-03-02T08:00:00Z.
pub(crate) const MORNING: UnixMs = UnixMs(1_772_438_400_000);

/// One device.
pub(crate) struct Device {
    pub(crate) kv: Memory,
    pub(crate) around: Scripted,
    pub(crate) store: Store,
}

impl Device {
    /// A new device.
    pub(crate) fn new(seed: u64) -> Self {
        Self::on(Memory::default(), seed)
    }

    /// Starts the app on this database.
    pub(crate) fn on(kv: Memory, seed: u64) -> Self {
        let around = Scripted::new(seed, MORNING);
        let store = now(Store::open(kv.clone(), around.clone())).unwrap();
        Self { kv, around, store }
    }

    /// Starts the app again on the same database, as after a crash or a normal end.
    pub(crate) fn restart(&mut self) {
        self.kv.restart();
        self.store = now(Store::open(self.kv.clone(), self.around.clone())).unwrap();
    }

    /// Saves drafts, one second after the previous save.
    pub(crate) fn save(&self, drafts: Vec<Draft>) -> Vec<ReceivedEntry> {
        self.around.advance(1000);
        now(self.store.save(drafts, Vec::new())).unwrap().entries
    }

    /// A new subject.
    pub(crate) fn subject(&self, kind: SubjectKind) -> Subject {
        Subject::new(kind, self.around.new_subject())
    }
}

/// The subjects of one drop-off.
#[derive(Debug, Clone)]
pub(crate) struct Taken {
    pub(crate) customer: Subject,
    pub(crate) ticket: Subject,
    pub(crate) pair: Subject,
    pub(crate) job: Subject,
}

/// New subjects for a drop-off.
pub(crate) fn taken(device: &Device) -> Taken {
    Taken {
        customer: device.subject(SubjectKind::Customer),
        ticket: device.subject(SubjectKind::Ticket),
        pair: device.subject(SubjectKind::Pair),
        job: device.subject(SubjectKind::Job),
    }
}

/// The drafts of a drop-off.
pub(crate) fn drop_off(taken: &Taken, name: &str, look: &str) -> Vec<Draft> {
    let customer = Some(taken.customer.id);
    let ticket = Opened {
        customer,
        ..Opened::default()
    };
    let job = Opened {
        pair: Some(taken.pair.id),
        ticket: Some(taken.ticket.id),
        customer: None,
    };
    let agreed = Agreed::at("half_sole", Minor(4200));
    vec![
        Draft::new(taken.customer.clone(), Body::Opened(Opened::default())),
        Draft::new(taken.customer.clone(), detail(field::NAME, name)),
        Draft::new(taken.ticket.clone(), Body::Opened(ticket)),
        Draft::new(
            taken.pair.clone(),
            Body::Opened(Opened {
                customer,
                ..Opened::default()
            }),
        ),
        Draft::new(taken.pair.clone(), detail(field::LOOK, look)),
        Draft::new(taken.job.clone(), Body::Opened(job)),
        Draft::new(taken.job.clone(), Body::Agreed(agreed)),
        Draft::next_tag(taken.job.clone()),
    ]
}

pub(crate) fn detail(field: &str, value: &str) -> Body {
    Body::Detail(Detail {
        field: field.into(),
        value: value.into(),
    })
}

pub(crate) fn step(job: &Subject, operation: &str) -> Draft {
    let step = Step {
        cement: None,
        line: None,
        operation: operation.into(),
        side: Side::Both,
        note: String::new(),
        minutes: None,
        used: Vec::new(),
    };
    Draft::new(job.clone(), Body::Step(step))
}

pub(crate) fn hand_over(job: &Subject) -> Draft {
    Draft::new(job.clone(), Body::HandedOver(HandedOver::default()))
}

/// The SHA-256 in lower-case hex.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

pub(crate) fn blob(content: &str) -> NewBlob {
    let bytes = content.as_bytes().to_vec();
    let about = Blob {
        sha256: sha256(&bytes),
        media_type: "image/jpeg".into(),
        bytes: bytes.len() as u64,
        width: 4,
        height: 3,
    };
    NewBlob { about, bytes }
}

/// A photograph of a job and its two blobs.
pub(crate) fn photo(job: &Subject, content: &str) -> (Draft, Vec<NewBlob>) {
    let (full, thumb) = (blob(content), blob(&format!("small {content}")));
    let photo = Photo::new(full.about.clone(), thumb.about.clone(), Shows::Step);
    (Draft::new(job.clone(), Body::Photo(photo)), vec![full, thumb])
}

/// Every entry that a device has and reads, merged from the tail and the archive. Entries that are set aside or left out
/// are not among them.
pub(crate) fn held(kv: &Memory) -> Vec<ReceivedEntry> {
    let is_settled = |row: &Json| row["unsent"] != true && row["refused"].is_null() && row["retired"] != true;
    let is_left_out = |row: &Json| row["left_out"] == true && !is_settled(row);
    merged(kv, |row| row["aside"] != true && !is_left_out(row))
}

/// Every entry that a device has, except those that are set aside.
pub(crate) fn stored(kv: &Memory) -> Vec<ReceivedEntry> {
    merged(kv, |row| row["aside"] != true)
}

/// The entries of the archive and of those rows of the tail that are taken. A row that is not hides the archived copy of
/// its entry.
fn merged(kv: &Memory, is_taken: impl Fn(&Json) -> bool) -> Vec<ReceivedEntry> {
    let text = |row: Row| row.as_text().unwrap().to_owned();
    let tail: Vec<Json> = kv
        .rows(tables::TAIL)
        .into_iter()
        .map(|row| serde_json::from_str(&text(row)).unwrap())
        .collect();
    let (taken, hidden): (Vec<_>, Vec<_>) = tail.into_iter().partition(is_taken);
    let record = |row: &Json| -> ReceivedEntry { serde_json::from_value(row["held"].clone()).unwrap() };
    let hidden: Vec<EntryId> = hidden.iter().map(|row| record(row).entry.id).collect();
    let mut entries = Entries::default();
    for block in kv.rows(tables::BLOCKS).into_iter().map(text) {
        for line in block.lines() {
            let archived: ReceivedEntry = serde_json::from_str(line.split_once('\t').unwrap().1).unwrap();
            if !hidden.contains(&archived.entry.id) {
                entries.take(archived);
            }
        }
    }
    for row in &taken {
        entries.take(record(row));
    }
    entries.iter().cloned().collect()
}

/// The names of the tables in which a row contains these bytes.
pub(crate) fn tables_with(kv: &Memory, needle: &str) -> Vec<&'static str> {
    let holds = |row: &Row| match &row.value {
        RowValue::Text(text) => text.contains(needle),
        RowValue::Bytes(bytes) => bytes
            .windows(needle.len())
            .any(|window| window == needle.as_bytes()),
    };
    let tables = tables::ALL.iter();
    tables
        .filter(|table| kv.rows(**table).iter().any(holds))
        .map(|table| table.name)
        .collect()
}

/// Every pair's history, folded from all entries without using anything derived that is stored.
pub(crate) fn fresh_histories(kv: &Memory) -> Vec<PairHistory> {
    let entries = held(kv);
    let mut index: std::collections::BTreeMap<SubjectId, Vec<&ReceivedEntry>> =
        std::collections::BTreeMap::new();
    let mut pairs = std::collections::BTreeSet::new();
    for held in &entries {
        for id in about(&held.entry) {
            index.entry(id).or_default().push(held);
        }
        let is_pair = held.entry.subject.kind == SubjectKind::Pair;
        pairs.extend(is_pair.then_some(held.entry.subject.id));
        match Body::of(&held.entry) {
            Body::Opened(opened) => pairs.extend(opened.pair),
            Body::SameAs(same) if is_pair => drop(pairs.insert(same.other)),
            _ => {}
        }
    }
    let mut fresh = std::collections::BTreeMap::new();
    for pair in pairs {
        let mut gather = PairHistoryLoader::pair(pair);
        loop {
            let wanted = gather.wanted();
            if wanted.is_empty() {
                break;
            }
            for id in wanted {
                gather.give(
                    id,
                    index.get(&id).into_iter().flatten().map(|held| (*held).clone()),
                );
            }
        }
        let life = gather.finish();
        fresh.insert(life.id, life);
    }
    fresh.into_values().collect()
}

/// Every pair's summary and facts for the books, folded from all entries.
pub(crate) fn fresh_pairs(kv: &Memory) -> Vec<(Summary, PairFacts)> {
    let histories = fresh_histories(kv).into_iter();
    histories
        .map(|life| (Summary::of(&life), PairFacts::of(&life)))
        .collect()
}

/// Every pair's summary, folded from all entries.
pub(crate) fn fresh_summaries(kv: &Memory) -> Vec<Summary> {
    fresh_pairs(kv).into_iter().map(|(summary, _)| summary).collect()
}

/// The summaries as they are stored.
pub(crate) fn stored_summaries(kv: &Memory) -> Vec<Summary> {
    let summary = |row: Row| {
        let value: serde_json::Value = serde_json::from_str(row.as_text().unwrap()).unwrap();
        serde_json::from_value(value["summary"].clone()).unwrap()
    };
    kv.rows(tables::PAIRS).into_iter().map(summary).collect()
}

/// The answer to a device that joins this shop as a repairer.
pub(crate) fn join_answer(shop: u128, token: &str, letters: &str) -> JoinAnswer {
    JoinAnswer {
        token: token.into(),
        shop: Uuid::from_u128(shop),
        letters: letters.into(),
        role: Role::Repairer,
    }
}

/// The device joins shop 5 with the token `secret`.
pub(crate) fn join(device: &Device, role: Role) {
    let answer = JoinAnswer {
        role,
        ..join_answer(5, "secret", "A")
    };
    now(device.store.set_join(&answer, "https://shop.example", "Bench")).unwrap();
}

pub(crate) fn problem(code: Code) -> Problem {
    Problem {
        code,
        message: "no".into(),
        retry_after: None,
    }
}

pub(crate) fn unsent(device: &Device) -> Vec<ReceivedEntry> {
    now(device.store.load_unsent(usize::MAX)).unwrap()
}

/// The server accepts all unsent entries.
pub(crate) fn acknowledge(device: &Device, received: UnixMs) {
    acknowledge_by(usize::MAX, device, received);
}

/// The server accepts all unsent entries, at most `heap` at a time.
pub(crate) fn acknowledge_by(heap: usize, device: &Device, received: UnixMs) {
    let accepted = |held: &ReceivedEntry| Settled::Accepted {
        id: held.entry.id,
        received,
    };
    for heap in unsent(device).chunks(heap) {
        let settled: Vec<_> = heap.iter().map(accepted).collect();
        now(device.store.settle(&settled, Progress::default())).unwrap();
    }
}

pub(crate) fn taken_in(device: &Device) -> Taken {
    let taken = taken(device);
    device.save(drop_off(&taken, "A. Example", "derby"));
    taken
}

pub(crate) fn settle(device: &Device, settled: Settled) {
    now(device.store.settle(&[settled], Progress::default())).unwrap();
}

pub(crate) fn refuse(device: &Device, held: &ReceivedEntry, code: Code) {
    settle(
        device,
        Settled::Refused {
            id: held.entry.id,
            problem: problem(code),
        },
    );
}

/// The server sends this entry.
pub(crate) fn send(device: &Device, held: &ReceivedEntry) {
    let received = ReceivedEntry {
        received: Some(MORNING),
        ..held.clone()
    };
    now(device.store.apply(vec![received], Progress::default())).unwrap();
}

/// A device that has joined as this role, with a drop-off that the server has.
pub(crate) fn joined(role: Role) -> (Device, Taken) {
    let device = Device::new(1);
    join(&device, role);
    let taken = taken_in(&device);
    acknowledge(&device, MORNING);
    (device, taken)
}
