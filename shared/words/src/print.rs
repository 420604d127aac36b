//! Sentences of printed sheets: stubs and tags.

use crate::sentence::sentences;

sentences! {
    no_such_ticket() { "This ticket is not on this device. Sync in Shop, or find its pair in Records." }
    stub_and_tags() { "Stub and tags" }
    photograph() { "Photograph" }
    print() { "Print" }

    stub() { "Stub" }
    receipt() { "Receipt" }
    /// Stands before the day, which is set bold.
    ready() { "Ready:" }
    code_of_the_ticket() { "Code of the ticket" }
    left_with_us() { "Left with us" }
    bought() { "Bought" }

    tag(number: &str) { "Tag {number}" }
    code_of_the_pair() { "Code of the pair" }
    left_shoe() { "Left shoe" }
    right_shoe() { "Right shoe" }
}
