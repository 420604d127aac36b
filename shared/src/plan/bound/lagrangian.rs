//! A lower bound of the weighted tardiness of any plan, from the room in each slot.
//!
//! The capacity model asks for nothing that a schedule could do without, as long as only the join windows that must be
//! kept are kept: a pair that is done in a slot has by then done the work that the choice of that slot's end asks for.
//! So the best choices that overload no slot cost no more than the best plan. They are hard to find. If instead each
//! slot has a price for work, every pair chooses independently; whatever the prices are, the sum of what all pairs pay
//! minus the value of all room is a lower bound (Lagrangian relaxation; prices by subgradients with Polyak's steps;
//! Fisher 1981, from memory).

use crate::plan::calendar::FOREVER;
use crate::plan::capacity::CapacityModel;
use crate::plan::problem::PlanProblem;

/// How often the prices are improved.
const ROUNDS: usize = 40;
/// After so many rounds without gain, the step is halved.
const PATIENCE: usize = 4;
/// Final prices are whole numbers of this fraction, so that the bound loses nothing by rounding.
const PARTS: f64 = 64.0;
/// The highest price of a minute.
const MOST_PRICE: f64 = 1e9;

/// The choices of all pairs with the least lateness of each.
struct LagrangianRelaxation {
    model: CapacityModel,
    costs: Vec<i64>,
    /// The least lateness of each pair if it is done after all slots: no work is asked for then.
    later: Vec<i64>,
}

/// A lower bound of the weighted tardiness of all pairs; `known` is the weighted tardiness of a known plan.
pub(in crate::plan) fn lower_bound(problem: &PlanProblem, known: u64) -> u64 {
    let market = LagrangianRelaxation::new(problem);
    let slots = market.model.slots.len();
    let mut prices = vec![0.0; slots];
    let mut best = (market.worth(&prices, |_| {}), prices.clone());
    let (mut length, mut waited) = (1.0, 0);
    for _ in 0..ROUNDS {
        let mut excess: Vec<f64> = market.model.room.iter().map(|room| -f64::from(*room)).collect();
        let worth = market.worth(&prices, |choice| {
            let minutes = market.model.minutes(choice).iter();
            excess
                .iter_mut()
                .zip(minutes)
                .for_each(|(sum, minutes)| *sum += f64::from(*minutes));
        });
        if worth > best.0 {
            best = (worth, prices.clone());
            waited = 0;
        } else {
            waited += 1;
            if waited == PATIENCE {
                (length, waited) = (length / 2.0, 0);
            }
        }
        // A price of zero in a slot with room to spare cannot fall.
        let moves = |(price, excess): (&f64, &f64)| *price > 0.0 || *excess > 0.0;
        let square = prices.iter().zip(&excess).filter(|both| moves(*both));
        let square: f64 = square.map(|(_, excess)| excess * excess).sum();
        let gap = known as f64 - worth;
        if square <= 0.0 || gap <= 0.0 {
            break;
        }
        let step = length * gap / square;
        for (price, excess) in prices.iter_mut().zip(&excess) {
            *price = (*price + step * excess).clamp(0.0, MOST_PRICE);
        }
    }
    market.exact(&best.1)
}

impl LagrangianRelaxation {
    fn new(problem: &PlanProblem) -> Self {
        let mut strict = problem.clone();
        for op in strict.ops.iter_mut().filter(|op| !op.hard) {
            op.join = FOREVER;
        }
        for pair in &mut strict.pairs {
            pair.pinned = false;
        }
        let model = CapacityModel::new(&strict);
        let mut costs = Vec::with_capacity(model.choices.len());
        let mut later = Vec::with_capacity(problem.pairs.len());
        for (index, pair) in problem.pairs.iter().enumerate() {
            let last = &problem.ops[pair.last_op as usize];
            let alone = problem.alone(index).unwrap_or(0);
            let late = |end: i64| pair.weight as i64 * ((end + last.wait).max(alone) - pair.due).max(0);
            let of = model.of(index);
            costs.push(model.choices[of.start].late);
            let mut before = model.choices[of.start].by;
            for choice in of.start + 1..of.end {
                // The pair ends after the previous choice; in a window that opens later, it ends no earlier than all
                // its work takes.
                let slot = model.slots.partition_point(|end| *end < model.choices[choice].by);
                let opens = model.starts[slot];
                costs.push(late((before + 1).max(if before < opens {
                    opens + last.minutes
                } else {
                    0
                })));
                before = model.choices[choice].by;
            }
            let never = pair.due >= FOREVER || pair.weight == 0;
            later.push(if never { 0 } else { late(before + 1) });
        }
        Self { model, costs, later }
    }

    /// What all pairs pay minus the value of the room; calls `choose` with the choice of each pair.
    fn worth(&self, prices: &[f64], mut choose: impl FnMut(usize)) -> f64 {
        let mut sum = 0.0;
        for (pair, later) in self.later.iter().enumerate() {
            let mut best = (*later as f64, None);
            for choice in self.model.of(pair) {
                let minutes = self.model.minutes(choice).iter().zip(prices);
                let paid: f64 = minutes.map(|(minutes, price)| f64::from(*minutes) * price).sum();
                let cost = self.costs[choice] as f64 + paid;
                if cost < best.0 {
                    best = (cost, Some(choice));
                }
            }
            sum += best.0;
            best.1.into_iter().for_each(&mut choose);
        }
        let room = self.model.room.iter().zip(prices);
        sum - room.map(|(room, price)| f64::from(*room) * price).sum::<f64>()
    }

    /// The same in whole numbers, rounded down.
    fn exact(&self, prices: &[f64]) -> u64 {
        let prices: Vec<i128> = prices.iter().map(|price| (price * PARTS) as i128).collect();
        let parts = PARTS as i128;
        let paid = |minutes: &[i32]| -> i128 {
            let minutes = minutes.iter().zip(&prices);
            minutes.map(|(minutes, price)| i128::from(*minutes) * price).sum()
        };
        let pays = self.later.iter().enumerate().map(|(pair, later)| {
            let choices = self.model.of(pair);
            let costs = choices
                .map(|choice| i128::from(self.costs[choice]) * parts + paid(self.model.minutes(choice)));
            costs.fold(i128::from(*later) * parts, i128::min)
        });
        let all: i128 = pays.sum();
        ((all - paid(&self.model.room)).max(0) / parts) as u64
    }
}
