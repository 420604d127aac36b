//! What the books keep of one job: derived from folded state alone, and small, because a phone keeps thousands.
//!
//! [`JobFacts`] is what was agreed, found, done and used; [`TicketFacts`] the money and the goods sold over the counter;
//! [`WorkStamp`] when which person worked on which job, from which [`minutes`](super::minutes) are inferred. Their
//! fields have names of one letter on the wire, and empty fields are left out.

mod job;
mod left_out;
mod money;
mod pair;
mod stamps;
mod thickness;
mod when;

pub use job::{ComplaintFact, FoundDamage, JobFacts, LineFact, StepFact};
pub use money::{Money, SoldGoods, TicketFacts};
pub use pair::{PairFacts, month_word};
pub use stamps::{PairWait, WorkStamp, stamps, waits};
pub use thickness::Thickness;
pub use when::At;

#[cfg(test)]
mod tests;
