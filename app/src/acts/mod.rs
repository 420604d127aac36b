//! What a repairer does, as the entries it writes.
//!
//! Pure: from what stands on the screen to drafts for one save. The store adds ids, stamps and person.

mod card;
mod counter;
pub mod inside;
pub mod records;
mod shop;
mod work;

pub use card::{compose, publish, withdraw};
pub use counter::{
    Asked, DAY, DEPOSIT, DropOff, IfHidden, KnownPair, LineIn, Missing, PairIn, Paying, Seen, TakenIn, UP_TO,
    price_id, take_in, work_id,
};
pub use shop::{person, set_value};
pub use work::{
    agree, hand_over, move_photo, move_step_photo, next_steps, note, photo, put_back, redo, set, side_of,
    skip, sooner, step, undo, undo_all, wait, wait_over,
};
