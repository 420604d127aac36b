//! Damage that was found, at the counter or when the pair was opened, and the questions to the customer about it.

use serde::{Deserialize, Serialize};

use super::common::Side;
use super::operation_code::{OperationCode, none_if_empty};
use crate::log::entry::EntryId;
use crate::log::open::open_enum;
use crate::price::minor::Minor;

open_enum!(
    /// When damage was seen.
    Seen {
        /// At the counter, before anything was agreed: accepted as it is.
        Counter = "counter",
        /// When the pair was opened; it could not be seen before.
        Inside = "inside",
    }
);

open_enum!(
    /// What is done about a damaged part.
    Decision {
        /// The part is good enough and stays.
        Keep = "keep",
        /// The part is mended.
        Mend = "mend",
        /// The part is replaced by a new one.
        Replace = "replace",
        /// The part is left as it is, although it is not good.
        Leave = "leave",
    }
);

open_enum!(
    /// Who pays for the work on a damaged part.
    Pays {
        /// The customer, who has agreed or is still to be asked.
        Customer = "customer",
        /// The shop, because the agreed work needs it.
        ShopNeeded = "shop_needed",
        /// The shop, because the repairer chooses to.
        ShopChoice = "shop_choice",
    }
);

/// Damage seen on a part of the pair. About a job; a later entry replaces this one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Damage {
    /// The damaged part: a word of [`crate::trade`] or the shop's own.
    pub part: String,
    /// Its condition: a word of [`crate::trade`] or the shop's own.
    pub condition: String,
    /// Which shoe.
    pub side: Side,
    /// When it was seen.
    pub seen: Seen,
    /// What is done about it; absent for damage that was accepted as it is or is not decided.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decision: Option<Decision>,
    /// Who pays for the work on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pays: Option<Pays>,
    /// A remark on it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

open_enum!(
    /// What a part that was taken out is kept for.
    KeptFor {
        /// It goes back in.
        Reuse = "reuse",
        /// It is given to the customer with the finished pair.
        Customer = "customer",
    }
);

/// A part that was taken out and must go back in, or is kept for the customer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TakenOut {
    /// The part.
    pub part: String,
    /// Of which shoe.
    pub side: Side,
    /// What it is kept for; absent in entries of older apps, whose parts go back in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kept_for: Option<KeptFor>,
}

/// A part that was taken out is back in its place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PutBack {
    /// The [`TakenOut`] entry it answers.
    pub out: EntryId,
}

/// One of the choices that a question offers the customer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Choice {
    /// What would be done, in one sentence, as it is told to the customer.
    pub say: String,
    /// The operation that this choice would add.
    #[serde(
        default,
        deserialize_with = "none_if_empty",
        skip_serializing_if = "Option::is_none"
    )]
    pub operation: Option<OperationCode>,
    /// What it would cost, in the currency's minor unit.
    pub price_minor: Minor,
    /// How long the work is expected to last, in months; absent where it was not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub life_months: Option<u32>,
}

/// A question to the customer. While it is open, the job waits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    /// What was asked.
    pub text: String,
    /// The choices; at most three.
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
    /// How a question to the customer was answered.
    Outcome {
        /// The customer agreed to one of the choices.
        Yes = "yes",
        /// The customer declined: only the agreed work is done.
        No = "no",
        /// The customer was not reached: the question stays open.
        NoAnswer = "no_answer",
        /// The customer wants another call at a time they named: the question stays open.
        CallBack = "call_back",
        /// The customer wants no work done: the pair goes back as it is.
        ReturnUnrepaired = "return_unrepaired",
    }
);

/// The customer's answer to a question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    /// The question.
    pub question: EntryId,
    /// How it was answered.
    pub outcome: Outcome,
    /// For [`Outcome::Yes`], the index of the chosen [`Choice`], counted from 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub choice: Option<usize>,
    /// When to call again, in the customer's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub call_at: String,
}
