//! Rounds with a server that was set back to an older copy.

use super::*;
use shared::log::UnixMs;
use shared::sync::Code;
use shared::sync::machine::{Command, Event, Machine, Progress};
use shared::sync::messages::{MissingEntriesAnswer, PullAnswer, PushAnswer, PushOutcome};

#[test]
fn a_lost_cursor_reads_from_zero_then_compares_and_offers_what_is_missing() {
    let mut machine = Machine::start(joined());
    machine.handle(Event::Unsent(Vec::new()));
    machine.handle(Event::Refused(problem(Code::CursorLost)));
    let Command::Apply { progress, .. } = machine.command().clone() else {
        panic!("the loss is written down first")
    };
    assert!(progress.compare && progress.cursor.is_none());

    machine.handle(Event::Stored);
    assert_eq!(
        machine.command(),
        &Command::Pull {
            cursor: None,
            pushed: None
        }
    );
    machine.handle(Event::Pulled(page(vec![own(1)], cursor(1))));
    machine.handle(Event::Stored);
    machine.handle(nothing_new(cursor(1)));
    assert_eq!(machine.command(), &Command::LoadHoldings { after: None });
    let holding = |n| shared::sync::messages::Holding {
        id: entry_id(n),
        received: Some(UnixMs(3)),
    };
    machine.handle(Event::Holdings(vec![holding(0), holding(1)]));
    machine.handle(Event::Missing(MissingEntriesAnswer {
        missing: vec![entry_id(0)],
    }));
    assert_eq!(machine.command(), &Command::MarkUnsent(vec![entry_id(0)]));
    machine.handle(Event::Stored);
    assert_eq!(
        machine.command(),
        &Command::LoadHoldings {
            after: Some(entry_id(1))
        }
    );
    machine.handle(Event::Holdings(Vec::new()));
    let Command::UnconfirmBlobs(progress) = machine.command().clone() else {
        panic!("blobs may be lost too")
    };
    assert!(!progress.compare);
    machine.handle(Event::Stored);
    assert!(
        matches!(machine.command(), Command::LoadUnsent { .. }),
        "and what was missing is offered"
    );
}

#[test]
fn an_acknowledgement_the_server_has_forgotten_is_noticed_although_the_cursor_stands() {
    let mut machine = Machine::start(joined());
    machine.handle(Event::Unsent(vec![own(0)]));
    let results = vec![PushOutcome::Accepted { received: UnixMs(1) }];
    machine.handle(Event::Pushed(PushAnswer {
        before: Some(cursor(6)),
        at: cursor(7),
        results,
    }));
    let Command::Settle { progress, .. } = machine.command().clone() else {
        panic!("it is settled first")
    };
    assert_eq!(
        progress.pushed,
        Some(cursor(7)),
        "and what must stand is written down with it"
    );
    machine.handle(Event::Stored);
    machine.handle(Event::Unsent(Vec::new()));
    let pull = Command::Pull {
        cursor: Some(cursor(5)),
        pushed: Some(cursor(7)),
    };
    assert_eq!(machine.command(), &pull);
    machine.handle(Event::Pulled(page(vec![own(0)], cursor(8))));
    assert_eq!(
        machine.progress().pushed,
        Some(cursor(7)),
        "until the cursor that has passed it is stored"
    );
    machine.handle(Event::Stored);
    assert_eq!(
        machine.command(),
        &Command::Pull {
            cursor: Some(cursor(8)),
            pushed: None
        }
    );
}

/// A round that begins again from zero, pushes and is interrupted; then the server is set back.
#[test]
fn a_push_the_server_has_forgotten_is_noticed_while_everything_is_read_again() {
    let progress = Progress {
        cursor: None,
        pushed: Some(cursor(7)),
        in_shop: None,
        history: None,
        compare: true,
        filled: true,
        role: None,
    };
    let mut machine = Machine::start(progress);
    machine.handle(Event::Unsent(Vec::new()));
    let pull = |pushed| Command::Pull { cursor: None, pushed };
    assert_eq!(machine.command(), &pull(Some(cursor(7))));
    machine.handle(Event::Refused(problem(Code::CursorLost)));
    let Command::Apply { progress, .. } = machine.command().clone() else {
        panic!("it begins again: {:?}", machine.command())
    };
    assert_eq!(
        (progress.cursor, progress.pushed, progress.compare),
        (None, None, true)
    );
    machine.handle(Event::Stored);
    assert_eq!(machine.command(), &pull(None));
}

#[test]
fn a_photograph_the_server_has_lost_is_offered_again() {
    let mut machine = Machine::start(joined());
    machine.handle(Event::Unsent(Vec::new()));
    let wanted = vec!["aa".to_owned()];
    machine.handle(Event::Pulled(PullAnswer {
        wanted: wanted.clone(),
        ..page(Vec::new(), cursor(5))
    }));
    assert_eq!(machine.command(), &Command::WantBlobs(wanted));
    machine.handle(Event::Stored);
    assert_eq!(machine.command(), &Command::LoadUnsentBlobs);
}
