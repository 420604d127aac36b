//! Everything of the customer as one file.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::SubjectId;
use shared::log::fold::ShopState;

use super::customer_records::records_of;
use crate::card::{data_url, in_words};
use crate::device::pictures::fetched;
use crate::device::{DeviceError, Phone, share};
use crate::parts::today;
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands::export::{NamedBlob, page};
use app_core::store::Size;

/// A button that saves everything of the customer as one file, for a customer who asks for it. Not for a helper: prices and
/// payments are in it.
#[component]
pub fn Export(customer: Option<SubjectId>) -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let making = RwSignal::new(false);
    let save = move |_| {
        let Some((phone, customer)) = session.phone().zip(customer) else {
            return;
        };
        let state = shop.state();
        making.set(true);
        spawn_local(async move {
            let name = ["customer-", &today(), ".html"].concat();
            match file_of(&phone, customer, &state).await {
                Ok(file) => match share::download(&name, "text/html", file.as_bytes()) {
                    Ok(()) => session.tell(words::shop::backup::saved_among_downloads(&name)),
                    Err(error) => session.complain(error),
                },
                Err(error) => session.complain(error),
            }
            // The page may have left the screen meanwhile.
            let _ = making.try_set(false);
        });
    };
    let label = move || match making.get() {
        true => words::export::being_made(),
        false => words::export::save_everything_of_theirs(),
    };
    view! {
        <Show when=move || customer.is_some() && !shop.helper()>
            <p><button class="quiet" disabled=move || making.get() on:click=save>{label}</button></p>
        </Show>
    }
}

/// The file, with every photograph that this device or the server has now.
async fn file_of(phone: &Phone, customer: SubjectId, shop: &ShopState) -> Result<String, DeviceError> {
    let records = records_of(phone, customer).await?;
    let mut sources = Vec::new();
    for NamedBlob { subject, full, thumb } in records.blobs() {
        let mut blob = full;
        let mut bytes = fetched(phone, &blob.sha256, subject, Size::Full).await?;
        if let (None, Some(thumb)) = (&bytes, thumb) {
            blob = thumb;
            bytes = fetched(phone, &blob.sha256, subject, Size::Thumb).await?;
        }
        if let Some(bytes) = bytes {
            sources.push((blob.sha256, data_url(&blob.media_type, &bytes)));
        }
    }
    Ok(page(&records, shop, &in_words(&today()), &sources))
}
