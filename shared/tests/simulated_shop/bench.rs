//! Work at the bench: a piece of work with its interruptions, and what is noted of it.

use shared::log::body::{Agreed, GiftWhy};
use shared::price::minor::Minor;

use crate::shop::{DAY, Shop, Worker};
use crate::stays::{Pair, Stay};
use crate::truth::CHECK;

impl Shop<'_> {
    /// Works on the next phase of a stay; customers and meals interrupt it.
    pub(crate) fn work(
        &mut self,
        at: usize,
        worker: &mut Worker,
        stay: usize,
        stays: &[Stay],
        pairs: &[Pair],
        at_once: bool,
    ) {
        let here = self
            .queue
            .iter()
            .find(|here| here.stay == stay)
            .expect("it is here");
        let phase = &stays[stay].phases[here.next];
        if phase.gift {
            let gift = Agreed::given(phase.code, GiftWhy::MyChoice, Minor(1_500));
            self.scribe.agreed(stay, worker.now, at, gift);
        }
        let tidying = self.dice.between(0.0, 3.0);
        *self.real.minutes.entry(phase.code).or_default() += phase.minutes + tidying;
        *self.real.tidying.entry(stay).or_default() += tidying;
        let shown = (!at_once && phase.minutes > 20.0 && self.dice.chance(0.5))
            .then(|| phase.minutes * self.dice.between(0.3, 0.7));
        let mut worked = 0.0;
        for (until, photo) in [
            (shown.unwrap_or(0.0), shown.is_some()),
            (phase.minutes + tidying, false),
        ] {
            while worked < until {
                let customer = worker.customers.last().map_or(f64::INFINITY, |one| one.0);
                // A meal interrupts long work; short work is finished first.
                let long = until - worked > 25.0;
                let meal = worker.meal.filter(|_| long).unwrap_or(f64::INFINITY);
                let stop = customer.min(meal).max(worker.now);
                let piece = (until - worked).min(stop - worker.now);
                worked += piece;
                worker.now += piece;
                if worked < until && meal <= worker.now {
                    worker.meal = None;
                    worker.now += self.dice.between(35.0, 60.0);
                }
                self.serve(at, worker, worker.now, stays, pairs);
            }
            if photo {
                self.scribe.photo(stay, worker.now, at, phase.code);
            }
        }
    }

    /// Notes what was done, and puts the pair where it goes next.
    pub(crate) fn done(
        &mut self,
        at: usize,
        worker: &mut Worker,
        stay: usize,
        stays: &[Stay],
        at_once: bool,
    ) {
        let place = self
            .queue
            .iter()
            .position(|here| here.stay == stay)
            .expect("it is here");
        let phase = &stays[stay].phases[self.queue[place].next];
        worker.now += self.dice.between(0.05, 0.3);
        let forgets = !at_once && self.dice.chance(1.0 / 12.0);
        self.note_forgotten(at, worker);
        match (phase.last, forgets) {
            (true, true) => worker.forgotten.push((stay, phase.code)),
            (true, false) => self.scribe.step(stay, worker.now, at, phase.code),
            (false, _) if self.dice.chance(0.75) => self.scribe.photo(stay, worker.now, at, phase.code),
            _ => {}
        }
        for find in &phase.finds {
            self.scribe.found(stay, worker.now, at, find);
        }
        if phase.wait > 0 && self.dice.chance(0.75) {
            self.scribe.wait(stay, worker.now, at, phase.code, phase.wait);
        }
        let here = &mut self.queue[place];
        here.ready = worker.now + f64::from(phase.wait);
        here.next += 1;
        here.busy = false;
        if here.next == stays[stay].phases.len() {
            self.queue.remove(place);
            let check = self.dice.between(CHECK.0, CHECK.1);
            worker.now += check;
            *self.real.minutes.entry("").or_default() += check;
            self.note_forgotten(at, worker);
            self.scribe.checked(stay, worker.now, at);
            self.real.ready.insert(stay, worker.now);
            let day = (worker.now / DAY).floor() + 1.0 + self.dice.between(0.0, 6.0).floor();
            self.fetching.push((day * DAY, stay));
        }
    }

    pub(crate) fn note_forgotten(&mut self, at: usize, worker: &mut Worker) {
        for (stay, code) in std::mem::take(&mut worker.forgotten) {
            self.scribe.step(stay, worker.now, at, code);
        }
    }
}
