//! The days of the simulated shop: three people, one queue, customers in between, and what is noted of it.
//!
//! - Work goes first come, first served, by whoever is free; while a pair dries, another one is worked on.
//! - Each customer interrupts the person who serves them. Each person has a meal of 35 to 60 minutes, which interrupts
//!   long work.
//! - Most steps are noted when they are done. Half of the longer pieces of work are photographed while they are done.
//!   The first half of work with a wait is noted by a photograph three times in four, and the wait as often. Several
//!   short pieces in a row are sometimes noted all at once. One step in twelve is forgotten until the end of the next
//!   one.
//! - Each piece of work ends with up to 3 minutes of tidying up, which are work too. After one in eight there is a rest
//!   of 5 to 15 minutes, which is not work; nor is the time in which there is nothing to do. Nobody notes any of these.

use std::collections::BTreeMap;

use shared::log::body::Agreed;

use crate::dice::Dice;
use crate::scribe::Scribe;
use crate::stays::{Pair, Stay};

pub(crate) const DAY: f64 = 1_440.0;
/// When the three people work, in minutes of the day, and on which days of the week from Monday.
const HOURS: [(f64, f64, [bool; 6]); 3] = [
    (540.0, 885.0, [true, true, true, true, true, false]),
    (840.0, 1_080.0, [false, true, false, true, false, false]),
    (570.0, 780.0, [false, false, false, false, true, true]),
];
/// Who serves customers, by weight: mostly the first person.
const SERVES: [(usize, f64); 3] = [(0, 6.0), (1, 3.0), (2, 2.0)];

/// A pair in the shop.
pub(crate) struct Here {
    pub(crate) stay: usize,
    pub(crate) next: usize,
    pub(crate) ready: f64,
    pub(crate) busy: bool,
}

/// A person at the bench.
pub(crate) struct Worker {
    pub(crate) now: f64,
    pub(crate) end: f64,
    pub(crate) meal: Option<f64>,
    /// The customers that the person will serve, soonest first: when they come, how long they take, the stay, and
    /// whether it is collected.
    pub(crate) customers: Vec<(f64, f64, usize, bool)>,
    /// Steps that were done and are still to be noted.
    pub(crate) forgotten: Vec<(usize, &'static str)>,
}

/// What really happened, besides what was noted.
#[derive(Default)]
pub(crate) struct Real {
    /// Minutes, by operation.
    pub(crate) minutes: BTreeMap<&'static str, f64>,
    /// Minutes of tidying up, by stay: part of the work.
    pub(crate) tidying: BTreeMap<usize, f64>,
    /// When each finished stay was ready.
    pub(crate) ready: BTreeMap<usize, f64>,
    /// When each finished stay was collected.
    pub(crate) fetched: BTreeMap<usize, f64>,
}

pub(crate) struct Shop<'a> {
    pub(crate) dice: &'a mut Dice,
    pub(crate) scribe: &'a mut Scribe,
    pub(crate) real: Real,
    pub(crate) queue: Vec<Here>,
    /// Stays that are collected on a day.
    pub(crate) fetching: Vec<(f64, usize)>,
}

impl<'a> Shop<'a> {
    pub(crate) fn new(dice: &'a mut Dice, scribe: &'a mut Scribe) -> Self {
        Self {
            dice,
            scribe,
            real: Real::default(),
            queue: Vec::new(),
            fetching: Vec::new(),
        }
    }

    /// One day with these stays brought, counted from a Monday. Returns the stays that are collected on it.
    pub(crate) fn day(
        &mut self,
        day: usize,
        brought: &[usize],
        stays: &[Stay],
        pairs: &[Pair],
    ) -> Vec<usize> {
        let start = day as f64 * DAY;
        let mut workers = self.workers(start, day % 7);
        let free: Vec<usize> = (0..workers.len())
            .filter(|at| workers[*at].end > workers[*at].now)
            .collect();
        let fetched = self.customers(start, brought, &mut workers, &free);
        // The person whose time is earliest acts next, until all have gone home.
        while let Some(at) = free
            .iter()
            .copied()
            .filter(|at| workers[*at].now < workers[*at].end)
            .min_by(|a, b| workers[*a].now.total_cmp(&workers[*b].now))
        {
            self.act(at, &mut workers[at], stays, pairs);
        }
        for at in free {
            let worker = &mut workers[at];
            // Customers who have not come yet are served after hours.
            self.serve(at, worker, f64::INFINITY, stays, pairs);
            self.note_forgotten(at, worker);
        }
        fetched
    }

    fn workers(&mut self, start: f64, weekday: usize) -> Vec<Worker> {
        let worker = |(from, to, days): &(f64, f64, [bool; 6]), dice: &mut Dice| {
            let here = weekday < 6 && days[weekday];
            let from = start + from + dice.between(0.0, 15.0);
            Worker {
                now: from,
                end: if here { start + to } else { 0.0 },
                meal: (to - from > 300.0).then(|| start + dice.between(715.0, 790.0)),
                customers: Vec::new(),
                forgotten: Vec::new(),
            }
        };
        HOURS.iter().map(|hours| worker(hours, self.dice)).collect()
    }

    /// Assigns each customer of the day to a person who is there. No customer comes when nobody is there.
    fn customers(
        &mut self,
        start: f64,
        brought: &[usize],
        workers: &mut [Worker],
        free: &[usize],
    ) -> Vec<usize> {
        let serving: Vec<_> = SERVES
            .iter()
            .filter(|(at, _)| free.contains(at))
            .copied()
            .collect();
        let (due, later) = self
            .fetching
            .drain(..)
            .partition(|(day, _)| *day <= start && !free.is_empty());
        self.fetching = later;
        let due: Vec<(f64, usize)> = due;
        let fetched: Vec<usize> = due.iter().map(|(_, stay)| *stay).collect();
        for (stay, is_fetched) in brought
            .iter()
            .map(|stay| (*stay, false))
            .chain(fetched.iter().map(|stay| (*stay, true)))
        {
            let at = *self.dice.pick(&serving);
            let worker = &mut workers[at];
            let when = self.dice.between(worker.now + 5.0, worker.end - 5.0);
            let long = if is_fetched {
                self.dice.between(1.0, 5.0)
            } else {
                self.dice.between(2.0, 8.0)
            };
            worker.customers.push((when, long, stay, is_fetched));
        }
        for worker in workers.iter_mut() {
            worker.customers.sort_by(|a, b| b.0.total_cmp(&a.0));
        }
        fetched
    }

    /// Serves every customer who has come by now.
    pub(crate) fn serve(
        &mut self,
        at: usize,
        worker: &mut Worker,
        until: f64,
        stays: &[Stay],
        pairs: &[Pair],
    ) {
        while let Some((when, long, stay, fetched)) =
            worker.customers.last().copied().filter(|one| one.0 <= until)
        {
            worker.customers.pop();
            let begin = worker.now.max(when);
            let end = begin + long;
            if fetched {
                self.scribe.handed_over(stay, end - 0.2, at);
                self.real.fetched.insert(stay, end);
            } else {
                self.scribe
                    .opened(stay, begin + long * 0.4, at, &pairs[stays[stay].pair].guessed);
                for code in &stays[stay].asked {
                    self.scribe.agreed(
                        stay,
                        end - 0.2,
                        at,
                        Agreed::at(*code, crate::price(code, &pairs[stays[stay].pair])),
                    );
                }
                self.queue.push(Here {
                    stay,
                    next: 0,
                    ready: end,
                    busy: false,
                });
            }
            worker.now = end;
        }
    }

    fn act(&mut self, at: usize, worker: &mut Worker, stays: &[Stay], pairs: &[Pair]) {
        self.serve(at, worker, worker.now, stays, pairs);
        if worker.meal.is_some_and(|meal| meal <= worker.now) {
            worker.meal = None;
            worker.now += self.dice.between(35.0, 60.0);
            return;
        }
        let short = |here: &&mut Here| stays[here.stay].phases[here.next].minutes < 20.0;
        let now = worker.now;
        let free = self
            .queue
            .iter_mut()
            .filter(|here| !here.busy && here.ready <= now);
        let mut free: Vec<_> = free.collect();
        free.sort_by(|a, b| stays[a.stay].brought.total_cmp(&stays[b.stay].brought));
        let many = if self.dice.chance(0.12) { 5 } else { 1 };
        let mut taken: Vec<usize> = Vec::new();
        for here in free {
            if taken.is_empty() || (taken.len() < many && short(&here)) {
                here.busy = true;
                taken.push(here.stay);
            }
        }
        if taken.is_empty() {
            // Nothing to do until the next customer comes, or a pair is dry.
            worker.now += 10.0;
            return;
        }
        let at_once = taken.len() > 1;
        let mut to_note = Vec::new();
        for stay in taken {
            self.work(at, worker, stay, stays, pairs, at_once);
            to_note.push(stay);
        }
        for stay in to_note {
            self.done(at, worker, stay, stays, at_once);
        }
        if self.dice.chance(0.125) {
            worker.now += self.dice.between(5.0, 15.0);
        }
    }
}
