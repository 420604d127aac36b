//! The years of the shop: who comes when, and the records of three of them.

use shared::price::minor::Minor;
use std::collections::BTreeMap;

use shared::log::SubjectId;
use shared::log::fold::JobState;
use shared::price::job_statistics::JobStatistics;
use shared::price::materials::Stock;
use shared::price::minutes::{Attended, attended_by_own};
use shared::price::records::{JobFacts, PairWait, WorkStamp, stamps, waits};

use crate::dice::Dice;
use crate::scribe::{Scribe, pair as told};
use crate::shop::{DAY, Real, Shop};
use crate::stays::{Pair, Stay, new_pair, plan, wish};
use crate::truth::{REPAIRS, Rates, repair};

/// The days of which records are kept, and all days.
pub(crate) const KEPT: usize = 3 * 365;
const ALL: usize = 4 * 365;
/// The number of new pairs in all years, of which 2,000 come in the days of which records are kept.
const NEW: usize = 2_495;
/// New pairs become fewer over the years: their share so far is the share of time so far to the power of one over this.
const RUSH: f64 = 1.3;
/// The mean number of days until a pair is brought for something small.
const SMALL: f64 = 420.0;
/// The days until a customer comes who has seen that a part is worn: the median, and the standard deviation of the
/// logarithm.
const LATE: (f64, f64) = (35.0, 0.8);
/// The share of customers who never come again.
const LOST: f64 = 0.2;

/// Four years, as they really were and as they were noted.
pub(crate) struct Years {
    pub(crate) rates: Rates,
    pub(crate) pairs: Vec<Pair>,
    pub(crate) stays: Vec<Stay>,
    pub(crate) scribe: Scribe,
    pub(crate) real: Real,
    /// Minutes really worked in the days of which records are kept, by operation.
    pub(crate) real_kept: BTreeMap<&'static str, f64>,
}

/// The records of three years.
pub(crate) struct Records {
    pub(crate) facts: Vec<JobFacts>,
    pub(crate) attended: Vec<Attended>,
    pub(crate) stamps: Vec<WorkStamp>,
    pub(crate) waits: Vec<PairWait>,
    /// The jobs of each pair.
    pub(crate) by_pair: BTreeMap<usize, Vec<JobFacts>>,
}

impl Years {
    pub(crate) fn lived(seed: u64) -> Self {
        let mut dice = Dice::new(seed);
        let rates = Rates::drawn(&mut dice);
        let mut pairs: Vec<Pair> = (0..NEW).map(|_| new_pair(&mut dice)).collect();
        let mut coming: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for at in 0..NEW {
            // More new pairs come at first; later, returning pairs make up for it.
            let day = (at as f64 / NEW as f64).powf(RUSH) * ALL as f64;
            coming.entry(working_day(day as usize)).or_default().push(at);
        }
        let (mut stays, mut scribe, mut shop_dice) =
            (Vec::new(), Scribe::default(), Dice::new(seed ^ 0x5109));
        let mut real_kept = BTreeMap::new();
        let mut shop = Shop::new(&mut shop_dice, &mut scribe);
        let mut first = vec![true; NEW];
        for day in 0..ALL {
            if day == KEPT {
                real_kept.clone_from(&shop.real.minutes);
            }
            let mut brought = Vec::new();
            for at in coming.remove(&day).unwrap_or_default() {
                let asked = asks(&pairs[at], std::mem::take(&mut first[at]), day as f64, &mut dice);
                brought.push(stays.len());
                stays.push(plan(at, &pairs[at], day as f64 * DAY, asked, &rates, &mut dice));
            }
            for stay in shop.day(day, &brought, &stays, &pairs) {
                let stay = &stays[stay];
                let pair = &mut pairs[stay.pair];
                wear(pair, &stay.asked, day as f64, &mut dice);
                if let Some(next) = comes_again(pair, day as f64, &mut dice) {
                    coming.entry(next).or_default().push(stay.pair);
                }
            }
        }
        let real = std::mem::take(&mut shop.real);
        Self {
            rates,
            pairs,
            stays,
            scribe,
            real,
            real_kept,
        }
    }

    /// The records of the first three years, as the app derives them.
    pub(crate) fn records(&self) -> Records {
        let folded: BTreeMap<SubjectId, JobState> = self.scribe.folded(KEPT as f64 * DAY);
        let mut records = Records {
            facts: Vec::new(),
            attended: Vec::new(),
            stamps: Vec::new(),
            waits: Vec::new(),
            by_pair: BTreeMap::new(),
        };
        for (at, stay) in self.stays.iter().enumerate() {
            let id = Scribe::id(at);
            let Some(state) = folded.get(&id) else { continue };
            let facts = JobFacts::of(id, state, None, &told(&self.pairs[stay.pair].goods));
            records.stamps.extend(stamps(id, state));
            records.waits.extend(waits(id, state));
            records.by_pair.entry(stay.pair).or_default().push(facts.clone());
            records.facts.push(facts);
        }
        records.attended = attended_by_own(&records.stamps, &records.waits);
        records
    }
}

impl Records {
    pub(crate) fn statistics(&self) -> JobStatistics {
        JobStatistics::of(&self.facts, &self.attended, &stock)
    }
}

/// The shop's list of materials.
pub(crate) fn stock(code: &str) -> Vec<Stock> {
    let known = REPAIRS.iter().find(|one| one.code == code);
    let one = |cost_minor| Stock {
        material: code.to_owned(),
        unit: "pair".to_owned(),
        cost_minor,
        quantity: 1.0,
        waste: 0.0,
        id: None,
    };
    known
        .map(|known| one(Minor(known.material)))
        .into_iter()
        .collect()
}

/// The next day on which the shop is open: a customer of a Sunday comes on Monday.
fn working_day(day: usize) -> usize {
    if day % 7 == 6 { day + 1 } else { day }
}

fn asks(pair: &Pair, first: bool, day: f64, dice: &mut Dice) -> Vec<&'static str> {
    let mut asked: Vec<&'static str> = pair
        .wearing
        .iter()
        .filter(|(_, worn)| *worn <= day)
        .map(|(code, _)| *code)
        .collect();
    if asked.is_empty() {
        asked.push(wish(pair, first, dice));
    }
    // Sometimes a second repair, one that puts nothing on.
    if dice.chance(0.2) {
        let more = wish(pair, false, dice);
        if !asked.contains(&more) {
            asked.push(more);
        }
    }
    asked
}

/// Puts on the parts of the repairs that were asked for.
fn wear(pair: &mut Pair, asked: &[&'static str], day: f64, dice: &mut Dice) {
    for code in asked {
        if let Some(life) = repair(code).life {
            pair.wearing.retain(|(one, _)| one != code);
            pair.wearing.push((code, day + dice.weibull(life)));
        }
    }
}

/// The day on which a pair comes again: for something small, or because the customer has seen that a part is worn.
fn comes_again(pair: &Pair, day: f64, dice: &mut Dice) -> Option<usize> {
    if dice.chance(LOST) {
        return None;
    }
    let small = day + 7.0 + dice.exponential(SMALL);
    let worn = pair
        .wearing
        .iter()
        .map(|(_, worn)| *worn)
        .fold(f64::INFINITY, f64::min);
    let seen = worn.max(day) + dice.lognormal(LATE.0, LATE.1);
    let next = small.min(seen);
    (next < ALL as f64 - 7.0).then(|| working_day(next.ceil() as usize))
}
