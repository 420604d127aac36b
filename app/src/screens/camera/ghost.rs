//! An earlier photograph laid over the live picture, so that before and after can be lined up.

use leptos::prelude::*;

use super::visit::Visit;
use crate::parts::Face;
use app_core::pair_history::before;

/// The photograph that the next one is lined up with, of this job or an earlier one; nothing if there is none.
#[component]
pub fn Ghost(visit: Visit) -> impl IntoView {
    let earlier = Memo::new(move |_| {
        let found = visit.found().get().flatten()?;
        let (job, photo) = before(
            &found.life,
            found.job,
            &visit.shows(),
            visit.operation().get().as_deref(),
        )?;
        Some((job, photo.thumb.sha256.clone()))
    });
    let of = Signal::derive(move || earlier.get().map(|(_, hash)| hash));
    let on = Signal::derive(move || earlier.get().map(|(job, _)| job));
    view! { <div class="ghost"><Face of on alt=""/></div> }
}
