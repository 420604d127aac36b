//! The pictures that the stories of the demo shop show, each loaded once.

use std::collections::HashMap;

use rust_embed::RustEmbed;
use sha2::{Digest as _, Sha256};
use shared::log::body::Blob;

/// The pictures and their thumbnails, embedded in the binary.
#[derive(RustEmbed)]
#[folder = "src/demo/pictures/"]
struct Pictures;

/// Width and height of a picture in pixels.
const FULL: (u32, u32) = (960, 720);
/// Width and height of a thumbnail in pixels.
const THUMB: (u32, u32) = (320, 240);

/// A picture and its thumbnail as entries name them: by SHA-256.
#[derive(Debug, Clone)]
pub(super) struct NamedPicture {
    pub(super) full: Blob,
    pub(super) thumb: Blob,
}

/// Pictures by their names, and the bytes of all of them.
#[derive(Debug, Default)]
pub(super) struct Album {
    named: HashMap<String, NamedPicture>,
    bytes: Vec<(String, Vec<u8>)>,
}

impl Album {
    /// Loads each of the named pictures once. A name without a file is left out.
    pub(super) fn of(names: impl IntoIterator<Item = String>) -> Self {
        let mut album = Self::default();
        for name in names {
            if album.named.contains_key(&name) {
                continue;
            }
            let file = |end: &str| Pictures::get(&[name.as_str(), end].concat());
            let (Some(full), Some(thumb)) = (file(".jpg"), file(".small.jpg")) else {
                continue;
            };
            let full = album.keep(full.data.into_owned(), FULL);
            let thumb = album.keep(thumb.data.into_owned(), THUMB);
            album.named.insert(name, NamedPicture { full, thumb });
        }
        album
    }

    /// A picture by its name.
    pub(super) fn named(&self, name: &str) -> Option<&NamedPicture> {
        self.named.get(name)
    }

    /// The bytes of every picture and thumbnail, by SHA-256.
    pub(super) fn into_bytes(self) -> Vec<(String, Vec<u8>)> {
        self.bytes
    }

    fn keep(&mut self, bytes: Vec<u8>, (width, height): (u32, u32)) -> Blob {
        let blob = Blob {
            sha256: hex::encode(Sha256::digest(&bytes)),
            media_type: "image/jpeg".to_owned(),
            bytes: bytes.len() as u64,
            width,
            height,
        };
        self.bytes.push((blob.sha256.clone(), bytes));
        blob
    }
}

/// The names of all embedded files.
#[cfg(test)]
pub(super) fn files() -> std::collections::BTreeSet<String> {
    Pictures::iter().map(std::borrow::Cow::into_owned).collect()
}
