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
/// wear.
pub fn limit_mm(part: &Component) -> Option<f64> {
    match part {
        Component::TopPiece | Component::QuarterTip => Some(2.0),
        Component::Outsole => Some(2.5),
        Component::Midsole => Some(2.0),
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
}
