//! Which part an operation puts on new, and how thin it may get.
//!
//! Common practice, no source.

use super::component::Component;

/// The part that an operation renews, whose life begins with it; `None` for work that renews none.
pub fn fits(operation: &str) -> Option<Component> {
    Some(match operation {
        "top_piece_replacement" => Component::TopPiece,
        "half_sole" | "sole_guard" | "resole_cemented" | "resole_blake" | "resole_welted"
        | "resole_hand_welted" => Component::Outsole,
        "heel_block_rebuild" => Component::HeelBase,
        "quarter_tips" => Component::QuarterTip,
        "counter_rebuild" => Component::Counter,
        "puff_rebuild" => Component::Puff,
        "lining_patch" => Component::Lining,
        "heel_grip" => Component::HeelGrip,
        "sock_replacement" => Component::Sock,
        "midsole_replacement" => Component::Midsole,
        "shank_replacement" => Component::Shank,
        "filler_replacement" => Component::Filler,
        "heel_cover" => Component::HeelCover,
        "rewelt" => Component::Welt,
        "elastic_replacement" => Component::Elastic,
        "zip_replacement" => Component::Zip,
        "strap_replacement" => Component::Strap,
        "buckle_replacement" => Component::Buckle,
        _ => return None,
    })
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
    use crate::trade::operations::OPERATIONS;

    #[test]
    fn every_new_sole_is_a_sole_and_polish_is_no_part() {
        for operation in OPERATIONS {
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
        let worn: Vec<_> = OPERATIONS.iter().filter_map(|one| fits(one.code)).collect();
        assert!(worn.contains(&Component::TopPiece) && worn.len() > 15);
    }
}
