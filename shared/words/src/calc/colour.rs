//! Sentences of the recipe of a mixed colour.

use crate::sentence::sentences;

sentences! {
    colour_recipe() { british "Colour recipe", american "Color recipe" }
    one_part(of: &str) { "1 part {of}" }
    parts(count: &str, of: &str) { "{count} parts {of}" }
    mixture(parts: &str) { "{parts}." }
}
