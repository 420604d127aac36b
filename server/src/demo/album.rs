//! All pictures of the invented shop, each drawn once.

use std::collections::HashMap;
use std::num::NonZeroUsize;
use std::thread;

use sha2::{Digest as _, Sha256};
use shared::log::body::Blob;

use super::draw::{self, Jpeg, Picture};

/// A picture as entries name it.
#[derive(Debug, Clone)]
pub(super) struct NamedPicture {
    pub(super) full: Blob,
    pub(super) thumb: Blob,
}

/// Drawn pictures by what they show, and the bytes of them all.
#[derive(Debug, Default)]
pub(super) struct Album {
    named: HashMap<Picture, NamedPicture>,
    bytes: Vec<(String, Vec<u8>)>,
}

impl Album {
    /// Draws all of `pictures`, on as many threads as there are cores. What cannot be drawn is left out.
    pub(super) fn draw(pictures: &[Picture]) -> Self {
        let mut wanted: Vec<Picture> = Vec::new();
        for picture in pictures {
            if !wanted.contains(picture) {
                wanted.push(*picture);
            }
        }
        let cores = thread::available_parallelism().map_or(1, NonZeroUsize::get);
        let share = wanted.len().div_ceil(cores).max(1);
        let mut album = Self::default();
        thread::scope(|scope| {
            let drawing = |part: &'_ [Picture]| {
                let drawn = part.iter().map(|picture| (*picture, draw::draw(picture)));
                drawn.collect::<Vec<_>>()
            };
            let at_work: Vec<_> = wanted
                .chunks(share)
                .map(|part| scope.spawn(move || drawing(part)))
                .collect();
            for (picture, drawn) in at_work.into_iter().filter_map(|one| one.join().ok()).flatten() {
                if let Some(drawn) = drawn {
                    let full = album.keep(drawn.full);
                    let thumb = album.keep(drawn.thumb);
                    album.named.insert(picture, NamedPicture { full, thumb });
                }
            }
        });
        album
    }

    /// A picture that was drawn.
    pub(super) fn of(&self, picture: &Picture) -> Option<&NamedPicture> {
        self.named.get(picture)
    }

    /// The bytes of every picture and thumbnail, by SHA-256.
    pub(super) fn into_bytes(self) -> Vec<(String, Vec<u8>)> {
        self.bytes
    }

    fn keep(&mut self, jpeg: Jpeg) -> Blob {
        let blob = Blob {
            sha256: hex::encode(Sha256::digest(&jpeg.bytes)),
            media_type: "image/jpeg".to_owned(),
            bytes: jpeg.bytes.len() as u64,
            width: jpeg.width,
            height: jpeg.height,
        };
        self.bytes.push((blob.sha256.clone(), jpeg.bytes));
        blob
    }
}
