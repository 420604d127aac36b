//! The rules for time that cannot be measured.

use super::{GAP_LIMIT_MIN, UsualMinutes};

/// The rules for time that cannot be measured.
#[derive(Clone, Copy)]
pub struct Rules<'a> {
    /// Without usual minutes, the longest share of a gap that counts as work, in minutes.
    pub limit_min: f64,
    /// The usual minutes of an operation; `None` where there are none. See [`own_usual`](super::own_usual).
    pub usual: &'a dyn Fn(&str) -> Option<UsualMinutes>,
}

impl Rules<'_> {
    /// Rules without usual minutes, with the trade's longest work as the limit: gaps and a day's first step count as 0.
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
