//! Builders of entries for tests: short ways to state who wrote what, when, and what it replaces.

#![allow(dead_code, reason = "each test file uses the builders it needs")]

use proptest::prelude::*;
use shared::log::body::{Agreed, Detail, Retracted, SameAs, Withdrawn};
use shared::log::{
    Body, DeviceId, Entry, EntryId, MadeAt, ReceivedEntry, Stamp, Subject, SubjectId, SubjectKind, UnixMs,
};
use shared::price::minor::Minor;
use uuid::{Builder, Uuid};

/// The n-th subject of a test.
pub(crate) fn subject_id(n: u8) -> SubjectId {
    SubjectId(Builder::from_unix_timestamp_millis(1_000 + u64::from(n), &[n; 10]).into_uuid())
}

/// A pair.
pub(crate) fn pair(n: u8) -> Subject {
    Subject::new(SubjectKind::Pair, subject_id(n))
}

/// The n-th entry id of a test.
pub(crate) fn entry_id(n: u16) -> EntryId {
    let [a, b] = n.to_be_bytes();
    EntryId(Builder::from_unix_timestamp_millis(2_000, &[a, b, 0, 0, 0, 0, 0, 0, a, b]).into_uuid())
}

/// An entry with this body, about this subject, stamped at `ms` by device `device`.
pub(crate) fn entry(n: u16, subject: Subject, ms: i64, device: u8, body: &Body) -> Entry {
    Entry {
        id: entry_id(n),
        subject,
        stamp: Stamp {
            ms: UnixMs(ms),
            counter: 0,
        },
        made_at: MadeAt {
            utc: UnixMs(ms),
            offset_min: 60,
        },
        device: DeviceId(Uuid::from_u128(u128::from(device) + 1)),
        device_seq: u64::from(n) + 1,
        person: None,
        over: Vec::new(),
        kind: body.kind().expect("a known kind").to_owned(),
        version: 1,
        body: body.to_text().expect("a known kind"),
    }
}

/// The same entry, replacing others.
pub(crate) fn over(mut entry: Entry, replaced: &[u16]) -> Entry {
    entry.over = replaced.iter().map(|n| entry_id(*n)).collect();
    entry
}

/// A plain field.
pub(crate) fn detail(field: &str, value: &str) -> Body {
    Body::Detail(Detail {
        field: field.to_owned(),
        value: value.into(),
    })
}

/// A line of agreed work.
pub(crate) fn agreed(operation: &str, price: i64) -> Body {
    Body::Agreed(Agreed::at(operation, Minor(price)))
}

/// A retraction.
pub(crate) fn retracted(n: u16) -> Body {
    Body::Retracted(Retracted { entry: entry_id(n) })
}

/// A withdrawal.
pub(crate) fn withdrawn() -> Body {
    Body::Withdrawn(Withdrawn {})
}

/// A join of two subjects.
pub(crate) fn same_as(n: u8) -> Body {
    Body::SameAs(SameAs { other: subject_id(n) })
}

/// One act in a generated history: its body, and the earlier entries it replaces.
#[derive(Debug, Clone)]
pub(crate) struct Act {
    device: u8,
    ms: i64,
    what: u8,
    target: prop::sample::Index,
    replaces: Vec<prop::sample::Index>,
    received: Option<i64>,
}

/// Any act, by one of three devices, at any time.
pub(crate) fn act() -> impl Strategy<Value = Act> {
    let replaces = prop::collection::vec(any::<prop::sample::Index>(), 0..3);
    (
        0u8..3,
        0i64..40,
        0u8..10,
        any::<prop::sample::Index>(),
        replaces,
        prop::option::of(0i64..60),
    )
        .prop_map(|(device, ms, what, target, replaces, received)| Act {
            device,
            ms,
            what,
            target,
            replaces,
            received,
        })
}

/// A history of one pair: entries that set fields, agree on work, replace, retract, withdraw, or that only a
/// newer app understands.
pub(crate) fn history(length: std::ops::Range<usize>) -> impl Strategy<Value = Vec<ReceivedEntry>> {
    prop::collection::vec(act(), length).prop_map(|acts| {
        let mut made = Vec::new();
        for (n, act) in acts.iter().enumerate() {
            made.push(held(u16::try_from(n).expect("a short history"), act));
        }
        made
    })
}

fn held(n: u16, act: &Act) -> ReceivedEntry {
    let earlier = |index: &prop::sample::Index| u16::try_from(index.index(usize::from(n))).expect("small");
    let body = match act.what {
        0..=2 => detail("colour", &format!("brown {n}")),
        3 => detail("maker", &format!("maker {n}")),
        4 | 5 => agreed("half_sole", i64::from(n) * 100),
        6 | 7 if n > 0 => retracted(earlier(&act.target)),
        8 => withdrawn(),
        _ => detail("look", &format!("boot {n}")),
    };
    let mut made = entry(n, pair(1), act.ms, act.device, &body);
    if n > 0 && act.what < 6 {
        made.over = act
            .replaces
            .iter()
            .map(|index| entry_id(earlier(index)))
            .collect();
    }
    if act.what == 9 {
        made.kind = "soaked_overnight".to_owned();
        made.body = format!("{{ \"hours\":{n} , \"bath\" : \"tepid\" }}");
    }
    ReceivedEntry {
        entry: made,
        received: act.received.map(UnixMs),
    }
}
