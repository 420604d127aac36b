//! The construction key: a few questions about what can be seen from outside, which end in a guess.
//!
//! Until a shoe is opened every construction is a guess: a stitch on the welt may hold nothing, a welt may be glued on.
//! So every guess names the signs for and against it, and what cannot be known before opening.
//!
//! A seam that cannot be seen underneath proves nothing: a closed channel, a half sole and a guard hide it. So the
//! key asks about them before it calls a sole cemented (construction articles of two makers; practice). All the rest
//! is common practice, no source.

use super::construction::Construction;
use super::usage::in_usage;

/// One question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyQuestion {
    ask: &'static str,
    /// The possible answers; "cannot tell" is always one of them.
    pub answers: &'static [KeyAnswer],
}

impl KeyQuestion {
    /// What to look at, as a question.
    pub fn ask(&self) -> &'static str {
        in_usage(self.ask)
    }
}

/// One answer to a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyAnswer {
    say: &'static str,
    /// What follows from it.
    pub then: Then,
}

impl KeyAnswer {
    /// The answer, as it is shown.
    pub fn say(&self) -> &'static str {
        in_usage(self.say)
    }
}

/// What follows from an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Then {
    /// Another question: its index in [`QUESTIONS`], which is greater than that of the present one.
    Ask(usize),
    /// A guess.
    Guess(&'static Guess),
    /// No guess: the construction cannot be told before opening.
    Open,
}

/// A construction guessed from outside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Guess {
    /// The construction.
    pub construction: Construction,
    speaks_for: &'static str,
    speaks_against: &'static str,
    resole: &'static str,
    before_opening: &'static str,
}

impl Guess {
    /// The signs for it.
    pub fn speaks_for(&self) -> &'static str {
        in_usage(self.speaks_for)
    }

    /// The signs against it.
    pub fn speaks_against(&self) -> &'static str {
        in_usage(self.speaks_against)
    }

    /// How the sole can be replaced.
    pub fn resole(&self) -> &'static str {
        in_usage(self.resole)
    }

    /// What cannot be told before opening.
    pub fn before_opening(&self) -> &'static str {
        in_usage(self.before_opening)
    }
}

macro_rules! guesses {
    ($($name:ident $construction:ident
        for $for:literal against $against:literal resole $resole:literal before $before:literal;)+) => {
        $(
            #[doc = concat!("The guess `", stringify!($construction), "`.")]
            pub static $name: Guess = Guess {
                construction: Construction::$construction,
                speaks_for: $for,
                speaks_against: $against,
                resole: $resole,
                before_opening: $before,
            };
        )+
        /// All guesses of the key.
        pub const GUESSES: &[&Guess] = &[$(&$name),+];
    };
}

guesses! {
    BLAKE Blake
        for "One row of stitches inside on the insole, and a seam in a channel of the sole."
        against "A welt, or no stitches inside."
        resole "Stitched through again, through the old holes where the insole still holds."
        before "Whether the insole is cut by the old stitch.";
    BLAKE_RAPID BlakeRapid
        for "Stitches inside on the insole and a second seam along the edge of a midsole."
        against "No stitches inside."
        resole "The outsole is stitched to the midsole; the through-stitch can stay."
        before "Whether the midsole still holds, and whether its through-stitch is whole.";
    MACHINE_WELTED MachineWelted
        for "A welt with an even seam, all round or ending at the heel, and no stitches inside."
        against "Its stitches do not come out underneath, though nothing there hides them."
        resole "A new outsole is stitched to the welt, which stays while it is sound."
        before "Whether the rib is glued on and still holds, and what became of the cork.";
    HAND_WELTED HandWelted
        for "A welt whose seam to the upper is wide and slanting, close at the waist; no stitches inside."
        against "Stitches as even as a machine's."
        resole "A new outsole is stitched to the welt by hand or machine; the welt can be renewed on its holdfast."
        before "Whether there is a holdfast in the insole or a rib that was glued on.";
    STORM_WELTED StormWelted
        for "A welt with a seam, and with a raised edge that lies against the upper."
        against "The raised edge is glued on, or the seam does not go down into the sole."
        resole "A new outsole is stitched to the welt, as for any welted shoe."
        before "Whether the welt was sewn on by machine or by hand, and whether it still holds.";
    NORWEGIAN Norwegian
        for "Two seams show outside: one into the side of the upper, one down into the sole."
        against "The upper seam is for show and goes into the upper alone."
        resole "A new outsole is stitched down again; the upper seam stays."
        before "Whether the seam at the side reaches the insole.";
    STITCHDOWN Stitchdown
        for "The upper itself turns outward and is stitched down to the sole."
        against "A separate strip lies under the stitches: that is a welt."
        resole "Stitched through the upper's own edge again, as long as that edge lasts."
        before "How many more seams the upper's edge will take.";
    BOLOGNA Bologna
        for "Stitches in the sole, and inside a soft lining like a tube instead of a firm insole."
        against "A firm insole under the sock lining."
        resole "Stitched through again, as for Blake, with care for the lining."
        before "Whether the tube goes all the way or only to the waist.";
    TURNED Turned
        for "A thin sole, no edge beyond the upper, and the seam hidden inside the shoe."
        against "A sole edge that stands out."
        resole "Hardly ever in the old way: a thin sole cemented on."
        before "Whether the seam still holds the upper.";
    MOCCASIN Moccasin
        for "The upper wraps under the foot, and a plug is sewn in on top."
        against "A lasting margin under the sole: then the plug is for show."
        resole "Stitched or cemented, as it was found."
        before "Whether the upper really goes under the foot, and what holds the sole.";
    NAILED Nailed
        for "Rows of metal or wooden pins in the sole."
        against "Pins at the heel alone, or a few at the toe: those are on most shoes."
        resole "Pegged or nailed again, or stitched if there is a welt."
        before "Whether the pins are clenched in the insole, and what else holds the sole.";
    WOODEN_CLOG WoodenClog
        for "The edge of the upper is nailed or stapled to the side of a wooden sole."
        against "The wood is only a cover round a sole of cork or plastic."
        resole "The wood stays; rubber is cemented or nailed under it, and the upper stapled again."
        before "Whether the wood under the staples is sound.";
    CUPSOLE Cupsole
        for "The sole stands up round the upper like a cup, mostly with a seam along its wall."
        against "A separate strip of rubber round the edge, or a seam that is only moulded in."
        resole "The old cup comes off; a new one is cemented on and stitched through the wall again."
        before "Whether seam or cement holds it, and whether the foam inside has crumbled.";
    STROBEL Strobel
        for "Under the sock lining, a cloth sole is sewn to the edge of the upper."
        against "A firm insole, with the upper turned under it."
        resole "A new sole cemented on, as long as the cloth and its seam are whole."
        before "Whether the cloth sole is whole, and whether cement holds on the old surface.";
    INJECTED Injected
        for "Sole and edge are one piece without a joint to the upper, with a mould line."
        against "A line of cement between sole and upper."
        resole "Cemented or patched only, if cement holds on it at all."
        before "Whether the sole is sound inside or about to crumble.";
    VULCANISED Vulcanised
        for "A strip of rubber runs round the edge, joined to a rubber sole without a seam."
        against "Wall and sole are one piece, or there is a seam along the wall."
        resole "Cemented on the cleaned and roughened rubber, or patched; the strip is put back."
        before "Whether the strip and the cloth under it still hold.";
    CEMENTED Cemented
        for "No stitches inside or underneath, and a line of cement where the sole meets the upper."
        against "A seam that comes out underneath."
        resole "A new sole cemented on; stitched through if the insole allows it."
        before "Whether the stitches on the edge, if there are any, hold anything.";
}

use Then::{Ask, Guess as End, Open};

macro_rules! questions {
    ($($ask:literal { $($say:expr => $then:expr),+ $(,)? })+) => {
        /// The questions of the key, in order: an answer only leads to a later question.
        pub const QUESTIONS: &[KeyQuestion] = &[$(KeyQuestion {
            ask: $ask,
            answers: &[$(KeyAnswer { say: $say, then: $then }),+],
        }),+];
    };
}

/// The answer that nothing underneath can hide a seam.
const BARE: &str = "No, the sole is bare";

questions! {
    // 0
    "What shows on top of the sole's edge, outside along the upper?" {
        "A strip with a seam" => Ask(1),
        "A strip with a seam, and a raised edge against the upper" => End(&STORM_WELTED),
        "Two seams, one into the upper's side" => End(&NORWEGIAN),
        "The upper itself, turned out and stitched" => End(&STITCHDOWN),
        "Nails or staples through the upper into wood" => End(&WOODEN_CLOG),
        "A wall of the sole that stands up round the upper" => Ask(4),
        "No seam" => Ask(6),
        "Cannot tell" => Ask(6),
    }
    // 1 to 3: a strip with a seam. It may end at the heel: that is as usual as one all round.
    "Inside, under the sock lining: is there a row of stitches?" {
        "Yes" => End(&BLAKE_RAPID),
        "No" => Ask(2),
        "Cannot tell" => Ask(2),
    }
    "The seam on the strip: does it come out underneath, and how even is it?" {
        "Underneath, and even" => End(&MACHINE_WELTED),
        "Underneath, wide and slanting at the upper" => End(&HAND_WELTED),
        "It does not come out underneath" => Ask(3),
        "Cannot tell" => Open,
    }
    "Underneath: is there a closed channel, a half sole or a guard that would hide a seam?" {
        "Yes" => Open,
        BARE => End(&CEMENTED),
        "Cannot tell" => Open,
    }
    // 4 and 5: a wall round the upper.
    "The wall round the upper: how is it made?" {
        "One piece with the sole, with a seam along it" => End(&CUPSOLE),
        "One piece with the sole, without a seam" => Ask(5),
        "A separate strip of rubber" => End(&VULCANISED),
        "Cannot tell" => Open,
    }
    "Where the wall meets the upper, what is there?" {
        "A line of cement, or a gap" => End(&CUPSOLE),
        "No joint, and a mould line on the wall" => End(&INJECTED),
        "Cannot tell" => Open,
    }
    // 6 to 12: nothing on top of the edge.
    "Underneath: what is in the sole?" {
        "A seam, or a channel that hides one" => Ask(8),
        "Rows of metal or wooden pins" => End(&NAILED),
        "Neither" => Ask(7),
        "Cannot tell" => Ask(7),
    }
    "Underneath: is there a closed channel, a half sole or a guard that would hide a seam?" {
        "Yes" => Ask(8),
        BARE => Ask(10),
        "Cannot tell" => Ask(8),
    }
    // 8 and 9: there is a seam, or there may be one.
    "Inside, under the sock lining: what is under the foot?" {
        "A firm insole with stitches in it" => End(&BLAKE),
        "A soft lining, like a tube" => End(&BOLOGNA),
        "A cloth sole, sewn to the upper's edge" => End(&STROBEL),
        "No stitches to be seen" => Ask(9),
        "Cannot tell" => Ask(9),
    }
    "How does the upper go under the foot?" {
        "It wraps round, with a plug sewn in on top" => End(&MOCCASIN),
        "The sole is thin and its edge does not stand out" => End(&TURNED),
        "It ends at the sole" => Open,
        "Cannot tell" => Open,
    }
    // 10 to 12: the same, of a bare sole without a seam.
    "Inside, under the sock lining: what is under the foot?" {
        "A firm insole with stitches in it" => End(&BLAKE),
        "A soft lining, like a tube" => End(&BOLOGNA),
        "A cloth sole, sewn to the upper's edge" => End(&STROBEL),
        "No stitches to be seen" => Ask(11),
        "Cannot tell" => Ask(11),
    }
    "How does the upper go under the foot?" {
        "It wraps round, with a plug sewn in on top" => End(&MOCCASIN),
        "The sole is thin and its edge does not stand out" => End(&TURNED),
        "It ends at the sole" => Ask(12),
        "Cannot tell" => Ask(12),
    }
    "Where sole and upper meet, what is there?" {
        "A line of cement" => End(&CEMENTED),
        "A sole formed on, with a mould line" => End(&INJECTED),
        "Cannot tell" => Open,
    }
}

#[cfg(test)]
mod tests;
