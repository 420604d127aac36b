//! The types of which the stories of the demo shop are made. The stories themselves are in [`super::stories`].

use shared::log::UnixMs;
use shared::log::body::{Cause, Decision, GiftWhy, KeptFor, Outcome, Paid, Pays, Seen, Shows, Side, WaitFor};

use super::picture::Shot;

const MINUTE_MS: i64 = 60_000;
const DAY_MS: i64 = 24 * 60 * MINUTE_MS;

/// A customer.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Customer {
    pub(super) name: &'static str,
    /// From the ranges that are reserved for fictional numbers.
    pub(super) phone: &'static str,
}

/// A pair of shoes, or a belt.
#[derive(Debug)]
pub(super) struct StoryPair {
    pub(super) owner: &'static Customer,
    pub(super) maker: &'static str,
    pub(super) colour: &'static str,
    pub(super) look: &'static str,
    /// A code of [`shared::trade::kinds`].
    pub(super) goods: &'static str,
    /// Codes of [`shared::trade::material`].
    pub(super) materials: &'static [&'static str],
}

/// A time before the present.
#[derive(Debug, Clone, Copy)]
pub(super) enum When {
    /// So many days ago (at least 1), at this hour and minute (UTC).
    Days(i64, i64, i64),
    /// So many minutes ago.
    Minutes(i64),
}

impl When {
    /// The time in ms since 1970, for this present.
    pub(super) fn at(self, now: UnixMs) -> UnixMs {
        UnixMs(match self {
            When::Days(ago, hour, minute) => {
                let midnight = now.0 - now.0.rem_euclid(DAY_MS);
                midnight - ago * DAY_MS + (hour * 60 + minute) * MINUTE_MS
            }
            When::Minutes(ago) => now.0 - ago * MINUTE_MS,
        })
    }
}

/// Who did something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Who {
    Repairer,
    Helper,
}

/// What the repairer may do about hidden damage without asking.
#[derive(Debug, Clone, Copy)]
pub(super) enum StoryIfHidden {
    Nothing,
    Ask,
    /// Up to this amount, in minor units.
    UpTo(i64),
}

/// One drop-off.
#[derive(Debug)]
pub(super) struct Ticket {
    pub(super) brought: When,
    /// The promised date, in days from today; negative for past days. If the shop is closed on it, the next date on
    /// which it is open.
    pub(super) promised: i64,
    pub(super) if_hidden: StoryIfHidden,
    pub(super) rush: bool,
    pub(super) paid: &'static [(When, Paid, i64)],
    pub(super) jobs: &'static [StoryJob],
}

/// One job of a pair.
#[derive(Debug)]
pub(super) struct StoryJob {
    pub(super) pair: &'static StoryPair,
    pub(super) tag: &'static str,
    /// The construction as guessed at the counter; empty for "not known yet".
    pub(super) guessed: &'static str,
    pub(super) came_with: &'static [&'static str],
    /// In the order of the work.
    pub(super) agreed: &'static [StoryLine],
    /// The pictures taken at the counter. The first one stands for the pair in lists.
    pub(super) brought: &'static [Shot],
    pub(super) then: &'static [(When, Who, Does)],
}

/// A line of work, on both shoes.
#[derive(Debug)]
pub(super) struct StoryLine {
    pub(super) operation: &'static str,
    /// In minor units.
    pub(super) price: i64,
    /// Empty for none in particular.
    pub(super) variant: &'static str,
    pub(super) pieces: u32,
}

/// One piece at a price in minor units, in no variant in particular.
pub(super) const fn line(operation: &'static str, price: i64) -> StoryLine {
    StoryLine {
        operation,
        price,
        variant: "",
        pieces: 1,
    }
}

impl StoryLine {
    /// The same in a variant, and so many pieces for the price.
    pub(super) const fn done_with(self, variant: &'static str, pieces: u32) -> Self {
        Self {
            variant,
            pieces,
            ..self
        }
    }
}

/// One event of a story.
#[derive(Debug)]
pub(super) enum Does {
    /// An operation was done: its code, its minutes, a note.
    Step(&'static str, u32, &'static str),
    /// A photograph was taken: of the last step, of the last damage, or of the finished pair.
    Photo(Shows, Shot),
    /// Damage was found.
    Found(Find),
    /// Work was agreed later: operation and price in minor units. It answers the last damage.
    Extra(&'static str, i64),
    /// Work is done at no charge: operation, reason, value in minor units. It answers the last damage.
    Gift(&'static str, GiftWhy, i64),
    /// A question about the last damage, with its last photograph: the text, and the choices. Each choice has a text,
    /// an operation (or none) and a price in minor units.
    Asks(&'static str, &'static [(&'static str, &'static str, i64)]),
    /// The answer to the last question: its outcome, and the number of the choice.
    Hears(Outcome, Option<usize>),
    /// A wait begins: for what, its minutes if they are known, and a note of what follows or was ordered.
    Waits(WaitFor, Option<u32>, &'static str),
    /// The last wait is over.
    WaitOver,
    /// A part is taken out, and kept for its place in the shoe or for the customer.
    Out(&'static str, KeptFor),
    /// The part that was taken out last for its place in the shoe is put back.
    Back,
    /// The last step has to be done again. The text says what became scrap.
    Redo(&'static str),
    /// The construction as found when the shoe was opened.
    IsBuilt(&'static str),
    /// The construction after the work.
    Left(&'static str),
    /// A note.
    Note(&'static str),
    /// A note on the last step that was ticked for the care card.
    Remark(&'static str),
    /// This job answers a complaint about the pair's previous job: operation, cause, what the customer said.
    Complains(&'static str, Cause, &'static str),
    /// The final check is done, and the pair stands on this shelf.
    Checked(&'static str),
    /// A section of the care card is published: captions of the first and the last picture, days until the next check.
    Publishes(&'static str, &'static str, i64),
    /// The pair is handed over.
    HandedOver,
}

/// Damage as it was found.
#[derive(Debug)]
pub(super) struct Find {
    pub(super) part: &'static str,
    pub(super) condition: &'static str,
    pub(super) side: Side,
    pub(super) seen: Seen,
    pub(super) decided: Option<(Decision, Pays)>,
    pub(super) note: &'static str,
}

impl Find {
    /// Damage that was seen at the counter and is left as it is.
    pub(super) const fn accepted(part: &'static str, condition: &'static str, note: &'static str) -> Does {
        Does::Found(Find {
            part,
            condition,
            side: Side::Both,
            seen: Seen::Counter,
            decided: None,
            note,
        })
    }
}
