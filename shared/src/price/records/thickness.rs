//! The measured thickness of a part.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::At;
use super::left_out::{both, is_both};
use crate::log::body::{Measured, Side};
use crate::log::fold::Item;
use crate::trade::Component;

/// The measured thickness of a part: a measurement whose [`Measured::what`] is `wear`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Thickness {
    /// The part.
    #[serde(rename = "p")]
    pub part: Component,
    /// Which shoe.
    #[serde(rename = "s", default = "both", skip_serializing_if = "is_both")]
    pub side: Side,
    /// Its thickness, mm.
    #[serde(rename = "t")]
    pub thickness_mm: f64,
    /// When.
    #[serde(rename = "a")]
    pub at: At,
}

/// The thickness in a measurement; `None` if it is another kind of measurement, or can be no thickness.
pub(super) fn thickness(item: &Item<Measured>) -> Option<Thickness> {
    let given = |name: &str| item.body.given.get(name);
    let thickness_mm = given("thickness_mm")?.as_f64()?;
    let side = given("side")
        .and_then(Value::as_str)
        .map_or(Side::Both, Side::from);
    let sound = item.body.what == "wear" && (0.0..=300.0).contains(&thickness_mm);
    sound.then_some(Thickness {
        part: Component::from(given("part")?.as_str()?),
        side,
        thickness_mm,
        at: item.at.into(),
    })
}
