//! The shop's own week: its hours, the jobs on its bench as an instance of [`plan`](crate::plan), and the answer in
//! words.
//!
//! - `hours`: opening hours, closed days and the counter's share, as the shop sets them.
//! - `job`, `told`: the input and the answers.
//! - `certainty`: how certain a promise is, in a word. `cement`: until when cement that was put on can be joined.
//!
//! With the feature `zones`, for the side that answers:
//!
//! - `windows`: the hours as windows of minutes, with time zones and clock changes from a library.
//! - `chain`: the remaining work on a job as a chain of attended work and waits. `bench`: all chains as an instance.
//! - `run`: the run to do now and why, which pair will be late and what would help.
//! - `days`: the day to promise.
//!
#![doc = include_str!("README.md")]

mod answers;
#[cfg(feature = "zones")]
mod bench;
mod cement;
mod certainty;
#[cfg(feature = "zones")]
mod chain;
#[cfg(feature = "zones")]
mod day_plan;
#[cfg(feature = "zones")]
mod days;
#[cfg(feature = "zones")]
mod facts;
#[cfg(feature = "zones")]
mod fold;
mod hours;
mod job;
#[cfg(feature = "zones")]
mod opening;
#[cfg(feature = "zones")]
mod parts;
#[cfg(feature = "zones")]
mod reasons;
#[cfg(feature = "zones")]
mod run;
#[cfg(feature = "zones")]
mod standing_run;
#[cfg(feature = "zones")]
mod windows;

pub use answers::{
    DayChoice, DayChoices, FINAL_CHECK, Planned, Run, RunJob, Sentence, WETTING, WeekPlan, promised,
};
#[cfg(feature = "zones")]
pub(crate) use bench::WeekInput;
pub use cement::{CementTimes, RunningWait, cement_open_until};
pub use certainty::Certainty;
#[cfg(feature = "zones")]
pub(crate) use days::days_told;
#[cfg(feature = "zones")]
pub(crate) use fold::DayFold;
pub use hours::{Hours, OpenHours, SHARES};
pub use job::Job;
#[cfg(feature = "zones")]
pub(crate) use opening::opening;
#[cfg(feature = "zones")]
pub(crate) use run::run_told;
#[cfg(feature = "zones")]
pub use windows::Week;

#[cfg(test)]
mod steady;
#[cfg(test)]
mod tests;
