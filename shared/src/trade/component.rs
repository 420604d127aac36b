//! The parts of a shoe, as a repairer taps them on its drawing.
//!
//! Common practice, no source.

use super::usage::in_usage;
use super::worded::worded;

worded!(
    /// A part of a shoe, or of another item.
    Component {
        /// Everything above the sole.
        Upper = "upper", "Upper";
        /// The front, over toes and instep.
        Vamp = "vamp", "Vamp";
        /// Side and back.
        Quarter = "quarter", "Quarter";
        /// Stiffener cupping the heel.
        Counter = "counter", "Stiffener";
        /// Toe stiffener.
        Puff = "puff", "Toe puff";
        /// The flap under the laces.
        Tongue = "tongue", "Tongue";
        /// The part that carries the eyelets.
        Facing = "facing", "Facing";
        /// Holes and hooks of the laces.
        Eyelet = "eyelet", "Eyelet";
        /// The upper's top edge.
        Topline = "topline", "Topline";
        /// The seam at the heel.
        Backseam = "backseam", "Backseam";
        /// Any other seam of the upper or of an item.
        Seam = "seam", "Seam";
        /// Lining where the heel rubs.
        HeelGrip = "heel_grip", "Heel grip";
        /// The inside of the upper, or of an item.
        Lining = "lining", "Lining";
        /// The lining over the insole.
        Sock = "sock", "Sock lining";
        /// The gusset of a boot.
        Elastic = "elastic", "Elastic gusset";
        /// A zip with its tape.
        Zip = "zip", "Zip";
        /// A strap or handle.
        Strap = "strap", "Strap or handle";
        /// A buckle.
        Buckle = "buckle", "Buckle";
        /// The upper turned under.
        LastingMargin = "lasting_margin", "Lasting margin";
        /// The inner foundation.
        Insole = "insole", "Insole";
        /// The ridge that takes the welt seam.
        Rib = "rib", "Rib or holdfast";
        /// What levels the hollow inside the seam.
        Filler = "filler", "Filler";
        /// The stiff strip that bridges the waist.
        Shank = "shank", "Shank";
        /// The strip joining upper and sole.
        Welt = "welt", "Welt";
        /// The thin strip at the seat or at the sole's edge.
        Rand = "rand", "Rand";
        /// The layer between.
        Midsole = "midsole", "Midsole";
        /// The layer on the ground.
        Outsole = "outsole", "Outsole";
        /// Thin rubber cemented over a sound sole, whose wear is not the sole's.
        SoleGuard = "sole_guard", "Sole guard";
        /// The cut flap or groove that hides stitches.
        Channel = "channel", "Channel";
        /// The narrow middle of the sole.
        Waist = "waist", "Waist";
        /// The trimmed side of the sole.
        Edge = "edge", "Edge";
        /// The back of the sole the heel sits on.
        HeelSeat = "heel_seat", "Heel seat";
        /// The body of the heel.
        HeelBase = "heel_base", "Heel base or block";
        /// Leather round the heel.
        HeelCover = "heel_cover", "Heel cover";
        /// The front face of the heel.
        Breast = "breast", "Heel breast";
        /// One layer of the heel.
        Lift = "lift", "Lift";
        /// The wearing layer of the heel.
        TopPiece = "top_piece", "Top piece";
        /// The hard corner insert.
        QuarterTip = "quarter_tip", "Quarter tip";
    }
);

/// The view of a shoe taken apart in which a part has an area of its own for tapping.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartView {
    /// The shoe from the side.
    Side,
    /// Sole and heel from below.
    Below,
    /// The layers from the upper to the heel.
    Between,
    /// What is seen from inside, and the fastenings.
    Inside,
}

impl PartView {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 4] = [Self::Side, Self::Below, Self::Between, Self::Inside];
}

impl Component {
    /// The parts of goods that are not shoes.
    pub const OF_PLAIN_ITEMS: &'static [Component] = &[
        Component::Strap,
        Component::Buckle,
        Component::Zip,
        Component::Seam,
        Component::Lining,
    ];

    /// What the part is, for a person who has never seen a shoe from inside.
    pub fn plain(&self) -> &str {
        let plain = match self {
            Component::Vamp => "Front over the toes",
            Component::Quarter => "Side of the shoe",
            Component::Counter => "Stiffener round the heel",
            Component::Puff => "Toe stiffener",
            Component::Facing => "Leather under the laces",
            Component::Topline => "Top edge",
            Component::Backseam => "Seam at the back",
            Component::HeelGrip => "Lining at the heel",
            Component::Sock => "Lining under the foot",
            Component::LastingMargin => "Edge of the upper under the sole",
            Component::Insole => "Inner sole",
            Component::Rib => "Ridge that holds the seam of the sole",
            Component::Filler => "Filling under the foot",
            Component::Shank => "Stiff strip under the arch",
            Component::Welt => "Strip that joins upper and sole",
            Component::Rand => "Strip round the sole",
            Component::Midsole => "Middle layer of the sole",
            Component::Outsole => "Sole",
            Component::SoleGuard => "Thin rubber under the sole",
            Component::Channel => "Groove of the stitching",
            Component::Waist => "Narrow middle of the sole",
            Component::Edge => "Edge of the sole",
            Component::HeelSeat => "Seat of the heel",
            Component::HeelBase => "Heel",
            Component::HeelCover => "Cover of the heel",
            Component::Breast => "Front of the heel",
            Component::Lift => "Layer of the heel",
            Component::QuarterTip => "Hard corner of the heel",
            known => return known.words(),
        };
        in_usage(plain)
    }

    /// The view that has an area for the part; `None` for a word this version does not know.
    pub fn view(&self) -> Option<PartView> {
        Some(match self {
            Component::Vamp
            | Component::Quarter
            | Component::Counter
            | Component::Puff
            | Component::Tongue
            | Component::Facing
            | Component::Eyelet
            | Component::Topline
            | Component::Backseam
            | Component::Seam => PartView::Side,
            Component::Outsole
            | Component::SoleGuard
            | Component::Channel
            | Component::Waist
            | Component::Edge
            | Component::HeelBase
            | Component::HeelCover
            | Component::Breast
            | Component::TopPiece
            | Component::QuarterTip => PartView::Below,
            Component::Upper
            | Component::LastingMargin
            | Component::Insole
            | Component::Rib
            | Component::Filler
            | Component::Shank
            | Component::Welt
            | Component::Rand
            | Component::Midsole
            | Component::HeelSeat
            | Component::Lift => PartView::Between,
            Component::HeelGrip
            | Component::Lining
            | Component::Sock
            | Component::Elastic
            | Component::Zip
            | Component::Strap
            | Component::Buckle => PartView::Inside,
            Component::Other(_) => return None,
        })
    }

    /// The parts that have their area in a view.
    pub fn in_view(view: PartView) -> impl Iterator<Item = &'static Component> {
        Component::KNOWN
            .iter()
            .filter(move |part| part.view() == Some(view))
    }

    /// Whether the part lies inside the shoe, so that it is taken out rather than off.
    pub fn is_inside(&self) -> bool {
        matches!(
            self,
            Component::Counter
                | Component::Puff
                | Component::HeelGrip
                | Component::Lining
                | Component::Sock
                | Component::Insole
                | Component::Rib
                | Component::Filler
                | Component::Shank
        )
    }

    /// Whether the part must go back in once it was taken out: the pair may not leave the shop without it.
    pub fn goes_back(&self) -> bool {
        matches!(
            self,
            Component::Counter
                | Component::Puff
                | Component::Sock
                | Component::HeelGrip
                | Component::Insole
                | Component::Shank
                | Component::Midsole
                | Component::HeelBase
                | Component::Tongue
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The drawings are in `app/assets/drawings`.
    #[test]
    fn every_part_has_one_view_whose_drawing_shows_it_and_no_drawing_has_others() {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../app/assets/drawings");
        let files = ["apart_side", "apart_below", "apart_between", "apart_inside"];
        let mut count = 0;
        for (view, file) in PartView::ALL.into_iter().zip(files) {
            let svg = std::fs::read_to_string(folder.join(file).with_extension("svg")).expect("it is there");
            let drawn: Vec<&str> = svg
                .split("data-part=\"")
                .skip(1)
                .filter_map(|rest| rest.split('"').next())
                .collect();
            for part in Component::in_view(view) {
                assert!(drawn.contains(&part.as_str()), "{part} in {file}");
                count += 1;
            }
            let known = |code: &&str| Component::KNOWN.iter().any(|part| part.as_str() == *code);
            assert!(drawn.iter().all(known), "{file}");
        }
        assert_eq!(count, Component::KNOWN.len());
        assert_eq!(Component::from("bell").view(), None);
    }

    #[test]
    fn what_is_inside_is_taken_out_and_the_rest_is_taken_off() {
        for part in ["shank", "insole", "counter"] {
            assert!(Component::from(part).is_inside(), "{part}");
        }
        for part in ["buckle", "heel_base", "midsole", "top_piece", "bell"] {
            assert!(!Component::from(part).is_inside(), "{part}");
        }
    }

    #[test]
    fn the_stiffening_pieces_and_a_reused_midsole_go_back() {
        for part in ["counter", "puff", "shank", "midsole", "sock"] {
            assert!(Component::from(part).goes_back(), "{part}");
        }
        for part in ["top_piece", "outsole", "sole_guard", "filler", "bell"] {
            assert!(!Component::from(part).goes_back(), "{part}");
        }
    }
}
