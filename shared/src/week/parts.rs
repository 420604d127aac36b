//! The parts into which an operation falls at the bench, because something has to dry before, within or after the work.
//!
//! Common practice, no source.

use super::cement::CementTimes;
use crate::trade::waits::UsualWait;
use crate::trade::{Holds, Minutes, WaitKind, WaitPlace, operation};

/// Minutes of wetting soles, or of laying them in water: common practice, no source.
const WETTING: f64 = 5.0;
/// The share of an operation with cement up to putting it on; and of an operation of which only a wait is known, the share
/// before that wait. Common practice, no source.
const BEFORE: f64 = 0.4;

/// A part of an operation, and the wait behind it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct WorkPart {
    /// The share of the operation's attended minutes; `None` for wetting, which is as long for any sole.
    pub(super) share: Option<f64>,
    /// What dries behind it; `None` if nothing does before the next operation.
    pub(super) dries: Option<WaitKind>,
    /// How long, in minutes.
    pub(super) wait_min: u32,
    /// Within how many minutes of its end the next part has to begin; `None` if it may begin at any later time.
    pub(super) join_within: Option<u32>,
}

impl WorkPart {
    /// A share of the work, and nothing to wait for.
    fn of(share: f64) -> Self {
        Self {
            share: Some(share),
            dries: None,
            wait_min: 0,
            join_within: None,
        }
    }

    /// Whether it is the wetting of soles, which is done apart from the rest.
    pub(super) fn is_wetting(&self) -> bool {
        self.share.is_none()
    }

    /// The attended minutes, of so many for the whole operation.
    pub(super) fn minutes(&self, whole: f64) -> f64 {
        self.share.map_or(WETTING, |share| whole * share)
    }
}

/// The parts of an operation, in order; `cement` are the times of the cement that it is done with.
pub(super) fn work_parts(code: &str, cement: CementTimes) -> Vec<WorkPart> {
    let waits = |place| {
        let waits = operation(code)
            .into_iter()
            .flat_map(move |known| known.waits_at(place));
        waits.filter(|wait| wait.holds == Holds::Bench)
    };
    let mut parts: Vec<WorkPart> = waits(WaitPlace::Before)
        .flat_map(each_time)
        .map(|wait| WorkPart {
            share: None,
            dries: Some(wait.kind),
            wait_min: middle(wait.minutes),
            join_within: None,
        })
        .collect();
    let within: Vec<&UsualWait> = waits(WaitPlace::Within).flat_map(each_time).collect();
    let mut left = 1.0;
    for (at, wait) in within.iter().enumerate() {
        let share = match wait.kind {
            WaitKind::CementTouchDry => BEFORE,
            _ => left / (within.len() - at + 1) as f64,
        };
        left -= share;
        parts.push(dried(share, wait, cement));
    }
    let after: Vec<&UsualWait> = waits(WaitPlace::After).collect();
    parts.push(WorkPart {
        dries: after.last().map(|wait| wait.kind),
        wait_min: after.iter().map(|wait| middle(wait.all_minutes())).sum(),
        ..WorkPart::of(left)
    });
    parts
}

/// A share of the work with a wait behind it.
fn dried(share: f64, wait: &UsualWait, cement: CementTimes) -> WorkPart {
    if wait.kind == WaitKind::CementTouchDry {
        return WorkPart {
            dries: Some(wait.kind),
            wait_min: cement.dry,
            join_within: Some(cement.closed),
            ..WorkPart::of(share)
        };
    }
    WorkPart {
        dries: Some(wait.kind),
        wait_min: middle(wait.minutes),
        ..WorkPart::of(share)
    }
}

/// A wait as often as it comes. Cement that is put on twice is put on in one part of the work: its coats follow each other.
fn each_time(wait: &'static UsualWait) -> impl Iterator<Item = &'static UsualWait> {
    let times = match wait.kind {
        WaitKind::CementTouchDry => 1,
        _ => wait.times,
    };
    std::iter::repeat_n(wait, times as usize)
}

/// A wait that was noted for the next operation of a job.
#[derive(Debug, Clone, Copy)]
pub(super) struct NotedWait<'a> {
    /// What dries, a word of [`WaitKind`]; `None` in entries of older apps.
    pub(super) dries: Option<&'a str>,
    /// How often it was noted since the last step.
    pub(super) times: u32,
}

/// What is left of an operation once this wait was noted for it. If the wait belongs to none of its parts, a person has
/// stopped in the middle.
pub(super) fn parts_left(parts: &[WorkPart], noted: NotedWait<'_>) -> Vec<WorkPart> {
    let kind = noted.dries.and_then(WaitKind::of_word);
    let is_noted = |part: &&WorkPart| match kind {
        Some(kind) => part.dries == Some(kind),
        // Older apps noted only what follows cement.
        None => part.join_within.is_some(),
    };
    let last = parts.len().saturating_sub(1);
    let of_kind = parts[..last]
        .iter()
        .enumerate()
        .filter(|(_, part)| is_noted(part));
    let known = of_kind.take(noted.times.max(1) as usize).last();
    match known.map(|(at, _)| at) {
        Some(at) => parts[at + 1..].to_vec(),
        None => vec![WorkPart::of(1.0 - BEFORE)],
    }
}

fn middle(minutes: Minutes) -> u32 {
    u32::midpoint(minutes.low, minutes.high)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(code: &str) -> Vec<(bool, Option<WaitKind>, u32)> {
        let parts = work_parts(code, CementTimes::usual());
        let total: f64 = parts.iter().filter_map(|part| part.share).sum();
        assert!((total - 1.0).abs() < 1e-9, "{code}: {total}");
        parts
            .iter()
            .map(|part| (part.is_wetting(), part.dries, part.wait_min))
            .collect()
    }

    /// Soles are mulled or soaked the evening before they are sewn; two nights count twice (common practice, no source).
    #[test]
    fn what_is_wetted_is_wetted_first_and_two_nights_are_two() {
        use WaitKind::*;
        assert_eq!(
            parts("resole_blake"),
            [(true, Some(Mulling), 420), (false, None, 0)]
        );
        assert_eq!(
            parts("resole_hand_welted"),
            [
                (true, Some(Soaking), 300),
                (false, Some(DryingOvernight), 600),
                (false, Some(DryingOvernight), 600),
                (false, None, 0)
            ]
        );
        assert_eq!(
            parts("half_sole"),
            [(false, Some(CementTouchDry), 10), (false, None, 0)],
            "two coats are one part"
        );
        assert_eq!(parts("edge_trim_ink"), [(false, Some(Ink), 25)]);
        assert_eq!(parts("bell repair"), [(false, None, 0)]);
    }

    #[test]
    fn a_noted_wait_leaves_what_comes_behind_it() {
        let left = |code: &str, dries: Option<&str>, times: u32| {
            parts_left(
                &work_parts(code, CementTimes::usual()),
                NotedWait { dries, times },
            )
        };
        assert_eq!(left("resole_hand_welted", Some("soaking"), 1).len(), 3);
        assert_eq!(left("resole_hand_welted", Some("drying_overnight"), 1).len(), 2);
        assert_eq!(left("resole_hand_welted", Some("drying_overnight"), 2).len(), 1);
        assert_eq!(left("resole_hand_welted", Some("drying_overnight"), 9).len(), 1);
        let joined = left("resole_cemented", None, 1);
        assert_eq!(joined.len(), 1, "an older app names no kind: it was cement");
        assert_eq!(joined[0].share, Some(0.6));
        assert_eq!(left("edge_trim_ink", Some("ink"), 1), [WorkPart::of(0.6)]);
    }
}
