//! The shop's own week: its hours, the jobs on its bench as an instance of [`plan`](crate::plan), and the answer in
//! words.
//!
//! - `hours`: opening hours, closed days and the counter's share, as the shop sets them.
//! - `job`, `told`: the input and the answers.
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
#[cfg(feature = "zones")]
mod chain;
#[cfg(feature = "zones")]
mod days;
mod hours;
mod job;
#[cfg(feature = "zones")]
mod run;
#[cfg(feature = "zones")]
mod windows;

pub use answers::{DayChoice, DayChoices, FINAL_CHECK, Planned, Run, RunJob, Sentence, WeekPlan, promised};
#[cfg(feature = "zones")]
pub(crate) use bench::WeekInput;
#[cfg(feature = "zones")]
pub(crate) use days::days_told;
pub use hours::{Hours, OpenHours, SHARES};
pub use job::Job;
#[cfg(feature = "zones")]
pub(crate) use run::run_told;
#[cfg(feature = "zones")]
pub use windows::Week;

#[cfg(test)]
mod tests;
