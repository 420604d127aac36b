//! Invented records of a shop in its tenth year, as a server would send them: for measurements.

use shared::log::body::{Agreed, Body, Detail, HandedOver, Note, Opened, Side, Step, field};
use shared::log::{
    DeviceId, Entry, EntryId, MadeAt, ReceivedEntry, Stamp, Subject, SubjectId, SubjectKind, UnixMs,
};
use shared::price::minor::Minor;
use uuid::{Builder, Uuid};

/// The number of entries of one pair.
pub const PER_PAIR: u64 = 20;

/// 2016-01-04T08:00:00Z, when the sample shop opened.
const OPENED: i64 = 1_451_894_400_000;

/// The time between two pairs in ms: 20,000 of them fill ten years.
const APART: i64 = 15_000_000;

/// The entries of the n-th pair, subject by subject; it is still in the shop if `open`.
pub fn pair(number: u64, stay: SampleStay) -> Vec<ReceivedEntry> {
    let mut maker = Maker {
        number,
        entries: Vec::new(),
    };
    let [customer, ticket, pair, job] = [
        (SubjectKind::Customer, 0),
        (SubjectKind::Ticket, 1),
        (SubjectKind::Pair, 2),
        (SubjectKind::Job, 3),
    ]
    .map(|(kind, which)| Subject::new(kind, SubjectId(maker.uuid(100 + which))));
    let of_customer = Opened {
        customer: Some(customer.id),
        ..Opened::default()
    };
    maker.say(&customer, Body::Opened(Opened::default()));
    maker.say(&customer, detail(field::NAME, &format!("Customer {number}")));
    maker.say(&customer, detail(field::PHONE, &format!("0555 {number:06}")));
    maker.say(&ticket, Body::Opened(of_customer.clone()));
    maker.say(&ticket, detail(field::DAY, "2026-03-09"));
    maker.say(&pair, Body::Opened(of_customer));
    maker.say(&pair, detail(field::LOOK, LOOKS[number as usize % LOOKS.len()]));
    maker.say(
        &pair,
        detail(field::COLOUR, COLOURS[number as usize / 3 % COLOURS.len()]),
    );
    let opened = Opened {
        pair: Some(pair.id),
        ticket: Some(ticket.id),
        customer: None,
    };
    maker.say(&job, Body::Opened(opened));
    maker.say(&job, detail(field::TAG, &number.to_string()));
    for operation in WORK {
        let agreed = Agreed::at(operation, Minor(2400));
        maker.say(&job, Body::Agreed(agreed));
        let step = Step {
            cement: None,
            line: None,
            operation: operation.into(),
            side: Side::Both,
            note: String::new(),
            minutes: Some(12),
            used: Vec::new(),
        };
        maker.say(&job, Body::Step(step));
    }
    let note = "Welt sound, cork dry; customer walks on the outer edge.".to_owned();
    maker.say(
        &job,
        Body::Note(Note {
            of: None,
            text: note,
            voice: None,
        }),
    );
    maker.say(&job, detail(field::SHELF, "B3"));
    let last = match stay {
        SampleStay::Over => Body::HandedOver(HandedOver::default()),
        SampleStay::InShop => Body::Note(Note {
            of: None,
            text: "Heels wait for cement.".to_owned(),
            voice: None,
        }),
    };
    maker.say(&job, last);
    maker.say(
        &customer,
        Body::Note(Note {
            of: None,
            text: "Prefers a call after six.".to_owned(),
            voice: None,
        }),
    );
    maker.entries
}

/// Whether a pair is still in the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SampleStay {
    /// It was handed over.
    Over,
    /// It is in the shop.
    InShop,
}

const LOOKS: [&str; 5] = ["derby", "oxford", "walking boot", "loafer", "court shoe"];
const COLOURS: [&str; 4] = ["black", "tan", "oxblood", "navy"];
const WORK: [&str; 3] = ["half_sole", "top_piece_replacement", "clean_and_polish"];

fn detail(field: &str, value: &str) -> Body {
    Body::Detail(Detail {
        field: field.to_owned(),
        value: value.into(),
    })
}

struct Maker {
    number: u64,
    entries: Vec<ReceivedEntry>,
}

impl Maker {
    fn ms(&self) -> i64 {
        OPENED + i64::try_from(self.number).unwrap_or(0) * APART
    }

    /// A UUIDv7 of the pair's time, different from all others.
    fn uuid(&self, which: u64) -> Uuid {
        let mut random = [0; 10];
        random[..8].copy_from_slice(
            &(self.number * 1000 + which)
                .wrapping_mul(0x9E37_79B9_7F4A_7C15)
                .to_be_bytes(),
        );
        Builder::from_unix_timestamp_millis(u64::try_from(self.ms()).unwrap_or(0), &random).into_uuid()
    }

    fn say(&mut self, subject: &Subject, body: impl Into<Body>) {
        let body = body.into();
        let nth = self.entries.len() as u64;
        let (Some(kind), Some(text)) = (body.kind(), body.to_text()) else {
            return;
        };
        let ms = UnixMs(self.ms());
        let entry = Entry {
            id: EntryId(self.uuid(nth)),
            subject: subject.clone(),
            stamp: Stamp {
                ms,
                counter: self.number as u32 * PER_PAIR as u32 + nth as u32,
            },
            made_at: MadeAt {
                utc: ms,
                offset_min: 60,
            },
            device: DeviceId(Uuid::from_u128(7)),
            device_seq: self.number * PER_PAIR + nth + 1,
            person: None,
            over: Vec::new(),
            kind: kind.to_owned(),
            version: 1,
            body: text,
        };
        self.entries.push(ReceivedEntry {
            entry,
            received: Some(ms),
        });
    }
}

#[cfg(test)]
mod tests {
    use shared::sync::machine::Progress;

    use super::super::KvStore;
    use super::super::memory::{Memory, now};
    use super::super::scripted::Scripted;
    use super::super::tables::{BLOCKS, PAIRS, SEARCH, TAIL};
    use super::*;

    /// Applies a history, newest pair first, in pages of about a megabyte, as a server sends it.
    fn apply(pairs: u64) -> (Memory, KvStore<Memory, Scripted>) {
        let kv = Memory::default();
        let store = now(KvStore::open(kv.clone(), Scripted::new(1, UnixMs(OPENED)))).unwrap();
        let numbers: Vec<_> = (0..pairs).rev().collect();
        for page in numbers.chunks(100) {
            let stay = |number| {
                if number + 20 < pairs {
                    SampleStay::Over
                } else {
                    SampleStay::InShop
                }
            };
            let entries = page
                .iter()
                .flat_map(|number| pair(*number, stay(*number)))
                .collect();
            now(store.apply(entries, Progress::default())).unwrap();
        }
        (kv, store)
    }

    #[test]
    fn a_history_becomes_few_rows_and_one_summary_a_pair() {
        const PAIRS_HELD: u64 = 1000;
        let (kv, store) = apply(PAIRS_HELD);
        assert_eq!(now(store.counts()).unwrap().entries, PAIRS_HELD * PER_PAIR);
        assert_eq!(kv.rows(TAIL).len(), 0);
        assert_eq!(kv.rows(PAIRS).len() as u64, PAIRS_HELD);
        assert_eq!(kv.rows(SEARCH).len(), 4);
        let bytes: usize = kv
            .rows(BLOCKS)
            .iter()
            .filter_map(|row| row.as_text().map(str::len))
            .sum();
        let full = bytes / kv.rows(BLOCKS).len();
        assert!(
            (40_000..100_000).contains(&full),
            "an archive row holds {full} bytes on average"
        );
        assert_eq!(now(store.in_shop()).unwrap().len(), 20);
        assert_eq!(now(store.find("customer 123")).unwrap().len(), 1);
        assert_eq!(now(store.search("navy derby", 3)).unwrap().len(), 3);
    }
}
