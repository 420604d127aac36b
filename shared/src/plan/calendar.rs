//! When attended work is possible. Behind the last window lies one more without an end, the overflow: work placed there
//! is not planned. So every set of work has a schedule, and what does not fit shows by its place.

/// A minute so far away that nothing reaches it, and sums with it do not overflow.
pub(super) const FOREVER: i64 = 1 << 60;
/// The gap between the last window and the overflow: longer than any wait or join window, so that none reaches across
/// it.
const GAP: i64 = 1 << 32;

/// Windows in order of time, none inside another.
#[derive(Debug, Clone)]
pub(super) struct Calendar {
    windows: Vec<(i64, i64)>,
    /// Where the overflow begins.
    pub(super) overflow: i64,
}

/// A place in which a piece of work fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct CalendarFit {
    pub(super) start: i64,
    pub(super) window: u32,
}

impl Calendar {
    /// The parts of the windows that lie after zero; all of time if there are none.
    pub(super) fn new(windows: Option<impl Iterator<Item = (i64, i64)>>) -> Self {
        let Some(given) = windows else {
            return Self {
                windows: vec![(0, FOREVER)],
                overflow: FOREVER,
            };
        };
        let mut given: Vec<_> = given
            .filter(|(_, end)| *end > 0)
            .map(|(start, end)| (start.max(0), end))
            .collect();
        given.sort_unstable_by_key(|(start, end)| (*start, -*end));
        let mut windows: Vec<(i64, i64)> = Vec::with_capacity(given.len() + 1);
        for window in given {
            // A window that ends no later than the one before lies inside it.
            if windows.last().is_none_or(|last| window.1 > last.1) {
                windows.push(window);
            }
        }
        let overflow = windows.last().map_or(0, |last| last.1) + GAP;
        windows.push((overflow, FOREVER));
        Self { windows, overflow }
    }

    /// The earliest start at or after `from` for so many minutes in one window. The search begins at window `hint`: the
    /// caller knows that no earlier window fits.
    #[inline]
    pub(super) fn fit(&self, from: i64, minutes: i64, hint: u32) -> CalendarFit {
        let mut window = hint as usize;
        while let Some((opens, closes)) = self.windows.get(window) {
            let start = from.max(*opens);
            if start + minutes <= *closes {
                break;
            }
            window += 1;
        }
        let opens = self.windows.get(window).map_or(self.overflow, |window| window.0);
        CalendarFit {
            start: from.max(opens),
            window: window as u32,
        }
    }

    /// The latest end no later than `by` for so many minutes in one window; `by` itself if there is none.
    pub(super) fn latest(&self, by: i64, minutes: i64) -> i64 {
        let opened = self.windows.partition_point(|(opens, _)| opens + minutes <= by);
        let windows = self.windows[..opened].iter().rev();
        let mut ends = windows.map(|(opens, closes)| (*opens, by.min(*closes)));
        ends.find(|(opens, end)| end - minutes >= *opens)
            .map_or(by, |(_, end)| end)
    }

    /// All windows, the overflow too.
    pub(super) fn windows(&self) -> &[(i64, i64)] {
        &self.windows
    }

    /// The longest window before the overflow, in minutes.
    pub(super) fn longest(&self) -> i64 {
        self.before_overflow()
            .map(|(opens, closes)| closes - opens)
            .max()
            .unwrap_or(0)
    }

    /// The windows before the overflow.
    pub(super) fn before_overflow(&self) -> impl Iterator<Item = (i64, i64)> + '_ {
        self.windows
            .iter()
            .copied()
            .filter(|(opens, _)| *opens < self.overflow)
    }
}
