//! Why an entry is refused, each with its code and its sentence.

use shared::sync::{Code, Problem};
use words::refusals as says;

/// The refusal of one entry.
pub(super) fn refusal(code: Code, message: impl Into<String>) -> Problem {
    Problem {
        code,
        message: message.into(),
        retry_after: None,
    }
}

pub(super) fn id_taken() -> Problem {
    refusal(Code::IdTaken, says::number_of_another_entry())
}

pub(super) fn link_taken() -> Problem {
    refusal(Code::LinkTaken, says::card_link_of_another_pair())
}

pub(super) fn erasure_unknown() -> Problem {
    refusal(Code::ErasureUnknown, says::empty_without_erasure())
}

pub(super) fn not_erasable() -> Problem {
    refusal(Code::NotErasable, says::shop_cannot_be_erased())
}

pub(super) fn too_many_erasures() -> Problem {
    refusal(Code::TooManyErasures, says::too_many_erasures())
}

pub(super) fn erased() -> Problem {
    refusal(Code::Erased, says::erased_and_not_taken_again())
}

pub(super) fn kept_for_repairer() -> Problem {
    refusal(Code::KeptForRepairer, says::kept_for_repairer())
}

/// It is for a repairer to decide too, but there is no room to keep it.
pub(super) fn no_room_aside() -> Problem {
    refusal(Code::KeptForRepairer, says::kept_aside_is_full())
}

pub(super) fn dropped_by_repairer() -> Problem {
    refusal(Code::DroppedByRepairer, says::dropped_by_repairer())
}
