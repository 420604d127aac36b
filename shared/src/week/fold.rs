//! Replays the day: from the shop's opening over every fact since.

use std::hash::{DefaultHasher, Hash, Hasher};

use super::bench::WeekInput;
use super::day_plan::{DayPlan, PLAN_VERSION};
use super::facts::DayOfFacts;
use super::opening::opening;
use crate::log::entry::{SubjectId, UnixMs};
use crate::log::received::ReceivedEntry;

/// The plans that stood after each fact of the day, so that only what is new is replayed.
#[derive(Debug, Default)]
pub(crate) struct DayFold {
    /// The plan at the opening and after each fact, each with a digest of all that led to it.
    plans: Vec<(u64, DayPlan)>,
}

impl DayFold {
    /// The plan that stands at `given.now`, from the logs of these pairs. `settings` is a text that differs if the settings of
    /// the shop or the statistics of its finished jobs do.
    pub(crate) fn plan<'a>(
        &mut self,
        pairs: impl IntoIterator<Item = (SubjectId, &'a [ReceivedEntry])>,
        given: &WeekInput<'_>,
        settings: &str,
    ) -> &DayPlan {
        let opens = opening(given.shop, given.now, given.zone, given.offset_min);
        let mut day = DayOfFacts::default();
        for (pair, entries) in pairs {
            day.add(pair, entries, opens, given.now);
        }
        day.add_hours(opens, given);
        self.replay(&day, opens, given, settings)
    }

    /// Replays a day. What stands is the plan after its last fact.
    pub(super) fn replay(
        &mut self,
        day: &DayOfFacts,
        opens: UnixMs,
        given: &WeekInput<'_>,
        settings: &str,
    ) -> &DayPlan {
        let first = digest(&(PLAN_VERSION, opens, settings, text(&day.jobs)));
        let at = |now| WeekInput { now, ..*given };
        if self.plans.first().is_none_or(|(known, _)| *known != first) {
            self.plans = vec![(first, DayPlan::opened(day.jobs.clone(), &at(opens)))];
        }
        for (place, fact) in day.facts.iter().enumerate() {
            let (before, plan) = &self.plans[place];
            // An entry from a device whose clock is ahead counts now, and again at its own time.
            let when = fact.at.min(given.now);
            let known = digest(&(before, when, text(fact)));
            if self.plans.get(place + 1).is_some_and(|(old, _)| *old == known) {
                continue;
            }
            let mut plan = plan.clone();
            plan.take(fact, &at(when));
            self.plans.truncate(place + 1);
            self.plans.push((known, plan));
        }
        self.plans.truncate(day.facts.len() + 1);
        &self.plans[self.plans.len() - 1].1
    }
}

fn digest(of: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    of.hash(&mut hasher);
    hasher.finish()
}

/// All that a value says, as text.
fn text(value: &impl std::fmt::Debug) -> String {
    format!("{value:?}")
}
