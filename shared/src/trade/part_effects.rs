//! Which parts an operation puts on, which it takes off for good, and which it works on and leaves.
//!
//! Common practice, no source.

use super::component::Component;

/// A part that an operation puts on, and where it lies among others on the same part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartFit {
    /// The part.
    pub part: Component,
    /// How far out it lies: a whole sole is 0, a half sole on it 1. What is put on later takes off what lies as far out
    /// or farther.
    pub layer: u8,
}

/// What an operation does to the parts of a shoe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Touches {
    /// Put on.
    pub on: &'static [PartFit],
    /// Taken off with what is replaced, and not put on again by this operation.
    pub off: &'static [Component],
    /// Worked on: the same part stays.
    pub mends: &'static [Component],
}

const NOTHING: Touches = Touches {
    on: &[],
    off: &[],
    mends: &[],
};

const fn whole(part: Component) -> PartFit {
    PartFit { part, layer: 0 }
}

const fn over(part: Component, layer: u8) -> PartFit {
    PartFit { part, layer }
}

const fn puts(on: &'static [PartFit]) -> Touches {
    Touches { on, ..NOTHING }
}

const fn mends(mends: &'static [Component]) -> Touches {
    Touches { mends, ..NOTHING }
}

/// What an operation does to the parts; nothing for work that touches none, and for words this version does not know.
pub fn part_effects(operation: &str) -> Touches {
    use Component as P;
    match operation {
        "resole_cemented" | "resole_blake" | "resole_welted" | "resole_hand_welted" => {
            puts(const { &[whole(P::Outsole)] })
        }
        "half_sole" => puts(const { &[over(P::Outsole, 1)] }),
        "toe_piece" => puts(const { &[over(P::Outsole, 2)] }),
        "sole_guard" => puts(const { &[over(P::Outsole, 3)] }),
        "midsole_replacement" | "raise_to_prescription" => puts(const { &[whole(P::Midsole)] }),
        "rewelt" => puts(const { &[whole(P::Welt)] }),
        "welt_piece" => puts(const { &[over(P::Welt, 1)] }),
        "shank_replacement" => puts(const { &[whole(P::Shank)] }),
        "filler_replacement" => puts(const { &[whole(P::Filler)] }),
        "sock_replacement" => puts(const { &[whole(P::Sock)] }),
        "counter_rebuild" => puts(const { &[whole(P::Counter)] }),
        "puff_rebuild" => puts(const { &[whole(P::Puff)] }),
        "heel_grip" => puts(const { &[whole(P::HeelGrip)] }),
        "lining_patch" => puts(const { &[whole(P::Lining)] }),
        "elastic_replacement" => puts(const { &[whole(P::Elastic)] }),
        "zip_replacement" => puts(const { &[whole(P::Zip)] }),
        "strap_replacement" => puts(const { &[whole(P::Strap)] }),
        "buckle_replacement" => puts(const { &[whole(P::Buckle)] }),
        "eyelet_replacement" => puts(const { &[whole(P::Eyelet)] }),
        _ => on_the_heel(operation),
    }
}

fn on_the_heel(operation: &str) -> Touches {
    use Component as P;
    match operation {
        // Everything below what is built again comes off. The top piece that ends it is work of its own.
        "heel_block_rebuild" => Touches {
            on: const { &[whole(P::HeelBase), whole(P::Lift)] },
            off: &[P::TopPiece, P::QuarterTip, P::HeelCover],
            mends: &[],
        },
        "cement_lifts" => Touches {
            on: const { &[whole(P::Lift)] },
            off: &[P::TopPiece, P::QuarterTip],
            mends: &[],
        },
        "top_piece_replacement" => Touches {
            on: const { &[whole(P::TopPiece)] },
            off: &[P::QuarterTip],
            mends: &[],
        },
        "quarter_tips" => puts(const { &[whole(P::QuarterTip)] }),
        "heel_cover" => puts(const { &[whole(P::HeelCover)] }),
        _ => mended(operation),
    }
}

fn mended(operation: &str) -> Touches {
    use Component as P;
    match operation {
        "recement_sole" => mends(&[P::Outsole, P::Waist]),
        "restitch_sole" => mends(&[P::Outsole, P::Channel, P::Waist]),
        "rand_repair" => mends(&[P::Rand]),
        "insole_repair" => mends(&[P::Insole]),
        "rib_repair" => mends(&[P::Rib]),
        "heel_refix" => mends(&[P::HeelBase, P::HeelSeat]),
        "edge_trim_ink" => mends(&[P::Edge]),
        "restitch_upper" => mends(&[P::Seam, P::Backseam, P::Topline, P::Facing]),
        "restitch_seam" => mends(&[P::Seam]),
        "upper_patch" => mends(&[P::Upper, P::Vamp, P::Quarter]),
        "strip_and_dye" | "colour_touch_up" => mends(&[P::Upper, P::Vamp, P::Quarter]),
        _ => NOTHING,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::fits::fits;
    use crate::trade::operations::OPERATIONS;

    #[test]
    fn a_part_is_put_on_taken_off_or_mended_but_never_two_of_them() {
        for operation in OPERATIONS {
            let work = part_effects(operation.code);
            let on = work.on.iter().map(|fit| &fit.part);
            let all: Vec<_> = on.chain(work.off).chain(work.mends).collect();
            for (at, part) in all.iter().enumerate() {
                assert!(!all[..at].contains(part), "{} {part}", operation.code);
            }
        }
    }

    /// What the trade calls a replacement, a resole or a rebuild puts something on.
    #[test]
    fn work_that_is_called_new_is_new() {
        for operation in OPERATIONS {
            let named = ["_replacement", "resole_", "_rebuild"];
            if named.iter().any(|word| operation.code.contains(word)) {
                assert!(!part_effects(operation.code).on.is_empty(), "{}", operation.code);
            }
        }
    }

    #[test]
    fn whatever_begins_a_life_is_put_on() {
        for operation in OPERATIONS {
            if let Some(part) = fits(operation.code) {
                let on = part_effects(operation.code).on.iter().any(|fit| fit.part == part);
                assert!(on, "{} {part}", operation.code);
            }
        }
    }

    #[test]
    fn what_lies_on_a_sole_lies_in_the_order_it_is_laid() {
        let layer = |operation| part_effects(operation).on[0].layer;
        assert!(layer("resole_welted") < layer("half_sole"));
        assert!(layer("half_sole") < layer("sole_guard"));
    }

    #[test]
    fn polish_and_unknown_words_touch_no_part() {
        for operation in ["clean_condition_polish", "stretch", "bell repair", ""] {
            assert_eq!(part_effects(operation), NOTHING);
        }
    }
}
