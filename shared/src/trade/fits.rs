//! Which part an operation renews, and the least thickness of a part.
//!
//! Common practice, no source.

use super::component::Component;
use super::operations::operation;

/// The part that an operation renews; its life begins with the operation. `None` for work that renews no part.
pub fn fits(code: &str) -> Option<Component> {
    operation(code).and_then(|known| known.renews.clone())
}

/// The thickness in mm below which the part above also wears; `None` for a part whose thickness is not a measure of
/// wear. Where the operation that put the part on is known, [`limit_of`] is closer.
pub fn limit_mm(part: &Component) -> Option<f64> {
    match part {
        Component::TopPiece | Component::QuarterTip => Some(2.0),
        Component::Outsole => Some(2.5),
        Component::SoleGuard => Some(1.0),
        Component::Midsole => Some(2.0),
        _ => None,
    }
}

/// The thickness in mm below which what an operation put on counts as worn; `None` for work whose result is not
/// measured by its thickness. A guard is renewed when its pattern is gone, with 0.8 to 1.0 mm left; rubber is worn
/// down farther than leather, which takes up water when it is thin.
pub fn limit_of(operation: &str) -> Option<f64> {
    match operation {
        "sole_guard" | "dance_sole" => Some(1.0),
        "half_sole" | "toe_piece" | "climbing_resole" | "resole_wedge" | "trainer_sole" => Some(1.5),
        "top_piece_replacement" | "quarter_tips" | "midsole_replacement" | "resole_unit" => Some(2.0),
        "resole_cemented" | "resole_blake" | "resole_welted" | "resole_hand_welted" => Some(2.5),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::operations;

    #[test]
    fn every_new_sole_is_a_sole_and_polish_is_no_part() {
        for operation in operations() {
            if operation.code.starts_with("resole") {
                assert_eq!(
                    fits(operation.code),
                    Some(Component::Outsole),
                    "{}",
                    operation.code
                );
            }
        }
        assert_eq!(fits("clean_condition_polish"), None);
        assert_eq!(fits("bell repair"), None);
        let worn: Vec<_> = operations().filter_map(|one| fits(one.code)).collect();
        assert!(worn.contains(&Component::TopPiece) && worn.len() > 15);
    }

    #[test]
    fn a_guard_is_not_the_sole_it_guards() {
        assert_eq!(fits("sole_guard"), Some(Component::SoleGuard));
        for code in ["half_sole", "trainer_sole", "climbing_resole", "dance_sole"] {
            assert_eq!(fits(code), Some(Component::Outsole), "{code}");
        }
    }

    /// Common practice, no source.
    #[test]
    fn a_guard_is_worn_when_its_pattern_is_gone_and_a_leather_sole_earlier() {
        assert_eq!(limit_of("sole_guard"), Some(1.0));
        assert_eq!(limit_of("half_sole"), Some(1.5));
        assert_eq!(limit_of("top_piece_replacement"), Some(2.0));
        assert_eq!(limit_of("resole_welted"), Some(2.5));
        assert_eq!(limit_of("bell repair"), None);
    }

    #[test]
    fn what_is_measured_is_put_on_and_what_wears_on_the_ground_is_measured() {
        let ground = [Component::Outsole, Component::SoleGuard, Component::TopPiece];
        for known in operations() {
            let part = fits(known.code);
            let measured = limit_of(known.code).is_some();
            assert!(
                !part.is_some_and(|part| ground.contains(&part)) || measured,
                "{}",
                known.code
            );
            let part = known.puts_on.first().map(|fit| &fit.part);
            assert!(!measured || part.and_then(limit_mm).is_some(), "{}", known.code);
        }
    }
}
