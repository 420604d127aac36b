//! The usual drying and setting times of cement, stiffeners, ink and dye.
//!
//! Common practice, no source. Contact cement is judged by touch: a timer only says "about now".

/// A range of minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Minutes {
    /// The least.
    pub low: u32,
    /// The most.
    pub high: u32,
}

impl Minutes {
    /// From `low` to `high` minutes.
    pub const fn of(low: u32, high: u32) -> Self {
        Self { low, high }
    }

    /// From `low` to `high` hours.
    pub const fn hours(low: u32, high: u32) -> Self {
        Self::of(low * 60, high * 60)
    }
}

/// What a wait is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WaitKind {
    /// Contact cement, until it no longer strings.
    CementTouchDry,
    /// Cement, until it has its full strength.
    CementFullBond,
    /// Sole leather, kept damp until it is evenly moist.
    Mulling,
    /// Sole leather in water.
    Soaking,
    /// A wet sole drying on the shoe.
    DryingOvernight,
    /// A heel built of lifts, until its cement has set.
    HeelSet,
    /// The wax of a hand seam, until it has set.
    ThreadWaxSet,
    /// A stiffener of leather or paste board.
    StiffenerPaste,
    /// A stiffener softened with solvent.
    StiffenerSolvent,
    /// A stiffener formed by heat.
    StiffenerHeat,
    /// A damp edge, until it can be inked.
    EdgeDrying,
    /// Edge ink, until it can be waxed.
    Ink,
    /// One coat of dye, until the next can follow.
    DyeCoat,
    /// The last coat of dye, until it can be finished.
    DyeOvernight,
    /// Leather that was cleaned or treated wet.
    WetClean,
    /// Cream, until it can be brushed.
    Cream,
    /// A shoe on the stretcher.
    Stretcher,
    /// Cork and paste under the sole.
    Filler,
}

impl WaitKind {
    /// What the wait is for, in words.
    pub const fn words(self) -> &'static str {
        match self {
            WaitKind::CementTouchDry => "Cement, until dry to the touch",
            WaitKind::CementFullBond => "Cement, until it holds fully",
            WaitKind::Mulling => "Sole mulling",
            WaitKind::Soaking => "Sole soaking",
            WaitKind::DryingOvernight => "Drying overnight",
            WaitKind::HeelSet => "Heel setting",
            WaitKind::ThreadWaxSet => "Thread wax setting",
            WaitKind::StiffenerPaste => "Pasted stiffener drying",
            WaitKind::StiffenerSolvent => "Solvent stiffener hardening",
            WaitKind::StiffenerHeat => "Heated stiffener cooling",
            WaitKind::EdgeDrying => "Edge drying",
            WaitKind::Ink => "Ink drying",
            WaitKind::DyeCoat => "Dye, before the next coat",
            WaitKind::DyeOvernight => "Dye drying overnight",
            WaitKind::WetClean => "Leather drying",
            WaitKind::Cream => "Cream going in",
            WaitKind::Stretcher => "On the stretcher",
            WaitKind::Filler => "Filler setting",
        }
    }
}

/// What a wait delays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// The next step.
    Bench,
    /// Only wearing: work continues, and the pair may even be handed over.
    Wearing,
}

/// A usual wait of an operation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UsualWait {
    /// What it is for.
    pub kind: WaitKind,
    /// Its length each time.
    pub minutes: Minutes,
    /// The greatest number of times.
    pub times: u32,
    /// What it delays.
    pub holds: Holds,
}

impl UsualWait {
    /// A wait before the next step, once.
    pub(super) const fn bench(kind: WaitKind, minutes: Minutes) -> Self {
        Self {
            kind,
            minutes,
            times: 1,
            holds: Holds::Bench,
        }
    }

    /// A wait before wearing.
    pub(super) const fn wearing(kind: WaitKind, minutes: Minutes) -> Self {
        Self {
            kind,
            minutes,
            times: 1,
            holds: Holds::Wearing,
        }
    }

    /// The same wait, up to twice.
    pub(super) const fn twice(self) -> Self {
        Self { times: 2, ..self }
    }
}

/// Dry to the touch after one coat.
pub(super) const CEMENT: UsualWait = UsualWait::bench(WaitKind::CementTouchDry, Minutes::of(10, 15));
/// The slower cement of a full sole or a group of lifts.
pub(super) const CEMENT_15: UsualWait = UsualWait::bench(WaitKind::CementTouchDry, Minutes::of(15, 15));
/// A day until a cemented part may be worn.
pub(super) const BOND_24: UsualWait = UsualWait::wearing(WaitKind::CementFullBond, Minutes::hours(24, 24));
/// Half a day to a day until a full sole may be worn.
pub(super) const BOND_12_24: UsualWait = UsualWait::wearing(WaitKind::CementFullBond, Minutes::hours(12, 24));
/// Half a day until a small cemented part may be worn.
pub(super) const BOND_12: UsualWait = UsualWait::wearing(WaitKind::CementFullBond, Minutes::hours(12, 12));
/// Half a day until the wax of a hand seam has set.
pub(super) const THREAD: UsualWait = UsualWait::wearing(WaitKind::ThreadWaxSet, Minutes::hours(12, 12));
/// Half a day until a rebuilt heel may be worn.
pub(super) const HEEL: UsualWait = UsualWait::wearing(WaitKind::HeelSet, Minutes::hours(12, 12));
/// Leather made damp and left until it is even.
pub(super) const MULL: UsualWait = UsualWait::bench(WaitKind::Mulling, Minutes::hours(2, 12));
/// About five hours in water (one maker's course note).
pub(super) const SOAK: UsualWait = UsualWait::bench(WaitKind::Soaking, Minutes::hours(5, 5));
/// A night, taken as eight to twelve hours.
pub(super) const OVERNIGHT: UsualWait = UsualWait::bench(WaitKind::DryingOvernight, Minutes::hours(8, 12));
/// A damp edge, before it can be inked.
pub(super) const EDGE: UsualWait = UsualWait::bench(WaitKind::EdgeDrying, Minutes::hours(1, 2));
/// Ink, before the edge can be waxed.
pub(super) const INK: UsualWait = UsualWait::bench(WaitKind::Ink, Minutes::of(20, 30));
/// Between coats of dye.
pub(super) const DYE: UsualWait = UsualWait::bench(WaitKind::DyeCoat, Minutes::of(30, 60));
/// A night before the finish.
pub(super) const DYE_NIGHT: UsualWait = UsualWait::bench(WaitKind::DyeOvernight, Minutes::hours(8, 12));
/// After wet cleaning.
pub(super) const WET: UsualWait = UsualWait::bench(WaitKind::WetClean, Minutes::hours(12, 24));
/// Cream, before brushing.
pub(super) const CREAM: UsualWait = UsualWait::bench(WaitKind::Cream, Minutes::of(15, 30));
/// After wet treatment, before the pair may be worn in the wet.
pub(super) const WEAR_DRY: UsualWait = UsualWait::wearing(WaitKind::WetClean, Minutes::hours(12, 12));
/// On the stretcher.
pub(super) const STRETCHER: UsualWait = UsualWait::bench(WaitKind::Stretcher, Minutes::hours(24, 48));
/// Cork paste before the sole closes it.
pub(super) const FILLER: UsualWait = UsualWait::bench(WaitKind::Filler, Minutes::of(15, 30));

/// The three kinds of stiffener, slowest first. Which one is used decides the wait of a counter or puff.
pub const STIFFENERS: &[UsualWait] = &[
    UsualWait::bench(WaitKind::StiffenerPaste, Minutes::hours(12, 24)),
    UsualWait::bench(WaitKind::StiffenerSolvent, Minutes::hours(4, 12)),
    UsualWait::bench(WaitKind::StiffenerHeat, Minutes::of(10, 20)),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stiffeners_are_told_apart_by_their_time() {
        for pair in STIFFENERS.windows(2) {
            assert!(pair[0].minutes.high > pair[1].minutes.high);
            assert!(pair[0].minutes.low > pair[1].minutes.low);
        }
    }
}
