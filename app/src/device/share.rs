//! Passing things on by the phone's share sheet, the clipboard or a download; and reading files.

use std::time::Duration;

use js_sys::{Array, ArrayBuffer, Promise, Uint8Array};
use leptos::prelude::{document, set_timeout, window};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, BlobPropertyBag, File, FilePropertyBag, HtmlAnchorElement, Navigator, ShareData};

use super::picture::ObjectUrl;
use app_core::browser::js::{error_name, error_words, method, property, settled};

/// How long a download may take to begin before its address is revoked.
const DOWNLOAD_PATIENCE: Duration = Duration::from_secs(60);

/// What happened to what was passed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Passed {
    /// Handed to the app that the person chose.
    Shared,
    /// The person closed the share sheet.
    Cancelled,
    /// There is no share sheet here: it was copied to the clipboard.
    Copied,
    /// There is no share sheet for files here: it was saved as a download.
    Downloaded,
}

/// Why something could not be passed on or taken in.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::device::passing_on_failed(.0))]
pub struct ShareError(String);

impl ShareError {
    fn of(thrown: &JsValue) -> Self {
        Self(error_words(thrown))
    }
}

/// A file made here.
#[derive(Debug, Clone, Copy)]
pub struct NewFile<'a> {
    /// Its name, with the ending.
    pub name: &'a str,
    /// For example `image/jpeg`.
    pub media_type: &'a str,
    /// What is in it.
    pub bytes: &'a [u8],
}

/// Passes on a link: share sheet, else clipboard. Call it from a tap: browsers refuse otherwise.
///
/// # Errors
/// When the browser has neither, or refuses.
pub async fn share_link(title: &str, url: &str) -> Result<Passed, ShareError> {
    let data = ShareData::new();
    data.set_title(title);
    data.set_url(url);
    share_or_copy(&data, url).await
}

/// Passes on a text: share sheet, else clipboard. Call it from a tap.
///
/// # Errors
/// When the browser has neither, or refuses.
pub async fn share_text(text: &str) -> Result<Passed, ShareError> {
    let data = ShareData::new();
    data.set_text(text);
    share_or_copy(&data, text).await
}

/// Passes on files with a text: by the share sheet where it takes files, else as downloads. Call it from a tap, with
/// the files ready: a browser allows sharing only within a few seconds of the tap.
///
/// # Errors
/// When the browser refuses.
pub async fn share_files(files: &[NewFile<'_>], text: &str) -> Result<Passed, ShareError> {
    let list = files
        .iter()
        .map(file)
        .collect::<Result<Array, _>>()
        .map_err(|thrown| ShareError::of(&thrown))?;
    let data = ShareData::new();
    data.set_files(&list);
    data.set_text(text);
    let navigator = window().navigator();
    let takes_files = method(&navigator, "canShare").is_some() && navigator.can_share_with_data(&data);
    if takes_files {
        return sheet(navigator.share_with_data(&data)).await;
    }
    files
        .iter()
        .try_for_each(|new| download(new.name, new.media_type, new.bytes))?;
    Ok(Passed::Downloaded)
}

/// Saves a file as a download.
///
/// # Errors
/// When the browser has no room for it.
pub fn download(name: &str, media_type: &str, bytes: &[u8]) -> Result<(), ShareError> {
    download_from(ObjectUrl::of(bytes, media_type), name)
}

/// Saves what is at this address as a download, and revokes the address afterwards.
fn download_from(url: Option<ObjectUrl>, name: &str) -> Result<(), ShareError> {
    let url = url.ok_or_else(|| ShareError(words::device::no_room_for_file().to_owned()))?;
    let link: HtmlAnchorElement = document()
        .create_element("a")
        .map_err(|thrown| ShareError::of(&thrown))?
        .unchecked_into();
    link.set_href(url.as_str());
    link.set_download(name);
    link.click();
    set_timeout(move || drop(url), DOWNLOAD_PATIENCE);
    Ok(())
}

/// The pieces of a file are given to the browser in parts of this length, in bytes.
const PART: usize = 4 << 20;

/// A file that is made in pieces. The browser holds it, outside of the app's memory and on the disk if it is large.
#[derive(Debug, Default)]
pub struct FileInPieces {
    parts: Array,
    /// What was not given to the browser yet.
    open: Vec<u8>,
    /// Whether the browser has refused a part.
    is_full: bool,
}

impl FileInPieces {
    /// Adds a piece.
    pub fn push(&mut self, piece: &[u8]) {
        self.open.extend_from_slice(piece);
        if self.open.len() >= PART {
            self.hand_over();
        }
    }

    fn hand_over(&mut self) {
        let part = Array::of1(&Uint8Array::from(self.open.as_slice()));
        match Blob::new_with_u8_array_sequence(&part) {
            Ok(part) => {
                self.parts.push(&part);
            }
            Err(_) => self.is_full = true,
        }
        self.open.clear();
    }

    /// Saves the file as a download.
    ///
    /// # Errors
    /// When the browser has no room for it.
    pub fn download(mut self, name: &str, media_type: &str) -> Result<(), ShareError> {
        self.hand_over();
        let options = BlobPropertyBag::new();
        options.set_type(media_type);
        let whole = Blob::new_with_blob_sequence_and_options(&self.parts, &options).ok();
        let url = whole.filter(|_| !self.is_full);
        download_from(url.and_then(|whole| ObjectUrl::of_file(&whole)), name)
    }
}

/// The contents of a file that the person has chosen.
///
/// # Errors
/// When it cannot be read, or is gone by now.
pub async fn read_file(file: &File) -> Result<Vec<u8>, ShareError> {
    let buffer: ArrayBuffer = settled(file.array_buffer())
        .await
        .map_err(|thrown| ShareError::of(&thrown))?;
    Ok(Uint8Array::new(&buffer).to_vec())
}

async fn share_or_copy(data: &ShareData, text: &str) -> Result<Passed, ShareError> {
    let navigator = window().navigator();
    if method(&navigator, "share").is_some() {
        return sheet(navigator.share_with_data(data)).await;
    }
    copy(&navigator, text).await
}

async fn sheet(shared: Promise) -> Result<Passed, ShareError> {
    match settled::<JsValue>(shared).await {
        Ok(_) => Ok(Passed::Shared),
        Err(thrown) if error_name(&thrown) == "AbortError" => Ok(Passed::Cancelled),
        Err(thrown) => Err(ShareError::of(&thrown)),
    }
}

async fn copy(navigator: &Navigator, text: &str) -> Result<Passed, ShareError> {
    if property(navigator, "clipboard").is_none() {
        return Err(ShareError(words::device::no_share_sheet().to_owned()));
    }
    let written = settled::<JsValue>(navigator.clipboard().write_text(text)).await;
    written
        .map(|_| Passed::Copied)
        .map_err(|_| ShareError(words::device::sharing_refused().to_owned()))
}

fn file(new: &NewFile<'_>) -> Result<File, JsValue> {
    let options = FilePropertyBag::new();
    options.set_type(new.media_type);
    let parts = Array::of1(&Uint8Array::from(new.bytes));
    File::new_with_u8_array_sequence_and_options(&parts, new.name, &options)
}
