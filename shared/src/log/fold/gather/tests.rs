//! How much work it is to load a history of thousands of names: nearly in proportion to their number.

use uuid::Uuid;

use super::*;
use crate::log::about;
use crate::log::body::{Body, CardLink, Opened, Retracted, SameAs};
use crate::log::entry::{DeviceId, Entry, EntryId, MadeAt, Stamp, Subject, UnixMs};
use crate::log::fold::Card;
use crate::log::supersession::counted::entries_read;

/// Entries as a store has them, by each subject that they are about.
#[derive(Default)]
struct Written {
    entries: Vec<ReceivedEntry>,
    about: BTreeMap<SubjectId, Vec<usize>>,
}

impl Written {
    fn write(&mut self, kind: &SubjectKind, subject: u64, body: &Body) -> EntryId {
        let number = self.entries.len() as u64 + 1;
        let id = EntryId(Uuid::from_u64_pair(1, number));
        let entry = Entry {
            id,
            subject: Subject::new(kind.clone(), named(kind, subject)),
            stamp: Stamp {
                ms: UnixMs(i64::try_from(number).expect("a small number")),
                counter: 0,
            },
            made_at: MadeAt {
                utc: UnixMs(0),
                offset_min: 0,
            },
            device: DeviceId(Uuid::from_u128(7)),
            device_seq: number,
            person: None,
            over: Vec::new(),
            kind: body.kind().expect("a known kind").to_owned(),
            version: 1,
            body: body.to_text().expect("a known kind"),
        };
        for subject in about(&entry) {
            self.about.entry(subject).or_default().push(self.entries.len());
        }
        self.entries.push(ReceivedEntry::unsent(entry));
        id
    }

    /// One subject says that it is the same as another one.
    fn join(&mut self, kind: &SubjectKind, subject: u64, other: u64) -> EntryId {
        let other = named(kind, other);
        self.write(kind, subject, &Body::SameAs(SameAs { other }))
    }

    fn about(&self, id: SubjectId) -> Vec<&ReceivedEntry> {
        let places = self.about.get(&id).into_iter().flatten();
        places.map(|place| &self.entries[*place]).collect()
    }
}

/// The n-th subject of a kind.
fn named(kind: &SubjectKind, n: u64) -> SubjectId {
    SubjectId(Uuid::from_u64_pair(2 + kind.as_str().len() as u64, n))
}

/// What loading a history took.
#[derive(Debug, Clone, Copy)]
struct Work {
    /// Subjects looked up.
    subjects: usize,
    /// Look-ups, each of all subjects that are known to be wanted.
    rounds: usize,
    /// Entries read by folds, as often as each is read.
    entries: usize,
}

/// Loads the history of the first pair.
fn loaded(written: &Written, mut loader: PairHistoryLoader) -> (PairHistory, Work) {
    let (mut subjects, mut rounds) = (0, 0);
    let mut history = None;
    let entries = entries_read(|| {
        loop {
            let wanted = loader.wanted();
            if wanted.is_empty() {
                break;
            }
            rounds += 1;
            subjects += wanted.len();
            for id in wanted {
                loader.give(id, written.about(id));
            }
        }
        history = Some(loader.finish());
    });
    let work = Work {
        subjects,
        rounds,
        entries,
    };
    (history.expect("it was loaded"), work)
}

fn of_first_pair(written: &Written) -> (PairHistory, Work) {
    loaded(written, PairHistoryLoader::pair(named(&SubjectKind::Pair, 0)))
}

/// A pair of the first customer with one job, and as many subjects of a kind, all the same as the first.
fn names(kind: &SubjectKind, count: u64) -> Written {
    let mut written = Written::default();
    let opened = Opened {
        customer: Some(named(&SubjectKind::Customer, 0)),
        ..Opened::default()
    };
    written.write(&SubjectKind::Pair, 0, &Body::Opened(opened));
    let opened = Opened {
        pair: Some(named(&SubjectKind::Pair, 0)),
        ticket: Some(named(&SubjectKind::Ticket, 0)),
        customer: None,
    };
    written.write(&SubjectKind::Job, 0, &Body::Opened(opened));
    for n in 1..count {
        written.join(kind, n, 0);
    }
    written
}

#[test]
fn twice_as_many_names_are_twice_the_work() {
    for kind in [
        SubjectKind::Customer,
        SubjectKind::Pair,
        SubjectKind::Ticket,
        SubjectKind::Job,
    ] {
        let [(_, half), (_, whole)] = [2_000, 4_000].map(|count| of_first_pair(&names(&kind, count)));
        assert!(half.entries <= 10 * 2_000, "{kind}: {half:?}");
        assert!(
            whole.entries <= 2 * half.entries + 100,
            "{kind}: {half:?}, {whole:?}"
        );
        assert_eq!((half.subjects, whole.subjects), (2_003, 4_003), "{kind}");
        assert!(whole.rounds <= 5, "{kind}: {whole:?}");
    }
}

#[test]
fn each_name_of_a_customer_leads_to_the_customer() {
    let (history, _) = of_first_pair(&names(&SubjectKind::Customer, 2_000));
    assert_eq!(history.customers.keys().count(), 2_000);
    let [first, last] = [0, 1_999].map(|n| named(&SubjectKind::Customer, n));
    assert!(history.customers.get(&last).is_some());
    assert_eq!(history.customers.get(&first), history.customers.get(&last));
    assert_eq!(history.customers.last_key_value().map(|(id, _)| *id), Some(last));
}

#[test]
fn a_job_is_listed_under_few_of_thousands_of_names() {
    let (history, _) = of_first_pair(&names(&SubjectKind::Job, 2_000));
    assert_eq!(history.jobs.len(), JOB_IDS);
    assert!(history.jobs.contains_key(&named(&SubjectKind::Job, 0)));
}

#[test]
fn a_row_of_names_is_followed_from_either_end_and_only_where_it_stands() {
    let row = |written: &mut Written| -> Vec<_> {
        let joined = (0..1_000).map(|n| written.join(&SubjectKind::Pair, n + 1, n));
        joined.collect()
    };
    let mut written = Written::default();
    let joins = row(&mut written);
    for start in [0, 500, 1_000] {
        let start = PairHistoryLoader::pair(named(&SubjectKind::Pair, start));
        let (history, work) = loaded(&written, start);
        assert_eq!(history.same.len(), 1_001);
        assert_eq!(history.id, named(&SubjectKind::Pair, 0));
        assert!(work.entries <= 10_000, "{work:?}");
    }
    // One join in the middle is taken back, and then all of them.
    let take_back = |written: &mut Written, n: u64, entry| {
        written.write(&SubjectKind::Pair, n + 1, &Body::Retracted(Retracted { entry }))
    };
    take_back(&mut written, 500, joins[500]);
    let (history, work) = of_first_pair(&written);
    assert_eq!((history.same.len(), work.subjects), (501, 502));
    for (n, entry) in (0..).zip(&joins) {
        take_back(&mut written, n, *entry);
    }
    let (history, work) = of_first_pair(&written);
    assert_eq!(
        (history.same.len(), work.subjects),
        (1, 2),
        "the next one is looked at"
    );
    let next = named(&SubjectKind::Pair, 1);
    assert!(history.read.contains(&next), "what it says may change");
}

#[test]
fn a_long_row_of_retractions_is_decided_from_its_end() {
    let mut written = Written::default();
    let first = written.join(&SubjectKind::Pair, 0, 1);
    let retract = |written: &mut Written, entry| {
        written.write(&SubjectKind::Pair, 0, &Body::Retracted(Retracted { entry }))
    };
    let mut last = first;
    for count in 1..=2_001 {
        last = retract(&mut written, last);
        if count > 1_999 {
            let (history, _) = of_first_pair(&written);
            // An even number of retractions leaves the join standing.
            assert_eq!(history.same.len(), if count % 2 == 0 { 2 } else { 1 }, "{count}");
        }
    }
}

#[test]
fn a_card_is_made_without_looking_at_customers_and_tickets() {
    let mut written = names(&SubjectKind::Customer, 2_000);
    let secret = "ab".to_owned();
    written.write(&SubjectKind::Pair, 0, &Body::CardLink(CardLink { secret }));
    let loader = PairHistoryLoader::for_card(named(&SubjectKind::Pair, 0));
    let (history, work) = loaded(&written, loader);
    assert_eq!((work.subjects, work.rounds), (2, 2), "the pair and its job");
    assert_eq!(Card::of(&history), Card::NotYet);
    assert_eq!((history.pair.links.len(), history.jobs.len()), (1, 1));
}
