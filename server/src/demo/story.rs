//! What a story of the invented shop is made of. The stories themselves are in [`super::stories`].

use shared::log::UnixMs;
use shared::log::body::{Cause, Decision, GiftWhy, Outcome, Paid, Pays, Seen, Shows, Side, WaitFor};

use super::picture::Shot;

const MINUTE_MS: i64 = 60_000;
const DAY_MS: i64 = 24 * 60 * MINUTE_MS;

/// Somebody who brings shoes.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Customer {
    pub(super) name: &'static str,
    /// From the numbers kept free for invented people.
    pub(super) phone: &'static str,
}

/// A pair, or a belt.
#[derive(Debug)]
pub(super) struct StoryPair {
    pub(super) owner: &'static Customer,
    pub(super) maker: &'static str,
    pub(super) colour: &'static str,
    pub(super) look: &'static str,
    /// A word of [`shared::trade::kinds`].
    pub(super) goods: &'static str,
    /// Words of [`shared::trade::material`].
    pub(super) materials: &'static [&'static str],
}

/// A moment, counted back from now.
#[derive(Debug, Clone, Copy)]
pub(super) enum When {
    /// So many days ago (at least 1), at this hour and minute (UTC).
    Days(i64, i64, i64),
    /// So many minutes ago.
    Minutes(i64),
}

impl When {
    /// The moment as a clock tells it.
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

/// Who was working.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Who {
    Repairer,
    Helper,
}

/// What may be done if something hidden turns up.
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
    /// The day promised, counted from today; negative for days gone by. The shop's next day, where it is closed then.
    pub(super) promised: i64,
    pub(super) if_hidden: StoryIfHidden,
    pub(super) rush: bool,
    pub(super) paid: &'static [(When, Paid, i64)],
    pub(super) jobs: &'static [StoryJob],
}

/// One pair's stay.
#[derive(Debug)]
pub(super) struct StoryJob {
    pub(super) pair: &'static StoryPair,
    pub(super) tag: &'static str,
    /// The construction as guessed; empty for "not known yet".
    pub(super) guessed: &'static str,
    pub(super) came_with: &'static [&'static str],
    /// Operation and price in minor units, in the order of the work.
    pub(super) agreed: &'static [(&'static str, i64)],
    /// The pictures taken at the counter; the first is the pair's face.
    pub(super) brought: &'static [Shot],
    pub(super) then: &'static [(When, Who, Does)],
}

/// Something that was done, found, said or paid.
#[derive(Debug)]
pub(super) enum Does {
    /// An operation, with its minutes and a word about it.
    Step(&'static str, u32, &'static str),
    /// A photograph: of the last step, of the last damage, or of the finished pair.
    Photo(Shows, Shot),
    /// Damage.
    Found(Find),
    /// Work agreed later: operation and price; it answers the last damage.
    Extra(&'static str, i64),
    /// Work at no charge: operation, why, worth; it answers the last damage.
    Gift(&'static str, GiftWhy, i64),
    /// A question about the last damage, with its last photograph: text, and what can be chosen, each with an
    /// operation (or none) and a price.
    Asks(&'static str, &'static [(&'static str, &'static str, i64)]),
    /// What came of the last question.
    Hears(Outcome, Option<usize>),
    /// Waiting: for what, minutes if they are known, what follows or was ordered.
    Waits(WaitFor, Option<u32>, &'static str),
    /// The last wait is over.
    WaitOver,
    /// A part is taken out.
    Out(&'static str),
    /// The part taken out last is back.
    Back,
    /// The last step has to be made again; this is scrap.
    Redo(&'static str),
    /// The construction as opened.
    IsBuilt(&'static str),
    /// The construction as left.
    Left(&'static str),
    /// A remark.
    Note(&'static str),
    /// This job makes good the earlier one of the same pair: operation, cause, what the customer said.
    Complains(&'static str, Cause, &'static str),
    /// The final check, and the shelf where the pair then stands.
    Checked(&'static str),
    /// The card's section: captions of the first and the last picture, days until the next check.
    Publishes(&'static str, &'static str, i64),
    /// The pair leaves.
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
    /// Damage seen at the counter and accepted as it is.
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
