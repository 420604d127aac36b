//! The kinds of cement, with their usual times.
//!
//! Common practice, no source; except neoprene, whose time to dry and open time are from vendors' pages, as in
//! [`ready`](crate::trade::formulas::ready). The warmth of a heated film and the seconds in the press are from memory.

use serde::Serialize;

use crate::trade::hazards::{CEMENT_VAPOURS, HARDENER, Hazard, LATEX, SOLVENT_CEMENT};
use crate::trade::waits::{CEMENT, Minutes};

/// The warmth at which a dry film of polyurethane cement is joined, in °C: from, to. From memory.
pub const FILM_C: (u32, u32) = (55, 70);
/// Seconds in the press: from, to. From memory.
pub const PRESS_S: (u32, u32) = (5, 15);
/// Hours in a clamp, for cement of two parts: from, to. Common practice, no source.
pub const CLAMP_H: (u32, u32) = (4, 24);
/// What n-hexane in the air of a workplace may be at most over eight hours, in ppm: Directive 2006/15/EC, seen in a
/// secondary listing.
pub const HEXANE_PPM: u32 = 20;
/// The same value in mg/m³, from the same listing.
pub const HEXANE_MG_M3: u32 = 72;
/// The share of toluene in percent from which an adhesive may not be sold to the public: REACH, annex XVII, entry 48.
pub const TOLUENE_PERCENT: &str = "0.1";

/// A kind of cement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CementKind {
    /// Contact cement of polychloroprene in solvent.
    Neoprene,
    /// Contact cement of polyurethane in solvent, joined warm, with or without a hardener.
    Polyurethane,
    /// Water-based contact cement.
    WaterBased,
    /// Cement mixed of two parts, which sets without drying.
    TwoPart,
    /// Natural rubber in solvent, for crepe.
    RubberSolution,
}

impl CementKind {
    /// Every kind, in the order in which they are offered.
    pub const ALL: [Self; 5] = [
        Self::Neoprene,
        Self::Polyurethane,
        Self::WaterBased,
        Self::TwoPart,
        Self::RubberSolution,
    ];

    /// Its word in the names of the shop's fields. It never changes.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Neoprene => "neoprene",
            Self::Polyurethane => "polyurethane",
            Self::WaterBased => "water_based",
            Self::TwoPart => "two_part",
            Self::RubberSolution => "rubber_solution",
        }
    }

    /// The kind of a word; `None` for a word that this version does not know.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.as_str() == word)
    }

    /// Its name.
    pub fn words(self) -> &'static str {
        match self {
            Self::Neoprene => words::cement::neoprene(),
            Self::Polyurethane => words::cement::polyurethane(),
            Self::WaterBased => words::cement::water_based(),
            Self::TwoPart => words::cement::two_part(),
            Self::RubberSolution => words::cement::rubber_solution(),
        }
    }

    /// How long a coat usually dries before it is joined.
    pub const fn wait(self) -> Minutes {
        match self {
            Self::Neoprene => CEMENT.minutes,
            Self::Polyurethane => Minutes::of(15, 20),
            Self::WaterBased => Minutes::of(20, 30),
            Self::TwoPart => Minutes::of(0, 10),
            Self::RubberSolution => Minutes::of(10, 20),
        }
    }

    /// How long it can be joined after that.
    pub const fn open(self) -> Minutes {
        match self {
            Self::Neoprene | Self::Polyurethane | Self::RubberSolution => Minutes::of(10, 30),
            Self::WaterBased => Minutes::of(20, 40),
            Self::TwoPart => Minutes::of(5, 20),
        }
    }

    /// Whether its dry film is warmed to join it.
    pub const fn is_warmed(self) -> bool {
        matches!(self, Self::Polyurethane)
    }

    /// Whether it has solvent, which burns and dissolves.
    pub const fn has_solvent(self) -> bool {
        matches!(self, Self::Neoprene | Self::Polyurethane | Self::RubberSolution)
    }

    /// Its hazards, the most important first.
    pub const fn hazards(self) -> &'static [&'static Hazard] {
        match self {
            Self::Neoprene => &[&SOLVENT_CEMENT],
            Self::Polyurethane => CEMENT_VAPOURS,
            Self::WaterBased => &[],
            Self::TwoPart => &[&HARDENER],
            Self::RubberSolution => &[&SOLVENT_CEMENT, &LATEX],
        }
    }

    /// What the law says about its solvents, with the source; empty for a cement without solvent.
    pub fn limits(self) -> Vec<String> {
        if !self.has_solvent() {
            return Vec::new();
        }
        vec![
            words::cement::toluene_limit(TOLUENE_PERCENT),
            words::cement::hexane_limit(HEXANE_PPM, HEXANE_MG_M3),
        ]
    }
}

/// How a joint is pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Press {
    /// Hammered, or pressed for seconds.
    Hammer,
    /// Rolled, or pressed with little pressure: one side is soft.
    Soft,
    /// Held in a clamp for hours.
    Clamp,
}

impl Press {
    /// What to do.
    pub fn words(self) -> String {
        let (from, to) = PRESS_S;
        match self {
            Self::Hammer => words::cement::press_hammer(from, to),
            Self::Soft => words::cement::press_soft(from, to),
            Self::Clamp => words::cement::press_clamp(CLAMP_H.0, CLAMP_H.1),
        }
    }
}
