//! Which parts an operation puts on, takes off for good, or works on.
//!
//! Common practice, no source.

use super::component::Component;
use super::operations::{PartFit, operation};

/// What an operation does to the parts of a shoe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PartEffects {
    /// The parts it puts on.
    pub on: &'static [PartFit],
    /// The parts it takes off and does not put on again.
    pub off: &'static [Component],
    /// The parts it works on, which stay.
    pub mends: &'static [Component],
}

const NOTHING: PartEffects = PartEffects {
    on: &[],
    off: &[],
    mends: &[],
};

/// The effects of an operation on the parts; none for work that touches no part, and for words this version does not
/// know.
pub fn part_effects(code: &str) -> PartEffects {
    operation(code).map_or(NOTHING, |known| PartEffects {
        on: known.puts_on,
        off: known.takes_off,
        mends: known.mends,
    })
}

/// The parts that the work of a job concerns, each once.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct WorkedParts {
    /// Those that were put on whole.
    pub new: Vec<&'static Component>,
    /// Those that stayed and were worked on, or are new in part: a half sole, a piece of a welt.
    pub mended: Vec<&'static Component>,
}

/// The parts that these operations put on or work on; a part that is new as a whole is not also among the others.
#[must_use]
pub fn worked_parts<'a>(codes: impl IntoIterator<Item = &'a str>) -> WorkedParts {
    let mut parts = WorkedParts::default();
    for work in codes.into_iter().map(part_effects) {
        let of = |whole: bool| work.on.iter().filter(move |fit| (fit.layer == 0) == whole);
        for part in of(true).map(|fit| &fit.part) {
            if !parts.new.contains(&part) {
                parts.new.push(part);
            }
        }
        for part in of(false).map(|fit| &fit.part).chain(work.mends) {
            if !parts.mended.contains(&part) {
                parts.mended.push(part);
            }
        }
    }
    let WorkedParts { new, mended } = &mut parts;
    mended.retain(|part| !new.contains(part));
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::fits::fits;
    use crate::trade::operations::operations;

    #[test]
    fn a_part_is_put_on_taken_off_or_mended_but_never_two_of_them() {
        for operation in operations() {
            let work = part_effects(operation.code);
            let on = work.on.iter().map(|fit| &fit.part);
            let all: Vec<_> = on.chain(work.off).chain(work.mends).collect();
            for (at, part) in all.iter().enumerate() {
                assert!(!all[..at].contains(part), "{} {part}", operation.code);
            }
        }
    }

    /// An operation called a replacement, a resole or a rebuild puts a part on.
    #[test]
    fn work_that_is_called_new_is_new() {
        for operation in operations() {
            let named = ["_replacement", "resole_", "_rebuild"];
            if named.iter().any(|word| operation.code.contains(word)) {
                assert!(!part_effects(operation.code).on.is_empty(), "{}", operation.code);
            }
        }
    }

    #[test]
    fn whatever_begins_a_life_is_put_on() {
        for operation in operations() {
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
        assert!(layer("half_sole") < layer("toe_piece"));
    }

    #[test]
    fn a_guard_lies_over_the_sole_and_comes_off_with_it() {
        let guard = part_effects("sole_guard");
        assert_eq!(guard.on[0].part, Component::SoleGuard);
        assert!(guard.off.is_empty(), "the sole under it stays");
        for operation in operations() {
            let sole = fits(operation.code) == Some(Component::Outsole);
            let off = part_effects(operation.code).off.contains(&Component::SoleGuard);
            assert_eq!(sole, off, "{}", operation.code);
        }
    }

    #[test]
    fn the_work_of_a_job_is_told_part_by_part_and_new_wins_over_mended() {
        assert_eq!(
            worked_parts(["welt_piece", "welt_piece"]).mended,
            [&Component::Welt]
        );
        assert_eq!(
            worked_parts(["half_sole"]).mended,
            [&Component::Outsole],
            "new in part"
        );
        let all = worked_parts(["welt_piece", "resole_welted", "rewelt", "bell repair"]);
        for part in [Component::Outsole, Component::Welt] {
            assert!(all.new.contains(&&part), "{all:?}");
        }
        assert!(!all.mended.contains(&&Component::Welt), "{all:?}");
    }

    #[test]
    fn polish_and_unknown_words_touch_no_part() {
        for operation in ["clean_condition_polish", "stretch", "bell repair", ""] {
            assert_eq!(part_effects(operation), NOTHING);
        }
    }
}
