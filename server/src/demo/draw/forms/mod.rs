//! The silhouettes: how each kind of shoe looks from its side, toe to the left, standing on y = 0.
//!
//! Paths are SVG path data; a shoe is about 650 units long. The sole's upper edge is where the upper ends.

mod boots;
mod laced;
mod light;
mod low;

use super::Silhouette;

/// What a panel is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stuff {
    /// The upper's leather, so much lighter (or, below 0, darker).
    Leather(f32),
    /// Ribbed elastic.
    Elastic,
    /// Rubber, as a rand.
    Rubber,
    /// A padded collar.
    Padding,
}

/// A piece laid over the upper; cut off where the upper ends.
#[derive(Debug, Clone, Copy)]
pub(super) struct Panel {
    pub(super) path: &'static str,
    pub(super) stuff: Stuff,
}

/// How a shoe is closed.
#[derive(Debug, Clone, Copy)]
pub(super) enum Fastening {
    Nothing,
    /// Laces through holes or hooks, from the lowest to the highest, tied at the last; how far they reach over
    /// the instep.
    Laces {
        eyelets: &'static [(f32, f32)],
        over: (f32, f32),
        hooks_from: usize,
    },
    /// Straps with a buckle each.
    Straps {
        paths: &'static [&'static str],
        buckles: &'static [(f32, f32)],
    },
    /// A zip along a line.
    Zip(&'static str),
}

/// What the sole's edge looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Edge {
    /// Leather, inked.
    Leather,
    /// Smooth rubber.
    Rubber,
    /// Rubber with a deep tread.
    Lugs,
    /// Cork with a thin sole.
    Cork,
}

/// The sole.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sole {
    pub(super) path: &'static str,
    pub(super) edge: Edge,
    /// The line of the welt's seam; empty where no seam shows.
    pub(super) seam: &'static str,
    /// The welt or flange on top of the sole; empty where there is none.
    pub(super) welt: &'static str,
}

/// The heel: x of its breast and back, above and on the ground; y of its seat at breast and back.
#[derive(Debug, Clone, Copy)]
pub(super) struct HeelShape {
    pub(super) breast: (f32, f32),
    pub(super) back: (f32, f32),
    pub(super) seat: (f32, f32),
    /// How much the back corner can lose.
    pub(super) wear: (f32, f32),
    /// Whether the lifts show, or a cover hides them.
    pub(super) stacked: bool,
}

/// A soft light on the leather: centre and radii.
pub(super) type Light = ((f32, f32), (f32, f32));

/// One kind of shoe from its side.
#[derive(Debug, Clone, Copy)]
pub(super) struct ShoeForm {
    pub(super) upper: &'static str,
    /// The inside that shows through the opening.
    pub(super) mouth: &'static str,
    /// What stands out behind the upper: tongue, pull loop.
    pub(super) behind: &'static str,
    pub(super) panels: &'static [Panel],
    /// Seams that no panel has.
    pub(super) seams: &'static [&'static str],
    /// Where walking folds the leather.
    pub(super) creases: &'static [&'static str],
    pub(super) fastening: Fastening,
    pub(super) sole: Sole,
    pub(super) heel: Option<HeelShape>,
    pub(super) lights: &'static [Light],
    /// Its height above the ground, and its size beside a grown person's shoe.
    pub(super) height: f32,
    pub(super) size: f32,
}

/// The silhouette of a kind; `None` for what is not a shoe.
pub(super) fn form(kind: Silhouette) -> Option<&'static ShoeForm> {
    match kind {
        Silhouette::Derby => Some(&low::DERBY),
        Silhouette::Oxford => Some(&low::OXFORD),
        Silhouette::Moccasin => Some(&light::MOCCASIN),
        Silhouette::Court => Some(&light::COURT),
        Silhouette::Dance => Some(&light::DANCE),
        Silhouette::Sandal => Some(&light::SANDAL),
        Silhouette::Chelsea => Some(&boots::CHELSEA),
        Silhouette::ZipBoot => Some(&boots::ZIP),
        Silhouette::WalkingBoot => Some(&laced::WALKING),
        Silhouette::WorkBoot => Some(&laced::WORK),
        Silhouette::ChildsBoot => Some(&laced::CHILD),
        Silhouette::Belt => None,
    }
}
