//! Pictures from the store.

use std::cell::RefCell;
use std::rc::Rc;

use leptos::html::Button;
use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Photo;

use super::{Drawing, Looked, Viewer};
use crate::device::picture::ObjectUrl;
use crate::device::pictures::fetched;
use crate::session::use_live_query;
use app_core::store::Size;

/// How many small pictures are kept in memory to be shown again at once: as many as a full Bench has, some 10 KB each.
const READY: usize = 128;

thread_local! {
    /// The pictures shown last, by SHA-256, so that a redrawn list shows them without flicker.
    static SHOWN: RefCell<Vec<(String, Rc<ObjectUrl>)>> = const { RefCell::new(Vec::new()) };
}

/// The address of a small picture that is kept in memory.
fn shown(hash: &str) -> Option<Rc<ObjectUrl>> {
    SHOWN.with_borrow(|all| all.iter().find(|one| one.0 == hash).map(|one| Rc::clone(&one.1)))
}

/// Makes an address for a small picture, and remembers it in place of the oldest.
fn ready(hash: &str, bytes: &[u8]) -> Option<Rc<ObjectUrl>> {
    let url = Rc::new(ObjectUrl::of(bytes, "image/jpeg")?);
    SHOWN.with_borrow_mut(|all| {
        if all.len() == READY {
            all.remove(0);
        }
        all.push((hash.to_owned(), Rc::clone(&url)));
    });
    Some(url)
}

/// Keeps in memory a small picture that has just been made, so that it need not be read from the store.
pub fn just_made(hash: &str, bytes: &[u8]) {
    if shown(hash).is_none() {
        drop(ready(hash, bytes));
    }
}

/// The thumbnail by which a pair is recognised; until it has one, the drawing of its kind.
#[component]
pub fn Face(
    /// SHA-256 of the thumbnail.
    #[prop(into)]
    of: Signal<Option<String>>,
    /// The job it was taken on.
    #[prop(into)]
    on: Signal<Option<SubjectId>>,
    /// Alternative text; empty beside a text that says the same.
    #[prop(into)]
    alt: String,
    /// The kind of goods, whose drawing stands in for a photograph; without it the place stays empty.
    #[prop(optional, into)]
    goods: Signal<String>,
) -> impl IntoView {
    let picture = use_live_query(move |phone| {
        let wanted = of.get().zip(on.get());
        async move {
            let Some((hash, job)) = wanted else {
                return Ok(None);
            };
            if let Some(url) = shown(&hash) {
                return Ok(Some((hash, url)));
            }
            let bytes = fetched(&phone, &hash, job, Size::Thumb).await?;
            let url = bytes.and_then(|bytes| ready(&hash, &bytes));
            Ok(url.map(|url| (hash, url)))
        }
    });
    let image = move || {
        let wanted = of.get()?;
        // While the next picture is being read, the live query still has the former answer, which is of another pair
        // and must not be shown.
        let read = || picture.get().flatten().filter(|(hash, _)| *hash == wanted);
        let url = shown(&wanted).or_else(|| read().map(|(_, url)| url))?;
        Some(view! { <img src=url.as_str().to_owned() alt=alt.clone()/> })
    };
    let without = Memo::new(move |_| of.with(Option::is_none) && goods.with(|goods| !goods.is_empty()));
    view! {
        <span class="face">
            {image}
            <Show when=move || without.get()><Drawing name=goods/></Show>
        </span>
    }
}

/// A photograph of a job, from its thumbnail; a tap shows it in full, with the others of its list beside it.
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
        thumb: thumb.clone(),
        job,
        caption: caption.clone(),
    };
    let button = NodeRef::<Button>::new();
    viewer.place(looked.clone(), button);
    view! {
        <figure class="photograph">
            <button node_ref=button class="plain" aria-label=words::parts::look_at(&caption)
                on:click=move |_| viewer.show_among(looked.clone(), button)>
                <Face of=Some(thumb.sha256) on=Some(job) alt=""/>
            </button>
            <figcaption>{caption}</figcaption>
        </figure>
    }
}
