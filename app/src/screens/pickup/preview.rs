//! The card as the customer will see it.

use std::rc::Rc;

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::{Photo, Shows};

use super::card::{compose, with_earlier};
use crate::card::{CardView, card_body};
use crate::device::DeviceError;
use crate::device::Phone;
use crate::device::picture::ObjectUrl;
use crate::device::pictures::fetched;
use crate::screens::job::JobLife;
use crate::session::{LiveQuery, use_live_query};
use crate::shop::use_shop;
use app_core::commands::AtPickup;
use app_core::store::Size;

/// The card, drawn anew as what stands on it is chosen.
pub(super) fn preview(found: &JobLife, chosen: RwSignal<AtPickup>, shown: LiveQuery<Previews>) -> AnyView {
    let shop = use_shop();
    let found = StoredValue::new(found.clone());
    let card = move || {
        let sections = with_earlier(found, compose(found, shop, chosen));
        let shown = shown.get();
        card_body(CardView::new(&sections, |hash| {
            shown
                .as_ref()
                .map_or_else(String::new, |shown| shown.address(hash))
        }))
    };
    view! { <section class="preview" aria-label="The card as the customer will see it">{card}</section> }
        .into_any()
}

/// Where the page finds the photographs of a job.
#[derive(Clone)]
pub(super) struct Previews(Rc<Vec<PreviewPhoto>>);

/// A photograph by the SHA-256 of the full picture, how many bytes of it are shown, and where.
type PreviewPhoto = (String, usize, ObjectUrl);

impl Previews {
    fn address(&self, hash: &str) -> String {
        let found = self.0.iter().find(|(known, ..)| known == hash);
        found.map_or_else(String::new, |(.., url)| url.as_str().to_owned())
    }
}

/// The same pictures, wherever they are found: the card is not drawn anew for another address.
impl PartialEq for Previews {
    fn eq(&self, other: &Self) -> bool {
        let same = |(one, other): (&PreviewPhoto, &PreviewPhoto)| (&one.0, one.1) == (&other.0, other.1);
        self.0.len() == other.0.len() && self.0.iter().zip(other.0.iter()).all(same)
    }
}

/// The photographs of a job, as the card may show them.
pub(super) fn photos_of(found: &JobLife) -> Vec<Photo> {
    let photos = found.state().into_iter().flat_map(|job| &job.photos);
    photos.map(|item| item.body.clone()).collect()
}

/// Where to find these photographs of a job, for its preview.
pub(super) fn use_previews(job: SubjectId, photos: Memo<Vec<Photo>>) -> LiveQuery<Previews> {
    use_live_query(move |phone| {
        let photos = photos.get();
        async move {
            let mut shown = Vec::new();
            for photo in photos {
                let bytes = preview_of(&phone, job, &photo).await?.unwrap_or_default();
                let url = ObjectUrl::of(&bytes, "image/jpeg").filter(|_| !bytes.is_empty());
                shown.extend(url.map(|url| (photo.full.sha256, bytes.len(), url)));
            }
            Ok(Previews(Rc::new(shown)))
        }
    })
}

/// Before and after stand large on the card and are printed from here: they come in full where that is at hand.
async fn preview_of(phone: &Phone, job: SubjectId, photo: &Photo) -> Result<Option<Vec<u8>>, DeviceError> {
    if matches!(photo.shows, Shows::DropOff | Shows::Finished)
        && let Some(full) = phone.blob(&photo.full.sha256).await?
    {
        return Ok(Some(full));
    }
    fetched(phone, &photo.thumb.sha256, job, Size::Thumb).await
}
