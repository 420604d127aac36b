//! Tells a device which of its entries and blobs the server lacks.

use shared::log::body::Role;
use shared::log::{DeviceId, EntryId};
use shared::sync::messages::{Holding, MAX_ASKED};

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{Blank, BlobHash, BlobTx, LogTx, MemberTx, Store, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// Which of these entries the device should push: those that the server does not have, has with a later `received`,
    /// or has blank without an erasure. A helper's device may then push them for an hour, whoever made them.
    ///
    /// # Errors
    /// [`Error::TooLarge`] for more than [`MAX_ASKED`] entries.
    pub async fn missing_entries(&self, device: DeviceId, held: &[Holding]) -> Result<Vec<EntryId>, Error> {
        if held.len() > MAX_ASKED {
            return Err(Error::TooLarge);
        }
        let ids: Vec<_> = held.iter().map(|holding| holding.id).collect();
        let mut tx = self.begin(TxMode::Read).await?;
        let known = tx.arrivals(&ids).await?;
        let erasures = self.erasures();
        let lacks = |holding: &&Holding| match known.get(&holding.id) {
            None => true,
            Some(ours) => {
                let id = holding.id;
                let earlier = holding.received.is_some_and(|theirs| theirs < ours.received);
                let explained = |blank: &Blank| erasures.covers_id(id, &blank.subject, &blank.kind);
                earlier || ours.blank.as_ref().is_some_and(|blank| !explained(blank))
            }
        };
        let missing: Vec<_> = held.iter().filter(lacks).map(|holding| holding.id).collect();
        // What a repairer's device pushes counts without being asked for.
        let row = tx.device(device).await?;
        if row.is_some_and(|row| row.role != Role::Repairer) {
            self.asked.note(device, &missing, self.world.now());
        }
        Ok(missing)
    }

    /// Which of these blobs the server lacks, including those whose file is gone or has another length. Erased blobs
    /// are not among them.
    ///
    /// # Errors
    /// [`Error::TooLarge`] for more than [`MAX_ASKED`] blobs, [`Error::BadHash`] for a name that is no SHA-256 in hex.
    pub async fn missing_blobs(&self, hashes: &[String]) -> Result<Vec<String>, Error> {
        if hashes.len() > MAX_ASKED {
            return Err(Error::TooLarge);
        }
        let hashes = hashes
            .iter()
            .map(|hash| hash.parse())
            .collect::<Result<Vec<BlobHash>, _>>();
        let hashes = hashes.map_err(|_| Error::BadHash)?;
        let mut tx = self.begin(TxMode::Read).await?;
        let here = tx.blobs(&hashes).await?;
        drop(tx);
        let erasures = self.erasures();
        let mut missing = Vec::new();
        for hash in hashes {
            let name = hash.to_string();
            if erasures.covers_blob(&name) {
                continue;
            }
            let kept = match here.get(&hash) {
                Some(bytes) => self.photos.length(&hash).await? == Some(*bytes),
                None => false,
            };
            if !kept {
                missing.push(name);
            }
        }
        Ok(missing)
    }
}
