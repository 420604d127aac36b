//! The conditions of parts, and the operations that usually repair them.
//!
//! Common practice, no source.

use super::component::Component;
use super::worded::worded;

worded!(
    /// The condition of a part.
    Condition {
        /// Worn to a hole.
        WornThrough = "worn_through", "Worn through";
        /// Lower or thinner than it was.
        WornDown = "worn_down", "Worn down";
        /// Cracks.
        Cracked = "cracked", "Cracked";
        /// No longer held.
        Loose = "loose", "Loose";
        /// Trodden down.
        Crushed = "crushed", "Crushed";
        /// Made of board that looks like leather.
        BoardUnderLeather = "board_under_leather", "Board under a leather wrap";
        /// Decayed.
        Rotten = "rotten", "Rotten";
        /// In pieces, or no longer functioning.
        Broken = "broken", "Broken";
        /// The stitch is only decoration, and holds nothing.
        HoldsNothing = "stitch_holds_nothing", "Stitch holds nothing";
        /// Wet, or soft from water.
        WetSoft = "wet_soft", "Wet or soft";
        /// Nails bent or standing out.
        BentNails = "bent_nails", "Bent nails";
        /// Perforated by a former seam.
        CutByOldStitch = "cut_by_old_stitch", "Cut by the old stitch";
        /// Missing.
        Gone = "gone", "Gone";
        /// Torn.
        Torn = "torn", "Torn";
        /// Stitches gone.
        SeamOpen = "seam_open", "Seam open";
        /// Marks on the surface.
        Scuffed = "scuffed", "Scuffed";
        /// Spots.
        Stained = "stained", "Stained";
        /// White lines of salt.
        Salt = "salt", "Salt";
        /// Dry and hard: the leather has lost its fat.
        Dry = "dry_hard", "Dry and hard";
        /// The finish has cracked, but not the leather.
        FinishCracked = "finish_cracked", "Finish cracked";
        /// Silicone in the finish, to which nothing adheres.
        Silicone = "silicone", "Silicone in the finish";
        /// Without spring.
        Slack = "slack", "Slack";
        /// Falls into crumbs.
        Crumbling = "crumbling", "Crumbling";
        /// The hole of a pin or dowel no longer holds it.
        PinHoleBroken = "pin_hole_broken", "Pin hole broken";
        /// Cement where a seam should be.
        GluedOnly = "glued_only", "Only glued on";
        /// Grown over, or spotted by it.
        Mould = "mould", "Mould";
        /// A coating that comes off in flakes.
        Peeling = "peeling", "Peeling";
        /// Bitten by an animal.
        Chewed = "chewed", "Chewed";
        /// Scorched or melted.
        Burnt = "burnt", "Burnt";
        /// A smell that stays.
        Odour = "odour", "Smells";
        /// Colour that has run into what lies beside it.
        DyeBleed = "dye_bleed", "Dye has run";
        /// Nothing wrong: it was looked at.
        Sound = "sound", "Sound";
    }
);

impl Condition {
    /// Whether it is damage. A word this version does not know counts as damage.
    pub fn is_damage(&self) -> bool {
        *self != Condition::Sound
    }
}

/// The damage a part can have, the most likely first. For a part of the shop's own, the damage that most parts can
/// have.
pub fn conditions(part: &Component) -> &'static [Condition] {
    use Component as P;
    use Condition::*;
    match part {
        P::Upper => &[
            Cracked,
            FinishCracked,
            Dry,
            Stained,
            Peeling,
            Burnt,
            DyeBleed,
            Silicone,
        ],
        // What shows in one place only is noted of the vamp or the quarter.
        P::Vamp => &[Cracked, Scuffed, Torn, WornThrough, Stained, Salt, Burnt, Peeling],
        P::Quarter => &[Torn, Cracked, Scuffed, WornThrough, Salt, Burnt, Peeling],
        P::Counter => &[Crushed, WetSoft, Broken, Gone, Chewed],
        P::Puff => &[Crushed, WetSoft, Broken],
        P::Tongue => &[Torn, Loose, Gone],
        P::Facing => &[SeamOpen, Torn],
        P::Eyelet => &[Torn, Gone, Broken],
        P::Topline => &[SeamOpen, WornThrough, Torn],
        P::Backseam => &[SeamOpen, Torn, WornThrough, Chewed],
        P::Seam => &[SeamOpen, Torn],
        P::HeelGrip => &[WornThrough, Loose, Gone],
        P::Lining => &[WornThrough, Torn, Loose, Mould, Odour, DyeBleed],
        P::Sock => &[Loose, WornThrough, Gone, Odour, Mould],
        P::Elastic => &[Slack, Torn, SeamOpen],
        P::Zip => &[Broken, Rotten, SeamOpen],
        P::Strap => &[Torn, Cracked, SeamOpen, Chewed],
        P::Buckle => &[Broken, Loose, Gone],
        _ => conditions_below(part),
    }
}

fn conditions_below(part: &Component) -> &'static [Condition] {
    use Component as P;
    use Condition::*;
    match part {
        P::LastingMargin => &[Torn, Rotten, CutByOldStitch],
        P::Insole => &[
            Cracked,
            CutByOldStitch,
            WetSoft,
            Rotten,
            WornThrough,
            Mould,
            Odour,
        ],
        P::Rib => &[Torn, Loose, CutByOldStitch],
        P::Filler => &[WetSoft, Gone, Crumbling],
        P::Shank => &[Broken, Loose, Gone],
        P::Welt => &[
            Loose,
            Rotten,
            Cracked,
            HoldsNothing,
            GluedOnly,
            CutByOldStitch,
            WornThrough,
        ],
        P::Rand => &[Loose, Cracked, Torn],
        P::Midsole => &[WornThrough, WetSoft, Loose, Crumbling, Cracked],
        P::Outsole => &[
            WornThrough,
            WornDown,
            Loose,
            HoldsNothing,
            Cracked,
            Crumbling,
            WetSoft,
        ],
        P::SoleGuard => &[WornThrough, WornDown, Loose, Torn, Gone],
        P::Channel => &[SeamOpen, Loose, Gone],
        P::Waist => &[Loose, SeamOpen, WornThrough],
        P::Edge => &[Scuffed, Loose, Cracked],
        P::HeelSeat => &[WetSoft, BentNails, Cracked, WornThrough],
        P::HeelBase => &[
            BoardUnderLeather,
            WornDown,
            PinHoleBroken,
            BentNails,
            Loose,
            Crushed,
            Cracked,
        ],
        P::HeelCover => &[Scuffed, Torn, Loose],
        P::Breast => &[Loose, Scuffed],
        P::Lift => &[WornDown, Loose, WetSoft, BentNails, Cracked],
        P::TopPiece => &[WornThrough, WornDown, Loose, Gone],
        P::QuarterTip => &[Gone, WornDown, Loose],
        _ => &[WornThrough, Torn, Broken, Loose, Cracked, Gone],
    }
}

/// The operations that usually repair a condition of a part, the most likely first; none for a part that is sound, and
/// for words this version does not know.
pub fn remedies(part: &Component, condition: &Condition) -> &'static [&'static str] {
    use Component as P;
    use Condition as C;
    match (part, condition) {
        (P::Other(_), _) | (_, C::Other(_) | C::Sound) => &[],
        (_, C::Salt | C::Dry | C::Stained | C::Mould | C::Odour | C::DyeBleed) => care(part, condition),
        (P::Edge, C::Loose) => &["recement_sole", "edge_trim_ink"],
        (P::Edge, _) => &["edge_trim_ink"],
        (P::HeelCover | P::Breast, _) => &["heel_cover"],
        (_, C::FinishCracked | C::Silicone) => &["strip_and_dye"],
        (_, C::Scuffed) => &["colour_touch_up", "strip_and_dye"],
        (_, C::Peeling) => &["upper_patch", "patent_repair", "strip_and_dye"],
        (_, C::Burnt) => &["upper_patch", "colour_touch_up"],
        (P::Upper | P::Vamp | P::Quarter | P::Topline | P::Backseam | P::Facing, C::SeamOpen) => {
            &["restitch_upper"]
        }
        (P::Vamp, _) => &["upper_patch", "restitch_upper", "apron_seam"],
        (P::Upper | P::Quarter | P::Topline | P::Backseam, _) => &["upper_patch", "restitch_upper"],
        (P::Tongue | P::Facing, _) => &["restitch_upper", "upper_patch"],
        (P::Seam, _) => &["restitch_upper", "restitch_seam"],
        (P::Counter, _) => &["counter_rebuild"],
        (P::Puff, _) => &["puff_rebuild"],
        (P::Eyelet, _) => &["eyelet_replacement"],
        (P::HeelGrip, _) => &["heel_grip", "lining_patch"],
        (P::Lining, _) => &["lining_patch", "heel_grip", "bag_lining"],
        (P::Sock, _) => &["sock_replacement"],
        (P::Elastic, C::SeamOpen) => &["restitch_upper", "elastic_replacement"],
        (P::Elastic, _) => &["elastic_replacement"],
        (P::Zip, C::Broken) => &["zip_replacement", "zip_slider"],
        (P::Zip, _) => &["zip_replacement"],
        (P::Strap, _) => &["strap_replacement"],
        (P::Buckle, _) => &["buckle_replacement"],
        _ => remedies_below(part, condition),
    }
}

/// The remedies for what is on a part or in it, and is cleaned or treated first.
fn care(part: &Component, condition: &Condition) -> &'static [&'static str] {
    use Component as P;
    use Condition as C;
    match (part, condition) {
        (_, C::Salt) => &["desalting", "wet_clean"],
        (_, C::Dry) => &["clean_condition_polish"],
        (P::Sock, C::Mould) => &["mould_treatment", "sock_replacement"],
        (_, C::Mould) => &["mould_treatment"],
        (P::Sock, C::Odour) => &["odour_treatment", "sock_replacement"],
        (_, C::Odour) => &["odour_treatment"],
        (P::Lining, C::DyeBleed) => &["wet_clean", "lining_patch"],
        (P::Upper | P::Vamp | P::Quarter, _) => {
            &["wet_clean", "suede_clean", "colour_touch_up", "strip_and_dye"]
        }
        _ => &["wet_clean"],
    }
}

fn remedies_below(part: &Component, condition: &Condition) -> &'static [&'static str] {
    use Component as P;
    use Condition as C;
    match (part, condition) {
        (P::LastingMargin, _) => &["upper_patch"],
        (P::Insole, _) => &["insole_repair", "insole_renewal"],
        (P::Rib, _) => &["rib_repair"],
        (P::Filler, _) => &["filler_replacement"],
        (P::Shank, _) => &["shank_replacement"],
        (P::Welt, C::Rotten | C::GluedOnly | C::CutByOldStitch) => &["rewelt", "welt_piece"],
        (P::Welt, C::HoldsNothing) => &["restitch_sole", "rewelt"],
        (P::Welt, _) => &["welt_piece", "rewelt"],
        (P::Rand, _) => &["rand_repair"],
        (P::Midsole, C::Loose) => &["recement_sole", "midsole_replacement"],
        (P::Midsole, _) => &["midsole_replacement"],
        (P::SoleGuard, C::Loose) => &["recement_sole", "sole_guard"],
        (P::SoleGuard, _) => &["sole_guard"],
        (P::Outsole, C::Crumbling) => &["resole_unit", "trainer_sole", "resole_cemented"],
        (P::Outsole | P::Waist | P::Channel, C::Loose | C::Gone) => &["recement_sole", "restitch_sole"],
        (P::Outsole | P::Waist | P::Channel, C::HoldsNothing | C::SeamOpen) => &["restitch_sole"],
        (P::Outsole, C::WornThrough | C::WornDown) => &[
            "half_sole",
            "resole_welted",
            "resole_blake",
            "resole_cemented",
            "resole_hand_welted",
        ],
        (P::Outsole | P::Waist | P::Channel, _) => &[
            "resole_welted",
            "resole_blake",
            "resole_cemented",
            "resole_hand_welted",
        ],
        (P::HeelBase, C::Loose) => &["heel_refix", "heel_block_rebuild"],
        (P::HeelBase, C::PinHoleBroken) => &["heel_block_rebuild", "heel_pin", "heel_block_plastic"],
        (P::HeelSeat, C::BentNails) => &["heel_block_rebuild", "nail_through", "heel_refix"],
        (P::HeelBase, C::Cracked | C::Crushed) => &["heel_block_rebuild", "heel_block_plastic"],
        (P::HeelBase | P::HeelSeat, _) => &["heel_block_rebuild", "heel_refix"],
        (P::Lift, _) => &["cement_lifts", "heel_block_rebuild"],
        (P::TopPiece, _) => &["top_piece_replacement"],
        (P::QuarterTip, _) => &["quarter_tips", "top_piece_replacement"],
        _ => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operation;

    #[test]
    fn every_part_has_damages_and_every_damage_a_remedy_of_the_list() {
        for part in Component::KNOWN {
            let known = conditions(part);
            assert!(!known.is_empty() && known.len() <= 8, "{part}: four taps must do");
            for (at, condition) in known.iter().enumerate() {
                assert!(!known[..at].contains(condition), "{part} {condition} twice");
                let answers = remedies(part, condition);
                assert!(!answers.is_empty(), "{part} {condition}");
                assert!(
                    answers.iter().all(|code| operation(code).is_some()),
                    "{part} {condition}: {answers:?}"
                );
            }
        }
    }

    /// The usual hidden damage at teardown: common practice, no source.
    #[test]
    fn the_usual_hidden_damage_can_be_recorded_and_answered() {
        use Component as P;
        use Condition as C;
        let usual = [
            (P::HeelBase, C::WornDown, "heel_block_rebuild"),
            (P::HeelBase, C::PinHoleBroken, "heel_block_rebuild"),
            (P::HeelBase, C::BoardUnderLeather, "heel_block_rebuild"),
            (P::Counter, C::Crushed, "counter_rebuild"),
            (P::Welt, C::Loose, "welt_piece"),
            (P::Welt, C::Cracked, "welt_piece"),
            (P::Welt, C::Rotten, "rewelt"),
            (P::Welt, C::HoldsNothing, "restitch_sole"),
            (P::Outsole, C::WornThrough, "half_sole"),
            (P::Shank, C::Broken, "shank_replacement"),
            (P::Filler, C::WetSoft, "filler_replacement"),
            (P::Filler, C::Gone, "filler_replacement"),
            (P::Insole, C::Cracked, "insole_repair"),
            (P::Insole, C::CutByOldStitch, "insole_repair"),
            (P::Rib, C::Torn, "rib_repair"),
            (P::HeelSeat, C::WetSoft, "heel_block_rebuild"),
            (P::HeelSeat, C::BentNails, "heel_block_rebuild"),
            (P::LastingMargin, C::Torn, "upper_patch"),
            (P::Zip, C::Rotten, "zip_replacement"),
            (P::Upper, C::FinishCracked, "strip_and_dye"),
            (P::Upper, C::Silicone, "strip_and_dye"),
            (P::Upper, C::Stained, "wet_clean"),
            (P::Vamp, C::Salt, "desalting"),
            (P::Lining, C::Mould, "mould_treatment"),
            (P::Sock, C::Odour, "odour_treatment"),
            (P::Counter, C::Chewed, "counter_rebuild"),
            (P::Outsole, C::Crumbling, "resole_unit"),
            (P::SoleGuard, C::WornThrough, "sole_guard"),
        ];
        for (part, condition, first) in usual {
            assert!(conditions(&part).contains(&condition), "{part} {condition}");
            assert_eq!(
                remedies(&part, &condition).first(),
                Some(&first),
                "{part} {condition}"
            );
        }
    }

    #[test]
    fn what_is_sound_is_no_damage_and_needs_nothing() {
        assert!(!Condition::Sound.is_damage() && Condition::from("sound") == Condition::Sound);
        for part in Component::KNOWN {
            assert!(conditions(part).iter().all(Condition::is_damage), "{part}");
            assert!(remedies(part, &Condition::Sound).is_empty(), "{part}");
        }
        assert!(Condition::from("humming").is_damage());
    }

    /// Every condition but one can be tapped somewhere.
    #[test]
    fn every_damage_is_offered_for_some_part() {
        for condition in Condition::KNOWN.iter().filter(|one| one.is_damage()) {
            let offered = Component::KNOWN
                .iter()
                .any(|part| conditions(part).contains(condition));
            assert!(offered, "{condition}");
        }
    }

    #[test]
    fn the_shops_own_words_can_be_used_but_are_not_guessed_at() {
        assert!(!conditions(&Component::from("bell")).is_empty());
        assert!(remedies(&Component::from("bell"), &Condition::Broken).is_empty());
        assert!(remedies(&Component::Shank, &Condition::from("humming")).is_empty());
    }
}
