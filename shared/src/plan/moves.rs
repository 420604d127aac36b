//! What the searches share: how much worse a change may be, and moving some members of a list together.

use super::chance::RandomSeries;
use super::value::PlanCost;

/// So often the search grows cooler.
pub(super) const STAGES: u64 = 60;

/// So many changes, divided into stages.
pub(super) fn stages(trials: u64, count: u64) -> impl Iterator<Item = std::ops::Range<u64>> {
    (0..count).map(move |stage| trials * stage / count..trials * (stage + 1) / count)
}

/// How much worse a change may be: a chance that shrinks as the search goes on (simulated annealing).
#[derive(Debug, Clone)]
pub(super) struct Cooling {
    late: f64,
    sum: f64,
    factor: f64,
}

impl Cooling {
    /// From a share of what the plan costs down to another.
    pub(super) fn new(value: &PlanCost, (hot, cold): (f64, f64)) -> Self {
        Self {
            late: value.guide as f64 * hot,
            // Where nothing is late the sum of completion times takes its place, which is larger.
            sum: value.sum as f64 * hot * 0.3,
            factor: root(cold / hot, STAGES),
        }
    }

    /// One stage cooler.
    pub(super) fn cool(&mut self) {
        self.late *= self.factor;
        self.sum *= self.factor;
    }

    /// The most a change from `value` may cost this time.
    pub(super) fn limit(&self, value: &PlanCost, chance: &mut RandomSeries) -> PlanCost {
        let log = chance.exponential();
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

/// The number from 0 to 1 whose power this is, by halving: the same on every machine.
pub(super) fn root(power: f64, exponent: u64) -> f64 {
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

/// Sorts `list` from `first` to `last` by new places: `to` gives that of a member to be moved, which comes before what
/// is there if `before`, else behind it; the others stay in their order.
pub(super) fn regroup(
    list: &mut [u32],
    keys: &mut Vec<(usize, u32)>,
    (first, last): (usize, usize),
    before: bool,
    to: impl Fn(usize, u32) -> Option<usize>,
) {
    keys.clear();
    for (place, member) in (first..=last).zip(&list[first..=last]) {
        let key = to(place, *member).map_or(2 * place + 1, |to| 2 * to + if before { 0 } else { 2 });
        // Almost sorted already.
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
