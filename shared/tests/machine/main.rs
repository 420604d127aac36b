//! Tests of single decisions of the sync machine. Whole rounds with faults are in the simulation.

mod in_shop;
mod roles;
mod rounds;
mod set_back;
#[path = "../support/mod.rs"]
mod support;

use shared::log::ReceivedEntry;
use shared::log::body::Role;
use shared::sync::machine::{Command, Event, Machine, Progress};
use shared::sync::messages::PullAnswer;
use shared::sync::{Code, Cursor, Problem};
use support::*;
use uuid::Uuid;

fn cursor(seq: u64) -> Cursor {
    Cursor {
        epoch: Uuid::from_u128(1),
        seq,
        mark: Uuid::from_u128(u128::from(seq)),
    }
}

fn problem(code: Code) -> Problem {
    Problem {
        code,
        message: "A sentence.".to_owned(),
        retry_after: None,
    }
}

fn joined() -> Progress {
    Progress {
        cursor: Some(cursor(5)),
        filled: true,
        ..Progress::default()
    }
}

fn own(n: u16) -> ReceivedEntry {
    ReceivedEntry::unsent(entry(n, pair(1), i64::from(n), 0, &detail("colour", "tan")))
}

/// The last page of a pull.
fn page(entries: Vec<ReceivedEntry>, at: Cursor) -> PullAnswer {
    PullAnswer {
        entries,
        cursor: at,
        more: false,
        wanted: Vec::new(),
        due: Vec::new(),
        role: Role::Repairer,
    }
}

fn nothing_new(at: Cursor) -> Event {
    Event::Pulled(page(Vec::new(), at))
}

/// A machine in its first round, on a device with nothing to send, after everything before the blobs.
fn at_the_blobs(progress: Progress) -> Machine {
    let at = progress.cursor.expect("a joined device");
    let mut machine = Machine::start(progress);
    machine.handle(Event::Unsent(Vec::new()));
    machine.handle(nothing_new(at));
    assert_eq!(machine.command(), &Command::LoadUnsentBlobs);
    machine
}
