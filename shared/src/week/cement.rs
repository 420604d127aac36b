//! How long cement dries, and until when it can be joined.

use crate::log::body::OperationCode;
use crate::log::entry::UnixMs;
use crate::trade::cement_guide::{OwnCements, cement_way, drying, join_window, likely_sides, times_of};
use crate::trade::formulas::ready::DryingKind;
use crate::trade::{Material, Minutes, WaitKind, operation};

/// Milliseconds of a minute.
const MINUTE_MS: i64 = 60_000;

/// The times of a cement, in minutes from its last coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CementTimes {
    /// When it is dry to the touch.
    pub dry: u32,
    /// When it can no longer be joined without heating or coating it again.
    pub closed: u32,
}

impl CementTimes {
    /// Those of contact cement.
    pub fn usual() -> Self {
        Self::of_window(DryingKind::ContactCement.usual().minutes)
    }

    const fn of_window(window: Minutes) -> Self {
        Self {
            dry: window.low,
            closed: window.high,
        }
    }

    /// The times of the cement with which an operation is done on a pair of these materials, by the cement guide and the
    /// shop's own products; those of contact cement where the guide names no cement.
    pub fn of(code: &str, materials: &[Material], own: &OwnCements) -> Self {
        if materials.is_empty() {
            return Self::usual();
        }
        let (on, to) = likely_sides(code, materials);
        let times = drying(&cement_way(on.as_ref(), to.as_ref(), own));
        times.map_or_else(Self::usual, |(wait, open)| {
            Self::of_window(join_window(wait, open))
        })
    }

    /// The times of a cement that a step names: a kind of the guide, or a product of the shop's own. `None` for any other
    /// name.
    pub fn named(cement: &str, own: &OwnCements) -> Option<Self> {
        let (wait, open) = times_of(own.kind_of(cement)?, own);
        Some(Self::of_window(join_window(wait, open)))
    }
}

/// Whether an operation puts on cement that is joined when it is dry to the touch.
fn is_cemented(code: &str) -> bool {
    let mut waits = operation(code).into_iter().flat_map(|known| known.bench_waits());
    waits.any(|wait| wait.kind == WaitKind::CementTouchDry)
}

/// A wait of a job with a length.
#[derive(Debug, Clone, Copy)]
pub struct RunningWait<'a> {
    /// When it is over.
    pub ends: UnixMs,
    /// The operation that it was noted for.
    pub operation: Option<&'a str>,
    /// What dries, a word of [`WaitKind`]; `None` in entries of older apps, which noted what follows cement.
    pub dries: Option<&'a str>,
}

/// Until when cement that was put on stays open; it must be joined by then, or be heated or coated again. `None` if the wait
/// is not about the cement of the next operation of `left`: then nothing waits to be joined.
pub fn cement_open_until(
    left: &[OperationCode],
    wait: Option<RunningWait<'_>>,
    times: CementTimes,
) -> Option<UnixMs> {
    let wait = wait?;
    let next = left.first()?.as_str();
    let is_cement = wait
        .dries
        .is_none_or(|dries| dries == WaitKind::CementTouchDry.word());
    if wait.operation != Some(next) || !is_cement || !is_cemented(next) {
        return None;
    }
    let minutes = i64::from(times.closed.saturating_sub(times.dry));
    Some(UnixMs(wait.ends.0.saturating_add(minutes * MINUTE_MS)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::fold::ShopState;

    #[test]
    fn cement_is_open_for_half_an_hour_after_it_is_dry_if_it_was_put_on_for_what_comes_next() {
        let dry = UnixMs(1_000_000);
        let until = |left: &[&str], operation: Option<&str>, dries: Option<&str>| {
            let left: Vec<OperationCode> = left.iter().map(|code| (*code).into()).collect();
            let wait = RunningWait {
                ends: dry,
                operation,
                dries,
            };
            let until = cement_open_until(&left, Some(wait), CementTimes::usual());
            until.map(|until| (until.0 - dry.0) / MINUTE_MS)
        };
        let next = ["half_sole", "edge_trim_ink"];
        assert_eq!(until(&next, Some("half_sole"), None), Some(30));
        assert_eq!(
            until(&next, Some("half_sole"), Some("cement_touch_dry")),
            Some(30)
        );
        assert_eq!(until(&next, None, None), None, "a wait without an operation");
        assert_eq!(until(&next[1..], Some("half_sole"), None), None, "it was joined");
        assert_eq!(until(&next[1..], Some("edge_trim_ink"), None), None, "ink");
        assert_eq!(
            until(&["resole_welted"], Some("resole_welted"), Some("mulling")),
            None
        );
        assert_eq!(until(&[], Some("half_sole"), None), None);
        assert_eq!(
            cement_open_until(&["half_sole".into()], None, CementTimes::usual()),
            None
        );
    }

    #[test]
    fn a_cement_that_was_named_has_its_own_times() {
        let none = OwnCements::default();
        let named = |cement: &str, own: &OwnCements| CementTimes::named(cement, own);
        assert_eq!(named("neoprene", &none), Some(CementTimes::usual()));
        assert_eq!(
            named("polyurethane", &none),
            Some(CementTimes { dry: 15, closed: 45 })
        );
        assert_eq!(named("Grey tin", &none), None);
        let fields = serde_json::json!({ "cement/water_based": { "product": "Grey tin", "wait_min": 25 } });
        let own = OwnCements::of(&ShopState::of_values(fields.as_object().unwrap()));
        let grey = Some(CementTimes { dry: 25, closed: 65 });
        assert_eq!([named("Grey tin", &own), named("water_based", &own)], [grey; 2]);
    }

    #[test]
    fn the_shops_own_product_decides_how_long_it_dries() {
        let leather = [Material::SmoothLeather, Material::LeatherSole];
        let none = OwnCements::of(&ShopState::default());
        let usual = CementTimes::of("half_sole", &leather, &none);
        assert_eq!(usual, CementTimes::usual());
        let fields = serde_json::json!({ "cement/neoprene": { "wait_min": 20, "open_min": 15 } });
        let shop = ShopState::of_values(fields.as_object().unwrap());
        let own = CementTimes::of("half_sole", &leather, &OwnCements::of(&shop));
        assert_eq!(own, CementTimes { dry: 20, closed: 35 });
        assert_eq!(
            CementTimes::of("half_sole", &[], &OwnCements::of(&shop)),
            CementTimes::usual()
        );
    }
}
