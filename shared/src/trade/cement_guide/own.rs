//! The shop's own cements and ways, in plain fields of the shop.
//!
//! | field | value |
//! | --- | --- |
//! | `cement/<kind>` | `{"product": text, "wait_min": minutes, "open_min": minutes, "coats": number}` |
//! | `cement_way/<sole>/<upper>` | `{"kind": word of a kind, "prime": text, "note": text}` |
//!
//! `<kind>` is a word of [`CementKind`]; `<sole>` and `<upper>` are words of [`Material`], what is glued on first. Each
//! member may be missing. What cannot be read is ignored, so that a value of a later version leaves the rest in force;
//! `null` unsets a field.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::Value;

use super::kinds::CementKind;
use crate::log::fold::ShopState;
use crate::trade::material::Material;

/// The most minutes of a product's wait and open time: a day.
pub const MOST_MINUTES: u32 = 1_440;
/// The most coats on a side.
pub const MOST_COATS: u32 = 5;

const CEMENT: &str = "cement/";
const WAY: &str = "cement_way/";

/// The shop's field for the product of a kind of cement.
pub fn cement_field(kind: CementKind) -> String {
    [CEMENT, kind.as_str()].concat()
}

/// The shop's field for its own way to glue one material on another.
pub fn cement_way_field(sole: &Material, upper: &Material) -> String {
    [WAY, sole.as_str(), "/", upper.as_str()].concat()
}

/// The product that the shop uses for a kind of cement, with the times of its sheet.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct OwnCement {
    /// What the shop calls it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// Minutes that a coat dries.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wait_min: Option<u32>,
    /// Minutes after that in which it can be joined.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub open_min: Option<u32>,
    /// Coats on each side, in place of those of the materials.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub coats: Option<u32>,
}

impl OwnCement {
    /// What can be read of a field's value.
    fn read(value: &Value) -> Self {
        let minutes = |name: &str| number(value, name).filter(|minutes| *minutes <= MOST_MINUTES);
        Self {
            product: text(value, "product"),
            wait_min: minutes("wait_min"),
            open_min: minutes("open_min"),
            coats: number(value, "coats").filter(|coats| (1..=MOST_COATS).contains(coats)),
        }
    }

    /// Its value in the shop's field; `null` if it says nothing.
    pub fn value(&self) -> Value {
        to_value(self)
    }
}

/// The shop's own way to glue one material on another.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct OwnWay {
    /// The cement; `None` for the guide's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<CementKind>,
    /// The primer in the shop's words, in place of the guide's; `None` for the guide's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prime: Option<String>,
    /// What else the shop says about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

impl OwnWay {
    /// What can be read of a field's value.
    fn read(value: &Value) -> Self {
        Self {
            kind: text(value, "kind").and_then(|word| CementKind::of(&word)),
            prime: text(value, "prime"),
            note: text(value, "note"),
        }
    }

    /// Its value in the shop's field; `null` if it says nothing.
    pub fn value(&self) -> Value {
        to_value(self)
    }
}

/// All that a shop has said about cement.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct OwnCements {
    products: BTreeMap<CementKind, OwnCement>,
    ways: BTreeMap<(Material, Material), OwnWay>,
}

impl OwnCements {
    /// What the shop's fields say.
    pub fn of(shop: &ShopState) -> Self {
        let mut own = Self::default();
        for (name, slot) in shop.details.iter() {
            let value = &slot.current.body;
            if let Some(kind) = name.strip_prefix(CEMENT).and_then(CementKind::of) {
                let product = OwnCement::read(value);
                if product != OwnCement::default() {
                    own.products.insert(kind, product);
                }
            } else if let Some((sole, upper)) = name.strip_prefix(WAY).and_then(|pair| pair.split_once('/')) {
                let way = OwnWay::read(value);
                if way != OwnWay::default() {
                    own.ways.insert((sole.into(), upper.into()), way);
                }
            }
        }
        own
    }

    /// The shop's product of a kind.
    pub fn product(&self, kind: CementKind) -> Option<&OwnCement> {
        self.products.get(&kind)
    }

    /// The kind of a cement that was named by its word, or by what the shop calls its product; `None` for any other name.
    pub fn kind_of(&self, cement: &str) -> Option<CementKind> {
        let is_product = |kind: &CementKind| {
            let product = self.product(*kind).and_then(|own| own.product.as_deref());
            product == Some(cement)
        };
        CementKind::of(cement).or_else(|| CementKind::ALL.into_iter().find(is_product))
    }

    /// What the shop calls a cement: its product of that kind, else the kind; a name that is not known stays as it is.
    pub fn name_of(&self, cement: &str) -> String {
        let Some(kind) = self.kind_of(cement) else {
            return cement.to_owned();
        };
        let product = self.product(kind).and_then(|own| own.product.clone());
        product.unwrap_or_else(|| kind.words().to_owned())
    }

    /// The shop's own way to glue one material on another.
    pub fn way(&self, sole: &Material, upper: &Material) -> Option<&OwnWay> {
        let way = self.ways().find(|(on, to, _)| (*on, *to) == (sole, upper));
        way.map(|(_, _, way)| way)
    }

    /// All its own ways: what is glued on, to what, and how.
    pub fn ways(&self) -> impl Iterator<Item = (&Material, &Material, &OwnWay)> {
        self.ways.iter().map(|((sole, upper), way)| (sole, upper, way))
    }
}

/// A text among the members of a value; `None` if it is missing, blank or no text.
fn text(value: &Value, name: &str) -> Option<String> {
    let text = value.get(name)?.as_str()?.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

/// A whole number among the members of a value.
fn number(value: &Value, name: &str) -> Option<u32> {
    u32::try_from(value.get(name)?.as_u64()?).ok()
}

/// The members that are said; `null` if there are none.
fn to_value(own: &impl Serialize) -> Value {
    match serde_json::to_value(own) {
        Ok(Value::Object(members)) if !members.is_empty() => Value::Object(members),
        _ => Value::Null,
    }
}
