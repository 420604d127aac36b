//! The picture of a pair, as wide as the screen.

use leptos::prelude::*;
use leptos::task::spawn_local;

use super::Face;
use crate::device::picture::use_object_url;
use crate::session::use_session;
use app_core::pair_history::PairPhoto;

/// The photograph of a pair: the small picture at once, and the full one over it if this device has it. It is not fetched from
/// the server for this.
#[component]
pub fn WideFace(
    /// The photograph; without one, the drawing of its kind of goods.
    #[prop(into)]
    shot: Signal<Option<PairPhoto>>,
    /// Alternative text; empty beside a text that says the same.
    #[prop(into)]
    alt: String,
    /// The kind of goods.
    #[prop(into)]
    goods: Signal<String>,
) -> impl IntoView {
    let session = use_session();
    let full = RwSignal::new(None::<(Vec<u8>, String)>);
    Effect::new(move |_| {
        let wanted = shot.get();
        full.set(None);
        let Some((phone, wanted)) = session.phone().zip(wanted) else {
            return;
        };
        spawn_local(async move {
            let picture = wanted.photo.full;
            // If it cannot be read, the small picture stays.
            let bytes = phone.blob(&picture.sha256).await.ok().flatten();
            // Another photograph may be shown by now, or another screen.
            let shown = shot.try_get_untracked().flatten();
            if shown.is_some_and(|shown| shown.entry == wanted.entry) {
                full.try_set(bytes.map(|bytes| (bytes, picture.media_type)));
            }
        });
    });
    let url = use_object_url(move || full.get());
    let small =
        Signal::derive(move || shot.with(|shot| shot.as_ref().map(|shot| shot.photo.thumb.sha256.clone())));
    let job = Signal::derive(move || shot.with(|shot| shot.as_ref().map(|shot| shot.job)));
    view! {
        <span class="wide-face">
            <Face of=small on=job alt goods/>
            {move || url.get().map(|url| view! { <img class="full" src=url alt=""/> })}
        </span>
    }
}
