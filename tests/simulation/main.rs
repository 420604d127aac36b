//! Whole histories of a shop, each from one seed: several phones with wrong clocks, some of them helpers', a network that
//! loses requests and answers and repeats them, crashes between any two local writes, a server set back to older copies
//! with and without anybody knowing, devices shut out, wiped and let in again, backups restored on new phones, people,
//! photographs and single mentions erased, at times more than the server takes in a day. In some histories a device lies,
//! mostly as a helper's, in some a phone still runs an older app, and in some copies of entries lose their content on the
//! way to the phones.
//!
//! Afterwards everything calms down: clocks are set right, everybody joins and syncs, a repairer decides about what is
//! kept aside, and days pass until the erasures that were asked for are done. Then every device must hold what the server
//! holds and everything that was ever shown as saved must be there, folded alike everywhere.
//!
//! `WAXEND_HISTORIES=20000` runs more; `WAXEND_SEED=1234` replays one, which is what a failure prints.

mod blanked;
mod blobs_of;
mod calm;
mod checks;
mod dice;
mod doings;
mod forgotten;
mod former_phone;
mod helper_rules;
mod joining;
mod kept_aside;
mod liar;
mod lies;
mod line;
mod phone;
mod remarks;
mod repairers;
mod saving;
mod seen;
mod server_log;
mod town;
mod upheavals;
mod wiped;

use std::panic::{AssertUnwindSafe, catch_unwind};

use town::Town;

/// How many histories run without a flag.
const HISTORIES: u64 = 2_000;

fn number(name: &str) -> Option<u64> {
    std::env::var(name)
        .ok()
        .map(|text| text.parse().unwrap_or_else(|_| panic!("{name} must be a number")))
}

/// Runs one history to its calm end. Panics where something does not hold.
fn live(seed: u64) {
    let mut town = Town::new(seed);
    for _ in 0..town.dice.between(20, 70) {
        town.something_happens();
    }
    town.calm_down();
    checks::all(&town);
}

fn lived_well(seed: u64) -> bool {
    catch_unwind(AssertUnwindSafe(|| live(seed))).is_ok()
}

#[test]
fn whatever_happens_everything_converges_and_nothing_is_lost() {
    if let Some(seed) = number("WAXEND_SEED") {
        return live(seed);
    }
    let histories = number("WAXEND_HISTORIES").unwrap_or(HISTORIES);
    let halves = std::thread::scope(|scope| {
        let run = |first: u64| {
            move || {
                (first..histories)
                    .step_by(2)
                    .filter(|seed| !lived_well(*seed))
                    .collect::<Vec<_>>()
            }
        };
        let other = scope.spawn(run(1));
        let mut failed = run(0)();
        failed.extend(other.join().expect("the other half came to its end"));
        failed
    });
    assert!(halves.is_empty(), "replay with WAXEND_SEED=<one of> {halves:?}");
}
