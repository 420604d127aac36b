//! Which part an operation puts on new, and how thin it may get.
//!
//! Common practice, no source.

use super::component::Component;
use super::operations::operation;

/// The part that an operation renews, whose life begins with it; `None` for work that renews none.
pub fn fits(code: &str) -> Option<Component> {
    operation(code).and_then(|known| known.renews.clone())
}

/// How thin a part may get before what is above it wears too, mm; `None` where thickness says nothing.
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
