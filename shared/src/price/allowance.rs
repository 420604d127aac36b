//! How often hidden damage is found: a beta-binomial model.
//!
//! Each group (for example one operation on one construction) has a rate of its own, drawn from a beta distribution,
//! the **prior**. The counts of a group are added to the prior, which gives its **posterior**. The estimate for a group
//! with few pairs is therefore close to the other groups, that for a group with many pairs is close to its own counts.
//!
//! The prior is fitted by maximum likelihood over the groups. For a given weight α + β the likelihood is concave in the
//! mean, so bisection finds the best mean; the best weight is searched on a logarithmic grid and then by bisection. All
//! sums over groups are sums over counts (how many groups had more than i found), so no gamma function is needed.
//!
//! If the groups do not show how much rates differ (no group, one group, equal groups, or only groups with all or no
//! pairs damaged), the prior is [`pooled`]: its mean is (found + 1) / (opened + 2), as after a flat prior, and it
//! weighs opened + 2 pairs, at most five. With no group at all it is flat.

mod asked;
mod beta;

pub use asked::{AllowanceInput, PriorSource, RateEstimate};
pub use beta::{Beta, Posterior};

/// The weight in pairs of a rate that the repairer stated.
pub const STATED_WEIGHT: f64 = 5.0;

/// The least and the greatest weight of a prior, in pairs. Beyond them the groups have all or no pairs damaged, or are
/// all alike.
const WEIGHTS: (f64, f64) = (0.01, 100_000.0);
/// The steps of the grid over the logarithm of the weight.
const GRID: u32 = 64;
const HALVINGS: u32 = 60;

/// How many pairs were damaged, of the pairs that were opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Count {
    /// Damaged pairs.
    pub found: u32,
    /// Opened pairs, at least `found`.
    pub opened: u32,
}

/// The prior from the repairer's own estimate of how many of ten such pairs are damaged; it weighs five pairs. None and
/// all of ten are taken as half a pair and nine and a half.
pub fn stated(of_ten: f64) -> Beta {
    let of_ten = if of_ten.is_finite() {
        of_ten.clamp(0.5, 9.5)
    } else {
        5.0
    };
    let alpha = STATED_WEIGHT * of_ten / 10.0;
    Beta {
        alpha,
        beta: STATED_WEIGHT - alpha,
    }
}

/// The prior from groups that do not show how much rates differ between groups.
pub fn pooled(groups: &[Count]) -> Beta {
    let sum = |of: fn(&Count) -> u32| groups.iter().map(of).map(f64::from).sum::<f64>();
    let (found, opened) = (sum(|group| group.found), sum(|group| group.opened));
    let weight = (opened + 2.0).min(STATED_WEIGHT);
    let mean = (found + 1.0) / (opened + 2.0);
    Beta {
        alpha: weight * mean,
        beta: weight * (1.0 - mean),
    }
}

/// The prior of maximum likelihood; `None` if the groups do not show how much rates differ.
pub fn fit(groups: &[Count]) -> Option<Beta> {
    let tallies = Tallies::of(groups);
    let weight = |step: u32| {
        let (low, high) = WEIGHTS;
        low * (high / low).powf(f64::from(step) / f64::from(GRID))
    };
    let best = (0..=GRID)
        .map(|step| (step, tallies.likelihood(tallies.best_at(weight(step)))))
        .fold(None, |best: Option<(u32, f64)>, (step, height)| match best {
            Some((_, highest)) if highest >= height => best,
            _ => Some((step, height)),
        });
    let (step, _) = best?;
    if step == 0 || step == GRID {
        return None;
    }
    let (mut low, mut high) = (weight(step - 1), weight(step + 1));
    if tallies.slope(low) <= 0.0 || tallies.slope(high) >= 0.0 {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = (low * high).sqrt();
        if tallies.slope(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(tallies.best_at((low * high).sqrt()))
}

/// The numbers of groups with more than i pairs damaged, more than i pairs sound, and more than i pairs opened.
struct Tallies {
    found: Vec<f64>,
    sound: Vec<f64>,
    opened: Vec<f64>,
}

impl Tallies {
    fn of(groups: &[Count]) -> Self {
        let tally = |of: fn(&Count) -> u32| {
            let most = groups.iter().map(of).max().unwrap_or(0);
            let mut all = vec![0.0; usize::try_from(most).unwrap_or(0)];
            for count in groups.iter().map(of) {
                // Counts each group at its last index; the sums from behind are made below.
                if let Some(last) = usize::try_from(count).ok().and_then(|count| count.checked_sub(1)) {
                    all[last] += 1.0;
                }
            }
            for at in (1..all.len()).rev() {
                all[at - 1] += all[at];
            }
            all
        };
        Self {
            found: tally(|group| group.found),
            sound: tally(|group| group.opened.saturating_sub(group.found)),
            opened: tally(|group| group.opened),
        }
    }

    /// The prior of this weight with the greatest likelihood.
    fn best_at(&self, weight: f64) -> Beta {
        let (mut low, mut high) = (0.0f64, 1.0f64);
        for _ in 0..HALVINGS {
            let mean = f64::midpoint(low, high);
            if slope(&self.found, mean * weight) > slope(&self.sound, (1.0 - mean) * weight) {
                low = mean;
            } else {
                high = mean;
            }
        }
        let mean = f64::midpoint(low, high);
        Beta {
            alpha: mean * weight,
            beta: (1.0 - mean) * weight,
        }
    }

    /// The logarithm of the likelihood, without terms that do not depend on the prior.
    fn likelihood(&self, at: Beta) -> f64 {
        let sum = |tally: &[f64], of: f64| {
            (0u32..)
                .zip(tally)
                .map(|(i, groups)| groups * (of + f64::from(i)).ln())
                .sum::<f64>()
        };
        sum(&self.found, at.alpha) + sum(&self.sound, at.beta) - sum(&self.opened, at.alpha + at.beta)
    }

    /// Whether the likelihood rises with the weight at this weight, with the best mean for each weight.
    fn slope(&self, weight: f64) -> f64 {
        let at = self.best_at(weight);
        let by_weight = at.alpha * slope(&self.found, at.alpha) + at.beta * slope(&self.sound, at.beta);
        by_weight - weight * slope(&self.opened, weight)
    }
}

/// The derivative of a tally's sum of logarithms.
fn slope(tally: &[f64], at: f64) -> f64 {
    (0u32..)
        .zip(tally)
        .map(|(i, groups)| groups / (at + f64::from(i)))
        .sum()
}

#[cfg(test)]
mod tests;
