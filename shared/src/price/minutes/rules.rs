//! What decides where there is no time to measure.

use super::{GAP_LIMIT_MIN, UsualMinutes};

/// What decides where there is no time to measure.
#[derive(Clone, Copy)]
pub struct Rules<'a> {
    /// Where nothing is usual, a pair's share of a gap is taken for work up to here, minutes.
    pub limit_min: f64,
    /// What is usual for an operation; `None` where nothing is. See [`own_usual`](super::own_usual).
    pub usual: &'a dyn Fn(&str) -> Option<UsualMinutes>,
}

impl Rules<'_> {
    /// That nothing is usual, only that the trade's longest work takes its time: gaps and a day's first step count as
    /// nothing.
    pub fn unknowing() -> Self {
        Self {
            usual: &|code| {
                Some(UsualMinutes {
                    minutes: 0.0,
                    over: 0.0,
                    most: super::longest(code),
                })
            },
            ..Self::default()
        }
    }

    /// The longest share that counts as work on these operations, minutes.
    pub(super) fn limit(&self, names: &[&str]) -> f64 {
        let most = names
            .iter()
            .map(|name| Some((self.usual)(name)?.most))
            .sum::<Option<f64>>();
        most.filter(|_| !names.is_empty()).unwrap_or(self.limit_min)
    }
}

impl Default for Rules<'_> {
    fn default() -> Self {
        Self {
            limit_min: GAP_LIMIT_MIN,
            usual: &super::usual,
        }
    }
}

impl std::fmt::Debug for Rules<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Rules")
            .field("limit_min", &self.limit_min)
            .finish()
    }
}
