//! What is due at pickup: for goods sold over the counter, for one pair, for those that are ready, and for the whole
//! ticket.
//!
//! The ready notice, the buttons for paying, the hand-over, the ticket and the paper all ask [`TicketAccount`], so that
//! they name the same amount for the same pairs. The rule is common practice, no source:
//!
//! - What is due for pairs that leave together is the price of everything that has left or leaves now, less everything
//!   that has been paid on the ticket, deposit and refunds included. Where tax is added to the prices, it is calculated
//!   on that sum.
//! - So a deposit, and whatever else was paid, counts for the pairs that leave first. What is over stays on the ticket
//!   for the others.
//! - Goods sold over the counter leave at once: they count like a pair that has left.
//! - What pairs and goods that have left still owe is due with the next one.
//! - Nothing is given back while the ticket as a whole is not overpaid. Once it is, everything is given back at once.
//!
//! Pairs that leave one after another, each with what is due for it, pay what the ticket costs, to the minor unit.

use super::bill::{self, Bill};
use super::minor::Minor;
use crate::log::SubjectId;
use crate::log::fold::{JobState, TicketState};

/// Pairs of a ticket that are paid for together, besides those that have left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaidTogether {
    /// Only those that have left, with the goods sold over the counter.
    Gone,
    /// One pair, named by its job.
    This(SubjectId),
    /// Those that are ready: see [`is_ready`].
    Ready,
    /// All pairs of the ticket.
    All,
}

/// An amount that is due, and the pairs it is due for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AmountDue {
    /// The pairs.
    pub pairs: PaidTogether,
    /// How many pairs that is; those that have left count only for [`PaidTogether::Gone`] and [`PaidTogether::All`].
    pub count: usize,
    /// The amount in minor units; negative if it is to be given back.
    pub minor: Minor,
    /// Whether some of it is for goods, or for other pairs, that have left without being paid for.
    pub with_gone: bool,
    /// Whether goods were sold over the counter on the ticket. They have left, so they are part of every amount; while no
    /// pair has left, [`PaidTogether::Gone`] means them alone.
    pub goods: bool,
}

/// The amounts of one ticket.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TicketAccount {
    bill: Bill,
    pairs: Vec<PairPrice>,
    /// What the goods sold over the counter cost together, before any tax that is added; `None` if there are none.
    goods: Option<Minor>,
}

/// The price of a pair, and where it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct PairPrice {
    job: SubjectId,
    /// Before any tax that is added.
    price: Minor,
    stage: PairStage,
}

/// How far a pair has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum PairStage {
    InWork,
    Ready,
    Gone,
}

impl PairPrice {
    fn of(job: SubjectId, state: &JobState) -> Self {
        let stage = if state.handed_over.is_some() {
            PairStage::Gone
        } else if is_ready(state) {
            PairStage::Ready
        } else {
            PairStage::InWork
        };
        Self {
            job,
            price: bill::price(state),
            stage,
        }
    }

    /// Whether it is one of these pairs.
    fn is_of(&self, pairs: PaidTogether) -> bool {
        match pairs {
            PaidTogether::Gone => self.stage == PairStage::Gone,
            PaidTogether::This(job) => self.job == job,
            PaidTogether::Ready => self.stage == PairStage::Ready,
            PaidTogether::All => true,
        }
    }
}

impl TicketAccount {
    /// The amounts of a ticket with these jobs.
    pub fn of<'a>(ticket: &TicketState, jobs: impl IntoIterator<Item = (SubjectId, &'a JobState)>) -> Self {
        let jobs: Vec<_> = jobs.into_iter().collect();
        let goods = ticket.sold.iter().map(|item| bill::goods(&item.body));
        Self {
            goods: (!ticket.sold.is_empty()).then(|| goods.sum()),
            bill: Bill::of(ticket, jobs.iter().map(|(_, state)| *state)),
            pairs: jobs
                .into_iter()
                .map(|(job, state)| PairPrice::of(job, state))
                .collect(),
        }
    }

    /// The bill of the whole ticket.
    pub fn bill(&self) -> Bill {
        self.bill
    }

    /// How many pairs are on the ticket.
    pub fn pairs(&self) -> usize {
        self.pairs.len()
    }

    /// Whether goods were sold over the counter on the ticket.
    pub fn has_goods(&self) -> bool {
        self.goods.is_some()
    }

    /// What is due if these pairs leave now, in minor units; see the rule at the top of this module. Negative if money
    /// is to be given back, which is so only if the whole ticket is overpaid; otherwise at most what is due on the
    /// ticket.
    pub fn due(&self, pairs: PaidTogether) -> Minor {
        let leave = |pair: &&PairPrice| pair.is_of(PaidTogether::Gone) || pair.is_of(pairs);
        let prices = self.pairs.iter().filter(leave).map(|pair| pair.price);
        let due = bill::due(prices.chain(self.goods), self.bill.rate).minor - self.bill.paid;
        let left = self.bill.left();
        due.clamp(left.min(Minor::ZERO), left.max(Minor::ZERO))
    }

    /// The amounts that a screen or paper names, the one for the fewest pairs first, the one for most pairs last; empty
    /// if nothing is due. `this` is the job of the pair that a screen is about.
    ///
    /// Of two amounts that are equal, only the one for fewer pairs is named. What is to be given back is named for the
    /// whole ticket.
    pub fn amounts(&self, this: Option<SubjectId>) -> Vec<AmountDue> {
        let whole = |minor| AmountDue {
            pairs: PaidTogether::All,
            count: self.pairs(),
            minor,
            with_gone: false,
            goods: self.has_goods(),
        };
        let left = self.bill.left();
        if left < Minor::ZERO {
            return vec![whole(left)];
        }
        let mut amounts: Vec<AmountDue> = Vec::new();
        let parts = self.parts(this).into_iter().filter_map(|pairs| self.part(pairs));
        for amount in parts.chain([whole(left)]) {
            let known = amounts.last().is_some_and(|last| last.minor == amount.minor);
            if amount.minor.is_positive() && !known {
                amounts.push(amount);
            }
        }
        amounts
    }

    /// The parts of the ticket that may be paid for without the rest, each with those before it.
    fn parts(&self, this: Option<SubjectId>) -> Vec<PaidTogether> {
        let here = self.pairs.iter().find(|pair| Some(pair.job) == this);
        let here = here.filter(|pair| pair.stage != PairStage::Gone);
        // A pair that is not ready is not one of those that are.
        let with_ready = here.is_none_or(|pair| pair.stage == PairStage::Ready);
        let parts = [
            Some(PaidTogether::Gone),
            here.map(|pair| PaidTogether::This(pair.job)),
            with_ready.then_some(PaidTogether::Ready),
        ];
        parts.into_iter().flatten().collect()
    }

    /// What is due for a part of the ticket; `None` if that is nothing of it, or all of it.
    fn part(&self, pairs: PaidTogether) -> Option<AmountDue> {
        let count = self.pairs.iter().filter(|pair| pair.is_of(pairs)).count();
        // Goods have left, although no pair may have.
        let least = usize::from(pairs != PaidTogether::Gone || !self.has_goods());
        (least..self.pairs()).contains(&count).then(|| AmountDue {
            pairs,
            count,
            minor: self.due(pairs),
            with_gone: pairs != PaidTogether::Gone && self.due(PaidTogether::Gone).is_positive(),
            goods: self.has_goods(),
        })
    }
}

/// Whether a pair is ready to be collected: it has passed the final check and is still in the shop.
pub fn is_ready(job: &JobState) -> bool {
    job.checked.is_some() && job.handed_over.is_none()
}

#[cfg(test)]
mod tests;
