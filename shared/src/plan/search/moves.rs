//! What the searches share: simulated annealing's acceptance of worse plans, and moving some members of a list
//! together.

use crate::plan::random_series::RandomSeries;
use crate::plan::value::PlanCost;

/// The number of temperature stages.
pub(in crate::plan) const STAGES: u64 = 60;

/// Divides so many changes into stages.
pub(in crate::plan) fn stages(trials: u64, count: u64) -> impl Iterator<Item = std::ops::Range<u64>> {
    (0..count).map(move |stage| trials * stage / count..trials * (stage + 1) / count)
}

/// The temperature of simulated annealing: how much worse an accepted change may be, falling as the search goes on.
#[derive(Debug, Clone)]
pub(in crate::plan) struct Cooling {
    late: f64,
    sum: f64,
    factor: f64,
}

impl Cooling {
    /// Falls from one share of the plan's cost to another.
    pub(in crate::plan) fn new(value: &PlanCost, (hot, cold): (f64, f64)) -> Self {
        Self {
            late: value.guide as f64 * hot,
            // Where nothing is late the sum of completion times takes its place, which is larger.
            sum: value.sum as f64 * hot * 0.3,
            factor: root(cold / hot, STAGES),
        }
    }

    /// Goes to the next, cooler stage.
    pub(in crate::plan) fn cool(&mut self) {
        self.late *= self.factor;
        self.sum *= self.factor;
    }

    /// The most that a change from `value` may cost this time.
    pub(in crate::plan) fn limit(&self, value: &PlanCost, random: &mut RandomSeries) -> PlanCost {
        let log = random.exponential();
        let mut limit = *value;
        if value.guide == 0 {
            limit.sum += (log * self.sum) as u64;
            return limit;
        }
        let step = (log * self.late) as u64;
        if step > 0 {
            limit.guide += step;
            limit.late = u64::MAX;
            limit.sum = u64::MAX;
        }
        limit
    }
}

/// The `exponent`-th root of a power from 0 to 1, by bisection: the same on every machine.
pub(in crate::plan) fn root(power: f64, exponent: u64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if (0..exponent).fold(1.0, |product, _| product * middle) > power {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}

/// Sorts `list` from `first` to `last` by new places. `to` gives the place of each member to be moved, which comes
/// before the member there if `before`, otherwise behind it. The other members keep their order.
pub(in crate::plan) fn regroup(
    list: &mut [u32],
    keys: &mut Vec<(usize, u32)>,
    (first, last): (usize, usize),
    before: bool,
    to: impl Fn(usize, u32) -> Option<usize>,
) {
    keys.clear();
    for (place, member) in (first..=last).zip(&list[first..=last]) {
        let key = to(place, *member).map_or(2 * place + 1, |to| 2 * to + if before { 0 } else { 2 });
        // Insertion sort, because the list is almost sorted already.
        let mut at = keys.len();
        keys.push((key, *member));
        while at > 0 && keys[at - 1].0 > key {
            keys[at] = keys[at - 1];
            at -= 1;
        }
        keys[at] = (key, *member);
    }
    for (place, (_, member)) in list[first..=last].iter_mut().zip(keys) {
        *place = *member;
    }
}
