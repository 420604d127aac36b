//! A day of thirty pairs: the jobs at its opening, what happens beside the work, and how long the work takes in truth.

use std::collections::BTreeMap;

use crate::log::entry::{SubjectId, UnixMs};
use crate::price::dice::Dice;
use crate::trade::formulas::day::Day;
use crate::week::Job;
use crate::week::tests::job;

pub(super) const MINUTE: i64 = 60_000;
/// Thursday 26 November 2026, 09:00 in Vienna, when the shop opens; it closes at 18:00, with an hour off at one.
pub(super) const OPENS: i64 = 1_795_680_000_000;
pub(super) const OPEN_MINUTES: [[i64; 2]; 2] = [[0, 240], [300, 540]];
const PAIRS: usize = 30;
/// The spread of durations: the standard deviation of their logarithm.
const SPREAD: f64 = 0.4;
/// Work of the trade, as it is agreed in a shop.
const WORK: [&[&str]; 8] = [
    &["half_sole"],
    &["half_sole", "top_piece_replacement"],
    &["top_piece_replacement"],
    &["clean_condition_polish"],
    &["resole_cemented", "edge_trim_ink"],
    &["sole_off", "resole_cemented", "edge_trim_ink"],
    &["restitch_welt"],
    &["clean_condition_polish", "top_piece_replacement"],
];

/// What happens on a day beside the work: the minute, the job, and what it is from then on.
pub(super) type Happening = (i64, Job);

/// A day: the jobs at its opening, and what happens.
pub(super) struct Day30 {
    pub(super) jobs: BTreeMap<SubjectId, Job>,
    pub(super) happens: Vec<Happening>,
    dice: Dice,
}

impl Day30 {
    /// `hands`: how many work at the bench; one alone is given more days.
    pub(super) fn new(seed: u64, hands: usize) -> Self {
        let mut dice = Dice::new(seed);
        let days = if hands == 1 { 9 } else { 6 };
        let mut day = Self {
            jobs: BTreeMap::new(),
            happens: Vec::new(),
            dice: Dice::new(seed ^ 0xDA11),
        };
        for n in 0..PAIRS {
            let mut job = drawn(n, days, &mut dice);
            if dice.unit() < 0.1 {
                job.held = true;
                let answered = Job {
                    held: false,
                    ..job.clone()
                };
                day.happens.push((minute_of_day(&mut dice), answered));
            }
            day.jobs.insert(job.id, job);
        }
        for n in PAIRS..PAIRS + 6 {
            let mut job = drawn(n, days + 1, &mut dice);
            job.rush = dice.unit() < 0.15;
            day.happens.push((minute_of_day(&mut dice), job));
        }
        day.happens.sort_by_key(|(at, job)| (*at, job.id));
        day
    }

    /// How long an operation of a job takes in truth, by what the plan expects; the same whatever the order.
    pub(super) fn takes(&self, job: SubjectId, left: usize, expected: i64) -> i64 {
        let number = job.0.as_u128() as u64;
        let mut dice =
            Dice::new(self.dice.clone().bits() ^ number.wrapping_mul(0x9e37_79b9) ^ ((left as u64) << 40));
        let minutes = expected as f64 * (SPREAD * dice.normal()).exp();
        (minutes.round() as i64).clamp(1, 230)
    }
}

/// A job of which work is left, promised within so many days.
fn drawn(n: usize, days: u64, dice: &mut Dice) -> Job {
    let work = WORK[(dice.bits() % WORK.len() as u64) as usize];
    let day = 26 + i64::try_from(dice.bits() % days).unwrap();
    let due = Day::of(
        2026,
        11 + i64::from(day > 30),
        if day > 30 { day - 30 } else { day },
    );
    Job {
        tag: format!("A{n}"),
        day: due,
        opened_at: UnixMs(n as i64),
        ..job(n as u128 + 1, work, "")
    }
}

fn minute_of_day(dice: &mut Dice) -> i64 {
    let [start, end] = OPEN_MINUTES[(dice.bits() % 2) as usize];
    start + (dice.unit() * (end - start) as f64) as i64
}

pub(super) fn at(minute: i64) -> UnixMs {
    UnixMs(OPENS + minute * MINUTE)
}
