//! How long work usually lasts: what a customer is told until the shop has records of its own.
//!
//! Common practice, no source: worn every other day, on pavement. A shop's own records replace it.

use super::operations::operation;

/// How long the result of an operation usually lasts, in months; `None` if no life can be stated, and for words this
/// version does not know.
pub fn usual_life(code: &str) -> Option<u32> {
    operation(code).and_then(|known| known.life_months)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::operations;
    use crate::trade::part_effects::part_effects;

    #[test]
    fn whatever_is_put_on_wears_out_one_day() {
        for operation in operations().filter(|one| !part_effects(one.code).on.is_empty()) {
            let known = usual_life(operation.code).is_some();
            // The height of an orthopaedic raise is prescribed, and lasts as long as the sole under it.
            assert!(
                known || operation.code == "raise_to_prescription",
                "{}",
                operation.code
            );
        }
    }

    #[test]
    fn more_work_lasts_no_shorter() {
        for (less, more) in [
            ("sole_guard", "resole_welted"),
            ("half_sole", "resole_cemented"),
            ("resole_cemented", "resole_blake"),
            ("recement_sole", "restitch_sole"),
            ("welt_piece", "rewelt"),
            ("top_piece_replacement", "heel_block_rebuild"),
        ] {
            assert!(usual_life(less) <= usual_life(more), "{less} {more}");
        }
        assert_eq!(usual_life("bell repair"), None);
    }
}
