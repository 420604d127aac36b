//! Playing a voice note.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Blob;

use crate::device::picture::use_object_url;
use crate::device::pictures::fetched;
use crate::session::use_live_query;
use app_core::store::Size;

/// A voice note with a button that plays it.
#[component]
pub fn VoiceNote(
    /// The sound.
    sound: Blob,
    /// The subject whose entry it belongs to.
    on: SubjectId,
) -> impl IntoView {
    let (hash, media_type) = (sound.sha256, sound.media_type);
    let bytes = use_live_query(move |phone| {
        let hash = hash.clone();
        async move { fetched(&phone, &hash, on, Size::Full).await }
    });
    let url = use_object_url(move || bytes.get().flatten().map(|bytes| (bytes, media_type.clone())));
    move || match (url.get(), bytes.get()) {
        (Some(url), _) => {
            Some(view! { <audio controls src=url aria-label=words::parts::voice_note()></audio> }.into_any())
        }
        (None, Some(None)) => {
            Some(view! { <span class="quiet">{words::parts::voice_note_elsewhere()}</span> }.into_any())
        }
        _ => None,
    }
}
