//! The operations of the trade: what they are called, where they are done, and what a customer is told.
//!
//! The list, its minutes and its waits are common practice, no source; a shop's own history replaces them.

use crate::log::open::open_enum;

open_enum!(
    /// The kind of place or tool that operations share.
    Station {
        /// Knife, pincers, heat: taking off what is worn.
        Strip = "strip",
        /// Cement and its drying.
        Cement = "cement",
        /// Awl, waxed thread, machine.
        Stitch = "stitch",
        /// Lifts, nails, top pieces.
        BuildHeel = "build_heel",
        /// Knife, rasp, finisher: edges and heels to shape.
        Trim = "trim",
        /// Edge ink and wax.
        Ink = "ink",
        /// Dye and finish on the upper.
        Finish = "finish",
        /// Brushes, cream, polish.
        CleanAndPolish = "clean_and_polish",
    }
);

/// One kind of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Operation {
    /// The word in the log.
    pub code: &'static str,
    /// What the repairer calls it.
    pub name: &'static str,
    /// What the card tells the customer.
    pub plain: &'static str,
    /// Where it is done, by its longest part.
    pub station: Station,
    /// Hours before the pair may be worn; 0 when at once.
    pub wear_after_h: u32,
}

macro_rules! operations {
    ($($code:literal, $name:literal, $station:ident, $hours:literal, $plain:literal;)+) => {
        /// The trade's list, in the order a shop meets them.
        pub const OPERATIONS: &[Operation] = &[$(Operation {
            code: $code, name: $name, plain: $plain, station: Station::$station, wear_after_h: $hours,
        }),+];
    };
}

operations! {
    "top_piece_replacement", "Top pieces", BuildHeel, 0, "New wearing layer under both heels.";
    "half_sole", "Half soles", Cement, 24, "New half soles where the forepart was worn.";
    "sole_guard", "Sole guards", Cement, 24, "Thin rubber put over the soles to protect them.";
    "resole_cemented", "Resole, cemented", Cement, 24, "New soles, cemented on.";
    "resole_blake", "Resole, Blake", Stitch, 24, "New soles, stitched through.";
    "resole_welted", "Resole, machine-welted", Stitch, 24, "New soles, stitched to the welt.";
    "resole_hand_welted", "Resole, hand-welted", Stitch, 24, "New soles, stitched to a hand-sewn welt.";
    "heel_block_rebuild", "Heel block rebuild", BuildHeel, 12, "The heel built up again, layer by layer.";
    "welt_piece", "Welt piece", Stitch, 12, "A worn piece of the welt replaced.";
    "rewelt", "Full rewelt", Stitch, 12, "A new welt all round.";
    "counter_rebuild", "Counter rebuild", Cement, 24, "The stiffener round the heel made firm again.";
    "lining_patch", "Lining patch", Cement, 12, "The worn lining at the heel patched.";
    "restitch_upper", "Restitch upper seam", Stitch, 0, "Open seams of the upper sewn again.";
    "upper_patch", "Upper patch", Stitch, 0, "A patch set into the upper.";
    "elastic_replacement", "Elastic", Stitch, 0, "New elastic at the sides.";
    "zip_replacement", "Zip", Stitch, 0, "A new zip.";
    "edge_trim_ink", "Edge trim and ink", Ink, 0, "Sole edges trimmed, inked and waxed.";
    "strip_and_dye", "Strip and dye", Finish, 24, "The old finish taken off and the leather dyed.";
    "clean_condition_polish", "Clean, condition, polish", CleanAndPolish, 0, "Cleaned, fed and polished.";
    "stretch", "Stretch", Finish, 0, "Stretched on the last for more room.";
}

/// Looks an operation up by its word in the log.
pub fn operation(code: &str) -> Option<&'static Operation> {
    OPERATIONS.iter().find(|known| known.code == code)
}

/// What the repairer calls it: the trade's name, or the shop's own word as it stands.
pub fn name(code: &str) -> &str {
    operation(code).map_or(code, |known| known.name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_operation_has_its_own_word() {
        let codes: BTreeSet<_> = OPERATIONS.iter().map(|known| known.code).collect();
        assert_eq!(codes.len(), OPERATIONS.len());
        assert_eq!(name("half_sole"), "Half soles");
        assert_eq!(
            name("bell repair"),
            "bell repair",
            "the shop's own words are kept"
        );
    }
}
