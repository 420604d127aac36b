//! The final check before a pair is handed over: the usual list, and the time from which the pair may be worn.
//!
//! Common practice, no source, except for certified footwear: the information for users of ISO 20345, read in secondary
//! texts. A shop keeps its own list; its own lines always apply, and the usual lines that certified and prescribed
//! footwear asks for are added to it where they are missing.

mod lines;
mod own_list;

use super::came_with::CameWith;
use super::cautions::Caution;
use super::dangers::cautions;
use super::kinds::{Class, Goods};
use super::operations::operation;
use super::waits::WaitKind;

pub use lines::{line_of, shown};
pub use own_list::list_for;

/// The goods to be handed over.
#[derive(Debug, Clone, Copy, Default)]
pub struct Leaving<'a> {
    /// The kind of goods; if it is unknown, they count as a shoe.
    pub goods: Option<&'a Goods>,
    /// The operations that were done.
    pub operations: &'a [&'a str],
    /// What came with it.
    pub came_with: &'a [CameWith],
    /// Whether old parts were kept because the customer wants them back.
    pub parts_kept: bool,
}

/// The condition under which a line of the list applies.
enum Applies {
    Always,
    ToShoes,
    /// To shoes other than these, and to these if one of the things came with them.
    ToShoesBut(&'static [Goods], &'static [CameWith]),
    ToKind(&'static [Goods]),
    ToLevelled,
    ToPrescribed,
    ToNailed,
    ToCemented,
    ToWaiting,
    AfterAny(&'static [&'static str]),
    IfCameWith(CameWith),
    IfPartsKept,
}

/// The operation whose height is prescribed.
const RAISE: &str = "raise_to_prescription";

/// The usual list, in the order in which it is checked by hand: inside, underneath, all round, accessories, papers. A
/// line is never reworded: a shop's own list holds it as it was, and [`shown`] says in which words it is read.
const USUAL: &[(&str, Applies)] = &[
    ("Felt inside by hand, left: no points", Applies::ToShoes),
    ("Felt inside by hand, right: no points", Applies::ToShoes),
    ("No point through the top pieces", Applies::ToNailed),
    ("Heels level", Applies::ToLevelled),
    ("Heights as prescribed, not levelled", Applies::ToPrescribed),
    ("No cement smears", Applies::ToCemented),
    (
        "Dry inside and out",
        Applies::AfterAny(&["wet_clean", "desalting", "suede_clean", "mould_treatment"]),
    ),
    (
        "Aired: no smell of spray",
        Applies::AfterAny(&["water_repellent", "mould_treatment", "odour_treatment"]),
    ),
    (
        "Zip runs, buckle closes",
        Applies::AfterAny(&["zip_replacement", "buckle_replacement", "new_hole"]),
    ),
    (
        "Laces, inserts and socks back",
        Applies::ToShoesBut(
            &[Goods::Sandal, Goods::Clog],
            &[CameWith::Laces, CameWith::Inserts],
        ),
    ),
    (
        "Insoles as the maker supplies or names them",
        Applies::ToKind(&[Goods::SafetyBoot]),
    ),
    ("Shoe trees with it", Applies::IfCameWith(CameWith::Trees)),
    ("Its bag with it", Applies::IfCameWith(CameWith::Bag)),
    ("Its box with it", Applies::IfCameWith(CameWith::Carton)),
    (
        "Everything else that came with it",
        Applies::IfCameWith(CameWith::SomethingElse),
    ),
    ("Old parts for the customer with it", Applies::IfPartsKept),
    // The tags tell pairs apart as long as they hang.
    ("Left and right are of one pair", Applies::ToShoes),
    ("Tags off", Applies::Always),
    (
        "Owner told: certification may have ended",
        Applies::ToKind(&[Goods::SafetyBoot]),
    ),
    (
        "Hours since cementing counted, first wear told",
        Applies::ToWaiting,
    ),
];

impl Applies {
    /// Whether it is about a kind of goods whose wearer depends on it.
    const fn is_of_goods(&self) -> bool {
        matches!(self, Applies::ToKind(_) | Applies::ToPrescribed)
    }

    fn to(&self, leaving: &Leaving<'_>) -> bool {
        let known = || leaving.operations.iter().filter_map(|code| operation(code));
        let goods = leaving.goods.unwrap_or(&Goods::LowShoe);
        let is_shoe = goods.is_any_of(Class::FOOTWEAR);
        let is_prescribed = *goods == Goods::Orthopaedic || leaving.operations.contains(&RAISE);
        match self {
            Applies::Always => true,
            Applies::ToShoes => is_shoe,
            Applies::ToShoesBut(others, things) => {
                let came_with = || leaving.came_with.iter().any(|thing| things.contains(thing));
                is_shoe && (!others.contains(goods) || came_with())
            }
            Applies::ToKind(kinds) => kinds.contains(goods),
            // A climbing shoe has no heels, and prescribed heights may differ.
            Applies::ToLevelled => is_shoe && !is_prescribed && *goods != Goods::ClimbingShoe,
            Applies::ToPrescribed => is_prescribed,
            Applies::ToNailed => {
                let codes = leaving.operations.iter();
                codes
                    .copied()
                    .any(|code| cautions(code).contains(&Caution::Nails))
            }
            Applies::ToCemented => known()
                .flat_map(|known| known.waits)
                .any(|wait| matches!(wait.kind, WaitKind::CementTouchDry | WaitKind::CementFullBond)),
            Applies::ToWaiting => known().any(|known| known.wear_after_h > 0),
            Applies::AfterAny(codes) => leaving.operations.iter().any(|code| codes.contains(code)),
            Applies::IfCameWith(thing) => leaving.came_with.contains(thing),
            Applies::IfPartsKept => leaving.parts_kept,
        }
    }
}

/// The whole usual list, from which a shop makes its own.
pub fn usual_list() -> impl Iterator<Item = &'static str> {
    USUAL.iter().map(|(line, _)| *line)
}

/// Whether a line must be ticked for these goods. The shop's own lines always apply.
pub fn applies(line: &str, leaving: &Leaving<'_>) -> bool {
    USUAL
        .iter()
        .find(|(usual, _)| *usual == line)
        .is_none_or(|(_, when)| when.to(leaving))
}

/// The usual lines that must be ticked for these goods.
pub fn to_tick<'a>(leaving: &'a Leaving<'a>) -> impl Iterator<Item = &'static str> + 'a {
    USUAL
        .iter()
        .filter(|(_, when)| when.to(leaving))
        .map(|(line, _)| *line)
}

const HOUR_MS: i64 = 3_600_000;

/// The time from which a pair may be worn, in UTC milliseconds, from its steps (operation and time, in any order).
/// `None` if nothing has to wait.
pub fn wearable_from<'a>(steps: impl IntoIterator<Item = (&'a str, i64)>) -> Option<i64> {
    let waiting = steps.into_iter().filter_map(|(code, done_ms)| {
        let hours = operation(code)?.wear_after_h;
        (hours > 0).then(|| done_ms.saturating_add(i64::from(hours) * HOUR_MS))
    });
    waiting.max()
}

/// Whole hours, rounded up, until a pair may be worn; 0 if it may be worn now. Times in UTC milliseconds.
pub fn hours_until_wear<'a>(steps: impl IntoIterator<Item = (&'a str, i64)>, now_ms: i64) -> u32 {
    let left = wearable_from(steps)
        .map_or(0, |from| from.saturating_sub(now_ms))
        .max(0);
    u32::try_from(left / HOUR_MS + i64::from(left % HOUR_MS > 0)).unwrap_or(u32::MAX)
}

/// Whole hours, rounded down, since the last step that must set before wear; `None` if there is none. 0 if a wrong
/// clock puts that step into the future. Times in UTC milliseconds.
pub fn hours_since_cementing<'a>(
    steps: impl IntoIterator<Item = (&'a str, i64)>,
    now_ms: i64,
) -> Option<u32> {
    let setting = |code| operation(code).is_some_and(|known| known.wear_after_h > 0);
    let last = steps
        .into_iter()
        .filter(|(code, _)| setting(code))
        .map(|(_, done_ms)| done_ms)
        .max()?;
    Some(u32::try_from(now_ms.saturating_sub(last).max(0) / HOUR_MS).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests;
