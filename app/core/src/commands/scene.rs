//! Jobs, tickets and pair histories for tests, without a log.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use shared::log::body::{Agreed, Opened, Side, Step};
use shared::log::fold::{
    AgreedLine, Details, Item, JobState, PairHistory, PairState, ShopState, Slot, SubjectMap, TicketState,
};
use shared::log::{EntryId, MadeAt, SubjectId, UnixMs};
use uuid::Uuid;

pub(crate) const PAIR: u128 = 1;
pub(crate) const JOB: u128 = 2;
pub(crate) const TICKET: u128 = 3;
pub(crate) const CUSTOMER: u128 = 4;

pub(crate) fn subject(n: u128) -> SubjectId {
    SubjectId(Uuid::from_u128(n))
}

pub(crate) fn entry(n: u128) -> EntryId {
    EntryId(Uuid::from_u128(n))
}

/// An item from entry `n`, made at a time.
pub(crate) fn said<T>(n: u128, at_ms: i64, body: T) -> Item<T> {
    Item {
        entry: entry(n),
        at: MadeAt {
            utc: UnixMs(at_ms),
            offset_min: 0,
        },
        person: None,
        body,
    }
}

pub(crate) fn slot<T>(n: u128, body: T) -> Option<Slot<T>> {
    Some(Slot {
        current: said(n, 0, body),
        rivals: Vec::new(),
    })
}

/// Details with these plain fields.
pub(crate) fn details(all: &[(&str, Value)]) -> Details {
    let fields = all
        .iter()
        .map(|(name, value)| ((*name).to_owned(), value.clone()));
    Details::of_values(&fields.collect())
}

/// A pair with these plain fields.
pub(crate) fn pair(fields: &[(&str, Value)]) -> PairState {
    PairState {
        details: details(fields),
        ..PairState::default()
    }
}

/// A ticket with these plain fields.
pub(crate) fn ticket(fields: &[(&str, Value)]) -> TicketState {
    TicketState {
        details: details(fields),
        ..TicketState::default()
    }
}

/// A shop with these plain fields.
pub(crate) fn shop(fields: &[(&str, Value)]) -> ShopState {
    ShopState {
        details: details(fields),
        ..ShopState::default()
    }
}

/// A job with this agreed work.
pub(crate) fn job(lines: &[Agreed]) -> JobState {
    let line = |(n, line): (usize, &Agreed)| AgreedLine::of(said(100 + n as u128, 0, line.clone()));
    JobState {
        opened: slot(
            99,
            Opened {
                pair: Some(subject(PAIR)),
                ticket: Some(subject(TICKET)),
                customer: None,
            },
        ),
        agreed: lines.iter().enumerate().map(line).collect(),
        ..JobState::default()
    }
}

/// A step on both shoes, done at a time.
pub(crate) fn step(n: u128, operation: &str, at_ms: i64) -> Item<Step> {
    let body = Step {
        cement: None,
        line: None,
        operation: operation.into(),
        side: Side::Both,
        note: String::new(),
        minutes: None,
        used: Vec::new(),
    };
    said(n, at_ms, body)
}

/// The history of a pair with one job on one ticket.
pub(crate) fn history(pair: PairState, job: JobState, ticket: TicketState) -> PairHistory {
    PairHistory {
        id: subject(PAIR),
        same: BTreeSet::from([subject(PAIR)]),
        pair,
        jobs: BTreeMap::from([(subject(JOB), job)]),
        tickets: [(subject(TICKET), ticket)].into_iter().collect(),
        customers: SubjectMap::default(),
        read: BTreeSet::new(),
    }
}
