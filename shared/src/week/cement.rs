//! Until when cement that was put on can be joined.

use crate::log::body::OperationCode;
use crate::log::entry::UnixMs;
use crate::trade::formulas::ready::DryingKind;
use crate::trade::{WaitKind, operation};

/// Milliseconds of a minute.
const MINUTE_MS: i64 = 60_000;

/// Whether an operation puts on cement that is joined when it is dry to the touch.
pub(super) fn is_cemented(code: &str) -> bool {
    let mut waits = operation(code).into_iter().flat_map(|known| known.bench_waits());
    waits.any(|wait| wait.kind == WaitKind::CementTouchDry)
}

/// Until when cement that was put on stays open; it must be joined by then, or be heated or coated again. `dry` is when
/// it is dry to the touch, with the operation that it was put on for. `None` if that is not the next operation of
/// `left`, or no operation with cement: then nothing waits to be joined.
pub fn cement_open_until(left: &[OperationCode], dry: Option<(UnixMs, Option<&str>)>) -> Option<UnixMs> {
    let (dry, what) = dry?;
    let next = left.first()?.as_str();
    if what != Some(next) || !is_cemented(next) {
        return None;
    }
    let open = DryingKind::ContactCement.usual().minutes;
    let minutes = i64::from(open.high - open.low);
    Some(UnixMs(dry.0.saturating_add(minutes * MINUTE_MS)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cement_is_open_for_half_an_hour_after_it_is_dry_if_it_was_put_on_for_what_comes_next() {
        let dry = UnixMs(1_000_000);
        let until = |left: &[&str], what: Option<&str>| {
            let left: Vec<OperationCode> = left.iter().map(|code| (*code).into()).collect();
            cement_open_until(&left, Some((dry, what))).map(|until| (until.0 - dry.0) / MINUTE_MS)
        };
        assert_eq!(
            until(&["half_sole", "edge_trim_ink"], Some("half_sole")),
            Some(30)
        );
        assert_eq!(until(&["half_sole"], None), None, "a wait without an operation");
        assert_eq!(
            until(&["edge_trim_ink"], Some("half_sole")),
            None,
            "it was joined"
        );
        assert_eq!(until(&["edge_trim_ink"], Some("edge_trim_ink")), None, "ink");
        assert_eq!(until(&[], Some("half_sole")), None);
        assert_eq!(cement_open_until(&["half_sole".into()], None), None);
    }
}
