//! Rounds with a server that loses nothing.

use super::*;
use shared::log::{ReceivedEntry, UnixMs};
use shared::sync::machine::{BlobSettled, Command, Event, History, Machine, Progress, RoundOutcome, Settled};
use shared::sync::messages::{
    HistoryAnswer, InShopAnswer, MissingBlobsAnswer, PullAnswer, PushAnswer, PushOutcome, PushRequest,
};
use shared::sync::{Code, HistoryMark};

#[test]
fn what_the_server_cannot_read_is_found_by_halving_and_blocks_nothing_else() {
    let entries: Vec<_> = (0..8).map(own).collect();
    let poison = entry_id(5);
    let mut machine = Machine::start(joined());
    machine.handle(Event::Unsent(entries));
    let (mut accepted, mut refused) = (Vec::new(), Vec::new());
    loop {
        let event = match machine.command().clone() {
            Command::Push(sent) if sent.entries.iter().any(|held| held.entry.id == poison) => {
                Event::Refused(problem(Code::Malformed))
            }
            Command::Push(sent) => Event::Pushed(PushAnswer {
                before: None,
                at: cursor(9),
                results: sent
                    .entries
                    .iter()
                    .map(|_| PushOutcome::Accepted { received: UnixMs(9) })
                    .collect(),
            }),
            Command::Settle { settled, .. } => {
                for one in settled {
                    match one {
                        Settled::Accepted { id, .. } => accepted.push(id),
                        Settled::Refused { id, .. } => refused.push(id),
                    }
                }
                Event::Stored
            }
            Command::LoadUnsent { .. } => break,
            other => panic!("not expected: {other:?}"),
        };
        machine.handle(event);
    }
    assert_eq!(refused, [poison]);
    assert_eq!(accepted.len(), 7);
}

#[test]
fn an_answer_that_does_not_speak_of_every_entry_acknowledges_none() {
    let mut machine = Machine::start(joined());
    machine.handle(Event::Unsent(vec![own(0), own(1)]));
    machine.handle(Event::Pushed(PushAnswer {
        before: None,
        at: cursor(9),
        results: vec![PushOutcome::Accepted { received: UnixMs(1) }],
    }));
    assert!(matches!(
        machine.command(),
        Command::Rest(RoundOutcome::Again { .. })
    ));
}

#[test]
fn a_new_device_takes_what_is_in_the_shop_first_and_history_last() {
    let mut machine = Machine::start(Progress::default());
    machine.handle(Event::Unsent(Vec::new()));
    assert_eq!(machine.command(), &Command::GetInShop(None));
    machine.handle(Event::InShop(InShopAnswer {
        entries: vec![own(0)],
        start: cursor(9),
        next: None,
    }));
    machine.handle(Event::Stored);
    machine.handle(nothing_new(cursor(9)));
    assert_eq!(
        machine.command(),
        &Command::LoadHoldings { after: None },
        "what it brought along is compared once"
    );
    machine.handle(Event::Holdings(Vec::new()));
    machine.handle(Event::Stored);
    machine.handle(Event::Unsent(Vec::new()));
    machine.handle(nothing_new(cursor(9)));
    machine.handle(Event::UnsentBlobs(Vec::new()));
    let first = History {
        start: cursor(9),
        read: None,
    };
    assert_eq!(machine.command(), &Command::GetHistory(first));
    let next = HistoryMark {
        subject_seq: 4,
        seq: 6,
    };
    machine.handle(Event::History(HistoryAnswer {
        entries: vec![own(1)],
        next: Some(next),
    }));
    machine.handle(Event::Stored);

    // An entry was saved meanwhile: it is sent first.
    machine.handle(Event::Unsent(vec![own(7)]));
    assert_eq!(
        machine.command(),
        &Command::Push(PushRequest {
            entries: vec![own(7)],
            pushed: None
        })
    );
    machine.handle(Event::Pushed(PushAnswer {
        before: None,
        at: cursor(9),
        results: vec![PushOutcome::Accepted { received: UnixMs(1) }],
    }));
    machine.handle(Event::Stored);
    machine.handle(Event::Unsent(Vec::new()));
    machine.handle(nothing_new(cursor(9)));
    machine.handle(Event::UnsentBlobs(Vec::new()));
    assert_eq!(
        machine.command(),
        &Command::GetHistory(History {
            read: Some(next),
            ..first
        })
    );
    machine.handle(Event::History(HistoryAnswer {
        entries: Vec::new(),
        next: None,
    }));
    machine.handle(Event::Stored);
    machine.handle(Event::Unsent(Vec::new()));
    assert_eq!(machine.command(), &Command::Rest(RoundOutcome::UpToDate));
}

#[test]
fn what_is_asked_ahead_is_what_comes_to_be_asked() {
    let page = |n, more| {
        Event::Pulled(PullAnswer {
            more,
            ..page(vec![own(n)], cursor(n.into()))
        })
    };
    let history = |next| {
        Event::History(HistoryAnswer {
            entries: vec![own(1)],
            next,
        })
    };
    let mark = HistoryMark {
        subject_seq: 4,
        seq: 6,
    };
    let in_shop = Event::InShop(InShopAnswer {
        start: cursor(9),
        entries: vec![own(0)],
        next: None,
    });
    let mut machine = Machine::start(Progress::default());
    let answers = [
        Event::Unsent(Vec::new()),
        in_shop,
        Event::Stored,
        page(10, true),
        Event::Stored,
        page(11, false),
        Event::Stored,
        nothing_new(cursor(11)),
        Event::Holdings(Vec::new()),
        Event::Stored,
        Event::Unsent(Vec::new()),
        nothing_new(cursor(11)),
        Event::UnsentBlobs(Vec::new()),
        history(Some(mark)),
        Event::Stored,
        Event::Unsent(Vec::new()),
        history(None),
        Event::Stored,
        Event::Unsent(Vec::new()),
    ];
    let mut ahead: Vec<Command> = Vec::new();
    let mut asked = Vec::new();
    for answer in answers {
        ahead.extend(machine.prefetch());
        machine.handle(answer);
        let question = machine.command();
        if matches!(question, Command::Pull { .. } | Command::GetHistory(_)) {
            asked.push(question.clone());
        }
    }
    assert_eq!(machine.command(), &Command::Rest(RoundOutcome::UpToDate));
    // The last pull and the first page of history are not prefetched, because no page is written before them.
    let unforeseen: Vec<_> = asked
        .iter()
        .filter(|question| !ahead.contains(question))
        .collect();
    assert_eq!(ahead.len(), 4, "{ahead:?}");
    assert!(ahead.iter().all(|question| asked.contains(question)));
    assert!(
        matches!(
            unforeseen.as_slice(),
            [Command::GetHistory(History { read: None, .. })]
        ),
        "{unforeseen:?}"
    );
}

#[test]
fn of_many_entries_one_half_is_offered_while_what_became_of_the_other_is_written() {
    let entries: Vec<_> = (0..1001).map(own).collect();
    let accepted = |count, before, at| {
        Event::Pushed(PushAnswer {
            before: Some(before),
            at,
            results: vec![PushOutcome::Accepted { received: UnixMs(9) }; count],
        })
    };
    let mut machine = Machine::start(joined());
    machine.handle(Event::Unsent(entries.clone()));
    let push = |entries: &[ReceivedEntry]| {
        Command::Push(PushRequest {
            entries: entries.to_vec(),
            pushed: None,
        })
    };
    assert_eq!(machine.command(), &push(&entries[..500]));
    assert_eq!(
        machine.prefetch(),
        None,
        "what became of the first half is not known yet"
    );
    machine.handle(accepted(500, cursor(5), cursor(505)));
    let early = machine.prefetch();
    machine.handle(Event::Stored);
    assert_eq!(early.as_ref(), Some(machine.command()));
    assert_eq!(early, Some(push(&entries[500..])));
    machine.handle(accepted(501, cursor(505), cursor(1006)));
    assert_eq!(machine.prefetch(), None, "nothing is left to offer");
    machine.handle(Event::Stored);
    assert!(matches!(machine.command(), Command::LoadUnsent { .. }));
    assert_eq!(
        machine.progress().cursor,
        Some(cursor(1006)),
        "nothing need be read back"
    );
}

#[test]
fn one_failing_photograph_does_not_stall_the_others() {
    let mut machine = at_the_blobs(joined());
    machine.handle(Event::UnsentBlobs(vec!["aa".into(), "bb".into(), "cc".into()]));
    machine.handle(Event::MissingBlobs(MissingBlobsAnswer {
        missing: vec!["aa".into(), "bb".into(), "cc".into()],
    }));
    let mut fate = Vec::new();
    loop {
        let event = match machine.command().clone() {
            Command::PutBlob(hash) if hash == "aa" => Event::NoAnswer,
            Command::PutBlob(hash) if hash == "bb" => Event::Refused(problem(Code::MediaType)),
            Command::PutBlob(_) => Event::BlobTaken,
            Command::SettleBlobs(settled) => {
                fate.extend(settled);
                Event::Stored
            }
            Command::Rest(rest) => {
                assert!(
                    matches!(rest, RoundOutcome::Again { .. }),
                    "the one that failed is tried again later"
                );
                break;
            }
            other => panic!("not expected: {other:?}"),
        };
        machine.handle(event);
    }
    assert_eq!(fate[0], ("aa".into(), BlobSettled::Later));
    assert_eq!(
        fate[1],
        ("bb".into(), BlobSettled::Parked(problem(Code::MediaType)))
    );
    assert_eq!(fate[2], ("cc".into(), BlobSettled::Stored));
}

/// Its name is the SHA-256 of its bytes, so that no device can send it without.
#[test]
fn a_photograph_with_exif_is_shown_with_the_reason_and_not_sent_again() {
    let mut machine = at_the_blobs(joined());
    machine.handle(Event::UnsentBlobs(vec!["aa".into()]));
    let missing = vec!["aa".into()];
    machine.handle(Event::MissingBlobs(MissingBlobsAnswer { missing }));
    machine.handle(Event::Refused(problem(Code::HasExif)));
    let parked = BlobSettled::Parked(problem(Code::HasExif));
    assert_eq!(
        machine.command(),
        &Command::SettleBlobs(vec![("aa".into(), parked)])
    );
}

#[test]
fn without_a_network_a_round_gives_up_after_a_few_photographs() {
    let mut machine = at_the_blobs(joined());
    let hashes: Vec<String> = (0..100).map(|n| n.to_string()).collect();
    machine.handle(Event::UnsentBlobs(hashes.clone()));
    machine.handle(Event::MissingBlobs(MissingBlobsAnswer { missing: hashes }));
    let mut tried = 0;
    while !matches!(machine.command(), Command::Rest(_)) {
        let event = match machine.command() {
            Command::PutBlob(_) => {
                tried += 1;
                Event::NoAnswer
            }
            _ => Event::Stored,
        };
        machine.handle(event);
    }
    assert!(tried <= 3, "{tried}");
}

#[test]
fn a_shut_out_device_asks_to_be_joined_again() {
    for code in [Code::TokenRevoked, Code::TokenUnknown, Code::TokenMissing] {
        let mut machine = Machine::start(joined());
        machine.handle(Event::Unsent(vec![own(0)]));
        machine.handle(Event::Refused(problem(code.clone())));
        assert_eq!(
            machine.command(),
            &Command::Rest(RoundOutcome::JoinAgain(problem(code)))
        );
    }
}

#[test]
fn what_was_just_pushed_is_not_read_back_when_nobody_wrote_in_between() {
    let mut machine = Machine::start(joined());
    machine.handle(Event::Unsent(vec![own(0)]));
    machine.handle(Event::Pushed(PushAnswer {
        before: Some(cursor(5)),
        at: cursor(6),
        results: vec![PushOutcome::Accepted { received: UnixMs(1) }],
    }));
    machine.handle(Event::Stored);
    machine.handle(Event::Unsent(Vec::new()));
    let pull = Command::Pull {
        cursor: Some(cursor(6)),
        pushed: None,
    };
    assert_eq!(machine.command(), &pull);
}
