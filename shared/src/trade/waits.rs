//! The usual drying and setting times of cement, stiffeners, ink and dye.
//!
//! Common practice, no source. Contact cement is judged by touch: a timer only says "about now".

use super::usage::in_usage;

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

/// Declares [`WaitKind`] with the log's word and the screen's words for each kind beside its name.
macro_rules! wait_kinds {
    ($($(#[$meta:meta])* $kind:ident = $word:literal, $words:literal;)+) => {
        /// What a wait is for.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum WaitKind {
            $($(#[$meta])* $kind,)+
        }

        impl WaitKind {
            /// Every kind.
            pub const ALL: &'static [WaitKind] = &[$(WaitKind::$kind),+];

            /// Its word in the log, which never changes.
            pub const fn word(self) -> &'static str {
                match self {
                    $(WaitKind::$kind => $word,)+
                }
            }

            /// What the wait is for, in words.
            pub fn words(self) -> &'static str {
                match self {
                    $(WaitKind::$kind => in_usage($words),)+
                }
            }

            /// The kind of a word in the log; `None` for a word this version does not know.
            pub fn of_word(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|kind| kind.word() == word)
            }
        }
    };
}

wait_kinds! {
    /// Contact cement, until it no longer strings.
    CementTouchDry = "cement_touch_dry", "Cement, until dry to the touch";
    /// Cement, until it has its full strength.
    CementFullBond = "cement_full_bond", "Cement, until it holds fully";
    /// Sole leather, kept damp until it is evenly moist.
    Mulling = "mulling", "Sole mulling";
    /// Sole leather in water.
    Soaking = "soaking", "Sole soaking";
    /// A wet sole drying on the shoe.
    DryingOvernight = "drying_overnight", "Drying overnight";
    /// A heel built of lifts, until its cement has set.
    HeelSet = "heel_set", "Heel setting";
    /// The wax of a hand seam, until it has set.
    ThreadWaxSet = "thread_wax_set", "Thread wax setting";
    /// A stiffener of leather or paste board.
    StiffenerPaste = "stiffener_paste", "Pasted stiffener drying";
    /// A stiffener softened with solvent.
    StiffenerSolvent = "stiffener_solvent", "Solvent stiffener hardening";
    /// A stiffener formed by heat.
    StiffenerHeat = "stiffener_heat", "Heated stiffener cooling";
    /// A damp edge, until it can be inked.
    EdgeDrying = "edge_drying", "Edge drying";
    /// Edge ink, until it can be waxed.
    Ink = "ink", "Ink drying";
    /// Paint or lacquer on a sole, an edge or a gloss.
    Paint = "paint", "Paint drying";
    /// One coat of dye, until the next can follow.
    DyeCoat = "dye_coat", "Dye, before the next coat";
    /// The last coat of dye, until it can be finished.
    DyeOvernight = "dye_overnight", "Dye drying overnight";
    /// Leather that was cleaned or treated wet.
    WetClean = "wet_clean", "Leather drying";
    /// Cream, until it can be brushed.
    Cream = "cream", "Cream going in";
    /// A shoe on the stretcher.
    Stretcher = "stretcher", "On the stretcher";
    /// Cork and paste under the sole.
    Filler = "filler", "Filler setting";
}

/// What a wait delays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holds {
    /// The next step.
    Bench,
    /// Only wearing: work continues, and the pair may even be handed over.
    Wearing,
}

/// Where in the work of an operation a wait lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WaitPlace {
    /// Before the work on the shoe: sole leather is mulled or soaked the evening before it is sewn.
    Before,
    /// Between two parts of the work, such as cement before it is pressed.
    Within,
    /// After the work, before the next step or before wear.
    After,
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
    /// Where in the work it lies.
    pub place: WaitPlace,
}

impl UsualWait {
    /// A wait after the work and before the next step, once.
    pub(super) const fn bench(kind: WaitKind, minutes: Minutes) -> Self {
        Self {
            kind,
            minutes,
            times: 1,
            holds: Holds::Bench,
            place: WaitPlace::After,
        }
    }

    /// A wait after the work and before wearing, once.
    pub(super) const fn wearing(kind: WaitKind, minutes: Minutes) -> Self {
        Self {
            holds: Holds::Wearing,
            ..Self::bench(kind, minutes)
        }
    }

    /// The same wait, before the work begins.
    pub(super) const fn before(self) -> Self {
        Self {
            place: WaitPlace::Before,
            ..self
        }
    }

    /// The same wait, between two parts of the work.
    pub(super) const fn within(self) -> Self {
        Self {
            place: WaitPlace::Within,
            ..self
        }
    }

    /// The same wait, up to twice.
    pub(super) const fn twice(self) -> Self {
        Self { times: 2, ..self }
    }

    /// Its length, all times together.
    pub fn all_minutes(&self) -> Minutes {
        let all = |minutes: u32| minutes.saturating_mul(self.times);
        Minutes::of(all(self.minutes.low), all(self.minutes.high))
    }
}

/// Dry to the touch after one coat.
pub(super) const CEMENT: UsualWait = UsualWait::bench(WaitKind::CementTouchDry, Minutes::of(10, 15)).within();
/// The slower cement of a full sole or a group of lifts.
pub(super) const CEMENT_15: UsualWait =
    UsualWait::bench(WaitKind::CementTouchDry, Minutes::of(15, 15)).within();
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
pub(super) const MULL: UsualWait = UsualWait::bench(WaitKind::Mulling, Minutes::hours(2, 12)).before();
/// About five hours in water (one maker's course note).
pub(super) const SOAK: UsualWait = UsualWait::bench(WaitKind::Soaking, Minutes::hours(5, 5)).before();
/// A night, taken as eight to twelve hours.
pub(super) const OVERNIGHT: UsualWait =
    UsualWait::bench(WaitKind::DryingOvernight, Minutes::hours(8, 12)).within();
/// A damp edge, before it can be inked.
pub(super) const EDGE: UsualWait = UsualWait::bench(WaitKind::EdgeDrying, Minutes::hours(1, 2));
/// Ink, before the edge can be waxed.
pub(super) const INK: UsualWait = UsualWait::bench(WaitKind::Ink, Minutes::of(20, 30));
/// Between coats of dye.
pub(super) const DYE: UsualWait = UsualWait::bench(WaitKind::DyeCoat, Minutes::of(30, 60)).within();
/// A night before the finish.
pub(super) const DYE_NIGHT: UsualWait = UsualWait::bench(WaitKind::DyeOvernight, Minutes::hours(8, 12));
/// Between coats of paint or lacquer.
pub(super) const PAINT: UsualWait = UsualWait::bench(WaitKind::Paint, Minutes::of(30, 60)).within();
/// A night after the last coat of lacquer.
pub(super) const PAINT_NIGHT: UsualWait = UsualWait::bench(WaitKind::Paint, Minutes::hours(8, 12));
/// Half a day until a painted sole may be worn.
pub(super) const PAINT_WEAR: UsualWait = UsualWait::wearing(WaitKind::Paint, Minutes::hours(12, 12));
/// After wet cleaning.
pub(super) const WET: UsualWait = UsualWait::bench(WaitKind::WetClean, Minutes::hours(12, 24));
/// Cream, before brushing.
pub(super) const CREAM: UsualWait = UsualWait::bench(WaitKind::Cream, Minutes::of(15, 30)).within();
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
    use crate::trade::operations::{operation, operations};

    #[test]
    fn stiffeners_are_told_apart_by_their_time() {
        for pair in STIFFENERS.windows(2) {
            assert!(pair[0].minutes.high > pair[1].minutes.high);
            assert!(pair[0].minutes.low > pair[1].minutes.low);
        }
    }

    #[test]
    fn every_kind_of_wait_is_found_by_its_word_and_is_used() {
        for (at, kind) in WaitKind::ALL.iter().enumerate() {
            assert_eq!(WaitKind::of_word(kind.word()), Some(*kind));
            let before = &WaitKind::ALL[..at];
            assert!(
                before.iter().all(|other| other.words() != kind.words()),
                "{kind:?}"
            );
            let mut used = operations().flat_map(|known| known.waits).chain(STIFFENERS);
            assert!(used.any(|wait| wait.kind == *kind), "{kind:?}");
        }
        assert_eq!(WaitKind::of_word("humming"), None);
    }

    /// Where waits lie: common practice, no source.
    #[test]
    fn waits_lie_where_the_bench_has_them() {
        use WaitKind::*;
        use WaitPlace::*;
        type Row = (&'static str, WaitPlace, &'static [WaitKind]);
        let table: [Row; 17] = [
            ("resole_blake", Before, &[Mulling]),
            ("resole_welted", Before, &[Mulling]),
            ("resole_welted", Within, &[CementTouchDry]),
            ("resole_welted", After, &[EdgeDrying, CementFullBond]),
            ("resole_hand_welted", Before, &[Soaking]),
            ("resole_hand_welted", Within, &[DryingOvernight]),
            ("resole_hand_welted", After, &[CementFullBond]),
            ("half_sole", Before, &[]),
            ("half_sole", Within, &[CementTouchDry]),
            ("heel_block_rebuild", After, &[HeelSet]),
            ("rewelt", After, &[ThreadWaxSet]),
            ("counter_rebuild", After, &[StiffenerPaste]),
            ("strip_and_dye", Within, &[DyeCoat]),
            ("strip_and_dye", After, &[DyeOvernight]),
            ("edge_trim_ink", After, &[Ink]),
            ("clean_condition_polish", Within, &[Cream]),
            ("wet_clean", After, &[WetClean]),
        ];
        for (code, place, kinds) in table {
            let known = operation(code).unwrap().waits_at(place);
            assert_eq!(
                known.map(|wait| wait.kind).collect::<Vec<_>>(),
                kinds,
                "{code} {place:?}"
            );
        }
    }

    #[test]
    fn a_wait_before_wear_comes_after_the_work() {
        for known in operations() {
            for wait in known.waits.iter().filter(|wait| wait.holds == Holds::Wearing) {
                assert_eq!(wait.place, WaitPlace::After, "{}", known.code);
            }
        }
    }

    #[test]
    fn two_nights_are_two_nights() {
        assert_eq!(OVERNIGHT.twice().all_minutes(), Minutes::hours(16, 24));
        assert_eq!(OVERNIGHT.all_minutes(), OVERNIGHT.minutes);
        assert_eq!(CEMENT.twice().all_minutes(), Minutes::of(20, 30));
    }
}
