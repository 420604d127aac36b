//! The run to do now, which pair will be late, and what would help.

use super::answers::{Planned, Run, RunJob, Sentence, WETTING, WeekPlan, promised};
use super::bench::{Bench, WeekInput};
use super::day_plan::DayPlan;
use super::job::Job;
use super::standing_run::{StandingRun, limits};
use crate::log::entry::SubjectId;
use crate::plan::{PairOutcome, Plan, PlannedOperation, Reason, SolveLimits, alone, solve};
use crate::trade::operations;

/// A run that begins within so many minutes begins now.
const AT_ONCE: i64 = 3;
/// For how many late jobs a remedy is searched.
const TRIED: usize = 3;
/// The search for what would help one pair tries a sixth of the changes of the search for the plan: it matters for that one
/// pair, not to the last minute of the others.
const HELPS: u64 = 6;

/// Puts the plan that stands into words.
pub(crate) fn run_told(day: &DayPlan, given: &WeekInput<'_>) -> WeekPlan {
    let (bench, plan) = day.shown(given);
    let in_words = PlanInWords {
        bench: &bench,
        plan: &plan,
        day,
    };
    let held = day.jobs.values().filter(|job| job.held);
    WeekPlan {
        order: in_words.order(),
        runs: day.runs.iter().filter_map(|run| in_words.run(run)).collect(),
        risks: in_words.risks(),
        unplanned: in_words.unplanned(),
        tonight: in_words.tonight(),
        held: held_told(held.cloned().collect(), given),
        preliminary: false,
    }
}

struct PlanInWords<'a> {
    bench: &'a Bench,
    plan: &'a Plan,
    day: &'a DayPlan,
}

impl PlanInWords<'_> {
    fn words(&self, minute: i64) -> String {
        self.bench.week.words(minute)
    }

    fn job(&self, pair: usize) -> &Job {
        &self.bench.jobs[pair]
    }

    /// The jobs in order of their first block.
    fn order(&self) -> Vec<Planned> {
        let first = self.plan.blocks.iter().filter(|block| block.operation == 0);
        first
            .filter_map(|block| {
                let done = self.plan.pairs.iter().find(|done| done.pair == block.pair)?;
                Some(Planned {
                    job: self.job(block.pair).id,
                    at: self.bench.week.at(block.start),
                    when: self.words(block.start),
                    done: self.words(self.day.shown_done(self.bench, self.plan, done)),
                    why: self.day.why_other_day(self.job(block.pair).id).map(str::to_owned),
                })
            })
            .collect()
    }

    /// The run that a worker does now; `None` if nothing of it is in the plan.
    fn run(&self, standing: &StandingRun) -> Option<Run> {
        let block_of = |id: SubjectId| {
            let mut blocks = self.plan.blocks.iter();
            blocks.find(|block| block.operation == 0 && self.job(block.pair).id == id)
        };
        let run: Vec<&PlannedOperation> = standing.jobs.iter().filter_map(|(id, _)| block_of(*id)).collect();
        let (first, last) = (run.first()?, run.last()?);
        let place = self.place(first);
        let (begins, ends) = (first.start, last.end);
        let now = begins - self.bench.instance.now <= AT_ONCE;
        let until = self.words(ends);
        let when = if now {
            words::plan::run_begins_now(ends - begins, &until)
        } else {
            words::plan::run_from_until(&self.words(begins), &until)
        };
        Some(Run {
            place: place.to_owned(),
            jobs: run.iter().map(|block| self.run_job(block)).collect(),
            now,
            when,
            minutes: u32::try_from(ends - begins).unwrap_or_default(),
            why: self.why(&run),
            changed: standing.changed.clone(),
            begun: standing.begun,
        })
    }

    fn run_job(&self, block: &PlannedOperation) -> RunJob {
        let (job, chain) = (self.job(block.pair), &self.bench.chains[block.pair]);
        let at = chain.of[block.operation];
        let dries = chain.dries[block.operation];
        RunJob {
            job: job.id,
            operation: at.map(|at| job.left[at].clone()),
            coat: dries.is_some() && !chain.finishes[block.operation],
            wait_min: chain.pair.operations[block.operation].wait_min,
            dries: dries.map(|kind| kind.word().to_owned()),
        }
    }

    /// The soles that are wetted today and worked on another day.
    fn tonight(&self) -> Option<String> {
        let today = self.bench.week.day(self.bench.instance.now);
        let day = |block: &PlannedOperation| self.bench.week.day(block.start);
        let blocks = &self.plan.blocks;
        let wetted = blocks.iter().filter(|block| {
            let next = blocks
                .iter()
                .find(|next| next.pair == block.pair && next.operation == block.operation + 1);
            self.place(block) == WETTING && day(block) == today && next.is_some_and(|next| day(next) != today)
        });
        let tags: Vec<&str> = wetted.map(|block| self.job(block.pair).tag.as_str()).collect();
        (!tags.is_empty()).then(|| words::plan::wet_tonight(&tags.join(", ")))
    }

    fn place(&self, block: &PlannedOperation) -> &str {
        self.bench.chains[block.pair].place(block.operation)
    }

    fn why(&self, run: &[&PlannedOperation]) -> Vec<String> {
        let mut why = Vec::new();
        let pairs = || run.iter().map(|block| block.pair);
        if let Some(pair) = pairs().find(|pair| self.job(*pair).waits) {
            why.push(words::plan::customer_waits(&self.job(pair).tag));
        }
        if let Some(pair) = pairs().find(|pair| self.job(*pair).first) {
            why.push(words::plan::put_first_by_you(&self.job(pair).tag));
        }
        let open = |pair: &usize| self.bench.instance.pairs[*pair].join_by;
        if let Some(pair) = pairs().filter(|pair| open(pair).is_some()).min_by_key(open) {
            let by = open(&pair).unwrap_or_default();
            let tag = &self.job(pair).tag;
            let begins = run.first().map_or(by, |block| block.start);
            why.push(if by < self.bench.instance.now {
                words::plan::cement_has_closed(tag)
            } else if by < begins {
                words::plan::cement_closes_before_run(tag, &self.words(by))
            } else {
                words::plan::cement_stays_open(tag, &self.words(by))
            });
        }
        let due = |pair: &usize| self.bench.instance.pairs[*pair].due;
        if let Some(pair) = pairs().filter(|pair| due(pair).is_some()).min_by_key(due) {
            why.extend(self.promised(pair));
            why.extend(self.nothing_sooner_is_late(run, due(&pair)));
        }
        if run.len() > 1 {
            why.push(words::plan::pairs_in_one_go(run.len()));
        }
        why
    }

    /// If other pairs are promised sooner than all pairs of this run: a sentence that none of them is late because of
    /// it.
    fn nothing_sooner_is_late(&self, run: &[&PlannedOperation], due: Option<i64>) -> Option<String> {
        let in_run = |done: &&PairOutcome| run.iter().any(|block| block.pair == done.pair);
        let others = self.plan.pairs.iter().filter(|done| !in_run(done));
        let sooner = others.filter(|done| {
            let other = self.bench.instance.pairs[done.pair].due;
            other.is_some() && other < due
        });
        let sooner: Vec<&PairOutcome> = sooner.collect();
        let in_time = sooner.iter().all(|done| done.late == 0);
        (in_time && !sooner.is_empty()).then(|| words::plan::sooner_promises_are_kept().to_owned())
    }

    /// The promised day of a pair in words, and whether it has passed; `None` if no day was promised.
    fn promised(&self, pair: usize) -> Option<String> {
        let job = self.job(pair);
        let (day, today) = (job.day?, self.bench.week.day(self.bench.instance.now));
        let when = match today.map(|today| day.count() - today.count()) {
            Some(0) => words::plan::today().to_owned(),
            Some(1) => words::plan::tomorrow().to_owned(),
            Some(days) if days < 0 => return Some(words::plan::late_already(&job.tag, &day.words())),
            _ => day.words(),
        };
        let when = promised(&when, job.ready_from.as_deref());
        Some(words::plan::promised_for(&job.tag, &when))
    }

    /// The late pairs, by their weighted lateness.
    fn risks(&self) -> Vec<Sentence> {
        let mut all: Vec<_> = late(self.plan).collect();
        all.sort_by_key(|done| {
            let weight = u64::from(self.bench.instance.pairs[done.pair].weight);
            std::cmp::Reverse(weight * done.late)
        });
        let told = all.iter().enumerate().map(|(at, done)| {
            let job = self.job(done.pair);
            let words = words::plan::done_later_than_promised(&self.words(done.done));
            let (help, first) = if at < TRIED {
                self.help(done.pair)
            } else {
                (None, false)
            };
            Sentence {
                help,
                first,
                ..sentence_about(job, words)
            }
        });
        told.collect()
    }

    /// What would help a late pair, and whether doing it first would.
    fn help(&self, pair: usize) -> (Option<String>, bool) {
        let Some(best) = alone(&self.bench.instance, &self.bench.instance.pairs[pair]) else {
            return (None, false);
        };
        let due = self.bench.instance.pairs[pair].due.unwrap_or(i64::MAX);
        if best.done > due {
            let words = words::plan::cannot_be_done_before(&self.words(best.done));
            return (Some(words), false);
        }
        if self.job(pair).first {
            return (Some(words::plan::first_already().to_owned()), false);
        }
        let mut other = self.bench.instance.clone();
        other.pairs[pair].first = true;
        // Which pairs become late instead shows best near the current plan.
        let limits = SolveLimits {
            near: Some(self.plan),
            ..limits(self.bench.jobs.len(), HELPS)
        };
        let Ok(plan) = solve(&other, &limits) else {
            return (None, false);
        };
        if late(&plan).any(|done| done.pair == pair) {
            return (Some(words::plan::late_even_if_first().to_owned()), false);
        }
        let was_late = |pair: usize| late(self.plan).any(|done| done.pair == pair);
        let newly = late(&plan).filter(|done| !was_late(done.pair));
        let names: Vec<&str> = newly.map(|done| self.job(done.pair).tag.as_str()).collect();
        let words = match names.as_slice() {
            [] => words::plan::in_time_if_first().to_owned(),
            names => words::plan::in_time_if_first_but_late_instead(&names.join(", ")),
        };
        (Some(words), true)
    }

    fn unplanned(&self) -> Vec<Sentence> {
        let left = self.plan.left_out.iter().map(|left| {
            let job = self.job(left.pair);
            let code = self.bench.chains[left.pair]
                .of
                .get(left.operation)
                .copied()
                .flatten();
            let work = code.and_then(|at| job.left.get(at));
            let work = work.map_or(words::plan::the_final_check(), |code| operations::name(code));
            let closed = self.bench.instance.windows.as_ref().is_none_or(Vec::is_empty);
            let words = match left.reason {
                _ if closed => words::plan::no_hours_set().to_owned(),
                Reason::TooLong => words::plan::longer_than_any_opening(work),
                Reason::JoinWindow => words::plan::never_open_to_join(work),
                Reason::Horizon => words::plan::more_work_than_time(work),
            };
            sentence_about(job, words)
        });
        left.collect()
    }
}

/// The pairs that are late in a plan.
fn late(plan: &Plan) -> impl Iterator<Item = &PairOutcome> {
    plan.pairs.iter().filter(|done| done.late > 0)
}

/// A sentence about a job, without a remedy.
fn sentence_about(job: &Job, words: String) -> Sentence {
    Sentence {
        job: job.id,
        name: job.tag.clone(),
        words,
        help: None,
        first: false,
    }
}

/// For each held job, a sentence that says by when it must be released so that its day is kept.
fn held_told(held: Vec<Job>, given: &WeekInput<'_>) -> Vec<Sentence> {
    let bench = Bench::of(held, given);
    let now = bench.instance.now;
    let told = bench
        .jobs
        .iter()
        .zip(&bench.instance.pairs)
        .filter_map(|(job, pair)| {
            let by = alone(&bench.instance, pair)?.begin_by?;
            let words = if by < now {
                words::plan::day_cannot_be_kept().to_owned()
            } else {
                words::plan::must_restart_by(&bench.week.words(by))
            };
            Some(sentence_about(job, words))
        });
    told.collect()
}
