//! The trade's arithmetic: small pure functions, each with its units, its range and its source.
//!
//! A calculation is a struct of what it takes; [`Calculation::calculate`] answers or says which field is out of range
//! and what is allowed there. Every field carries its unit in its name, the same here, on the command line and in the
//! log: `_mm` millimetres, `_mm2` square millimetres, `_dm2`, `_ft2`, `_deg` degrees, `_px` pixels. Nothing is rounded.
//!
//! Plane coordinates of a heel: x across the heel, along its breast; y from back to front; both in mm. Mirrored
//! left and right is x turned to −x.
//!
//! - What is bought and taken from the shelf: [`size`], [`mod@unit`], [`area`], [`thread`], [`print_check`].
//! - The heel: [`heel`], [`level_pair`], [`facet`], [`corner_line`], [`lifts`], [`nails`].
//! - The photograph: [`rectify`], [`colour`].
//! - The clock: [`ready`], with [`instant`] and [`day`].

pub mod area;
pub mod calculation;
pub mod colour;
pub mod corner_line;
pub mod day;
pub mod facet;
pub mod field;
pub mod heel;
pub mod instant;
pub mod level_pair;
pub mod lifts;
mod linear;
pub mod nails;
pub mod outline;
pub mod print_check;
pub mod ready;
pub mod rectify;
pub mod size;
pub mod thread;
pub mod unit;

pub use calculation::{AnswerField, Calculation};
pub use field::{Allowed, Field, InvalidField};
pub use outline::Outline;

/// A point of a plane, in the unit its field names.
pub type Point = [f64; 2];

/// An inch: exactly 25.4 mm (NIST SP 811, appendix B).
pub const MM_PER_INCH: f64 = 25.4;
