//! The recipe of a mixed colour: which components, in how many parts.

use serde_json::{Map, Value, json};

use super::lengths::rounded;

/// The word of the colour recipe in addresses and in the log.
pub const DYE: &str = "dye";
/// The greatest number of parts in a recipe.
const MOST: usize = 8;

/// One component of a mixture.
#[derive(Debug, Clone, PartialEq)]
pub struct MixturePart {
    /// The component, in the repairer's words.
    pub of: String,
    /// How many parts of it.
    pub parts: f64,
}

/// A recipe in words, and as it is stored in the log. Components without a name or a number are left out; `None` if
/// none is left.
pub fn recipe(parts: &[MixturePart]) -> Option<(String, Map<String, Value>)> {
    let named =
        |part: &&MixturePart| !part.of.trim().is_empty() && part.parts > 0.0 && part.parts.is_finite();
    let parts: Vec<&MixturePart> = parts.iter().filter(named).take(MOST).collect();
    if parts.is_empty() {
        return None;
    }
    let one = |part: &&MixturePart| {
        if part.parts == 1.0 {
            words::calc::colour::one_part(part.of.trim())
        } else {
            words::calc::colour::parts(&rounded(part.parts, 2), part.of.trim())
        }
    };
    let said: Vec<_> = parts.iter().map(one).collect();
    let kept: Vec<Value> = parts
        .iter()
        .map(|part| json!([part.of.trim(), part.parts]))
        .collect();
    let mut given = Map::new();
    given.insert("parts".to_owned(), kept.into());
    Some((words::calc::colour::mixture(&said.join(", ")), given))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_recipe_says_parts_of_what_and_leaves_out_what_says_nothing() {
        let part = |of: &str, parts| MixturePart {
            of: of.to_owned(),
            parts,
        };
        let (words, given) = recipe(&[
            part("dark brown", 3.0),
            part(" black ", 1.0),
            part("", 2.0),
            part("tan", 0.0),
        ])
        .unwrap();
        assert_eq!(words, "3 parts dark brown, 1 part black.");
        assert_eq!(given["parts"], json!([["dark brown", 3.0], ["black", 1.0]]));
        assert_eq!(recipe(&[part("", 1.0), part("tan", f64::NAN)]), None);
    }
}
