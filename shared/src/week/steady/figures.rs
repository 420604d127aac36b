//! What is counted on simulated days, and what it comes to.

/// What is counted.
#[derive(Debug, Default, Clone, Copy)]
pub(super) struct Counts {
    /// Changes of the run on top that nothing explains.
    pub(super) unexplained: u32,
    /// Changes of the run on top before it was done, in all.
    pub(super) replaced: u32,
    pub(super) facts: u32,
    /// Days shown for a pair that changed while only the clock moved, and the pairs times hours in which they could.
    pub(super) moved: u32,
    pub(super) pair_hours: f64,
    /// Weighted minutes late, of what is done and of what is planned at the end of the day.
    pub(super) late: f64,
}

/// The mean of the differences as a share of the mean of the second, and its upper 95 % bound (normal approximation).
fn worse(pairs: &[(Counts, Counts)]) -> (f64, f64) {
    let count = pairs.len() as f64;
    let free = pairs.iter().map(|(_, free)| free.late).sum::<f64>() / count;
    let differences: Vec<f64> = pairs
        .iter()
        .map(|(steady, free)| steady.late - free.late)
        .collect();
    let mean = differences.iter().sum::<f64>() / count;
    let squares = differences.iter().map(|one| (one - mean).powi(2)).sum::<f64>();
    let error = (squares / (count - 1.0) / count).sqrt();
    (mean / free.max(1.0), (mean + 1.645 * error) / free.max(1.0))
}

/// What the days come to.
#[derive(Debug)]
#[allow(dead_code, reason = "they are printed")]
pub(super) struct Figures {
    pub(super) facts: u32,
    pub(super) replaced: u32,
    pub(super) unexplained: u32,
    /// The share of the days shown that change in an hour while only the clock moves.
    pub(super) moved_an_hour: f64,
    /// Weighted minutes late a day.
    pub(super) late: f64,
    /// How much later than planning freely, and the upper 95 % bound of that.
    pub(super) later: f64,
    pub(super) at_most: f64,
}

impl Figures {
    pub(super) fn of(pairs: &[(Counts, Counts)]) -> Self {
        let sum = |of: fn(&Counts) -> f64| pairs.iter().map(|(steady, _)| of(steady)).sum::<f64>();
        let count = |of: fn(&Counts) -> u32| pairs.iter().map(|(steady, _)| of(steady)).sum::<u32>();
        let (later, at_most) = worse(pairs);
        Self {
            facts: count(|one| one.facts),
            replaced: count(|one| one.replaced),
            unexplained: count(|one| one.unexplained),
            moved_an_hour: sum(|one| f64::from(one.moved)) / sum(|one| one.pair_hours).max(1.0),
            late: sum(|one| one.late) / pairs.len() as f64,
            later,
            at_most,
        }
    }
}
