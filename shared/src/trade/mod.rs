//! The trade: its words and its norms.
//!
//! All norms here are starting values that a shop's own history or settings replace.
//!
//! - [`operations`][]: one row for each operation, with all that the trade knows about it. Functions that look one fact
//!   up by an operation's code are in [`exposes()`], [`fits()`], [`part_effects()`], [`lives`], [`prices`], [`waits`],
//!   [`precedence`] and [`dangers`].
//! - Words: [`kinds`] of goods, [`construction`], [`component`], [`condition`], [`material`], [`came_with`];
//!   [`construction_key`] guesses a construction from what can be seen. [`usage`] has their American words.
//! - Arithmetic: [`formulas`].
//! - Texts for people: [`cautions`] and [`hazards`] at the bench, [`final_check`] at the counter, [`advice`] on the
//!   card.
//!
#![doc = include_str!("README.md")]

pub mod advice;
pub mod amount;
#[cfg(feature = "calc")]
pub mod calc;
pub mod came_with;
pub mod cautions;
pub mod cement_guide;
pub mod component;
pub mod condition;
pub mod construction;
pub mod construction_key;
pub mod dangers;
pub mod exposes;
pub mod final_check;
pub mod fits;
pub mod formulas;
pub mod hazards;
pub mod kinds;
pub mod line_words;
pub mod lives;
pub mod material;
pub mod operations;
pub mod packages;
pub mod part_effects;
pub mod precedence;
pub mod prices;
pub mod usage;
pub mod usual_work;
pub mod waits;
mod worded;

pub use advice::{Advice, Facts};
pub use came_with::CameWith;
pub use cautions::Caution;
pub use cement_guide::{CementAnswer, CementKind, OwnCements, cement_way};
pub use component::{Component, PartView};
pub use condition::{Condition, conditions, remedies};
pub use construction::{Construction, SoleHeldBy};
pub use exposes::exposes;
pub use fits::fits;
pub use kinds::{Class, Goods};
pub use line_words::{line_name, line_plain, step_name, tile_name_of_line};
pub use lives::usual_life;
pub use material::Material;
pub use operations::{Operation, Station, operation};
pub use packages::{Package, package, packages};
pub use part_effects::{WorkedParts, part_effects, worked_parts};
pub use precedence::{in_order, next_operation, station_of_next};
pub use prices::norm;
pub use waits::{Holds, Minutes, UsualWait, WaitKind, WaitPlace};
