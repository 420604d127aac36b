//! Sentences of the unit of lengths and the nails in stock.

use crate::sentence::sentences;

sentences! {
    measures() { "Measures" }
    lengths_in() { "Lengths in" }
    millimetres() { british "Millimetres", american "Millimeters" }
    inches() { "Inches" }
    nails_on_the_shelf() { "Nails on the shelf" }
    save_nails() { "Save the nails" }
    write_lengths_with_spaces() { "Write each length with a space between: 13 16 19." }
}
