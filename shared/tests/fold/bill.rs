//! What pickup asks for equals what the books earn plus the tax, to the minor unit, for any entries about the jobs of a
//! ticket and any goods sold on it; and every place at pickup names the amounts of that bill.

use crate::support::{entry, entry_id, over, retracted, subject_id};
use proptest::prelude::*;
use serde_json::json;
use shared::log::body::{
    Agreed, Answer, Checked, Complaint, Detail, GiftWhy, HandedOver, Opened, Outcome, Paid, Payment,
    Question, Skipped, Sold, field,
};
use shared::log::fold::{JobState, PairState, TicketState, bench};
use shared::log::{Body, ReceivedEntry, Subject, SubjectId, SubjectKind};
use shared::price::bill::Bill;
use shared::price::books::{Books, Sums};
use shared::price::minor::Minor;
use shared::price::pickup::{PaidTogether, TicketAccount, is_ready};
use shared::price::records::{JobFacts, TicketFacts};

/// Noon of a day in 2025, ms since 1970.
const NOON: i64 = 1_748_779_200_000;
const OPERATIONS: [&str; 4] = ["half_sole", "new_hole", "stretch", "goodwill"];
/// The number of entry ids reserved for each job.
const ROOM: u16 = 40;

/// A generated entry about a job: its kind, its operation, an earlier entry it refers to, and an amount.
type Said = (u8, usize, usize, i64);

/// A generated job: its entries in order, and whether it leaves unrepaired.
type Told = (Vec<Said>, bool);

/// The body of a generated entry, and whether it replaces an earlier entry.
fn body(first: u16, n: u16, (what, operation, earlier, minor): &Said) -> (Body, bool) {
    let operation = OPERATIONS[*operation].to_owned();
    // The first entry, which opens the job, is never replaced: without it the job belongs to no ticket.
    let earlier = first + 1 + u16::try_from(earlier % (usize::from(n) + 1)).expect("few");
    let body = match what {
        0..=3 => Body::Agreed(Agreed::at(operation, Minor(*minor))),
        4 => Body::Agreed(Agreed::given(operation, GiftWhy::Needed, Minor(*minor))),
        5 => {
            let note = String::new();
            Body::Skipped(Skipped {
                line: None,
                operation: operation.into(),
                note,
            })
        }
        6 | 7 => Body::Question(Question {
            text: "Shall we?".to_owned(),
            choices: Vec::new(),
            photo: None,
            damage: None,
        }),
        8..=10 => Body::Answer(Answer {
            question: entry_id(earlier),
            outcome: [Outcome::Yes, Outcome::No, Outcome::ReturnUnrepaired][usize::from(what - 8)].clone(),
            choice: None,
            call_at: String::new(),
        }),
        11 => Body::Complaint(Complaint {
            job: subject_id(99),
            step: None,
            operation: operation.into(),
            cause: None,
            note: String::new(),
        }),
        12 => Body::HandedOver(HandedOver {
            unrepaired: minor % 2 == 0,
        }),
        _ => retracted(earlier),
    };
    (body, n > 0 && matches!(what, 1 | 12))
}

/// The first entries of a job on the ticket.
fn begun(at: u8, told: &[Said]) -> Vec<ReceivedEntry> {
    let first = u16::from(at) * ROOM;
    let subject = Subject::new(SubjectKind::Job, subject_id(at));
    let opened = Body::Opened(Opened {
        pair: Some(subject_id(50)),
        ticket: Some(subject_id(60)),
        customer: None,
    });
    let mut made = vec![entry(first, subject.clone(), NOON, 0, &opened)];
    for (n, said) in (0..).zip(told) {
        let (body, replaces) = body(first, n, said);
        let id = first + n + 1;
        let one = entry(id, subject.clone(), NOON + i64::from(id), n as u8 % 3, &body);
        made.push(if replaces { over(one, &[id - 1]) } else { one });
    }
    made.into_iter().map(ReceivedEntry::unsent).collect()
}

/// The entry that finishes the check of a job, after all others.
fn checked(at: u8) -> ReceivedEntry {
    let check = Body::Checked(Checked::default());
    let id = u16::from(at) * ROOM + ROOM - 2;
    let subject = Subject::new(SubjectKind::Job, subject_id(at));
    ReceivedEntry::unsent(entry(id, subject, NOON + 900_000, 0, &check))
}

/// The entry that hands a pair over, after all others.
fn handed_over(at: u8, unrepaired: bool) -> ReceivedEntry {
    let gone = Body::HandedOver(HandedOver { unrepaired });
    let id = u16::from(at) * ROOM + ROOM - 1;
    let subject = Subject::new(SubjectKind::Job, subject_id(at));
    ReceivedEntry::unsent(entry(id, subject, NOON + 1_000_000, 0, &gone))
}

/// The entries of a job on the ticket; at the end the pair is handed over.
fn job(at: u8, (told, unrepaired): &Told) -> Vec<ReceivedEntry> {
    let mut made = begun(at, told);
    made.push(handed_over(at, *unrepaired));
    made
}

/// The ticket, with its tax, its payments, and the prices of the goods sold on it; of each, whether it was taken back.
fn ticket(tax: i64, paid: &[(i64, u8)], goods: &[(i64, bool)]) -> TicketState {
    let subject = Subject::new(SubjectKind::Ticket, subject_id(60));
    let tax = Body::Detail(Detail {
        field: field::TAX.to_owned(),
        value: json!(tax),
    });
    let payments = paid.iter().map(|(minor, what)| {
        let what = [Paid::Deposit, Paid::Balance, Paid::Refund][usize::from(*what)].clone();
        Body::Payment(Payment {
            minor: Minor(*minor),
            what,
        })
    });
    let sold = goods.iter().map(|(minor, _)| {
        Body::Sold(Sold {
            what: "laces".to_owned(),
            count: 1,
            price_minor: Minor(*minor),
        })
    });
    let taken_back = goods.iter().zip(1_001..).filter(|((_, back), _)| *back);
    let taken_back = taken_back.map(|(_, n)| retracted(n));
    let all = std::iter::once(tax).chain(sold).chain(payments).chain(taken_back);
    let entries: Vec<_> = (1_000..)
        .zip(all)
        .map(|(n, body)| ReceivedEntry::unsent(entry(n, subject.clone(), NOON + i64::from(n), 0, &body)))
        .collect();
    TicketState::of(&entries)
}

fn said() -> impl Strategy<Value = Said> {
    (
        0u8..15,
        0..OPERATIONS.len(),
        0..usize::from(ROOM),
        -900i64..20_000,
    )
}

/// Prices of goods: a few cents to a few notes, and what only a faulty app writes.
fn goods() -> impl Strategy<Value = Vec<(i64, bool)>> {
    let price = prop_oneof![8 => 0i64..3_000, 1 => Just(-500i64), 1 => Just(i64::MAX)];
    prop::collection::vec((price, prop::bool::weighted(0.2)), 0..4)
}

fn sum(rows: impl IntoIterator<Item = Sums>) -> Sums {
    rows.into_iter().fold(Sums::default(), |mut sum, row| {
        sum.add(&row);
        sum
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3_000, ..ProptestConfig::default() })]

    #[test]
    fn what_pickup_asks_for_is_what_the_books_earn_and_the_tax(
        told in prop::collection::vec((prop::collection::vec(said(), 0..usize::from(ROOM) - 3), any::<bool>()), 0..5),
        tax in prop_oneof![Just(0i64), -300i64..300],
        paid in prop::collection::vec((-100i64..30_000, 0u8..3), 0..4),
        goods in goods(),
    ) {
        let jobs: Vec<JobState> = (0..).zip(&told).map(|(at, told)| JobState::of(&job(at, told))).collect();
        let ticket = ticket(tax, &paid, &goods);
        let asked = Bill::of(&ticket, &jobs);

        let pair = PairState::default();
        let facts: Vec<_> = (0..)
            .zip(&jobs)
            .map(|(at, job)| JobFacts::of(subject_id(at), job, Some(&ticket), &pair))
            .collect();
        let kept = TicketFacts::of(subject_id(60), &ticket);
        let books = Books::of(&facts, &[kept], &[], &|_| Vec::new());
        let months = sum(books.months.into_values());
        prop_assert_eq!(months.revenue + months.tax, asked.total.minor);
        prop_assert_eq!(months.tax, asked.total.tax.unwrap_or_default());
        let operations = sum(books.operations.into_values());
        prop_assert_eq!(operations.revenue + operations.tax, asked.total.minor, "by operation");
        let constructions = sum(books.constructions.into_values());
        prop_assert_eq!(constructions.revenue + constructions.tax, asked.total.minor, "by construction");
        let people = sum(books.people.into_values());
        prop_assert_eq!(people.revenue + people.tax, asked.total.minor, "by person");

        let received = months.deposits + months.balances + months.refunds;
        prop_assert_eq!(received, asked.paid);
        let owed = asked.left().max(Minor::ZERO);
        // With nothing on it, no month is that in which the last of it left.
        prop_assert_eq!(months.unpaid, if jobs.is_empty() && ticket.sold.is_empty() { Minor::ZERO } else { owed });
    }
}

/// The entries of jobs on a ticket, by their number, some of them checked. Some pairs may have left.
fn in_shop(told: &[(Vec<Said>, bool)]) -> Vec<(u8, Vec<ReceivedEntry>)> {
    let one = |(at, (told, ready)): (u8, &(Vec<Said>, bool))| {
        let mut made = begun(at, told);
        made.extend(ready.then(|| checked(at)));
        (at, made)
    };
    (0..).zip(told).map(one).collect()
}

/// The jobs as they are now.
fn folded(jobs: &[(u8, Vec<ReceivedEntry>)]) -> Vec<(SubjectId, JobState)> {
    let one = |(at, made): &(u8, Vec<ReceivedEntry>)| (subject_id(*at), JobState::of(made));
    jobs.iter().map(one).collect()
}

fn account(ticket: &TicketState, jobs: &[(SubjectId, JobState)]) -> TicketAccount {
    TicketAccount::of(ticket, jobs.iter().map(|(id, job)| (*id, job)))
}

/// The bill of those of the jobs that have left or leave now, with all payments.
fn bill_of_leaving(
    ticket: &TicketState,
    jobs: &[(SubjectId, JobState)],
    leaves: impl Fn(SubjectId, &JobState) -> bool,
) -> Bill {
    let leaving = jobs
        .iter()
        .filter(|(id, job)| job.handed_over.is_some() || leaves(*id, job));
    Bill::of(ticket, leaving.map(|(_, job)| job))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1_000, ..ProptestConfig::default() })]

    /// The notice names the amount for the ready pairs, the button and the hand-over that for one pair, the ticket and
    /// the paper all of them.
    #[test]
    fn every_place_at_pickup_names_the_amounts_of_the_bill(
        told in prop::collection::vec((prop::collection::vec(said(), 0..usize::from(ROOM) - 3), any::<bool>()), 0..5),
        tax in prop_oneof![Just(0i64), -300i64..300],
        paid in prop::collection::vec((-100i64..30_000, 0u8..3), 0..4),
        goods in goods(),
    ) {
        let (jobs, ticket) = (folded(&in_shop(&told)), ticket(tax, &paid, &goods));
        let account = account(&ticket, &jobs);
        let left = Bill::of(&ticket, jobs.iter().map(|(_, job)| job)).left();
        prop_assert_eq!(account.due(PaidTogether::All), left);

        // A part never has more to pay than the whole, and nothing to give back unless the whole has.
        let between = |minor: Minor| minor.clamp(left.min(Minor::ZERO), left.max(Minor::ZERO));
        let notice = account.due(PaidTogether::Ready);
        let ready = bill_of_leaving(&ticket, &jobs, |_, job| is_ready(job));
        prop_assert_eq!(notice, between(ready.left()));
        let gone = bill_of_leaving(&ticket, &jobs, |_, _| false);
        prop_assert_eq!(account.due(PaidTogether::Gone), between(gone.left()), "goods leave at once");
        for (this, job) in &jobs {
            let button = account.due(PaidTogether::This(*this));
            let alone = bill_of_leaving(&ticket, &jobs, |id, _| id == *this);
            prop_assert_eq!(button, between(alone.left()));
            let only = jobs.iter().filter(|(_, job)| is_ready(job)).count() == 1;
            if is_ready(job) && only {
                prop_assert_eq!(notice, button, "the notice is about this pair alone");
            }
        }

        let asked_back = account.bill().paid < Minor::ZERO;
        for this in jobs.iter().map(|(id, _)| Some(*id)).chain([None]) {
            let amounts = account.amounts(this);
            for amount in &amounts {
                prop_assert_eq!(amount.minor, account.due(amount.pairs));
                prop_assert!(!amount.minor.is_zero());
                prop_assert!(
                    amount.count > 0 || amount.goods || amount.minor < Minor::ZERO || asked_back,
                    "what is to be paid is for something, or more was given back than was paid"
                );
            }
            prop_assert_eq!(amounts.last().map_or(Minor::ZERO, |last| last.minor), left);
        }
    }

    #[test]
    fn pairs_that_are_paid_for_as_they_leave_pay_what_the_ticket_costs(
        told in prop::collection::vec((prop::collection::vec(said(), 0..usize::from(ROOM) - 3), any::<bool>()), 1..5),
        order in Just((0..4).collect::<Vec<usize>>()).prop_shuffle(),
        tax in prop_oneof![Just(0i64), -300i64..300],
        paid in prop::collection::vec((-100i64..30_000, 0u8..3), 0..4),
        goods in goods(),
    ) {
        let (mut shop, mut paid) = (in_shop(&told), paid);
        let asked = account(&ticket(tax, &paid, &goods), &folded(&shop)).bill().left();
        let mut received = Minor::ZERO;
        let mut settle = |due: Minor, paid: &mut Vec<(i64, u8)>| {
            received += due;
            paid.push((due.abs().0, if due.is_positive() { 1 } else { 2 }));
        };
        for at in order.into_iter().filter(|at| *at < told.len()) {
            let jobs = folded(&shop);
            let (id, job) = &jobs[at];
            if job.handed_over.is_some() {
                continue;
            }
            let due = account(&ticket(tax, &paid, &goods), &jobs).due(PaidTogether::This(*id));
            settle(due, &mut paid);
            let (number, made) = &mut shop[at];
            made.push(handed_over(*number, bench::goes_back_unrepaired(job)));
        }
        // If none was left in the shop, there is only what pairs and goods that have left still owe.
        let last = account(&ticket(tax, &paid, &goods), &folded(&shop)).due(PaidTogether::Gone);
        settle(last, &mut paid);
        prop_assert_eq!(received, asked);
        let settled = account(&ticket(tax, &paid, &goods), &folded(&shop));
        prop_assert_eq!(settled.bill().left(), Minor::ZERO);
        prop_assert!(settled.amounts(None).is_empty());
    }
}

/// What pickup asks for a job alone, and what the books earn with it.
fn asked_and_earned(told: &[Said], unrepaired: bool) -> (Minor, Minor) {
    let state = JobState::of(&job(0, &(told.to_vec(), unrepaired)));
    let facts = JobFacts::of(subject_id(0), &state, None, &PairState::default());
    let books = Books::of(&[facts], &[], &[], &|_| Vec::new());
    let earned = sum(books.months.into_values()).revenue;
    (Bill::of(&TicketState::default(), [&state]).total.minor, earned)
}

#[test]
fn work_that_was_done_is_charged_although_it_was_to_go_back_as_it_is() {
    // Agreed, then a question, answered: the pair is to go back as it is.
    let told = [(0, 0, 0, 4_800), (6, 0, 0, 0), (10, 0, 1, 0)];
    assert_eq!(asked_and_earned(&told, false), (Minor(4_800), Minor(4_800)));
    assert_eq!(asked_and_earned(&told, true), (Minor(0), Minor(0)));
}

#[test]
fn an_extra_that_is_paid_for_on_a_complaint_is_earned() {
    // Repeated work at no charge, and a new hole that is paid for.
    let told = [(11, 0, 0, 0), (4, 0, 0, 4_800), (0, 1, 0, 300)];
    assert_eq!(asked_and_earned(&told, false), (Minor(300), Minor(300)));
}
