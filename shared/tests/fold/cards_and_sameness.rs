//! Tests of withdrawals, of card sections of several jobs, and of two records of the same thing.

use crate::support::*;
use proptest::prelude::*;
use shared::log::body::{Blob, CardPhoto, Erased, Opened, Photo, Published, Section, Shows};
use shared::log::fold::{Card, Item, PairHistory, PairHistoryLoader, Summary};
use shared::log::sameness::class_of;
use shared::log::{Body, ReceivedEntry, Subject, SubjectId, SubjectKind, about};

fn job(n: u8) -> Subject {
    Subject::new(SubjectKind::Job, subject_id(n))
}

fn opened(n: u16, job_n: u8, pair_n: u8) -> ReceivedEntry {
    let body = Opened {
        pair: Some(subject_id(pair_n)),
        ..Opened::default()
    };
    ReceivedEntry::unsent(entry(n, job(job_n), i64::from(n), 0, &Body::Opened(body)))
}

fn published(n: u16, job_n: u8, pair_n: u8, done: &str, seen: &[u16]) -> ReceivedEntry {
    let section = Section {
        done: vec![done.to_owned()],
        ..Section::default()
    };
    let seen = seen.iter().map(|id| entry_id(*id)).collect();
    let body = Published {
        pair: subject_id(pair_n),
        section: Box::new(section),
        seen,
    };
    ReceivedEntry::unsent(entry(n, job(job_n), i64::from(n), 0, &Body::Published(body)))
}

/// Loads a pair history from single entries, as from a store.
fn life(start: SubjectId, entries: &[ReceivedEntry]) -> PairHistory {
    let mut gather = PairHistoryLoader::pair(start);
    loop {
        let wanted = gather.wanted();
        if wanted.is_empty() {
            return gather.finish();
        }
        for id in wanted {
            gather.give(
                id,
                entries
                    .iter()
                    .filter(|held| about(&held.entry).contains(&id))
                    .cloned(),
            );
        }
    }
}

fn shown(entries: &[ReceivedEntry]) -> Vec<String> {
    match Card::of(&life(subject_id(1), entries)) {
        Card::Sections(sections) => {
            let mut done: Vec<_> = sections.into_iter().flat_map(|one| one.section.done).collect();
            done.sort();
            done
        }
        Card::Withdrawn => vec!["withdrawn".to_owned()],
        Card::NotYet => Vec::new(),
    }
}

#[test]
fn a_destroyed_photograph_leaves_pair_and_card_and_is_still_told_of() {
    let blob = |hash: &str| Blob {
        sha256: hash.to_owned(),
        media_type: "image/jpeg".to_owned(),
        bytes: 1,
        width: 1,
        height: 1,
    };
    let say = |n: u16, body: Body| ReceivedEntry::unsent(entry(n, job(10), i64::from(n), 0, &body));
    let photo = |n: u16, full: &str, thumb: &str| {
        say(
            n,
            Body::Photo(Photo::new(blob(full), blob(thumb), Shows::DropOff)),
        )
    };
    let listed = |hash: &str| CardPhoto {
        blob: blob(hash),
        caption: String::new(),
        shows: None,
    };
    let card = Published {
        pair: subject_id(1),
        section: Box::new(Section {
            photos: vec![listed("f1"), listed("f2")],
            ..Section::default()
        }),
        seen: Vec::new(),
    };
    let erased = say(
        5,
        Body::Erased(Erased {
            blob: Some("f1".to_owned()),
        }),
    );
    let entries = [
        opened(1, 10, 1),
        photo(2, "f1", "t1"),
        photo(3, "f2", "t2"),
        say(4, Body::Published(card)),
        erased,
    ];
    let life = life(subject_id(1), &entries);
    let job = &life.jobs[&subject_id(10)];
    let full = |items: &[Item<Photo>]| {
        items
            .iter()
            .map(|item| item.body.full.sha256.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(full(&job.photos), ["f2"]);
    assert_eq!(full(&job.destroyed_photos), ["f1"]);
    assert_eq!(
        Summary::of(&life).face.as_deref(),
        Some("t2"),
        "the pair is known by the other"
    );
    let card = Card::of(&life);
    assert!(card.lists("f2") && !card.lists("f1"));
    assert!(card.has_destroyed("f1") && !card.has_destroyed("f2"));
}

proptest! {
    #[test]
    fn an_unseen_withdrawal_wins_and_other_jobs_stay(order in Just((0usize..6).collect::<Vec<_>>()).prop_shuffle()) {
        let entries = [
            opened(0, 10, 1),
            opened(1, 11, 1),
            published(2, 10, 1, "new heels", &[]),
            published(3, 11, 1, "new soles", &[]),
            // One device withdraws the card while another one, which does not have the withdrawal, publishes it again.
            ReceivedEntry::unsent(entry(4, job(10), 4, 1, &withdrawn())),
            published(5, 10, 1, "new heels, polished", &[]),
        ];
        let arrived: Vec<_> = order.iter().map(|n| entries[*n].clone()).collect();
        prop_assert_eq!(shown(&arrived), ["new soles"]);

        // Published again on a device that has the withdrawal: both this section and that of the other job are shown.
        let knowing = published(6, 10, 1, "new heels, checked", &[4]);
        prop_assert_eq!(shown(&[arrived, vec![knowing]].concat()), ["new heels, checked", "new soles"]);
    }

    #[test]
    fn a_withdrawn_pair_shows_nothing_until_published_again(order in Just((0usize..5).collect::<Vec<_>>()).prop_shuffle()) {
        let entries = [
            opened(0, 10, 1),
            opened(1, 11, 1),
            published(2, 10, 1, "new heels", &[]),
            published(3, 11, 1, "new soles", &[]),
            ReceivedEntry::unsent(entry(4, pair(1), 4, 1, &withdrawn())),
        ];
        let arrived: Vec<_> = order.iter().map(|n| entries[*n].clone()).collect();
        prop_assert_eq!(shown(&arrived), ["withdrawn"]);
        let again = published(6, 11, 1, "new soles", &[4]);
        prop_assert_eq!(shown(&[arrived.clone(), vec![again]].concat()), ["new soles"]);
        let undo = ReceivedEntry::unsent(entry(7, pair(1), 7, 1, &retracted(4)));
        prop_assert_eq!(shown(&[arrived, vec![undo]].concat()), ["new heels", "new soles"]);
    }

    #[test]
    fn joining_is_order_independent_and_reversible(
        joins in prop::collection::vec((0u8..6, 0u8..6), 0..8),
        shuffle in any::<u64>(),
    ) {
        let mut entries: Vec<_> = joins.iter().enumerate()
            .map(|(n, (a, b))| ReceivedEntry::unsent(entry(u16::try_from(n).expect("small"), pair(*a), 5, 0, &same_as(*b))))
            .collect();
        let classes = |entries: &[ReceivedEntry]| (0..6).map(|n| class_of(subject_id(n), entries)).collect::<Vec<_>>();
        let together = classes(&entries);
        if !entries.is_empty() {
            let by = usize::try_from(shuffle % entries.len() as u64).expect("small");
            entries.rotate_left(by);
        }
        prop_assert_eq!(&classes(&entries), &together);
        for (n, class) in (0u8..6).zip(&together) {
            for member in class {
                prop_assert_eq!(&class_of(*member, &entries), class, "everyone in a class names the same class");
            }
            prop_assert!(class.contains(&subject_id(n)));
        }

        let parted = joins.iter().enumerate().map(|(n, (a, _))| {
            let n = u16::try_from(n).expect("small");
            ReceivedEntry::unsent(entry(100 + n, pair(*a), 1, 1, &retracted(n)))
        });
        let all: Vec<_> = entries.into_iter().chain(parted).collect();
        for (n, class) in (0u8..6).zip(classes(&all)) {
            prop_assert_eq!(class.len(), 1, "subject {} is itself again", n);
        }
    }
}

#[test]
fn a_pair_entered_twice_has_one_life() {
    let entries = [
        ReceivedEntry::unsent(entry(0, pair(1), 1, 0, &detail("colour", "oxblood"))),
        ReceivedEntry::unsent(entry(1, pair(2), 2, 0, &detail("maker", "unreadable stamp"))),
        opened(2, 10, 1),
        opened(3, 11, 2),
        ReceivedEntry::unsent(entry(4, pair(2), 3, 0, &same_as(1))),
    ];
    for start in [1, 2] {
        let life = life(subject_id(start), &entries);
        assert_eq!(life.id, subject_id(1), "the smallest id is canonical");
        assert_eq!(life.jobs.len(), 2);
        assert_eq!(
            (life.pair.colour(), life.pair.maker()),
            (Some("oxblood"), Some("unreadable stamp"))
        );
    }
}

#[test]
fn a_job_moved_to_another_pair_leaves_the_first() {
    let mut moved = opened(1, 10, 2);
    moved.entry.over = vec![entry_id(0)];
    let entries = [opened(0, 10, 1), moved];
    assert!(life(subject_id(1), &entries).jobs.is_empty());
    assert_eq!(life(subject_id(2), &entries).jobs.len(), 1);
}
