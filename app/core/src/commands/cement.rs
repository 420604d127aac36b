//! The shop's own cements and ways to cement, from what was typed.

use serde_json::Value;
use shared::trade::Material;
use shared::trade::cement_guide::{
    CementKind, MOST_COATS, MOST_MINUTES, OwnCement, OwnCements, OwnWay, cement_field, cement_way_field,
};

/// The product of a kind of cement, as typed; empty texts for the usual.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TypedCement {
    /// What the shop calls it.
    pub product: String,
    /// Minutes that a coat dries.
    pub wait: String,
    /// Minutes after that in which it can be joined.
    pub open: String,
    /// Coats on each side.
    pub coats: String,
}

impl TypedCement {
    /// What is stored, as it would be typed.
    pub fn of(own: Option<&OwnCement>) -> Self {
        let Some(own) = own else {
            return Self::default();
        };
        let number = |number: Option<u32>| number.map_or_else(String::new, |number| number.to_string());
        Self {
            product: own.product.clone().unwrap_or_default(),
            wait: number(own.wait_min),
            open: number(own.open_min),
            coats: number(own.coats),
        }
    }

    fn read(&self, kind: CementKind) -> Result<OwnCement, String> {
        let minutes = |typed: &str, label: fn(&str) -> String| {
            let not_one = |typed: &str| words::cement::not_minutes(&label(kind.words()), typed, MOST_MINUTES);
            whole(typed, 0, MOST_MINUTES).map_err(not_one)
        };
        let not_coats = |typed: &str| {
            let label = words::cement::product_coats(kind.words());
            words::cement::not_coats(&label, typed, MOST_COATS)
        };
        Ok(OwnCement {
            product: said(&self.product),
            wait_min: minutes(&self.wait, words::cement::product_wait)?,
            open_min: minutes(&self.open, words::cement::product_open)?,
            coats: whole(&self.coats, 1, MOST_COATS).map_err(not_coats)?,
        })
    }
}

/// The fields of the shop that say what was typed for each kind of cement. Kinds for which nothing changes are left
/// out.
///
/// # Errors
/// What cannot be read, in words.
pub fn cement_fields(
    typed: &[(CementKind, TypedCement)],
    own: &OwnCements,
) -> Result<Vec<(String, Value)>, String> {
    let mut fields = Vec::new();
    for (kind, typed) in typed {
        let read = typed.read(*kind)?;
        if own.product(*kind).cloned().unwrap_or_default() != read {
            fields.push((cement_field(*kind), read.value()));
        }
    }
    Ok(fields)
}

/// The shop's own way to cement one material on another, as typed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TypedWay {
    /// The cement; `None` for the guide's.
    pub kind: Option<CementKind>,
    /// The primer; empty for the guide's.
    pub prime: String,
    /// What else there is to say.
    pub note: String,
}

/// The field of the shop that says how it cements one material on another; its value is `null` if nothing was typed,
/// which gives the pair back to the guide.
pub fn cement_way_value(sole: &Material, upper: &Material, typed: &TypedWay) -> (String, Value) {
    let way = OwnWay {
        kind: typed.kind,
        prime: said(&typed.prime),
        note: said(&typed.note),
    };
    (cement_way_field(sole, upper), way.value())
}

/// A text; `None` if it is blank.
fn said(typed: &str) -> Option<String> {
    let text = typed.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

/// A whole number within a range; `None` for a blank text. The error is what was typed.
fn whole(typed: &str, least: u32, most: u32) -> Result<Option<u32>, &str> {
    let text = typed.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let number = text.parse().ok().filter(|number| (least..=most).contains(number));
    number.map(Some).ok_or(text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::scene::shop;
    use serde_json::json;

    fn typed(product: &str, wait: &str, open: &str, coats: &str) -> TypedCement {
        TypedCement {
            product: product.to_owned(),
            wait: wait.to_owned(),
            open: open.to_owned(),
            coats: coats.to_owned(),
        }
    }

    #[test]
    fn what_is_typed_is_stored_and_shown_again() {
        let one = typed(" Grey tin ", "12", "", "2");
        let none = OwnCements::default();
        let fields = cement_fields(&[(CementKind::Neoprene, one)], &none).unwrap();
        let value = json!({"product": "Grey tin", "wait_min": 12, "coats": 2});
        assert_eq!(fields, [("cement/neoprene".to_owned(), value.clone())]);

        let own = OwnCements::of(&shop(&[("cement/neoprene", value)]));
        let shown = TypedCement::of(own.product(CementKind::Neoprene));
        assert_eq!(shown, typed("Grey tin", "12", "", "2"));
        let again = cement_fields(&[(CementKind::Neoprene, shown)], &own).unwrap();
        assert_eq!(again, [], "nothing changes");
        let emptied = [(CementKind::Neoprene, TypedCement::default())];
        assert_eq!(cement_fields(&emptied, &own).unwrap()[0].1, Value::Null);
        assert_eq!(cement_fields(&emptied, &none).unwrap(), [], "nothing to unset");
    }

    #[test]
    fn what_is_no_number_is_named_with_its_field() {
        for (wrong, named) in [
            (typed("", "soon", "", ""), "dries for"),
            (typed("", "", "1441", ""), "open after that"),
            (typed("", "", "", "0"), "coats"),
        ] {
            let refused = cement_fields(&[(CementKind::WaterBased, wrong)], &OwnCements::default());
            let refused = refused.unwrap_err();
            assert!(refused.contains(named), "{refused}");
            assert!(refused.contains("Water-based contact cement"), "{refused}");
        }
    }

    #[test]
    fn a_way_is_stored_for_its_pair_and_given_back_when_it_is_empty() {
        let (sole, upper) = (Material::RubberSole, Material::Suede);
        let way = TypedWay {
            kind: Some(CementKind::Polyurethane),
            prime: String::new(),
            note: "Slowly".to_owned(),
        };
        let (name, value) = cement_way_value(&sole, &upper, &way);
        assert_eq!(name, "cement_way/rubber_sole/suede");
        assert_eq!(value, json!({"kind": "polyurethane", "note": "Slowly"}));
        let empty = cement_way_value(&sole, &upper, &TypedWay::default());
        assert_eq!(empty, (name, Value::Null));
    }
}
