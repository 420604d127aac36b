//! A job in the shop.

use serde::{Deserialize, Serialize};

use crate::log::entry::{SubjectId, UnixMs};
use crate::trade::{Construction, Goods};

/// A job in the shop, as far as its plan needs it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Job {
    /// Which.
    pub id: SubjectId,
    /// The number hung on the pair, else what it is.
    pub tag: String,
    /// Its kind of goods.
    pub goods: Goods,
    /// How it is made, as guessed; `None` if nobody guessed.
    #[serde(default)]
    pub guessed: Option<Construction>,
    /// Operations left, next first.
    pub left: Vec<String>,
    /// Whether anything has been done on it: what it hides has then been seen.
    #[serde(default)]
    pub begun: bool,
    /// When it is dry, and what for.
    #[serde(default)]
    pub dry: Option<(UnixMs, String)>,
    /// The day promised, `YYYY-MM-DD`; empty if none.
    #[serde(default)]
    pub day: String,
    /// From when on that day it is to be ready, `HH:MM`; empty for by its end.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub ready_from: String,
    /// Wanted sooner than usual.
    #[serde(default)]
    pub rush: bool,
    /// Its customer waits in the shop: it is done first.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub waits: bool,
    /// Makes good earlier work.
    #[serde(default)]
    pub complaint: bool,
    /// "Do this first."
    #[serde(default)]
    pub first: bool,
    /// Not in the run that is on now.
    #[serde(default)]
    pub later: bool,
    /// Held by a question or by material: no part of the plan.
    #[serde(default)]
    pub held: bool,
}
