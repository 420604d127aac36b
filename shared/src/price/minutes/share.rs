//! Shares the time before a moment among its jobs.

const MINUTE_MS: f64 = 60_000.0;

/// A time in which a job dried, in ms.
#[derive(Debug, Clone, Copy)]
pub(super) struct DryingSpan<J> {
    pub(super) job: J,
    pub(super) from: i64,
    pub(super) until: i64,
}

/// Shares the gaps among the jobs, in minutes for each: evenly among those that do not dry at the time. A drying time
/// counts only if it was over at the moment.
pub(super) fn share_out<J: Copy + Ord>(
    gaps: &[(i64, i64)],
    jobs: &[J],
    waits: &[DryingSpan<J>],
    moment: i64,
) -> Vec<f64> {
    let over: Vec<_> = waits
        .iter()
        .filter(|wait| wait.until <= moment && wait.from < wait.until)
        .collect();
    let mut shares = vec![0.0; jobs.len()];
    for (from, until) in gaps {
        let mut cuts: Vec<i64> = over
            .iter()
            .flat_map(|wait| [wait.from, wait.until])
            .filter(|cut| (*from + 1..*until).contains(cut))
            .chain([*from, *until])
            .collect();
        cuts.sort_unstable();
        for piece in cuts.windows(2) {
            let dries = |job: &J| {
                over.iter()
                    .any(|wait| wait.job == *job && wait.from <= piece[0] && piece[1] <= wait.until)
            };
            let free: Vec<bool> = jobs.iter().map(|job| !dries(job)).collect();
            let many = free.iter().filter(|free| **free).count();
            let minutes = (piece[1] - piece[0]) as f64 / MINUTE_MS;
            for (share, free) in shares.iter_mut().zip(free) {
                if free {
                    *share += minutes / many as f64;
                }
            }
        }
    }
    shares
}
