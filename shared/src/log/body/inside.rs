//! What was found, at the counter or on opening, and what the customer said to it.

use serde::{Deserialize, Serialize};

use super::common::Side;
use crate::log::entry::EntryId;
use crate::log::open::open_enum;

open_enum!(
    /// Where damage was seen.
    Seen {
        /// Before anything was agreed: accepted as it is.
        Counter = "counter",
        /// On opening: nobody could see it before.
        Inside = "inside",
    }
);

open_enum!(
    /// What is done about a damaged part.
    Decision {
        /// Good enough: it stays.
        Keep = "keep",
        /// Made good.
        Mend = "mend",
        /// A new one.
        Replace = "replace",
        /// Not touched, although it is not good.
        Leave = "leave",
    }
);

open_enum!(
    /// Who pays for what is done about it.
    Pays {
        /// The customer, as agreed or to be asked.
        Customer = "customer",
        /// Nobody: the agreed work needs it.
        ShopNeeded = "shop_needed",
        /// Nobody: the repairer chooses to.
        ShopChoice = "shop_choice",
    }
);

/// Damage seen on a part of the pair. About a job; a later entry replaces this one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Damage {
    /// The part, a word of [`crate::trade`] or the shop's own.
    pub part: String,
    /// What is wrong with it, likewise.
    pub condition: String,
    /// Which shoe.
    pub side: Side,
    /// Where it was seen.
    pub seen: Seen,
    /// What is done about it; absent for what was accepted as it is, or is not decided.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decision: Option<Decision>,
    /// Who pays for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pays: Option<Pays>,
    /// A word about it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A part that was taken out and must go back in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TakenOut {
    /// The part.
    pub part: String,
    /// Of which shoe.
    pub side: Side,
}

/// A part is back where it belongs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PutBack {
    /// The entry that took it out.
    pub out: EntryId,
}

/// One way the customer can choose.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Choice {
    /// What would be done, in one sentence.
    pub say: String,
    /// The operation it would add; empty for none.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub operation: String,
    /// What it would cost, in the currency's minor unit.
    pub price_minor: i64,
    /// How long it is expected to last, in months; absent where nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub life_months: Option<u32>,
}

/// A question to the customer. Open, it holds the job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    /// What was asked.
    pub text: String,
    /// The ways to choose from; at most three.
    #[serde(default)]
    pub choices: Vec<Choice>,
    /// SHA-256 of the photograph that was shown.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo: Option<String>,
    /// The damage it is about.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub damage: Option<EntryId>,
}

open_enum!(
    /// What came of a question.
    Outcome {
        /// The customer agreed to one of the choices.
        Yes = "yes",
        /// Not that, but the agreed work.
        No = "no",
        /// Nobody was reached: the question stays open.
        NoAnswer = "no_answer",
        /// To be called again at the time they said: it stays open.
        CallBack = "call_back",
        /// Nothing is to be done: the pair goes back as it is.
        ReturnUnrepaired = "return_unrepaired",
    }
);

/// What the customer said to a question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    /// The question.
    pub question: EntryId,
    /// What came of it.
    pub outcome: Outcome,
    /// Which of the choices, counted from 0, for [`Outcome::Yes`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub choice: Option<usize>,
    /// When to call again, in the person's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub call_at: String,
}
