//! When a sole guard was on a shoe, and what was measured or seen of the sole meanwhile.
//!
//! A guard lies over the sole, on the ground. Version 0.1.0 knew no guard as a part: what was measured or seen of it
//! was written down as of the outsole. So while a guard is on, the outsole as it is measured or seen from outside is
//! the guard. Above [`THICKEST_GUARD_MM`] the guard was measured with the sole under it, which says nothing about
//! either.

use crate::log::body::Side;
use crate::price::records::JobFacts;
use crate::trade::Component;

use super::put_on::{DoneWork, PutOn, put_on};

/// No guard is thicker, mm: new ones have 1 to 3 mm. Common practice, no source.
pub const THICKEST_GUARD_MM: f64 = 4.0;

/// When one guard was on one shoe.
#[derive(Debug, Clone, PartialEq, Eq)]
struct GuardSpan {
    shoe: Side,
    from_ms: i64,
    /// When it came off; `None` while it is on.
    until_ms: Option<i64>,
}

/// When guards were on the shoes of a pair.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Guards {
    spans: Vec<GuardSpan>,
}

impl Guards {
    /// The guards that work has put on a pair.
    pub fn of(done: &[DoneWork<'_>]) -> Self {
        let span = |one: PutOn| GuardSpan {
            shoe: one.shoe,
            from_ms: done[one.by].at_ms,
            until_ms: one.until.map(|at| done[at].at_ms),
        };
        let guards = put_on(done)
            .into_iter()
            .filter(|one| one.part == Component::SoleGuard);
        Self {
            spans: guards.map(span).collect(),
        }
    }

    /// The guards that the jobs of a pair have put on it. Steps that had to be made again put nothing on.
    pub fn of_jobs(jobs: &[JobFacts]) -> Self {
        let steps = jobs.iter().flat_map(|job| &job.steps);
        let done: Vec<_> = steps
            .filter(|step| !step.redone)
            .map(|step| DoneWork {
                operation: &step.operation,
                side: &step.side,
                at_ms: step.at.0,
            })
            .collect();
        Self::of(&done)
    }

    /// Whether a guard was on a shoe at a time in ms of UTC since 1970; for both shoes, whether one was on either.
    pub fn on(&self, side: &Side, at_ms: i64) -> bool {
        self.spans.iter().any(|span| {
            let shoe = *side == Side::Both || span.shoe == *side;
            shoe && span.from_ms <= at_ms && span.until_ms.is_none_or(|until| at_ms < until)
        })
    }

    /// The part that was seen from outside when this one was written down.
    pub fn seen(&self, part: &Component, side: &Side, at_ms: i64) -> Component {
        match part {
            Component::Outsole if self.on(side, at_ms) => Component::SoleGuard,
            _ => part.clone(),
        }
    }

    /// The part whose thickness, in mm, was measured when it was written down as that of this one; `None` where it is
    /// that of two parts together.
    pub fn measured(&self, part: &Component, side: &Side, at_ms: i64, mm: f64) -> Option<Component> {
        let seen = self.seen(part, side, at_ms);
        let two_together = seen != *part && mm > THICKEST_GUARD_MM;
        (!two_together).then_some(seen)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn under_a_guard_the_outsole_is_the_guard_until_the_guard_is_off() {
        let (both, left, right) = (Side::Both, Side::Left, Side::Right);
        let done = |operation, side, at_ms| DoneWork {
            operation,
            side,
            at_ms,
        };
        let guards = Guards::of(&[
            done("resole_welted", &both, 10),
            done("sole_guard", &left, 20),
            done("resole_welted", &both, 30),
        ]);
        let measured = |side, at_ms, mm| guards.measured(&Component::Outsole, side, at_ms, mm);
        assert_eq!(measured(&left, 15, 1.8), Some(Component::Outsole), "not on yet");
        assert_eq!(measured(&left, 20, 1.8), Some(Component::SoleGuard));
        assert_eq!(measured(&both, 25, 1.8), Some(Component::SoleGuard));
        assert_eq!(measured(&left, 25, 6.8), None, "guard and sole together");
        assert_eq!(
            measured(&right, 25, 1.8),
            Some(Component::Outsole),
            "no guard there"
        );
        assert_eq!(
            measured(&left, 30, 5.0),
            Some(Component::Outsole),
            "off with the old sole"
        );
        let top = Component::TopPiece;
        assert_eq!(guards.measured(&top, &left, 25, 6.0), Some(top));
    }
}
