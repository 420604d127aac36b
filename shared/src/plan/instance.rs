//! The input of the solver: the pairs with their chains of work and waits, and when work is possible.
//!
//! All times are whole minutes from one zero that the caller chooses; a day may lie before it.

use serde::{Deserialize, Serialize};

use crate::trade::formulas::InvalidField;

/// The farthest a time may lie from zero, in minutes: about 1,900 years.
const FARTHEST: i64 = 1_000_000_000;
/// The most attended minutes of one operation, one set-up or one reheating.
const MOST_ATTENDED: u32 = 100_000;
/// The longest wait or join window, in minutes: almost two years.
const LONGEST_WAIT: u32 = 1_000_000;
/// The greatest weight.
const MOST_WEIGHT: u32 = 10_000;
/// The most pairs.
const MOST_PAIRS: usize = 1_000;
/// The most operations of all pairs together.
const MOST_OPERATIONS: usize = 10_000;
/// The most windows.
const MOST_WINDOWS: usize = 10_000;
/// The most workers.
const MOST_WORKERS: u32 = 16;

/// A scheduling problem.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Instance {
    /// The current minute: nothing starts before it.
    pub now: i64,
    /// The windows in which attended work is possible, as `[from, until)` in minutes. None: always. Their order does
    /// not matter. Each operation lies inside one window, even where two windows touch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub windows: Option<Vec<[i64; 2]>>,
    /// The number of workers; each does one operation at a time.
    #[serde(default = "one")]
    pub workers: u32,
    /// The pairs.
    pub pairs: Vec<PlanPair>,
}

/// A pair with its remaining work.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanPair {
    /// Its name in the plan.
    pub tag: String,
    /// The earliest start of its first operation. None: at once.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ready: Option<i64>,
    /// The latest start of its first operation without reheating, because work on it was begun before now (cement was
    /// put on). None: no limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub join_by: Option<i64>,
    /// The extra minutes of its first operation if it starts after `join_by`.
    #[serde(default)]
    pub rejoin_minutes: u32,
    /// The minute by which it should be done. None: it is never late.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<i64>,
    /// The cost of a minute late.
    #[serde(default = "one")]
    pub weight: u32,
    /// Whether its operations come as early as possible, at any cost to other pairs ("do this first").
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub first: bool,
    /// Its operations, in this order.
    pub operations: Vec<PlanOperation>,
    /// Damage that may be found when it is opened, after the first operation. Only [`promise`](super::promise()) uses
    /// it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hidden: Vec<PossibleDamage>,
}

/// Damage that may be found.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PossibleDamage {
    /// Its probability, from 0 to 1.
    pub chance: f64,
    /// Attended minutes of the repair.
    pub minutes: u32,
    /// Minutes that must pass after the repair.
    #[serde(default)]
    pub wait_min: u32,
}

/// One operation: attended work, then a wait.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanOperation {
    /// Its name in the plan.
    #[serde(default)]
    pub name: String,
    /// Attended minutes; if `minutes_p90` is given, this is the median.
    pub minutes: u32,
    /// The ninetieth percentile of the attended minutes. None: the duration is fixed. Only
    /// [`promise`](super::promise()) uses it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes_p90: Option<u32>,
    /// Minutes that must pass before the next operation, or before the pair is done. They also pass outside windows.
    #[serde(default)]
    pub wait_min: u32,
    /// The join window: the next operation should start no later than so many minutes after this one ended. None: no
    /// limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub join_within: Option<u32>,
    /// The extra attended minutes of the next operation if the join window is missed. None: it must not be missed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rejoin_minutes: Option<u32>,
    /// The set-up it needs: a station, thread or dye.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub setup: Option<String>,
    /// Attended minutes of the set-up, needed whenever the worker's previous operation had another set-up or none. A
    /// worker's very first operation needs no set-up.
    #[serde(default)]
    pub setup_minutes: u32,
}

fn one() -> u32 {
    1
}

impl Instance {
    /// Checks that every field is within its range.
    ///
    /// # Errors
    /// The first field that is out of range, by its path (`pairs[3].operations[0].minutes`), and what is allowed there.
    pub fn check(&self) -> Result<(), InvalidField> {
        time("now", self.now)?;
        within("workers", i64::from(self.workers), 1, i64::from(MOST_WORKERS))?;
        self.check_windows()?;
        let operations: usize = self.pairs.iter().map(|pair| pair.operations.len()).sum();
        if self.pairs.len() > MOST_PAIRS || operations > MOST_OPERATIONS {
            return Err(InvalidField::new(
                "pairs",
                format!("at most {MOST_PAIRS} pairs with {MOST_OPERATIONS} operations in all"),
            ));
        }
        for (index, pair) in self.pairs.iter().enumerate() {
            pair.check()
                .map_err(|refused| refused.within(&format!("pairs[{index}]")))?;
        }
        Ok(())
    }

    fn check_windows(&self) -> Result<(), InvalidField> {
        let windows = self.windows.as_deref().unwrap_or_default();
        if windows.len() > MOST_WINDOWS {
            return Err(InvalidField::new("windows", format!("at most {MOST_WINDOWS}")));
        }
        for (index, [start, end]) in windows.iter().enumerate() {
            let name = format!("windows[{index}]");
            time(&name, *start)?;
            time(&name, *end)?;
            if start > end {
                return Err(InvalidField::new(
                    name,
                    "[start, end], the start not after the end",
                ));
            }
        }
        Ok(())
    }
}

impl PlanPair {
    /// Checks that every field is within its range.
    ///
    /// # Errors
    /// The first field that is out of range, by its path, and what is allowed there.
    pub fn check(&self) -> Result<(), InvalidField> {
        time("ready", self.ready.unwrap_or(0))?;
        time("join_by", self.join_by.unwrap_or(0))?;
        within(
            "rejoin_minutes",
            i64::from(self.rejoin_minutes),
            0,
            i64::from(MOST_ATTENDED),
        )?;
        time("due", self.due.unwrap_or(0))?;
        within("weight", i64::from(self.weight), 0, i64::from(MOST_WEIGHT))?;
        if self.operations.is_empty() {
            return Err(InvalidField::new(
                "operations",
                "a list of at least one operation",
            ));
        }
        for (index, operation) in self.operations.iter().enumerate() {
            operation
                .check()
                .map_err(|refused| refused.within(&format!("operations[{index}]")))?;
        }
        for (index, hidden) in self.hidden.iter().enumerate() {
            hidden
                .check()
                .map_err(|refused| refused.within(&format!("hidden[{index}]")))?;
        }
        Ok(())
    }
}

impl PossibleDamage {
    fn check(&self) -> Result<(), InvalidField> {
        if !(0.0..=1.0).contains(&self.chance) {
            return Err(InvalidField::new("chance", "a number from 0 to 1"));
        }
        within("minutes", i64::from(self.minutes), 0, i64::from(MOST_ATTENDED))?;
        within("wait_min", i64::from(self.wait_min), 0, i64::from(LONGEST_WAIT))
    }
}

impl PlanOperation {
    fn check(&self) -> Result<(), InvalidField> {
        let attended = |name, minutes: u32| within(name, i64::from(minutes), 0, i64::from(MOST_ATTENDED));
        let passing = |name, minutes: u32| within(name, i64::from(minutes), 0, i64::from(LONGEST_WAIT));
        attended("minutes", self.minutes)?;
        let p90 = self.minutes_p90.unwrap_or(self.minutes);
        within(
            "minutes_p90",
            i64::from(p90),
            i64::from(self.minutes),
            i64::from(MOST_ATTENDED),
        )?;
        passing("wait_min", self.wait_min)?;
        passing("join_within", self.join_within.unwrap_or(0))?;
        attended("rejoin_minutes", self.rejoin_minutes.unwrap_or(0))?;
        attended("setup_minutes", self.setup_minutes)
    }
}

pub(super) fn time(name: &str, minutes: i64) -> Result<(), InvalidField> {
    within(name, minutes, -FARTHEST, FARTHEST)
}

fn within(name: &str, value: i64, least: i64, most: i64) -> Result<(), InvalidField> {
    if (least..=most).contains(&value) {
        Ok(())
    } else {
        Err(InvalidField::new(
            name,
            format!("a whole number from {least} to {most}"),
        ))
    }
}
