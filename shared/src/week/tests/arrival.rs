//! The order in which entries arrive never changes the plan.

use super::log::{Log, agreed, at, detail};
use super::*;
use crate::log::body::{Body, Side, Step, Wait, WaitFor};
use crate::log::entry::SubjectKind;
use crate::week::DayFold;

const CODES: [&str; 4] = [
    "half_sole",
    "small_repair",
    "clean_condition_polish",
    "restitch_welt",
];

/// What happens to a pair: which one, when, and what.
fn happening() -> impl Strategy<Value = (u64, i64, u8, usize)> {
    (1..=5_u64, -20..200_i64, 0..6_u8, 0..CODES.len())
}

fn happen(log: &mut Log, (n, minute, what, code): (u64, i64, u8, usize)) {
    let operation = CODES[code];
    let body = match what {
        0 => agreed(operation),
        1 => Body::Step(Step {
            cement: None,
            line: None,
            operation: operation.into(),
            side: Side::Both,
            note: String::new(),
            minutes: None,
            used: Vec::new(),
        }),
        2 => Body::Wait(Wait {
            dries: None,
            material: None,
            what: WaitFor::Drying,
            minutes: Some(20),
            note: operation.to_owned(),
        }),
        3 => detail(field::FIRST, code > 1),
        4 => detail(field::PUT_ASIDE, at(minute + 30).0),
        _ => detail(field::RUN_BEGUN, at(minute).0),
    };
    log.write(&SubjectKind::Job, n, minute, &body);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// The same entries in any order, of pairs in any order, all at once or after only some of them were known.
    #[test]
    fn the_order_of_arrival_never_changes_the_plan(
        happens in prop::collection::vec(happening(), 1..10),
        seed in prop::collection::vec(any::<u32>(), 64),
        known in 0..40_usize,
    ) {
        let mut log = Log::default();
        for n in 1..=5 {
            let work = [CODES[n as usize % 4], CODES[(n as usize + 1) % 4]];
            log.bring(n, -600, &work, if n < 3 { TODAY } else { FRIDAY });
        }
        for one in happens {
            happen(&mut log, one);
        }
        let whole = log.plan(&mut DayFold::default(), 220);
        let mut shuffled = log.clone();
        let mut turn = seed.iter().cycle();
        for (_, entries) in &mut shuffled.pairs {
            entries.sort_by_cached_key(|_| turn.next());
        }
        shuffled.pairs.sort_by_cached_key(|_| turn.next());
        prop_assert_eq!(&shuffled.plan(&mut DayFold::default(), 220), &whole);
        // A device that had a part of them, and had planned with it.
        let mut fold = DayFold::default();
        let mut part = shuffled.clone();
        part.pairs.truncate(1 + known % 5);
        for (_, entries) in &mut part.pairs {
            entries.truncate(known);
        }
        part.plan(&mut fold, 150);
        prop_assert_eq!(&shuffled.plan(&mut fold, 220), &whole);
    }
}
