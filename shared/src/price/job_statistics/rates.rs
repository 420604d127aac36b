//! How often a part is found damaged: counts by operation, construction as guessed, and part.
//!
//! A damage rate counts only jobs in which the part was opened.
//!
//! The prior of a group is, in this order: the prior fitted to all groups of the shop, if they are at least twelve and
//! differ; the repairer's own estimate; otherwise the part's other groups, whose own prior is all parts, whose own
//! prior is one in twenty (a first guess, no source), each weighing at most five pairs.
//!
//! One prior is fitted for all parts: the groups of one part are few, and a prior fitted to them alone is too narrow.
//! In the simulated shop, its 95 % intervals contained the true rate in only nine of ten groups.

use std::collections::BTreeMap;

use crate::log::body::OperationCode;
use crate::price::allowance::{self, Beta, Count, STATED_WEIGHT};
use crate::price::records::JobFacts;
use crate::price::work::JobWork;
use crate::trade::{Component, Construction, Goods, exposes};

/// The prior before any part was opened: one in twenty. A first guess, no source.
const FIRST: Beta = Beta {
    alpha: 0.25,
    beta: 4.75,
};
/// The least number of opened pairs with which a group is used for the fit.
const TELLING: u32 = 3;
/// The least number of groups for the fit.
const GROUPS: usize = 12;

type RateGroup = (OperationCode, Option<Construction>);

#[derive(Debug, Default)]
pub(super) struct Rates {
    cells: BTreeMap<(Component, RateGroup), Count>,
    /// Jobs with the operation on the construction.
    jobs: BTreeMap<RateGroup, u32>,
    all: Count,
    by_part: BTreeMap<Component, Count>,
    fitted: Option<Beta>,
}

impl Rates {
    /// Counts a finished job.
    pub(super) fn count(&mut self, job: &JobFacts, work: &JobWork) {
        for (at, line) in work.lines.iter().enumerate().filter(|(_, line)| !line.extra) {
            let group = (line.operation.clone(), job.guessed.clone());
            *self.jobs.entry(group.clone()).or_default() += 1;
            let opened = exposes(&line.operation, &job.goods);
            for part in opened.iter().filter(|part| job.parts.contains(part)) {
                if work.carrier(part, &job.goods) == at {
                    self.cells
                        .entry((part.clone(), group.clone()))
                        .or_default()
                        .opened += 1;
                }
            }
            for answered in work.needed.iter().filter(|one| one.line == at) {
                self.cells
                    .entry((answered.part.clone(), group.clone()))
                    .or_default()
                    .found += 1;
            }
        }
    }

    /// Completes the counts. A part that an operation does not always open, but in which it once found damage, counts
    /// as opened in every job with the operation.
    pub(super) fn fit(&mut self) {
        for ((part, group), count) in &mut self.cells {
            if count.found > count.opened {
                count.opened = self.jobs.get(group).copied().unwrap_or(0).max(count.found);
            }
            for sum in [&mut self.all, self.by_part.entry(part.clone()).or_default()] {
                sum.found += count.found;
                sum.opened += count.opened;
            }
        }
        let telling = self.cells.values().filter(|count| count.opened >= TELLING);
        let groups: Vec<Count> = telling.copied().collect();
        self.fitted = (groups.len() >= GROUPS)
            .then(|| allowance::fit(&groups))
            .flatten();
    }

    /// The parts to consider: those that the operation opens, and others in which it has ever found damage.
    pub(super) fn parts(&self, code: &str, guessed: Option<&Construction>, goods: &Goods) -> Vec<Component> {
        let mut parts = exposes(code, goods).to_vec();
        for (part, (operation, construction)) in self.cells.keys() {
            if operation == code && construction.as_ref() == guessed && !parts.contains(part) {
                parts.push(part.clone());
            }
        }
        parts
    }

    /// The rate of one part in one group.
    pub(super) fn rate(
        &self,
        code: &str,
        guessed: Option<&Construction>,
        part: &Component,
        stated: Option<f64>,
    ) -> Beta {
        let key = (part.clone(), (OperationCode::from(code), guessed.cloned()));
        let own = self.cells.get(&key).copied().unwrap_or_default();
        let prior = match (self.fitted, stated) {
            (Some(fitted), _) => fitted,
            (None, Some(of_ten)) => allowance::stated(of_ten),
            (None, None) => self.wider(part, own),
        };
        prior.after(own)
    }

    fn wider(&self, part: &Component, own: Count) -> Beta {
        let of_part = self.by_part.get(part).copied().unwrap_or_default();
        let all = FIRST.after(less(self.all, of_part)).weighing(STATED_WEIGHT);
        all.after(less(of_part, own)).weighing(STATED_WEIGHT)
    }
}

fn less(all: Count, some: Count) -> Count {
    Count {
        found: all.found.saturating_sub(some.found),
        opened: all.opened.saturating_sub(some.opened),
    }
}
