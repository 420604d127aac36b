//! Reading what is in the shop page by page.

use super::*;
use shared::sync::HistoryMark;
use shared::sync::machine::{History, RoundOutcome};
use shared::sync::messages::{InShopAnswer, PushAnswer, PushOutcome};

fn mark(seq: u64) -> HistoryMark {
    HistoryMark {
        subject_seq: seq,
        seq,
    }
}

/// A page of one entry. `start` is the server's number when it answers.
fn page(n: u16, start: u64, next: Option<HistoryMark>) -> Event {
    Event::InShop(InShopAnswer {
        entries: vec![own(n)],
        start: cursor(start),
        next,
    })
}

/// The question for the page after this mark of what was in the shop at number 9.
fn after(read: HistoryMark) -> Command {
    Command::GetInShop(Some(History {
        start: cursor(9),
        read: Some(read),
    }))
}

/// A new device that has nothing to send.
fn new_device() -> Machine {
    let mut machine = Machine::start(Progress::default());
    machine.handle(Event::Unsent(Vec::new()));
    assert_eq!(machine.command(), &Command::GetInShop(None));
    machine
}

/// What the machine stores now: the number of entries and the progress.
fn stored(machine: &Machine) -> (usize, Progress) {
    let Command::Apply { entries, progress } = machine.command() else {
        panic!("not expected: {:?}", machine.command());
    };
    (entries.len(), progress.clone())
}

#[test]
fn each_page_is_stored_as_it_comes_and_the_next_one_is_asked_for_meanwhile() {
    let mut machine = new_device();
    machine.handle(page(1, 9, Some(mark(7))));
    let (entries, progress) = stored(&machine);
    assert_eq!((entries, progress.filled, progress.cursor), (1, false, None));
    assert_eq!(machine.prefetch(), Some(after(mark(7))));
    machine.handle(Event::Stored);
    assert_eq!(machine.command(), &after(mark(7)));
    machine.handle(page(2, 9, Some(mark(4))));
    machine.handle(Event::Stored);
    assert_eq!(machine.command(), &after(mark(4)));
    machine.handle(page(3, 9, None));
    let (entries, progress) = stored(&machine);
    assert_eq!((entries, progress.filled, progress.compare), (1, true, true));
    assert_eq!((progress.cursor, progress.in_shop), (Some(cursor(9)), None));
    let history = History {
        start: cursor(9),
        read: None,
    };
    assert_eq!(progress.history, Some(history));
    machine.handle(Event::Stored);
    let pull = Command::Pull {
        cursor: Some(cursor(9)),
        pushed: None,
    };
    assert_eq!(machine.command(), &pull);
}

#[test]
fn a_round_that_broke_off_goes_on_with_the_page_it_had_come_to() {
    let mut machine = new_device();
    machine.handle(page(1, 9, Some(mark(7))));
    let (_, progress) = stored(&machine);
    machine.handle(Event::Stored);
    machine.handle(Event::NoAnswer);
    assert!(matches!(
        machine.command(),
        Command::Rest(RoundOutcome::Again { .. })
    ));

    // Meanwhile something was saved, which is sent first, and others have written.
    let kept = serde_json::to_string(&progress).unwrap();
    let mut machine = Machine::start(serde_json::from_str(&kept).unwrap());
    machine.handle(Event::Unsent(vec![own(5)]));
    machine.handle(Event::Pushed(PushAnswer {
        before: Some(cursor(11)),
        at: cursor(12),
        results: vec![PushOutcome::Accepted {
            received: shared::log::UnixMs(1),
        }],
    }));
    machine.handle(Event::Stored);
    machine.handle(Event::Unsent(Vec::new()));
    assert_eq!(machine.command(), &after(mark(7)));
    machine.handle(page(2, 12, None));
    let (_, progress) = stored(&machine);
    assert_eq!(
        progress.cursor,
        Some(cursor(9)),
        "what came after the first page is pulled"
    );
    assert_eq!(
        progress.pushed,
        Some(cursor(12)),
        "the push must not be lost either"
    );
}

#[test]
fn a_page_that_could_not_be_stored_is_asked_for_again() {
    let mut machine = new_device();
    machine.handle(page(1, 9, Some(mark(7))));
    machine.handle(Event::NotStored);
    assert_eq!(machine.command(), &Command::Rest(RoundOutcome::StoreFailed));
    assert_eq!(machine.progress(), &Progress::default());
}

#[test]
fn a_server_set_back_between_two_pages_is_read_from_zero() {
    let mut machine = new_device();
    machine.handle(page(1, 9, Some(mark(7))));
    machine.handle(Event::Stored);
    machine.handle(Event::Refused(problem(Code::CursorLost)));
    let (entries, progress) = stored(&machine);
    assert_eq!((entries, progress.filled, progress.compare), (0, true, true));
    assert_eq!((progress.cursor, progress.in_shop), (None, None));
    machine.handle(Event::Stored);
    assert!(matches!(machine.command(), Command::Pull { cursor: None, .. }));
}

/// Servers of before 0.2.0 know no pages: they send everything, whatever was asked for.
#[test]
fn an_older_server_sends_everything_as_one_page() {
    let mut machine = new_device();
    machine.handle(page(1, 9, None));
    assert!(stored(&machine).1.filled);

    // The server was put back to its former version between two pages.
    let mut machine = new_device();
    machine.handle(page(1, 9, Some(mark(7))));
    machine.handle(Event::Stored);
    machine.handle(page(2, 14, None));
    let (_, progress) = stored(&machine);
    assert_eq!((progress.filled, progress.cursor), (true, Some(cursor(9))));
    let answer = serde_json::json!({ "entries": [], "start": cursor(9) });
    let answer: InShopAnswer = serde_json::from_value(answer).unwrap();
    assert_eq!(answer.next, None);
}
