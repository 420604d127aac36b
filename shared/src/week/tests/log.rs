//! A log of invented pairs, of which tests make plans.

use super::*;
use crate::log::body::{Agreed, Body, Detail, Opened};
use crate::log::entry::{DeviceId, Entry, EntryId, MadeAt, Stamp, Subject, SubjectKind};
use crate::log::received::ReceivedEntry;
use crate::price::minor::Minor;
use crate::week::DayFold;

/// The entries of each pair.
#[derive(Debug, Clone, Default)]
pub(super) struct Log {
    pub(super) pairs: Vec<(SubjectId, Vec<ReceivedEntry>)>,
    written: u64,
}

/// The subject of a kind that belongs to the n-th pair.
pub(super) fn named(kind: &SubjectKind, n: u64) -> SubjectId {
    SubjectId(Uuid::from_u64_pair(1 + kind.as_str().len() as u64, n))
}

/// So many minutes after the opening.
pub(super) fn at(minute: i64) -> UnixMs {
    UnixMs(NOW.0 + minute * MINUTE)
}

pub(super) fn detail(field: &str, value: impl Into<serde_json::Value>) -> Body {
    Body::Detail(Detail {
        field: field.to_owned(),
        value: value.into(),
    })
}

pub(super) fn agreed(operation: &str) -> Body {
    Body::Agreed(Agreed::at(operation, Minor(1_000)))
}

impl Log {
    /// Writes an entry about the n-th pair, or about its ticket or job.
    pub(super) fn write(&mut self, kind: &SubjectKind, n: u64, minute: i64, body: &Body) -> EntryId {
        self.written += 1;
        let id = EntryId(Uuid::from_u64_pair(1, self.written));
        let entry = Entry {
            id,
            subject: Subject::new(kind.clone(), named(kind, n)),
            stamp: Stamp {
                ms: at(minute),
                counter: u32::try_from(self.written).unwrap(),
            },
            made_at: MadeAt {
                utc: at(minute),
                offset_min: 60,
            },
            device: DeviceId(Uuid::from_u128(7)),
            device_seq: self.written,
            person: None,
            over: Vec::new(),
            kind: body.kind().unwrap().to_owned(),
            version: 1,
            body: body.to_text().unwrap(),
        };
        let pair = named(&SubjectKind::Pair, n);
        let place = self.pairs.iter().position(|(known, _)| *known == pair);
        let place = place.unwrap_or_else(|| {
            self.pairs.push((pair, Vec::new()));
            self.pairs.len() - 1
        });
        self.pairs[place].1.push(ReceivedEntry::unsent(entry));
        id
    }

    /// The n-th pair comes in.
    pub(super) fn bring(&mut self, n: u64, minute: i64, work: &[&str], day: &str) {
        let opened = Opened {
            pair: Some(named(&SubjectKind::Pair, n)),
            ticket: Some(named(&SubjectKind::Ticket, n)),
            customer: None,
        };
        self.write(&SubjectKind::Pair, n, minute, &Body::Opened(Opened::default()));
        self.write(&SubjectKind::Ticket, n, minute, &Body::Opened(Opened::default()));
        self.write(&SubjectKind::Ticket, n, minute, &detail(field::DAY, day));
        self.write(&SubjectKind::Job, n, minute, &Body::Opened(opened));
        self.write(
            &SubjectKind::Job,
            n,
            minute,
            &detail(field::TAG, format!("A-{n}")),
        );
        for operation in work {
            self.write(&SubjectKind::Job, n, minute, &agreed(operation));
        }
    }

    /// The plan that stands so many minutes after the opening.
    pub(super) fn plan(&self, fold: &mut DayFold, minute: i64) -> DayPlan {
        asked(json!({}), |given| self.planned(fold, &later(given, minute)))
    }

    /// The same plan in words.
    pub(super) fn told(&self, minute: i64) -> WeekPlan {
        asked(json!({}), |given| {
            let given = later(given, minute);
            run_told(&self.planned(&mut DayFold::default(), &given), &given)
        })
    }

    fn planned(&self, fold: &mut DayFold, given: &WeekInput<'_>) -> DayPlan {
        let pairs = self.pairs.iter().map(|(pair, log)| (*pair, log.as_slice()));
        fold.plan(pairs, given, "").clone()
    }
}

pub(super) fn later<'a>(given: &WeekInput<'a>, minute: i64) -> WeekInput<'a> {
    WeekInput {
        now: at(minute),
        ..*given
    }
}
