//! The commands: what a repairer does, as the drafts of the entries it writes.
//!
//! Pure: from the state on the screen to drafts for one save. The store adds ids, stamps and the person.

mod card;
mod complaint;
mod counter;
mod done;
pub mod export;
pub mod forget;
mod handover;
pub mod inside;
pub mod records;
pub mod run;
#[cfg(test)]
pub(crate) mod scene;
mod shop;
pub mod ways;
mod work;

pub use card::{advised, compose, given, publish, sentence, withdraw};
pub use complaint::{CameBack, TakenBackIn, complained_of, take_back_in};
pub use counter::{
    DAY, DEPOSIT, DropOff, DropOffField, IfHidden, KnownPair, LineIn, Missing, PairIn, Paying, SeenDamage,
    TakenIn, UP_TO, price_id, take_in, work_id,
};
pub use done::{not_noted, step_times};
pub use handover::{
    AtPickup, Leaves, NotReady, can_tell, check, check_list, hand_over, parts_out, pay, ready_notice, settle,
};
pub use shop::{has_own_price, may_change_currency, money, person, set_value};
pub use work::{
    agree, destroy, first, measured, move_photo, move_step_photo, next_steps, note, photo, put_back, redo,
    run_done, set, skip, sooner, spent, spent_before, step, undo, undo_all, wait, wait_over,
};
