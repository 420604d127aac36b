//! Rounds in which the server tells the device's role, and which erasures are due.

use super::*;
use shared::log::UnixMs;
use shared::log::body::{Body, ErasureAsked};
use shared::sync::messages::{PushAnswer, PushOutcome};

/// A request for an erasure that the server has held for a while.
fn request(n: u16) -> ReceivedEntry {
    let asked = Body::ErasureAsked(ErasureAsked::default());
    ReceivedEntry {
        entry: entry(n, pair(1), i64::from(n), 0, &asked),
        received: Some(UnixMs(1)),
    }
}

/// The last page of a pull that brings nothing but these requests.
fn due(requests: &[ReceivedEntry], at: Cursor) -> Event {
    Event::Pulled(PullAnswer {
        due: requests.to_vec(),
        ..page(Vec::new(), at)
    })
}

#[test]
fn erasures_that_are_due_are_written_once_a_round_and_sent() {
    let requests = [request(3)];
    let mut machine = Machine::start(joined());
    machine.handle(Event::Unsent(Vec::new()));
    machine.handle(due(&requests, cursor(5)));
    assert_eq!(machine.command(), &Command::WriteDue(requests.to_vec()));
    machine.handle(Event::Stored);
    assert!(matches!(machine.command(), Command::LoadUnsent { .. }));
    machine.handle(Event::Unsent(vec![own(7)]));
    machine.handle(Event::Pushed(PushAnswer {
        before: Some(cursor(5)),
        at: cursor(6),
        results: vec![PushOutcome::Accepted { received: UnixMs(9) }],
    }));
    machine.handle(Event::Stored);
    machine.handle(Event::Unsent(Vec::new()));
    // The server names one again that the device has not written. The round must end all the same.
    machine.handle(due(&requests, cursor(6)));
    assert_eq!(machine.command(), &Command::LoadUnsentBlobs);
}

#[test]
fn a_device_compares_its_entries_before_it_writes_erasures() {
    let mut machine = Machine::start(Progress {
        compare: true,
        ..joined()
    });
    machine.handle(Event::Unsent(Vec::new()));
    machine.handle(due(&[request(3)], cursor(5)));
    assert_eq!(machine.command(), &Command::LoadHoldings { after: None });
}

#[test]
fn another_role_is_stored_although_nothing_else_is_new() {
    let progress = Progress {
        role: Some(Role::Repairer),
        ..joined()
    };
    let told = || {
        Event::Pulled(PullAnswer {
            role: Role::Helper,
            ..page(Vec::new(), cursor(5))
        })
    };
    let mut machine = Machine::start(progress.clone());
    machine.handle(Event::Unsent(Vec::new()));
    machine.handle(told());
    let apply = Command::Apply {
        entries: Vec::new(),
        progress: Progress {
            role: Some(Role::Helper),
            ..progress
        },
    };
    assert_eq!(machine.command(), &apply);
    machine.handle(Event::Stored);
    machine.handle(told());
    assert_eq!(machine.command(), &Command::LoadUnsentBlobs);
}
