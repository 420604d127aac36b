//! The construction key: a few questions about what can be seen from outside, which end in a guess.
//!
//! Common practice, no source. Until a shoe is opened every construction is a guess: a stitch on the welt may hold
//! nothing, a welt may be glued on. So every guess names the signs for and against it, and what cannot be known before
//! opening.

use super::construction::Construction;

/// One question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyQuestion {
    /// What to look at, as a question.
    pub ask: &'static str,
    /// The possible answers; "cannot tell" is always one of them.
    pub answers: &'static [KeyAnswer],
}

/// One answer to a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyAnswer {
    /// The answer, as it is shown.
    pub say: &'static str,
    /// What follows from it.
    pub then: Then,
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
    /// The signs for it.
    pub speaks_for: &'static str,
    /// The signs against it.
    pub speaks_against: &'static str,
    /// How the sole can be replaced.
    pub resole: &'static str,
    /// What cannot be told before opening.
    pub before_opening: &'static str,
}

macro_rules! guesses {
    ($($name:ident $construction:ident for $for:literal against $against:literal resole $resole:literal before $before:literal;)+) => {
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
        for "A welt with an even seam all round, and no stitches inside."
        against "The welt ends at the heel without a join, or its stitches do not come out underneath."
        resole "A new outsole is stitched to the welt, which stays while it is sound."
        before "Whether the rib is glued on and still holds, and what became of the cork.";
    HAND_WELTED HandWelted
        for "A welt whose seam to the upper is wide and slanting, close at the waist; no stitches inside."
        against "Stitches as even as a machine's."
        resole "A new outsole is stitched to the welt by hand or machine; the welt can be renewed on its holdfast."
        before "Whether there is a holdfast in the insole or a rib that was glued on.";
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
        against "A firm insole under the sock."
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
    MOULDED Moulded
        for "Sole and edge are one piece that was formed on the upper, with a mould line."
        against "A line of cement between sole and upper."
        resole "Cemented or patched only, if cement holds on it at all."
        before "Whether the sole is sound inside or about to crumble.";
    CEMENTED Cemented
        for "No stitches inside or underneath, and a line of cement where the sole meets the upper."
        against "A seam that comes out underneath."
        resole "A new sole cemented on; stitched through if the insole allows it."
        before "Whether the stitches on the edge, if there are any, hold anything.";
}

use Then::{Ask, Guess as End, Open};

macro_rules! questions {
    ($($ask:literal { $($say:literal => $then:expr),+ $(,)? })+) => {
        /// The questions of the key, in order: an answer only leads to a later question.
        pub const QUESTIONS: &[KeyQuestion] = &[$(KeyQuestion {
            ask: $ask,
            answers: &[$(KeyAnswer { say: $say, then: $then }),+],
        }),+];
    };
}

questions! {
    "What shows on top of the sole's edge, outside along the upper?" {
        "A strip with a seam" => Ask(1),
        "Two seams, one into the upper's side" => End(&NORWEGIAN),
        "The upper itself, turned out and stitched" => End(&STITCHDOWN),
        "No seam" => Ask(3),
        "Cannot tell" => Ask(3),
    }
    "Inside, under the sock: is there a row of stitches?" {
        "Yes" => End(&BLAKE_RAPID),
        "No" => Ask(2),
        "Cannot tell" => Ask(2),
    }
    "The seam on the strip: does it come out underneath, and how even is it?" {
        "Underneath, and even" => End(&MACHINE_WELTED),
        "Underneath, wide and slanting at the upper" => End(&HAND_WELTED),
        "It does not come out underneath" => End(&CEMENTED),
        "Cannot tell" => Open,
    }
    "Underneath: what is in the sole?" {
        "A seam, or a channel that hides one" => Ask(4),
        "Rows of metal or wooden pins" => End(&NAILED),
        "Neither" => Ask(5),
        "Cannot tell" => Ask(5),
    }
    "Inside: what is under the foot?" {
        "A firm insole with stitches in it" => End(&BLAKE),
        "A soft lining, like a tube" => End(&BOLOGNA),
        "No stitches to be seen" => End(&CEMENTED),
        "Cannot tell" => Open,
    }
    "How does the upper go under the foot?" {
        "It wraps round, with a plug sewn in on top" => End(&MOCCASIN),
        "The sole is thin and its edge does not stand out" => End(&TURNED),
        "It ends at the sole" => Ask(6),
        "Cannot tell" => Ask(6),
    }
    "Where sole and upper meet, what is there?" {
        "A line of cement" => End(&CEMENTED),
        "A sole formed on, with a mould line" => End(&MOULDED),
        "Cannot tell" => Open,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Because an answer only leads forward, every path ends, after four questions at most.
    #[test]
    fn every_way_ends_soon() {
        fn longest(question: usize) -> usize {
            let onwards = QUESTIONS[question]
                .answers
                .iter()
                .map(|answer| match answer.then {
                    Ask(next) => {
                        assert!(next > question, "{}", answer.say);
                        longest(next)
                    }
                    End(_) | Open => 0,
                });
            1 + onwards.max().unwrap()
        }
        assert!(longest(0) <= 4);
    }

    #[test]
    fn every_construction_is_an_end_and_every_end_is_reached() {
        let reached: Vec<_> = QUESTIONS
            .iter()
            .flat_map(|question| question.answers)
            .filter_map(|answer| match answer.then {
                End(guess) => Some(&guess.construction),
                Ask(_) | Open => None,
            })
            .collect();
        for construction in Construction::KNOWN {
            assert!(reached.contains(&construction), "{construction}");
            assert_eq!(
                GUESSES
                    .iter()
                    .filter(|one| one.construction == *construction)
                    .count(),
                1,
                "{construction}"
            );
        }
    }

    #[test]
    fn every_question_can_be_left_open_and_every_guess_is_one() {
        let asked: Vec<_> = QUESTIONS.iter().flat_map(|question| question.answers).collect();
        for (at, question) in QUESTIONS.iter().enumerate().skip(1) {
            assert!(
                asked.iter().any(|answer| answer.then == Ask(at)),
                "{}",
                question.ask
            );
        }
        for question in QUESTIONS {
            assert!(question.ask.ends_with('?'));
            assert_eq!(
                question.answers.last().map(|answer| answer.say),
                Some("Cannot tell"),
                "{}",
                question.ask
            );
        }
        for guess in GUESSES {
            for text in [
                guess.speaks_for,
                guess.speaks_against,
                guess.resole,
                guess.before_opening,
            ] {
                assert!(text.ends_with('.') && text.len() <= 110, "{text}");
            }
        }
    }
}
