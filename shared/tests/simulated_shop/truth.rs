//! The true parameters of the simulated shop: no record contains them, and estimates from the records should find them.

use shared::price::minor::Minor;
use std::collections::BTreeMap;

use shared::trade::{Component, Condition, Construction, Goods, exposes};

use crate::dice::Dice;

/// A repair. Its real minutes are lognormal, given by the median and by the standard deviation of their logarithm.
pub(crate) struct Repair {
    pub(crate) code: &'static str,
    pub(crate) minutes: f64,
    pub(crate) sigma: f64,
    /// The share of the work before its wait.
    pub(crate) before: f64,
    /// The wait, minutes.
    pub(crate) wait: u32,
    /// How often it is asked for, relative to other repairs, on shoes it can be done to.
    pub(crate) asked: f64,
    /// The life of the part that it fits as a Weibull distribution: scale in days, and shape. `None` if it fits no part
    /// that wears.
    pub(crate) life: Option<(f64, f64)>,
    /// The cost of material for a pair, in minor units.
    pub(crate) material: i64,
    /// The constructions it is done to; empty for all.
    pub(crate) on: &'static [Construction],
}

use Construction::{Blake, BlakeRapid, Cemented, HandWelted, MachineWelted, Stitchdown};

/// What customers ask for. The minutes are not the trade's norms: some are under them, most are over.
#[rustfmt::skip]
pub(crate) const REPAIRS: &[Repair] = &[
    Repair { code: "top_piece_replacement", minutes: 18.0, sigma: 0.25, before: 0.4, wait: 12, asked: 30.0, life: Some((260.0, 2.5)), material: 300, on: &[] },
    Repair { code: "half_sole", minutes: 41.0, sigma: 0.28, before: 0.5, wait: 12, asked: 20.0, life: Some((420.0, 2.8)), material: 600, on: &[] },
    Repair { code: "sole_guard", minutes: 28.0, sigma: 0.22, before: 0.5, wait: 12, asked: 8.0, life: Some((380.0, 2.2)), material: 400, on: &[] },
    Repair { code: "resole_cemented", minutes: 82.0, sigma: 0.25, before: 0.4, wait: 15, asked: 12.0, life: Some((600.0, 3.0)), material: 1_400, on: &[Cemented] },
    Repair { code: "resole_blake", minutes: 98.0, sigma: 0.25, before: 0.3, wait: 180, asked: 12.0, life: Some((650.0, 3.0)), material: 1_800, on: &[Blake, BlakeRapid] },
    Repair { code: "resole_welted", minutes: 140.0, sigma: 0.22, before: 0.3, wait: 180, asked: 12.0, life: Some((700.0, 3.0)), material: 2_200, on: &[MachineWelted, HandWelted, Stitchdown] },
    Repair { code: "heel_block_rebuild", minutes: 64.0, sigma: 0.3, before: 0.5, wait: 15, asked: 6.0, life: None, material: 700, on: &[] },
    Repair { code: "restitch_upper", minutes: 24.0, sigma: 0.3, before: 0.0, wait: 0, asked: 6.0, life: None, material: 50, on: &[] },
    Repair { code: "stretch", minutes: 12.0, sigma: 0.2, before: 0.4, wait: 1_440, asked: 5.0, life: None, material: 0, on: &[] },
    Repair { code: "clean_condition_polish", minutes: 26.0, sigma: 0.25, before: 0.6, wait: 20, asked: 10.0, life: None, material: 100, on: &[] },
];

pub(crate) fn repair(code: &str) -> &'static Repair {
    REPAIRS
        .iter()
        .find(|one| one.code == code)
        .expect("a repair of the list")
}

/// How often pairs of each construction come, by weight.
pub(crate) const CONSTRUCTIONS: [(Construction, f64); 6] = [
    (Cemented, 34.0),
    (MachineWelted, 24.0),
    (Blake, 16.0),
    (BlakeRapid, 8.0),
    (HandWelted, 8.0),
    (Stitchdown, 10.0),
];

/// How often goods of each kind come, by weight.
pub(crate) const GOODS: [(Goods, f64); 2] = [(Goods::LowShoe, 65.0), (Goods::Boot, 35.0)];

/// One guess in twelve at the counter is wrong: it is then any other construction.
pub(crate) const WRONG_GUESS: f64 = 1.0 / 12.0;
/// The share of hidden damage that must be repaired at no charge; the customer pays for the rest.
pub(crate) const NEEDED: f64 = 0.7;
/// The share of jobs on which the repairer touches something up by choice.
pub(crate) const CHOICE: f64 = 0.08;
/// The minutes of a repair of hidden damage: the median, and the standard deviation of the logarithm.
pub(crate) const MENDING: (f64, f64) = (24.0, 0.3);
/// The least and the most minutes of the final check.
pub(crate) const CHECK: (f64, f64) = (2.0, 5.0);
/// What an hour should earn, in minor units.
pub(crate) const TARGET: Minor = Minor(3_000);

/// The rates of hidden damage, by construction and part: each drawn once from Beta(2, 11).
pub(crate) struct Rates(BTreeMap<(Construction, Component), f64>);

impl Rates {
    pub(crate) fn drawn(dice: &mut Dice) -> Self {
        let mut all = BTreeMap::new();
        for (construction, _) in CONSTRUCTIONS {
            for (part, ..) in &HIDING {
                all.insert((construction.clone(), part.clone()), dice.beta(2, 11));
            }
        }
        Self(all)
    }

    /// How often a part of a construction is damaged when it is opened.
    pub(crate) fn of(&self, construction: &Construction, part: &Component) -> f64 {
        self.0[&(construction.clone(), part.clone())]
    }

    /// How often needed damage of a part is found by a repair on what was guessed to be a construction: over what it may
    /// really be.
    pub(crate) fn needed(&self, code: &str, guessed: &Construction, part: &Component) -> f64 {
        let on = repair(code).on;
        let (mut mass, mut sum) = (0.0, 0.0);
        for (really, share) in CONSTRUCTIONS {
            if !on.is_empty() && !on.contains(&really) {
                continue;
            }
            let guess = if really == *guessed {
                1.0 - WRONG_GUESS
            } else {
                WRONG_GUESS / (CONSTRUCTIONS.len() - 1) as f64
            };
            mass += share * guess;
            sum += share * guess * self.of(&really, part) * NEEDED;
        }
        sum / mass
    }
}

/// The parts with hidden damage, its condition, and the operation that repairs it. None of these operations is asked
/// for by itself.
static HIDING: [(Component, Condition, &str); 9] = [
    (Component::Insole, Condition::Cracked, "insole_repair"),
    (Component::Rib, Condition::Torn, "rib_repair"),
    (Component::Filler, Condition::WetSoft, "filler_replacement"),
    (Component::Shank, Condition::Broken, "shank_replacement"),
    (Component::Welt, Condition::Cracked, "welt_piece"),
    (Component::Midsole, Condition::Crumbling, "midsole_replacement"),
    (Component::LastingMargin, Condition::Torn, "upper_patch"),
    (Component::HeelBase, Condition::Loose, "heel_refix"),
    (Component::Lift, Condition::Loose, "cement_lifts"),
];

/// The hidden damage that a repair may find.
pub(crate) fn hiding(
    code: &str,
    goods: &Goods,
) -> impl Iterator<Item = &'static (Component, Condition, &'static str)> {
    let parts = exposes(code, goods);
    HIDING.iter().filter(|(part, ..)| parts.contains(part))
}
