//! The commands: what a repairer does, as the drafts of the entries it writes.
//!
//! Pure: from the state on the screen to drafts for one save. The store adds ids, stamps and the person.

mod asked_work;
pub mod bring;
mod card;
mod cement;
mod complaint;
mod counter;
mod done;
pub mod export;
pub mod forget;
mod handover;
pub mod inside;
mod matches;
pub mod notes;
pub mod records;
pub mod run;
#[cfg(test)]
pub(crate) mod scene;
pub mod shelf;
mod shop;
pub mod ways;
mod work;

pub use asked_work::{asked_line, asked_with};
pub use card::{advised, compose, given, publish, sentence, withdraw};
pub use cement::{TypedCement, TypedWay, cement_fields, cement_way_value, name_cement};
pub use complaint::{
    CameBack, EarlierWork, TakenBackIn, cause_words, complained_of, set_cause, take_back_in,
};
pub use counter::{
    DAY, DEPOSIT, DropOff, DropOffField, GoodsIn, IfHidden, KnownPair, LineIn, MOST_GOODS, MOST_PIECES,
    MadeOf, MadeOfEntries, Missing, OfferedGoods, PairIn, Paying, SeenDamage, TakenIn, UP_TO, counted_goods,
    goods_price_id, listed_goods, price_id, sell, take_in, work_id,
};
pub use done::{not_noted, step_times};
pub use handover::{
    AtPickup, Leaves, NotReady, can_tell, check, check_list, hand_over, parts_for_customer, parts_out, pay,
    ready_notice, settle,
};
pub use matches::{MATCH, MatchOf, TypedMatch, match_line, match_of, matches};
pub use shop::{has_own_price, may_change_currency, money, person, set_value};
pub use work::{
    agree, destroy, first, measured, move_photo, move_step_photo, next_steps, photo, put_back, redo,
    run_done, set, skip, sooner, spent, spent_before, step_done, undo, undo_all, wait, wait_over,
};
