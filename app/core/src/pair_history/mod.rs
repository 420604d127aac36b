//! What a pair's page shows of its parts, measurements and photographs; pure, and tested without a browser.

mod measures;
mod parts;
mod photographs;
mod span;

pub use measures::{ASSUMED, PartThickness, Plot, Reading, Series, series, thicknesses};
pub use parts::{FittedPart, Mended, mended, parts};
pub use photographs::{
    PairPhoto, before, before_and_after, caption, compared, face_shot, last_and_this_time, like, same_view,
    shots,
};
pub use span::{day_of, months, span};
