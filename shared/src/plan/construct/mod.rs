//! Schedules from choices: orders by rule, beam search, serial schedule generation, timetables.

pub(super) mod beam;
pub(super) mod dispatch;
mod place;
pub(super) mod serial_schedule;
pub(super) mod timetable;
