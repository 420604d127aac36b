//! What the books know of one job: derived from folded state alone, and small, for a phone keeps thousands.
//!
//! [`JobFacts`] is what was agreed, found, done and used; [`TicketFacts`] the money; [`WorkStamp`] when who was at which
//! pair, from which [`minutes`](super::minutes) are inferred. The names of their fields on the wire are single letters, and
//! what is empty is left out.

mod job;
mod money;
mod pair;
mod stamps;
mod when;

pub use job::{ComplaintFact, FoundDamage, JobFacts, LineFact, StepFact, Thickness};
pub use money::{Money, TicketFacts};
pub use pair::{PairFacts, month_word};
pub use stamps::{PairWait, WorkStamp, stamps, waits};
pub use when::At;

#[cfg(test)]
mod tests;
