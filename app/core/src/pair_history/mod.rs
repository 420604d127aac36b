//! What a pair's page says of its parts, its measurements and its photographs, pure and tested without a browser.

mod measures;
mod parts;
mod photographs;
mod span;

pub use measures::{Plot, Reading, Series, series};
pub use parts::{Mended, Part, mended, parts};
pub use photographs::{Shot, before, caption, compared, like, same_view, shots};
pub use span::{day_of, months, span};
