//! The card's preview, as the customer will see it.

use std::rc::Rc;

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::{Photo, Shows};

use super::card::{TYPEFACE, compose, with_earlier};
use crate::card::{CardView, card_body};
use crate::device::DeviceError;
use crate::device::Phone;
use crate::device::build_file;
use crate::device::drawings::Drawings;
use crate::device::picture::ObjectUrl;
use crate::device::pictures::fetched;
use crate::screens::job::JobLife;
use crate::session::{LiveQuery, use_live_query};
use crate::shop::use_shop;
use app_core::commands::AtPickup;
use app_core::store::Size;

/// The card, redrawn whenever its contents are changed.
pub(super) fn preview(found: &JobLife, chosen: RwSignal<AtPickup>, shown: LiveQuery<Previews>) -> AnyView {
    let shop = use_shop();
    let drawings: Drawings = expect_context();
    let found = StoredValue::new(found.clone());
    let card = move || {
        let sections = with_earlier(found, compose(found, shop, chosen));
        let shown = shown.get();
        let card = CardView::new(&sections, |hash| {
            shown
                .as_ref()
                .map_or_else(String::new, |shown| shown.address(hash))
        });
        card_body(card.with_drawing(|goods| drawings.named(goods)))
    };
    view! {
        <section class="preview" aria-label=words::pickup::card_as_the_customer_will_see_it()>
            <link rel="stylesheet" href=build_file::address(TYPEFACE)/>
            {card}
        </section>
    }
    .into_any()
}

/// The addresses of the photographs of a job.
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

/// Equal if the pictures are, whatever their addresses: another address alone must not redraw the card.
impl PartialEq for Previews {
    fn eq(&self, other: &Self) -> bool {
        let same = |(one, other): (&PreviewPhoto, &PreviewPhoto)| (&one.0, one.1) == (&other.0, other.1);
        self.0.len() == other.0.len() && self.0.iter().zip(other.0.iter()).all(same)
    }
}

/// All photographs of a job.
pub(super) fn photos_of(found: &JobLife) -> Vec<Photo> {
    let photos = found.state().into_iter().flat_map(|job| &job.photos);
    photos.map(|item| item.body.clone()).collect()
}

/// The addresses of these photographs of a job, for its preview.
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

/// The bytes of a photograph for the preview. Before and after are shown large and may be printed from here, so they
/// are taken in full if that is on this device; the others, and otherwise, as thumbnails.
async fn preview_of(phone: &Phone, job: SubjectId, photo: &Photo) -> Result<Option<Vec<u8>>, DeviceError> {
    if matches!(photo.shows, Shows::DropOff | Shows::Finished)
        && let Some(full) = phone.blob(&photo.full.sha256).await?
    {
        return Ok(Some(full));
    }
    fetched(phone, &photo.thumb.sha256, job, Size::Thumb).await
}
