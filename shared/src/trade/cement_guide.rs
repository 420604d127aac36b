//! The cement guide: how a sole or patch is glued to an upper or midsole, by the material of each.
//!
//! Each material has a row with its preparation and the cements that take on it, in `rows`; of the cements that take on
//! both sides, the one that a side asks for is chosen. The kinds of cement and their times are in `kinds`, what a shop
//! says otherwise in `own`, the steps in words in `steps`.
//!
//! Common practice, no source, except [`TRIM_AFTER_MIN`] and [`FULL_STRENGTH_H`]. The sheet of the tin comes first, and
//! every answer says so. Where a side is not known, the answer says what to find out and names no cement as the right
//! one.

mod kinds;
mod own;
mod rows;
mod steps;

use super::cautions::Caution;
use super::component::Component;
use super::hazards::{DISSOLVES, DUST, HEAT, Hazard, PRIMERS, SWELLS, primer_of};
use super::material::Material;
use super::operations::{Operation, Station, operation};
use super::waits::{Minutes, WaitKind};
use rows::{SideRow, row};

pub use kinds::{CLAMP_H, CementKind, FILM_C, HEXANE_MG_M3, HEXANE_PPM, PRESS_S, Press, TOLUENE_PERCENT};
pub use own::{MOST_COATS, MOST_MINUTES, OwnCement, OwnCements, OwnWay, cement_field, cement_way_field};
pub use steps::GuideStep;

/// Minutes after joining before a joint is sanded or trimmed; overnight is better. A shoemaking handbook wiki and a
/// trade association's class on bonding, both secondary.
pub const TRIM_AFTER_MIN: u32 = 45;
/// Hours after joining until a joint has its full strength: from, to. The same two, both secondary.
pub const FULL_STRENGTH_H: (u32, u32) = (24, 48);

/// The kinds of cement, those that fewer materials ask for first: what a special material asks for goes before what is
/// usual.
const SPECIAL_FIRST: [CementKind; 5] = [
    CementKind::RubberSolution,
    CementKind::Polyurethane,
    CementKind::Neoprene,
    CementKind::WaterBased,
    CementKind::TwoPart,
];

/// How one side of a joint is made ready.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SideWay {
    /// Its material.
    pub material: Material,
    /// How its face is made ready.
    pub prepare: &'static str,
    /// What takes dust and grease off it.
    pub wipe: &'static str,
    /// The primer that it asks for.
    pub prime: Option<&'static str>,
    /// Its coats of cement.
    pub coats: u32,
}

/// How two sides are cemented together, once both are ready.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CementWay {
    /// The cement.
    pub cement: CementKind,
    /// What the shop calls its product of that kind.
    pub product: Option<String>,
    /// How long a coat dries before it is joined.
    pub wait: Minutes,
    /// How long it can be joined after that.
    pub open: Minutes,
    /// How it is pressed.
    pub press: Press,
    /// Minutes after joining before it is sanded or trimmed.
    pub trim_after_min: u32,
    /// Hours after joining until it has its full strength: from, to.
    pub full_strength_h: (u32, u32),
    /// The sides on which this cement does not usually take; not empty only for a way of the shop's own.
    pub against: Vec<Material>,
}

/// How far an answer can be relied on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CementVerdict {
    /// Both sides are known, and the cement takes on both.
    Sure,
    /// Something is to be found out or tried first.
    AskFirst,
    /// No usual cement takes on both sides.
    NotAdvised,
}

/// What is to be found out first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FindOut {
    /// What is glued on.
    GluedOn,
    /// What it is glued to.
    GluedTo,
    /// What takes on a material that the guide does not have.
    Unlisted(Material),
    /// Whether a foam is PU or EVA.
    PuOrEva,
}

/// The guide's answer for a pair of materials.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CementAnswer {
    /// What is known of the sides, what is glued on first. One, if both are of one material.
    pub sides: Vec<SideWay>,
    /// How they are cemented; `None` if that is not known, or not advised.
    pub way: Option<CementWay>,
    /// The cements that take on all known sides, the likeliest first; without that of `way`.
    pub others: Vec<CementKind>,
    /// What is to be found out first.
    pub find_out: Vec<FindOut>,
    /// The shop's primer, in place of those of the sides.
    pub own_prime: Option<String>,
    /// The shop's note.
    pub note: Option<String>,
    /// The cautions, the most important first.
    pub cautions: Vec<Caution>,
    /// The hazards, the most important first.
    pub hazards: Vec<&'static Hazard>,
}

/// How a sole or patch of a material is glued to an upper or midsole of another; `None` for a side that is not known.
/// What the shop says in `own` comes before the guide.
pub fn cement_way(sole: Option<&Material>, upper: Option<&Material>, own: &OwnCements) -> CementAnswer {
    let given = [sole, upper];
    let known = given.into_iter().flatten();
    let known: Vec<(&Material, SideRow)> = known.filter_map(|one| Some((one, row(one)?))).collect();
    let rows: Vec<SideRow> = known.iter().map(|(_, row)| *row).collect();
    let own_way = sole.zip(upper).and_then(|(sole, upper)| own.way(sole, upper));
    let find_out = find_out(sole, upper);
    let mut others = taking(&rows);
    let guides = others.first().copied().filter(|_| find_out.is_empty());
    let chosen = own_way.and_then(|way| way.kind).or(guides);
    others.retain(|kind| Some(*kind) != chosen);
    let way = chosen.map(|cement| joined(cement, &known, own));
    let coats = chosen.and_then(|cement| own.product(cement)?.coats);
    let mut sides: Vec<SideWay> = known.iter().map(|(one, row)| side(one, row, coats)).collect();
    sides.dedup();
    let kinds = chosen.map_or_else(|| others.clone(), |cement| vec![cement]);
    let own_prime = own_way.and_then(|way| way.prime.clone());
    // Nobody said what the shop's own primer is.
    let primers: Vec<&'static Hazard> = if own_prime.is_some() {
        PRIMERS.to_vec()
    } else {
        known.iter().filter_map(|(one, _)| primer_of(one)).collect()
    };
    CementAnswer {
        sides,
        way,
        find_out,
        own_prime,
        note: own_way.and_then(|way| way.note.clone()),
        cautions: cautions(&kinds, !primers.is_empty()),
        hazards: hazards(&kinds, &primers, &rows),
        others,
    }
}

/// The minutes that cement dries before it is joined, and those in which it can be joined after that: the shop's own,
/// or else the usual ones. `None` if the answer names no cement.
pub fn drying(answer: &CementAnswer) -> Option<(Minutes, Minutes)> {
    let way = answer.way.as_ref()?;
    Some((way.wait, way.open))
}

/// The minutes that a kind of cement dries before it is joined, and those in which it can be joined after that: those of
/// the shop's own product, or else the usual ones.
pub fn times_of(kind: CementKind, own: &OwnCements) -> (Minutes, Minutes) {
    let product = own.product(kind);
    let exactly = |minutes: u32| Minutes::of(minutes, minutes);
    let wait = product.and_then(|own| own.wait_min);
    let open = product.and_then(|own| own.open_min);
    (
        wait.map_or(kind.wait(), exactly),
        open.map_or(kind.open(), exactly),
    )
}

/// The minutes from the last coat to when it can be joined first and last, from the two of [`drying`]: as
/// [`usual`](crate::trade::formulas::ready::DryingKind::usual) gives them.
pub const fn join_window(wait: Minutes, open: Minutes) -> Minutes {
    Minutes::of(wait.low, wait.low + open.high)
}

/// Whether an operation uses cement that the guide is about.
pub fn uses_cement(code: &str) -> bool {
    let dries = [WaitKind::CementTouchDry, WaitKind::CementFullBond];
    operation(code).is_some_and(|known| known.waits.iter().any(|wait| dries.contains(&wait.kind)))
}

/// What an operation on a pair of these materials probably glues on, and to what: a first choice for a person to check.
/// `None` for a side that cannot be told.
pub fn likely_sides(code: &str, materials: &[Material]) -> (Option<Material>, Option<Material>) {
    let first = |of_sole: bool| materials.iter().find(|one| one.of_sole() == of_sole).cloned();
    let (sole, upper) = (first(true), first(false));
    let Some(known) = operation(code) else {
        return (None, None);
    };
    match (code, outsole_layer(known)) {
        ("sole_guard", _) => (Some(Material::RubberSole), sole),
        (_, Some(0)) => (sole, upper),
        (_, Some(_)) => (sole.clone(), sole),
        (_, None) if known.station == Station::BuildHeel => (None, None),
        (_, None) => (None, upper),
    }
}

/// The layer of the outsole that an operation puts on or cements again; `None` if it is about other parts.
fn outsole_layer(known: &Operation) -> Option<u8> {
    let put_on = known.puts_on.iter().find(|fit| fit.part == Component::Outsole);
    let again = known.mends.contains(&Component::Outsole).then_some(0);
    put_on.map(|fit| fit.layer).or(again)
}

/// The materials to choose from for what is glued on: those of soles first, then those of patches.
pub fn glued_on_choices() -> Vec<Material> {
    choices(true)
}

/// The materials to choose from for what it is glued to: those of uppers first, then those of midsoles.
pub fn glued_to_choices() -> Vec<Material> {
    choices(false)
}

/// Every material that is offered, those of soles first or last.
fn choices(soles_first: bool) -> Vec<Material> {
    let mut all: Vec<Material> = Material::offered().cloned().collect();
    all.sort_by_key(|material| material.of_sole() != soles_first);
    all
}

/// The cements that take on all sides: what a side asks for first. Rubber solution is weak, and named only where a side
/// asks for it. Empty if no side is known.
fn taking(rows: &[SideRow]) -> Vec<CementKind> {
    let asked = |kind: &CementKind| rows.iter().any(|row| row.takes.first() == Some(kind));
    let all_take = |kind: &CementKind| !rows.is_empty() && rows.iter().all(|row| row.takes.contains(kind));
    let kinds = SPECIAL_FIRST.into_iter().filter(all_take);
    let mut kinds: Vec<CementKind> = kinds
        .filter(|kind| *kind != CementKind::RubberSolution || asked(kind))
        .collect();
    kinds.sort_by_key(|kind| !asked(kind));
    kinds
}

fn find_out(sole: Option<&Material>, upper: Option<&Material>) -> Vec<FindOut> {
    let sides = [(sole, FindOut::GluedOn), (upper, FindOut::GluedTo)];
    let mut all: Vec<FindOut> = sides
        .into_iter()
        .filter_map(|(side, missing)| match side {
            None => Some(missing),
            Some(material) => match row(material) {
                None => Some(FindOut::Unlisted(material.clone())),
                Some(row) => row.is_two.then_some(FindOut::PuOrEva),
            },
        })
        .collect();
    all.dedup();
    all
}

fn side(material: &Material, row: &SideRow, own_coats: Option<u32>) -> SideWay {
    SideWay {
        material: material.clone(),
        prepare: (row.prepare)(),
        wipe: (row.wipe)(),
        prime: row.prime.map(|said| said()),
        coats: own_coats.unwrap_or(row.coats),
    }
}

fn joined(cement: CementKind, known: &[(&Material, SideRow)], own: &OwnCements) -> CementWay {
    let (wait, open) = times_of(cement, own);
    let press = match cement {
        CementKind::TwoPart => Press::Clamp,
        _ if known.iter().any(|(_, row)| row.soft) => Press::Soft,
        _ => Press::Hammer,
    };
    let refuses = known.iter().filter(|(_, row)| !row.takes.contains(&cement));
    let mut against: Vec<Material> = refuses.map(|(material, _)| (*material).clone()).collect();
    against.dedup();
    CementWay {
        cement,
        product: own.product(cement).and_then(|own| own.product.clone()),
        wait,
        open,
        press,
        trim_after_min: TRIM_AFTER_MIN,
        full_strength_h: FULL_STRENGTH_H,
        against,
    }
}

/// Every face is roughed or sanded, so there is always dust; a cement that is not known counts as one with solvent.
fn cautions(kinds: &[CementKind], primed: bool) -> Vec<Caution> {
    let vapour = primed || kinds.is_empty() || kinds.iter().any(|kind| *kind != CementKind::WaterBased);
    let all = [
        vapour.then_some(Caution::Solvent),
        primed.then_some(Caution::Primer),
        Some(Caution::Dust),
    ];
    all.into_iter().flatten().collect()
}

fn hazards(kinds: &[CementKind], primers: &[&'static Hazard], rows: &[SideRow]) -> Vec<&'static Hazard> {
    let (warm, solvent) = (
        kinds.iter().any(|kind| kind.is_warmed()),
        kinds.is_empty() || kinds.iter().any(|kind| kind.has_solvent()),
    );
    let of_solvent = [&DISSOLVES, &SWELLS];
    let applies = |hazard: &&Hazard| (warm || **hazard != HEAT) && (solvent || !of_solvent.contains(hazard));
    let of_kinds = kinds.iter().flat_map(|kind| kind.hazards().iter().copied());
    let of_sides = rows.iter().flat_map(|row| row.hazards.iter().copied());
    let all = of_kinds
        .chain(primers.iter().copied())
        .chain(of_sides.filter(applies))
        .chain([&DUST]);
    let mut found: Vec<&'static Hazard> = Vec::new();
    for hazard in all {
        if !found.contains(&hazard) {
            found.push(hazard);
        }
    }
    found
}

#[cfg(test)]
mod tests;
