//! The pairs, and the repairs they are brought for.

use shared::trade::{Component, Condition, Construction, Goods};

use crate::dice::Dice;
use crate::truth::{
    CHOICE, CONSTRUCTIONS, GOODS, MENDING, NEEDED, REPAIRS, Rates, Repair, WRONG_GUESS, hiding, repair,
};

/// A pair, through all its stays.
pub(crate) struct Pair {
    pub(crate) goods: Goods,
    pub(crate) construction: Construction,
    pub(crate) guessed: Construction,
    /// The parts on it that wear: the repair that put each on, and the day on which it is worn.
    pub(crate) wearing: Vec<(&'static str, f64)>,
}

/// Hidden damage that is found.
#[derive(Clone)]
pub(crate) struct Find {
    pub(crate) part: Component,
    pub(crate) condition: Condition,
    pub(crate) remedy: &'static str,
    /// Whether it must be repaired at no charge; otherwise the customer pays.
    pub(crate) needed: bool,
}

/// One piece of work on a stay, in order.
pub(crate) struct Phase {
    pub(crate) code: &'static str,
    pub(crate) minutes: f64,
    /// The wait after it, minutes.
    pub(crate) wait: u32,
    /// Whether it is the last phase of its operation, which is noted as a step.
    pub(crate) last: bool,
    /// The damage found at its end.
    pub(crate) finds: Vec<Find>,
    /// Whether a gift by choice is agreed at its start.
    pub(crate) gift: bool,
}

impl Phase {
    fn whole(code: &'static str, minutes: f64) -> Self {
        Self {
            code,
            minutes,
            wait: 0,
            last: true,
            finds: Vec::new(),
            gift: false,
        }
    }
}

/// One pair's stay in the shop. Times are minutes since the shop opened.
pub(crate) struct Stay {
    pub(crate) pair: usize,
    pub(crate) brought: f64,
    pub(crate) asked: Vec<&'static str>,
    pub(crate) phases: Vec<Phase>,
    /// The real minutes of each repair asked for, including needed work that is not paid for.
    pub(crate) takes: Vec<f64>,
}

pub(crate) fn new_pair(dice: &mut Dice) -> Pair {
    let construction = dice.pick(&CONSTRUCTIONS).clone();
    let other = |(one, _): &&(Construction, f64)| *one != construction;
    let others: Vec<_> = CONSTRUCTIONS
        .iter()
        .filter(other)
        .map(|(one, _)| (one.clone(), 1.0))
        .collect();
    let wrong = dice.chance(WRONG_GUESS);
    let guessed = if wrong {
        dice.pick(&others).clone()
    } else {
        construction.clone()
    };
    Pair {
        goods: dice.pick(&GOODS).clone(),
        construction,
        guessed,
        wearing: Vec::new(),
    }
}

/// What a pair is brought for if no part has worn out: the first time anything, later only repairs that put nothing on.
pub(crate) fn wish(pair: &Pair, first: bool, dice: &mut Dice) -> &'static str {
    let can = |one: &&Repair| one.on.is_empty() || one.on.contains(&pair.construction);
    let small = |one: &&Repair| first || one.life.is_none();
    let all: Vec<_> = REPAIRS
        .iter()
        .filter(can)
        .filter(small)
        .map(|one| (one.code, one.asked))
        .collect();
    dice.pick::<&str>(&all)
}

/// Plans a stay: its phases, with the damage that will be found.
pub(crate) fn plan(
    at: usize,
    pair: &Pair,
    brought: f64,
    asked: Vec<&'static str>,
    rates: &Rates,
    dice: &mut Dice,
) -> Stay {
    let mut stay = Stay {
        pair: at,
        brought,
        asked,
        phases: Vec::new(),
        takes: Vec::new(),
    };
    let mut seen: Vec<Component> = Vec::new();
    for code in stay.asked.clone() {
        let mut finds = Vec::new();
        for (part, condition, remedy) in hiding(code, &pair.goods) {
            // Each part is seen once, by the first repair that opens it.
            if seen.contains(part) {
                continue;
            }
            seen.push(part.clone());
            if dice.chance(rates.of(&pair.construction, part)) {
                let needed = dice.chance(NEEDED);
                finds.push(Find {
                    part: part.clone(),
                    condition: condition.clone(),
                    remedy,
                    needed,
                });
            }
        }
        repair_phases(&mut stay, code, finds, dice);
    }
    if dice.chance(CHOICE) {
        let gift = Phase::whole("colour_touch_up", dice.lognormal(12.0, 0.3));
        stay.phases.push(Phase { gift: true, ..gift });
    }
    stay
}

fn repair_phases(stay: &mut Stay, code: &'static str, mut finds: Vec<Find>, dice: &mut Dice) {
    let kind = repair(code);
    let minutes = dice.lognormal(kind.minutes, kind.sigma);
    let mut takes = minutes;
    let mut main = minutes;
    let mending: Vec<_> = finds.iter().map(|find| (find.remedy, find.needed)).collect();
    if code.starts_with("resole") {
        let off = dice.lognormal(14.0, 0.2).min(minutes / 2.0);
        main -= off;
        let finds = std::mem::take(&mut finds);
        stay.phases.push(Phase {
            finds,
            ..Phase::whole("sole_off", off)
        });
    }
    if kind.before > 0.0 {
        let finds = std::mem::take(&mut finds);
        let first = Phase {
            last: false,
            wait: kind.wait,
            finds,
            ..Phase::whole(code, main * kind.before)
        };
        stay.phases.push(first);
    }
    for (remedy, needed) in mending {
        let minutes = dice.lognormal(MENDING.0, MENDING.1);
        takes += if needed { minutes } else { 0.0 };
        stay.phases.push(Phase::whole(remedy, minutes));
    }
    stay.phases.push(Phase {
        finds,
        ..Phase::whole(code, main * (1.0 - kind.before))
    });
    stay.takes.push(takes);
}
