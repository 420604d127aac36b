//! When work that was started is ready, until when it can be joined, and when it has its full strength.
//!
//! The times are common practice, most of them those of [`waits`](crate::trade::waits), a few from vendors' pages
//! (contact cement 5 to 10 minutes to the touch, open for 10 to 30 after it; 24 hours to full strength; soaking about five hours by one
//! maker's course note). The product's own sheet comes first. A missed open time is no failure: heat it, or coat it again.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::instant::Instant;
use super::{Allowed, AnswerField, Calculation, Field, InvalidField};
use crate::trade::waits::{
    BOND_24, CEMENT, CREAM, DYE, DYE_NIGHT, INK, Minutes, SOAK, STIFFENERS, STRETCHER,
};

/// How long contact cement can be joined once it is dry to the touch, in minutes.
const OPEN_MINUTES: u32 = 30;
/// The longest wait that is calculated, in minutes: a year.
const MOST: u32 = 525_600;

const KIND: Field = Field::new("kind", "", Allowed::Word(DryingKind::WORDS));
const STARTED: Field = Field::new(
    "started",
    "RFC 3339",
    Allowed::Described("a moment such as 2025-03-01T18:00:00+01:00"),
);
const MIN: Field = Field::new(
    "min",
    "minutes until it is ready, in place of the usual; no more than max",
    Allowed::Whole(0, MOST),
)
.or_none();
const MAX: Field = Field::new(
    "max",
    "minutes until cement must be joined, or anything else is through, in place of the usual",
    Allowed::Whole(0, MOST),
)
.or_none();

/// What has to dry, set or stretch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DryingKind {
    /// Cement with solvent.
    ContactCement,
    /// Water-based cement.
    WaterCement,
    /// A stiffener of leather or paste board.
    CounterPaste,
    /// A stiffener softened with solvent.
    CounterSolvent,
    /// A stiffener formed by heat.
    CounterHeat,
    /// Penetrating dye.
    SpiritDye,
    /// Finish colour.
    AcrylicColour,
    /// Edge ink.
    EdgeInk,
    /// Pigmented cream.
    Cream,
    /// Conditioner for dry leather.
    Conditioner,
    /// Sole leather in water.
    Soak,
    /// A shoe on the stretcher.
    Stretch,
}

/// How it is determined that something is ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum JudgedBy {
    /// By touch: the time only says when to begin to test.
    Touch,
    /// By the clock.
    Clock,
}

/// The usual times of a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UsualTimes {
    /// From the earliest time at which it is ready to the end of its open time or, without an open time, to the time at
    /// which it is certainly ready.
    pub minutes: Minutes,
    /// Whether `minutes.high` is the end of an open time, as for cement.
    pub closes: Closes,
    /// Minutes until full strength; `None` if that is `minutes.high`.
    pub full: Option<u32>,
    /// How it is determined that it is ready.
    pub judged_by: JudgedBy,
}

/// Whether what is ready must be joined within an open time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closes {
    /// It has an open time.
    InTime,
    /// It can be joined at any later time.
    Never,
}

impl DryingKind {
    /// The word of every kind, in the order in which the kinds are declared.
    pub const WORDS: &'static [&'static str] = &[
        "contact_cement",
        "water_cement",
        "counter_paste",
        "counter_solvent",
        "counter_heat",
        "spirit_dye",
        "acrylic_colour",
        "edge_ink",
        "cream",
        "conditioner",
        "soak",
        "stretch",
    ];

    /// Its usual times.
    pub fn usual(self) -> UsualTimes {
        use JudgedBy::{Clock, Touch};
        let waits = |minutes, full, judged_by| UsualTimes {
            minutes,
            closes: Closes::Never,
            full,
            judged_by,
        };
        let joins = |from, to| UsualTimes {
            minutes: Minutes::of(from, to),
            closes: Closes::InTime,
            full: Some(BOND_24.minutes.high),
            judged_by: Touch,
        };
        let day = Some(BOND_24.minutes.high);
        match self {
            DryingKind::ContactCement => joins(CEMENT.minutes.low, CEMENT.minutes.low + OPEN_MINUTES),
            DryingKind::WaterCement => joins(20, 60),
            DryingKind::CounterPaste => waits(STIFFENERS[0].minutes, None, Clock),
            DryingKind::CounterSolvent => waits(STIFFENERS[1].minutes, None, Clock),
            DryingKind::CounterHeat => waits(STIFFENERS[2].minutes, None, Touch),
            DryingKind::SpiritDye => waits(DYE.minutes, Some(DYE_NIGHT.minutes.high), Clock),
            DryingKind::AcrylicColour => waits(DYE.minutes, day, Touch),
            DryingKind::EdgeInk => waits(INK.minutes, None, Touch),
            DryingKind::Cream => waits(CREAM.minutes, None, Touch),
            DryingKind::Conditioner => waits(Minutes::of(15, DYE_NIGHT.minutes.high), None, Touch),
            DryingKind::Soak => waits(SOAK.minutes, None, Touch),
            DryingKind::Stretch => waits(STRETCHER.minutes, None, Clock),
        }
    }
}

/// Something that was started.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Started {
    /// What was started.
    pub kind: DryingKind,
    /// When it was started.
    pub started: Instant,
    /// Minutes until it is ready, instead of the usual.
    pub min: Option<u32>,
    /// Minutes until the end of the open time or, without one, until it is certainly ready, instead of the usual.
    pub max: Option<u32>,
}

/// When something is ready.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadyTime {
    /// The earliest moment for the next step.
    pub ready_at: Instant,
    /// The last moment to join it; `None` if it has no open time.
    pub join_by: Option<Instant>,
    /// When it has its full strength, or is certainly ready.
    pub full_strength_at: Instant,
    /// How it is determined that it is ready.
    pub judged_by: JudgedBy,
    /// A note on which instructions take precedence.
    pub note: &'static str,
}

const TOUCH_NOTE: &str = "About: judge it by touch. The product's own sheet comes first.";
const CEMENT_NOTE: &str =
    "About: judge it by touch; missed, heat it or coat it again. The product's own sheet comes first.";
const CLOCK_NOTE: &str = "Common practice. The product's own sheet comes first.";

impl Started {
    /// The given times, or else the usual ones.
    fn minutes(&self, usual: &UsualTimes) -> Result<Minutes, InvalidField> {
        for (field, own) in [(MIN, self.min), (MAX, self.max)] {
            if own.is_some_and(|minutes| minutes > MOST) {
                return Err(field.refused());
            }
        }
        let span = usual.minutes.high - usual.minutes.low;
        let low = self
            .min
            .unwrap_or_else(|| usual.minutes.low.min(self.max.unwrap_or(u32::MAX)));
        // If only the start is given, the open time of cement has its usual length.
        let high = self.max.unwrap_or_else(|| usual.minutes.high.max(low + span));
        if low > high {
            return Err(MIN.refused());
        }
        Ok(Minutes::of(low, high))
    }
}

impl Calculation for Started {
    const NAME: &'static str = "wait";
    const TAKES: &'static [Field] = &[KIND, STARTED, MIN, MAX];
    const GIVES: &'static [AnswerField] = gives![
        "ready_at" "RFC 3339, the earliest", "join_by" "RFC 3339, or null where it can wait",
        "full_strength_at" "RFC 3339", "judged_by" "touch or clock", "note" "what comes first",
    ];
    type Answer = ReadyTime;

    fn calculate(&self) -> Result<ReadyTime, InvalidField> {
        let usual = self.kind.usual();
        let Minutes { low, high } = self.minutes(&usual)?;
        let after = |minutes: u32| {
            let beyond = || STARTED.refused_as("early enough that all ends before the year 10000");
            self.started.after(i64::from(minutes)).ok_or_else(beyond)
        };
        let join_by = match usual.closes {
            Closes::InTime => Some(after(high)?),
            Closes::Never => None,
        };
        let note = match (usual.closes, usual.judged_by) {
            (Closes::InTime, _) => CEMENT_NOTE,
            (Closes::Never, JudgedBy::Touch) => TOUCH_NOTE,
            (Closes::Never, JudgedBy::Clock) => CLOCK_NOTE,
        };
        let full = match (usual.full, self.max, usual.closes) {
            (Some(full), _, Closes::InTime) | (Some(full), None, Closes::Never) => full.max(high),
            (_, _, _) => high,
        };
        Ok(ReadyTime {
            ready_at: after(low)?,
            join_by,
            full_strength_at: after(full)?,
            judged_by: usual.judged_by,
            note,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ALL: [DryingKind; 12] = [
        DryingKind::ContactCement,
        DryingKind::WaterCement,
        DryingKind::CounterPaste,
        DryingKind::CounterSolvent,
        DryingKind::CounterHeat,
        DryingKind::SpiritDye,
        DryingKind::AcrylicColour,
        DryingKind::EdgeInk,
        DryingKind::Cream,
        DryingKind::Conditioner,
        DryingKind::Soak,
        DryingKind::Stretch,
    ];

    fn started(kind: DryingKind) -> Started {
        Started {
            kind,
            started: Instant::parse("2025-03-01T18:00:00+01:00").unwrap(),
            min: None,
            max: None,
        }
    }

    /// Common practice; vendors' pages for the touch and the open time of contact cement.
    #[test]
    fn contact_cement_in_the_evening() {
        let ready = started(DryingKind::ContactCement).calculate().unwrap();
        assert_eq!(ready.ready_at.to_string(), "2025-03-01T18:10:00+01:00");
        assert_eq!(ready.join_by.unwrap().to_string(), "2025-03-01T18:40:00+01:00");
        assert_eq!(ready.full_strength_at.to_string(), "2025-03-02T18:00:00+01:00");
        assert_eq!(ready.judged_by, JudgedBy::Touch);
    }

    #[test]
    fn a_counter_of_paste_waits_for_the_next_day() {
        let ready = started(DryingKind::CounterPaste).calculate().unwrap();
        assert_eq!(ready.ready_at.to_string(), "2025-03-02T06:00:00+01:00");
        assert_eq!((ready.join_by, ready.judged_by), (None, JudgedBy::Clock));
    }

    #[test]
    fn a_sheets_own_minutes_rule() {
        let own = Started {
            min: Some(5),
            max: Some(20),
            ..started(DryingKind::ContactCement)
        };
        let ready = own.calculate().unwrap();
        assert_eq!(ready.ready_at.to_string(), "2025-03-01T18:05:00+01:00");
        assert_eq!(ready.join_by.unwrap().to_string(), "2025-03-01T18:20:00+01:00");
        let turned = Started { min: Some(21), ..own };
        assert_eq!(turned.calculate().unwrap_err().field, "min");
    }

    proptest! {
        #[test]
        fn ready_comes_before_joined_before_strong(
            kind in prop::sample::select(ALL.to_vec()), min in prop::option::of(0u32..3_000), more in prop::option::of(0u32..3_000),
        ) {
            let max = more.map(|more| min.unwrap_or(0) + more);
            let ready = Started { min, max, ..started(kind) }.calculate().unwrap();
            let join = ready.join_by.map_or(ready.ready_at, |join| join);
            prop_assert!(ready.ready_at.unix_s() <= join.unix_s());
            prop_assert!(join.unix_s() <= ready.full_strength_at.unix_s());
            prop_assert!(ready.note.contains("sheet"));
        }
    }
}
