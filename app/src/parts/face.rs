//! Pictures out of the store.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Photo;

use super::{Looked, Viewer};
use crate::device::picture::use_object_url;
use crate::device::pictures::fetched;
use crate::device::store::Size;
use crate::workshop::use_stored;

/// The small picture by which a pair is known; a plain tile until it has one.
#[component]
pub fn Face(
    /// SHA-256 of the thumbnail.
    #[prop(into)]
    of: Signal<Option<String>>,
    /// The job it was taken on.
    #[prop(into)]
    on: Signal<Option<SubjectId>>,
    /// What it shows, for those who cannot see it; empty beside a text that says it.
    #[prop(into)]
    alt: String,
) -> impl IntoView {
    let bytes = use_stored(move |phone| {
        let wanted = of.get().zip(on.get());
        async move {
            match wanted {
                Some((hash, job)) => fetched(&phone, &hash, job, Size::Thumb).await,
                None => Ok(None),
            }
        }
    });
    let url = use_object_url(move || {
        bytes
            .get()
            .flatten()
            .map(|bytes| (bytes, "image/jpeg".to_owned()))
    });
    view! {
        <span class="face">
            {move || url.get().map(|url| view! { <img src=url alt=alt.clone()/> })}
        </span>
    }
}

/// A photograph of a job, from its thumbnail; a tap shows it in full.
#[component]
pub fn Photograph(
    /// The photograph.
    photo: Photo,
    /// The job it was taken on.
    job: SubjectId,
    /// What it shows.
    caption: String,
) -> impl IntoView {
    let viewer: Viewer = expect_context();
    let Photo { full, thumb, .. } = photo;
    let looked = Looked {
        full,
        job,
        caption: caption.clone(),
    };
    view! {
        <figure class="photograph">
            <button class="plain" aria-label=format!("Look at: {caption}") on:click=move |_| viewer.show(looked.clone())>
                <Face of=Some(thumb.sha256) on=Some(job) alt=""/>
            </button>
            <figcaption>{caption}</figcaption>
        </figure>
    }
}
