//! The earlier photograph over the live picture, to line up before and after.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Shows;
use shared::log::fold::Life;

use super::visit::Visit;
use crate::parts::Face;

/// The pair's latest photograph of the same operation, else as it was brought; nothing when there is none.
#[component]
pub fn Ghost(visit: Visit) -> impl IntoView {
    let earlier = Memo::new(move |_| {
        let found = visit.found().get().flatten()?;
        earlier(&found.life, &visit.shows(), &visit.operation().get())
    });
    let of = Signal::derive(move || earlier.get().map(|(_, hash)| hash));
    let on = Signal::derive(move || earlier.get().map(|(job, _)| job));
    view! { <div class="ghost"><Face of on alt=""/></div> }
}

fn earlier(life: &Life, shows: &Shows, operation: &str) -> Option<(SubjectId, String)> {
    let photos = || {
        let jobs = life.jobs.iter().rev();
        jobs.flat_map(|(job, state)| state.photos.iter().rev().map(|photo| (*job, &photo.body)))
    };
    let same = photos().find(|(_, photo)| {
        photo.shows == *shows && (*shows == Shows::DropOff || photo.operation.as_deref() == Some(operation))
    });
    let (job, photo) = same.or_else(|| photos().find(|(_, photo)| photo.shows == Shows::DropOff))?;
    Some((job, photo.thumb.sha256.clone()))
}
