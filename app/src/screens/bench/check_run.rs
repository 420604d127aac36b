//! A run of final checks: a way to the check of each pair, because each is ticked by itself.

use leptos::prelude::*;

use app_core::stations::StationRow;

/// A link to the final check of a pair. `next`: it is what to do now. A pair that is checked leaves the run.
pub(super) fn check_link(row: &StationRow, next: bool) -> impl IntoView + use<> {
    let words = words::bench::check_pair(row.name());
    view! { <a class="button bench" class:go=next href=format!("/pickup/{}", row.job.id)>{words}</a> }
}
