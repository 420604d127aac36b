//! `blob:` addresses under which the page can show bytes that it holds.

use js_sys::{Array, Uint8Array};
use leptos::prelude::*;
use web_sys::{Blob, BlobPropertyBag, Url};

/// A `blob:` address; dropping it revokes it, which releases the memory.
#[derive(Debug, PartialEq, Eq)]
pub struct ObjectUrl(String);

impl ObjectUrl {
    /// An address for `bytes`, or `None` if the browser has no room for them.
    pub fn of(bytes: &[u8], media_type: &str) -> Option<Self> {
        let options = BlobPropertyBag::new();
        options.set_type(media_type);
        let parts = Array::of1(&Uint8Array::from(bytes));
        Self::of_file(&Blob::new_with_u8_array_sequence_and_options(&parts, &options).ok()?)
    }

    /// An address for a file or Blob.
    pub(crate) fn of_file(blob: &Blob) -> Option<Self> {
        Url::create_object_url_with_blob(blob).ok().map(Self)
    }

    /// The address, for `src` and `href`.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Drop for ObjectUrl {
    fn drop(&mut self) {
        drop(Url::revoke_object_url(&self.0));
    }
}

/// The address of the bytes and media type that `shown` returns. It follows their changes and is revoked with the
/// reactive owner.
#[must_use]
pub fn use_object_url<B: AsRef<[u8]>>(
    shown: impl Fn() -> Option<(B, String)> + 'static,
) -> Signal<Option<String>> {
    let held = StoredValue::<Option<ObjectUrl>, LocalStorage>::new_local(None);
    let address = RwSignal::new(None);
    Effect::new(move |_| {
        let next = shown().and_then(|(bytes, media_type)| ObjectUrl::of(bytes.as_ref(), &media_type));
        address.set(next.as_ref().map(|url| url.as_str().to_owned()));
        // The former address is revoked only now, when nothing shows it any more.
        held.set_value(next);
    });
    address.into()
}
