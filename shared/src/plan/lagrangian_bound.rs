//! What the pairs are late at least because the days have only so much room.
//!
//! Of the loads nothing is left away that a schedule could do without, if join windows are kept that must be and no others:
//! whoever is done in a slot has by then done what the choice of that slot's end wants done. So the best choices that leave
//! no slot with too much cost no more than the best plan. They are hard to find, but if work is paid for instead, at a price
//! for each slot, every pair chooses for itself, and whatever the prices are, what all pay less what all room is worth is no
//! more than that (Lagrange's relaxation; the prices by subgradients with Polyak's steps; Fisher 1981, from memory).

use super::calendar::FOREVER;
use super::capacity::Loads;
use super::problem::PlanProblem;

/// So often the prices are mended.
const ROUNDS: usize = 40;
/// After so many rounds without gain the steps become half as long.
const PATIENCE: usize = 4;
/// Prices are whole numbers of such parts where they are reckoned with at last, so that nothing is lost by rounding.
const PARTS: f64 = 64.0;
/// The most that a minute can cost.
const DEAREST: f64 = 1e9;

/// What can be chosen, each at what it costs at least.
struct Market {
    loads: Loads,
    costs: Vec<i64>,
    /// What it costs each pair at least to be done behind all slots: nothing else is asked of it.
    later: Vec<i64>,
}

/// A lower bound of the weighted tardiness of all pairs, of which a plan has `known`.
pub(super) fn lower_bound(problem: &PlanProblem, known: u64) -> u64 {
    let market = Market::new(problem);
    let slots = market.loads.slots.len();
    let mut prices = vec![0.0; slots];
    let mut best = (market.worth(&prices, |_| {}), prices.clone());
    let (mut length, mut waited) = (1.0, 0);
    for _ in 0..ROUNDS {
        let mut excess: Vec<f64> = market.loads.room.iter().map(|room| -f64::from(*room)).collect();
        let worth = market.worth(&prices, |choice| {
            let minutes = market.loads.minutes(choice).iter();
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
        // What nobody pays for cannot become cheaper.
        let moves = |(price, excess): (&f64, &f64)| *price > 0.0 || *excess > 0.0;
        let square = prices.iter().zip(&excess).filter(|both| moves(*both));
        let square: f64 = square.map(|(_, excess)| excess * excess).sum();
        let gap = known as f64 - worth;
        if square <= 0.0 || gap <= 0.0 {
            break;
        }
        let step = length * gap / square;
        for (price, excess) in prices.iter_mut().zip(&excess) {
            *price = (*price + step * excess).clamp(0.0, DEAREST);
        }
    }
    market.exact(&best.1)
}

impl Market {
    fn new(problem: &PlanProblem) -> Self {
        let mut strict = problem.clone();
        for op in strict.ops.iter_mut().filter(|op| !op.hard) {
            op.join = FOREVER;
        }
        for pair in &mut strict.pairs {
            pair.pinned = false;
        }
        let loads = Loads::new(&strict);
        let mut costs = Vec::with_capacity(loads.choices.len());
        let mut later = Vec::with_capacity(problem.pairs.len());
        for (index, pair) in problem.pairs.iter().enumerate() {
            let last = &problem.ops[pair.last_op as usize];
            let alone = problem.alone(index).unwrap_or(0);
            let late = |end: i64| pair.weight as i64 * ((end + last.wait).max(alone) - pair.due).max(0);
            let of = loads.of(index);
            costs.push(loads.choices[of.start].late);
            let mut before = loads.choices[of.start].by;
            for choice in of.start + 1..of.end {
                // It ends behind the choice before; in a window that opens later, not before all of it is done.
                let slot = loads.slots.partition_point(|end| *end < loads.choices[choice].by);
                let opens = loads.starts[slot];
                costs.push(late((before + 1).max(if before < opens {
                    opens + last.minutes
                } else {
                    0
                })));
                before = loads.choices[choice].by;
            }
            let never = pair.due >= FOREVER || pair.weight == 0;
            later.push(if never { 0 } else { late(before + 1) });
        }
        Self { loads, costs, later }
    }

    /// What all pay less what the room is worth; says which choices they make.
    fn worth(&self, prices: &[f64], mut choose: impl FnMut(usize)) -> f64 {
        let mut sum = 0.0;
        for (pair, later) in self.later.iter().enumerate() {
            let mut best = (*later as f64, None);
            for choice in self.loads.of(pair) {
                let minutes = self.loads.minutes(choice).iter().zip(prices);
                let paid: f64 = minutes.map(|(minutes, price)| f64::from(*minutes) * price).sum();
                let cost = self.costs[choice] as f64 + paid;
                if cost < best.0 {
                    best = (cost, Some(choice));
                }
            }
            sum += best.0;
            best.1.into_iter().for_each(&mut choose);
        }
        let room = self.loads.room.iter().zip(prices);
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
            let choices = self.loads.of(pair);
            let costs = choices
                .map(|choice| i128::from(self.costs[choice]) * parts + paid(self.loads.minutes(choice)));
            costs.fold(i128::from(*later) * parts, i128::min)
        });
        let all: i128 = pays.sum();
        ((all - paid(&self.loads.room)).max(0) / parts) as u64
    }
}
