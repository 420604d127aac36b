//! How long work usually lasts: what a customer can be told before the shop knows better.
//!
//! Common practice, no source: worn every other day, on pavement. A shop's own records replace it.

/// How long what an operation puts right usually lasts, in months; `None` where it does not wear out in a way that could
/// be said, and for words this version does not know.
pub fn usual_life(operation: &str) -> Option<u32> {
    Some(match operation {
        "colour_touch_up" => 6,
        "top_piece_replacement" | "quarter_tips" => 8,
        "recement_sole" | "toe_piece" => 12,
        "half_sole" | "sole_guard" | "lining_patch" | "heel_grip" | "sock_replacement" | "upper_patch"
        | "strip_and_dye" => 18,
        "resole_cemented" | "restitch_sole" | "restitch_upper" | "restitch_seam" | "heel_refix"
        | "heel_cover" => 24,
        "resole_blake" => 30,
        "rand_repair"
        | "insole_repair"
        | "elastic_replacement"
        | "eyelet_replacement"
        | "strap_replacement"
        | "cement_lifts"
        | "midsole_replacement" => 36,
        "resole_welted" | "resole_hand_welted" | "heel_block_rebuild" | "welt_piece" | "counter_rebuild"
        | "puff_rebuild" | "zip_replacement" | "buckle_replacement" | "filler_replacement" => 48,
        "rib_repair" => 60,
        "shank_replacement" => 72,
        "rewelt" => 96,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::OPERATIONS;
    use crate::trade::part_effects::part_effects;

    #[test]
    fn whatever_is_put_on_wears_out_one_day() {
        for operation in OPERATIONS
            .iter()
            .filter(|one| !part_effects(one.code).on.is_empty())
        {
            let known = usual_life(operation.code).is_some();
            // Height is prescribed, and lasts as long as the sole under it.
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
