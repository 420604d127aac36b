//! The advice on the card: what the customer should do, and why, in simple words.
//!
//! Advice that depends on a material is given only where the material is known and takes it. What a published text says
//! is named beside its rule; all else is common practice, no source.

mod rules;

use super::component::Component;
use super::condition::Condition;
use super::construction::{Construction, SoleHeldBy};
use super::kinds::{Class, Goods};
use super::material::Material;
use super::operations::{SoleWork, operation};
use super::usage::in_usage;
use rules::RULES;

/// The greatest number of lines: more are not read.
pub const MOST_LINES: usize = 6;

/// One piece of advice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Advice {
    say: &'static str,
    because: &'static str,
}

impl Advice {
    /// What to do, as it is told to the customer.
    pub fn say(&self) -> &'static str {
        in_usage(self.say)
    }

    /// The reason, as it is told to the customer.
    pub fn because(&self) -> &'static str {
        in_usage(self.because)
    }

    /// By what it is remembered that a card leaves it out: the same in every language.
    pub fn key(&self) -> &'static str {
        self.say
    }

    /// Whether it only says how long to wait before the first wear, which a card states separately in hours.
    pub fn is_first_wait(&self) -> bool {
        let mut waits = RULES.iter().filter(|rule| rule.about == AdviceTopic::FirstWear);
        waits.any(|rule| rule.advice == *self)
    }
}

/// What is known of a job when its card is written; unknown facts are left out.
#[derive(Debug, Clone, Copy, Default)]
pub struct Facts<'a> {
    /// The kind of goods; if none is noted, the advice is for a shoe.
    pub goods: Option<&'a Goods>,
    /// The construction with which the shoe left.
    pub construction: Option<&'a Construction>,
    /// The materials.
    pub materials: &'a [Material],
    /// Damage that was found, at the counter and inside.
    pub damages: &'a [(Component, Condition)],
    /// The operations that were done.
    pub operations: &'a [&'a str],
}

/// The topic of a piece of advice: a card has one line for each topic.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum AdviceTopic {
    FirstWear,
    Safety,
    Height,
    ShoeHorn,
    Salt,
    Drying,
    NewSole,
    Heel,
    Seam,
    Care,
    Finish,
    Fastening,
    Fit,
    Water,
    Age,
    Sole,
    Waist,
    Inside,
    Trees,
    Rest,
    Keeping,
}

/// One condition of a rule.
enum Is {
    /// The first wear must wait this many hours.
    WornAfter(u32),
    /// One of these parts was damaged, in one of these ways; an empty list means any.
    Damaged(&'static [Component], &'static [Condition]),
    /// One of these operations was done.
    Done(&'static [&'static str]),
    /// Work of this kind was done on the sole.
    SoleDone(SoleWork),
    /// None of these operations was done.
    NotDone(&'static [&'static str]),
    /// No work of this kind was done on the sole.
    SoleNotDone(SoleWork),
    /// One of these materials is present.
    Of(&'static [Material]),
    /// None of these materials is present.
    NotOf(&'static [Material]),
    /// The construction is one of these.
    Built(&'static [Construction]),
    /// The sole is held in this way.
    SoleBy(SoleHeldBy),
    /// The goods are of one of these classes.
    On(&'static [Class]),
    /// The goods are of one of these kinds.
    Kind(&'static [Goods]),
    /// The goods are of none of these kinds.
    NotKind(&'static [Goods]),
}

/// A piece of advice with its topic, and the conditions that must all hold for it.
struct Rule {
    about: AdviceTopic,
    when: &'static [Is],
    advice: Advice,
}

impl Is {
    fn holds(&self, facts: &Facts<'_>) -> bool {
        let done = |codes: &[&str]| facts.operations.iter().any(|code| codes.contains(code));
        let known = || facts.operations.iter().filter_map(|code| operation(code));
        let sole_done = |work| known().any(|known| known.sole_work.contains(work));
        let of = |materials: &[Material]| facts.materials.iter().any(|one| materials.contains(one));
        let goods = facts.goods.unwrap_or(&Goods::LowShoe);
        match self {
            Is::WornAfter(hours) => known().map(|known| known.wear_after_h).max() == Some(*hours),
            Is::Damaged(parts, conditions) => facts.damages.iter().any(|(part, condition)| {
                (parts.is_empty() || parts.contains(part))
                    && (conditions.is_empty() || conditions.contains(condition))
            }),
            Is::Done(codes) => done(codes),
            Is::NotDone(codes) => !done(codes),
            Is::SoleDone(work) => sole_done(work),
            Is::SoleNotDone(work) => !sole_done(work),
            Is::Of(materials) => of(materials),
            Is::NotOf(materials) => !of(materials),
            Is::Built(known) => facts.construction.is_some_and(|one| known.contains(one)),
            Is::SoleBy(held) => facts.construction.and_then(Construction::sole_held_by) == Some(*held),
            // A kind that this version does not know may be anything: advice for shoes might not fit it.
            Is::On(classes) => goods.class().is_some_and(|class| classes.contains(&class)),
            Is::Kind(kinds) => kinds.contains(goods),
            Is::NotKind(kinds) => !kinds.contains(goods),
        }
    }
}

/// The advice for a job: at most [`MOST_LINES`] lines, the most specific first, one for each topic.
pub fn advice<'a>(facts: &'a Facts<'a>) -> impl Iterator<Item = &'static Advice> + 'a {
    let mut said = 0_u32;
    let fitting = RULES.iter().filter(move |rule| {
        let about = 1 << rule.about as u32;
        let fits = said & about == 0 && rule.when.iter().all(|is| is.holds(facts));
        if fits {
            said |= about;
        }
        fits
    });
    fitting.map(|rule| &rule.advice).take(MOST_LINES)
}

/// All advice that there is, for the tests of its words.
#[cfg(test)]
pub(super) fn all() -> impl Iterator<Item = &'static Advice> {
    RULES.iter().map(|rule| &rule.advice)
}

#[cfg(test)]
mod tests;
