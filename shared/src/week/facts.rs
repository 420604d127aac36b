//! What happened in the shop, from the log of its pairs: at each moment, which jobs changed for the plan.
//!
//! A moment counts if any job differs for the plan afterwards: work agreed, skipped, done or to be done again, a wait begun or
//! over, a question asked or answered, a promise, a pair put first, put aside, begun, interrupted, ready or handed over.
//! Notes, photographs and payments never change a plan. Two kinds of moments have no entry of their own and follow from
//! the log and the opening hours alone: a logged wait ends, and the shop opens or closes.

use std::collections::{BTreeMap, BTreeSet};

use super::bench::WeekInput;
use super::hours::Hours;
use super::job::Job;
use super::windows::Week;
use crate::log::body::field;
use crate::log::entry::{SubjectId, UnixMs};
use crate::log::fold::summary::Summary;
use crate::log::fold::{JobState, PairHistory, PairHistoryLoader};
use crate::log::received::ReceivedEntry;
use crate::log::{about, inserted};
use crate::trade::{Construction, Goods};

/// Minutes of a day.
const DAY_MIN: i64 = 24 * 60;

/// What changed at one moment.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct PlanFact {
    /// The moment, as the log orders it.
    pub(crate) at: UnixMs,
    /// Each job that changed, in order, with what it is for the plan from then on; `None` if nothing is left to do on
    /// it. A job that is the same as before is dry from then on. No job at all: the shop opened or closed.
    pub(crate) jobs: BTreeMap<SubjectId, Option<Job>>,
}

/// The jobs as they stood at a moment, and what changed since, in the order of the log.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct DayOfFacts {
    /// The jobs at that moment.
    pub(crate) jobs: BTreeMap<SubjectId, Job>,
    /// What changed since.
    pub(crate) facts: Vec<PlanFact>,
}

impl DayOfFacts {
    /// Takes in the log of one pair, from `opening` on, and the ends of its waits up to `now`.
    pub(crate) fn add(&mut self, pair: SubjectId, entries: &[ReceivedEntry], opening: UnixMs, now: UnixMs) {
        let log = PairEntries::new(pair, entries);
        let mut before = log.jobs_at(opening);
        self.jobs.extend(before.clone());
        let ends = |jobs: &BTreeMap<SubjectId, Job>, after: UnixMs| -> Vec<UnixMs> {
            let ends = jobs.values().filter_map(Job::dry_from);
            ends.filter(|end| after < *end && *end <= now).collect()
        };
        let mut times: BTreeSet<UnixMs> = inserted(entries.iter().map(ReceivedEntry::effective));
        times.extend(ends(&before, opening));
        times.retain(|at| *at > opening);
        while let Some(at) = times.pop_first() {
            let after = log.jobs_at(at);
            for id in before.keys().chain(after.keys()) {
                let job = after.get(id);
                if before.get(id) != job || job.and_then(Job::dry_from) == Some(at) {
                    self.at(at).jobs.insert(*id, job.cloned());
                }
            }
            times.extend(ends(&after, at));
            before = after;
        }
    }

    /// Takes in the moments up to now at which the shop opened or closed.
    pub(crate) fn add_hours(&mut self, opening: UnixMs, given: &WeekInput<'_>) {
        let week = Week::new(Hours::of(given.shop), given.zone, given.offset_min, opening);
        let days = (week.since(given.now) - week.now) / DAY_MIN + 2;
        let edges = week
            .windows(usize::try_from(days).unwrap_or(1))
            .into_iter()
            .flatten();
        for edge in edges.map(|minute| week.at(minute)) {
            if opening < edge && edge <= given.now {
                self.at(edge);
            }
        }
    }

    /// The fact of a moment.
    fn at(&mut self, at: UnixMs) -> &mut PlanFact {
        let place = self.facts.partition_point(|fact| fact.at < at);
        if self.facts.get(place).is_none_or(|fact| fact.at != at) {
            let jobs = BTreeMap::new();
            self.facts.insert(place, PlanFact { at, jobs });
        }
        &mut self.facts[place]
    }
}

/// The entries of one pair, with the subjects that each is about.
struct PairEntries<'a> {
    pair: SubjectId,
    entries: Vec<(&'a ReceivedEntry, Vec<SubjectId>)>,
}

impl<'a> PairEntries<'a> {
    fn new(pair: SubjectId, entries: &'a [ReceivedEntry]) -> Self {
        let entries = entries.iter().map(|received| (received, about(&received.entry)));
        Self {
            pair,
            entries: entries.collect(),
        }
    }

    /// The jobs with work left, from the entries up to a moment.
    fn jobs_at(&self, at: UnixMs) -> BTreeMap<SubjectId, Job> {
        let mut loader = PairHistoryLoader::pair(self.pair);
        loop {
            let wanted = loader.wanted();
            if wanted.is_empty() {
                break;
            }
            for id in wanted {
                let of_subject = self
                    .entries
                    .iter()
                    .filter(|(held, about)| held.effective() <= at && about.contains(&id));
                loader.give(id, of_subject.map(|(received, _)| *received));
            }
        }
        jobs_of(&loader.finish())
    }
}

/// The jobs of a pair with work left.
fn jobs_of(history: &PairHistory) -> BTreeMap<SubjectId, Job> {
    let summary = Summary::of(history);
    let goods = match summary.goods.as_str() {
        "" => Goods::LowShoe,
        word => Goods::from(word),
    };
    let working = summary
        .jobs
        .iter()
        .filter(|line| line.open && line.ready_at.is_none());
    let jobs = working.filter_map(|line| {
        let state = history.jobs.get(&line.id)?;
        let job = Job {
            id: line.id,
            tag: if line.tag.is_empty() {
                summary.title.clone()
            } else {
                line.tag.clone()
            },
            goods: goods.clone(),
            guessed: line.guessed.as_deref().map(Construction::from),
            left: line.left.clone(),
            begun: !line.done.is_empty(),
            dry: line.dry_at.map(|end| (end, line.drying_operation.clone())),
            dries: line.drying_kind.clone(),
            dried: line.drying_waits_noted,
            amounts: line.amounts.clone(),
            cements: line.cements.clone(),
            materials: summary.materials.clone(),
            day: line.day,
            ready_from: line.ready_from.clone(),
            rush: line.rush,
            waits: line.waits,
            complaint: line.complaint,
            first: line.first,
            put_aside: moment(state, field::PUT_ASIDE),
            run_begun: moment(state, field::RUN_BEGUN),
            run_interrupted: moment(state, field::RUN_INTERRUPTED),
            opened_at: line.opened_at,
            held: line.asked || line.material.is_some(),
        };
        Some((line.id, job))
    });
    jobs.collect()
}

/// A plain field that holds a moment.
fn moment(job: &JobState, name: &str) -> Option<UnixMs> {
    let at = job.details.value(name)?.as_i64()?;
    (0 < at && at <= UnixMs::MAX.0).then_some(UnixMs(at))
}
