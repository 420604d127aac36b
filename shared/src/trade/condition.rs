//! The conditions of parts, and the operations that usually repair them.
//!
//! Common practice, no source.

use super::component::Component;
use super::kinds::Goods;
use super::operations::operation;
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

    /// Whether its words go on after "The shank is". Some are things that are there, such as bent nails, or sentences of
    /// their own; the shop's own words may be either.
    pub fn describes_the_part(&self) -> bool {
        use Condition::*;
        !matches!(
            self,
            BoardUnderLeather
                | HoldsNothing
                | BentNails
                | SeamOpen
                | Salt
                | FinishCracked
                | Silicone
                | PinHoleBroken
                | Mould
                | Odour
                | DyeBleed
                | Other(_)
        )
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
        P::Sock => &[WornThrough, Loose, Gone, Odour, Mould],
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
        P::Breast => &[Scuffed, Loose],
        P::Lift => &[WornDown, Loose, WetSoft, BentNails, Cracked],
        P::TopPiece => &[WornThrough, WornDown, Loose, Gone],
        P::QuarterTip => &[Gone, WornDown, Loose],
        _ => &[WornThrough, Torn, Broken, Loose, Cracked, Gone],
    }
}

/// The operations that usually repair a condition of a part on these goods, in the order of [`remedies`]. If the kind of
/// goods is unknown, they count as a shoe.
pub fn remedies_on(
    part: &Component,
    condition: &Condition,
    goods: Option<&Goods>,
) -> impl Iterator<Item = &'static str> {
    let goods = goods.cloned().unwrap_or(Goods::LowShoe);
    let fits = move |code: &&str| operation(code).is_some_and(|known| known.fits(&goods));
    remedies(part, condition).iter().copied().filter(fits)
}

/// The operations that usually repair a condition of a part, the most likely first; none for a part that is sound, and
/// for words this version does not know. A seam that is open is sewn and a part that is loose is fixed again before
/// either is replaced. A seam of a shoe and one of other goods are two operations: [`remedies_on`] leaves out the one
/// that does not apply.
pub fn remedies(part: &Component, condition: &Condition) -> &'static [&'static str] {
    use Component as P;
    use Condition as C;
    match (part, condition) {
        (P::Other(_), _) | (_, C::Other(_) | C::Sound) => &[],
        (_, C::Salt | C::Dry | C::Stained | C::Mould | C::Odour | C::DyeBleed) => care(part, condition),
        (P::Edge, C::Loose) => &["recement_sole", "edge_trim_ink"],
        (P::Edge, _) => &["edge_trim_ink"],
        (P::HeelCover | P::Breast, C::Loose) => &["small_repair", "heel_cover"],
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
        (
            P::HeelGrip | P::Lining | P::Sock | P::Elastic | P::Zip | P::Strap | P::Buckle,
            C::SeamOpen | C::Loose,
        ) => held_again(part),
        (P::Counter, _) => &["counter_rebuild"],
        (P::Puff, _) => &["puff_rebuild"],
        (P::Eyelet, _) => &["eyelet_replacement"],
        (P::HeelGrip, _) => &["heel_grip", "lining_patch"],
        (P::Lining, _) => &["lining_patch", "heel_grip", "bag_lining"],
        (P::Sock, _) => &["sock_replacement"],
        (P::Elastic, _) => &["elastic_replacement"],
        (P::Zip, C::Broken) => &["zip_replacement", "zip_slider"],
        (P::Zip, _) => &["zip_replacement"],
        // A belt is one strap.
        (P::Strap, _) => &["strap_replacement", "new_belt"],
        (P::Buckle, _) => &["buckle_replacement"],
        _ => remedies_below(part, condition),
    }
}

/// The remedies for a part of the upper, or of an item, that has come off, sound itself: first what holds it again, then
/// a new one. What is only cemented in, and what is riveted on, is held again by a small repair.
fn held_again(part: &Component) -> &'static [&'static str] {
    use Component as P;
    match part {
        P::HeelGrip => &["small_repair", "restitch_upper", "heel_grip"],
        P::Lining => &[
            "small_repair",
            "restitch_upper",
            "restitch_seam",
            "lining_patch",
            "bag_lining",
        ],
        P::Sock => &["small_repair", "sock_replacement"],
        P::Elastic => &["restitch_upper", "elastic_replacement"],
        P::Zip => &["restitch_upper", "restitch_seam", "zip_replacement"],
        P::Strap => &["restitch_upper", "restitch_seam", "strap_replacement", "new_belt"],
        P::Buckle => &["restitch_upper", "restitch_seam", "rivet", "buckle_replacement"],
        _ => &[],
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
        (P::Shank, C::Loose) => &["small_repair", "shank_replacement"],
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
        (P::Lift, C::Loose) => &["heel_refix", "cement_lifts", "heel_block_rebuild"],
        (P::Lift, _) => &["cement_lifts", "heel_block_rebuild"],
        (P::TopPiece, C::Loose) => &["small_repair", "top_piece_replacement"],
        (P::TopPiece, _) => &["top_piece_replacement"],
        (P::QuarterTip, C::Loose) => &["small_repair", "quarter_tips", "top_piece_replacement"],
        (P::QuarterTip, _) => &["quarter_tips", "top_piece_replacement"],
        _ => &[],
    }
}

#[cfg(test)]
mod tests;
