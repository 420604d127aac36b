//! Sentences of what the care card says about the shop.

use crate::sentence::sentences;

sentences! {
    on_the_care_card() { "On the care card" }
    name_of_the_shop() { "Shop's name" }
    telephone() { "Telephone" }
    guarantee_terms() { "Guarantee terms" }
    save() { "Save" }
}
