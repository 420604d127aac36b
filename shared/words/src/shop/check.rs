//! Sentences of the list of the final check.

use crate::sentence::sentences;

sentences! {
    final_check() { "Final check" }
    a_line_for_each_thing() { "A line for each thing to tick. Empty: the usual list" }
    save_list() { "Save the list" }
}
