//! The earlier photograph over the live picture, to line up before and after.

use leptos::prelude::*;

use super::visit::Visit;
use crate::parts::Face;
use app_core::pair_history::before;

/// The photograph that the next is lined up with, of this stay or of years ago; nothing when there is none.
#[component]
pub fn Ghost(visit: Visit) -> impl IntoView {
    let earlier = Memo::new(move |_| {
        let found = visit.found().get().flatten()?;
        let (job, photo) = before(&found.life, found.job, &visit.shows(), &visit.operation().get())?;
        Some((job, photo.thumb.sha256.clone()))
    });
    let of = Signal::derive(move || earlier.get().map(|(_, hash)| hash));
    let on = Signal::derive(move || earlier.get().map(|(job, _)| job));
    view! { <div class="ghost"><Face of on alt=""/></div> }
}
