//! A run of final checks: a way to the check of each pair, because each is ticked by itself.

use leptos::prelude::*;
use shared::log::SubjectId;

use app_core::stations::StationRow;

/// The address at which the final check of a job is done.
fn check_address(job: SubjectId) -> String {
    format!("/pickup/{job}")
}

/// A link to the final check of each pair of the run. The first is what to do now; a pair that is checked leaves the
/// run.
#[component]
pub(super) fn CheckRun(
    /// The pairs of the run, in its order.
    rows: Vec<StationRow>,
) -> impl IntoView {
    let links = rows.into_iter().enumerate().map(|(at, row)| {
        let words = words::bench::check_pair(row.name());
        view! { <a class="button bench" class:go=at == 0 href=check_address(row.job.id)>{words}</a> }
    });
    links.collect_view()
}
