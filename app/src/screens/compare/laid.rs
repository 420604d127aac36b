//! Two photographs side by side, or the second over the first with a divider that can be moved.

use leptos::prelude::*;

use crate::device::picture::use_object_url;
use crate::device::pictures::fetched;
use crate::screens::pair::the_day;
use crate::session::use_live_query;
use app_core::pair_history::{PairPhoto, caption};
use app_core::store::Size;

/// The initial position of the divider, in per cent from the left.
const MIDDLE: u8 = 50;

/// Both photographs. When laid over one another, the first is seen to the left of the divider.
#[component]
pub(super) fn Laid(
    first: Signal<Option<PairPhoto>>,
    second: Signal<Option<PairPhoto>>,
    /// Whether the second lies over the first.
    over: RwSignal<bool>,
) -> impl IntoView {
    let at = RwSignal::new(MIDDLE);
    let slide = move |event| {
        if let Ok(to) = event_target_value(&event).parse::<u8>() {
            at.set(to.min(100));
        }
    };
    // The frame has the proportions of the first; the second is fitted into it.
    let ratio = move || {
        let size = first.with(|shot| {
            shot.as_ref()
                .map(|shot| (shot.photo.full.width, shot.photo.full.height))
        });
        let (width, height) = size
            .filter(|(width, height)| *width > 0 && *height > 0)
            .unwrap_or((4, 3));
        format!("{width} / {height}")
    };
    let said = move || words::compare::divider_place(at.get().into());
    view! {
        <div class="laid" class:over=move || over.get() style=("--at", move || format!("{}%", at.get()))
            style=("--ratio", ratio)>
            <Full shot=first/>
            <Full shot=second/>
            <Show when=move || over.get()>
                <span class="divider" aria-hidden="true"></span>
                <input type="range" min="0" max="100" aria-label=words::compare::divider() aria-valuetext=said
                    prop:value=move || at.get().to_string() on:input=slide/>
            </Show>
        </div>
    }
}

/// A photograph in full, or its small copy if the full one cannot be had.
#[component]
fn Full(shot: Signal<Option<PairPhoto>>) -> impl IntoView {
    let read = use_live_query(move |phone| {
        let shot = shot.get();
        async move {
            let Some(PairPhoto { photo, job, .. }) = shot else {
                return Ok(None);
            };
            let hash = photo.full.sha256;
            let full = fetched(&phone, &hash, job, Size::Full).await?;
            let whole = full.is_some();
            let bytes = match full {
                Some(bytes) => Some(bytes),
                None => fetched(&phone, &photo.thumb.sha256, job, Size::Thumb).await?,
            };
            Ok(Some((hash, bytes, whole)))
        }
    });
    // While the next picture is being read, the live query still has the former answer, which must not be shown with
    // the next caption.
    let read = move || {
        let (hash, bytes, whole) = read.get().flatten()?;
        let wanted = shot.with(|shot| shot.as_ref().is_some_and(|shot| shot.photo.full.sha256 == hash));
        wanted.then_some((bytes, whole))
    };
    let address = use_object_url(move || Some((read()?.0?, "image/jpeg".to_owned())));
    let words = move || {
        shot.with(|shot| {
            shot.as_ref()
                .map(|shot| words::compare::photographed_on(caption(&shot.photo), &the_day(shot.at)))
        })
    };
    let trouble = move || match read()? {
        (Some(_), true) => None,
        (Some(_), false) => Some(words::compare::only_small_copy()),
        (None, _) => Some(words::parts::photograph_elsewhere()),
    };
    view! {
        <figure>
            <div class="frame">
                {move || address.get().map(|address| view! { <img src=address alt=words/> })}
            </div>
            <figcaption>{words}<Show when=move || trouble().is_some()>". "{trouble}</Show></figcaption>
        </figure>
    }
}
