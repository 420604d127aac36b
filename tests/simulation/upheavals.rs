//! What befalls the shop as a whole: its server is set back, a phone is shut out, a backup is read in, a repairer looks
//! at what is kept aside, customers are erased by the dozen.

use std::collections::BTreeSet;

use app_core::store::Scope;
use app_core::store::memory::now;
use server_core::error::Error;
use shared::log::body::Role;

use crate::doings;
use crate::line::Native;
use crate::phone::Phone;
use crate::server_log::ServerLog;
use crate::town::{OldCopy, Town};

impl Town {
    pub(crate) fn copy_the_server(&mut self) {
        let (database, photos) = (self.household.store.snapshot(), self.household.photos.snapshot());
        self.copies.push(OldCopy { database, photos });
    }

    /// An older copy comes back: the database, at times the photographs, at times with a new epoch, and at times
    /// under a running server.
    pub(crate) fn set_the_server_back(&mut self) {
        let Some(copy) = self.dice.pick(&self.copies) else {
            return;
        };
        self.set_back = true;
        self.household.store.roll_back(&copy.database);
        if self.dice.once_in(2) {
            self.household.photos.roll_back(&copy.photos);
        }
        if self.dice.once_in(3) {
            let world: &dyn server_core::world::World = &self.household.world;
            self.household.store.set_epoch(world.uuid());
        }
        self.shop = now(self.household.open());
        now(self.shop.miss_lost_photos()).expect("the server looks at its photographs");
        self.note_lost();
    }

    /// Notes what nobody has any more, because the phones that had it were shut out and have deleted it.
    fn note_lost(&mut self) {
        if self.wiped.is_empty() {
            return;
        }
        let mut entries: BTreeSet<_> = ServerLog::read(&self.shop).entries.into_keys().collect();
        let photos = self.household.photos.snapshot();
        let mut blobs: BTreeSet<_> = photos.keys().map(ToString::to_string).collect();
        for phone in &self.phones {
            let holdings = phone.holdings();
            entries.extend(holdings.entries);
            blobs.extend(holdings.blobs);
        }
        if let Some(former) = &self.former {
            entries.extend(former.ids());
        }
        self.wiped.set_back(&entries, &blobs);
    }

    /// On the command line, or by somebody at another device, which may be a helper's.
    pub(crate) fn shut_out(&mut self, which: usize) {
        let device = self.phones[which].store.device();
        let others = self.phones.iter().filter(|phone| phone.store.device() != device);
        let tokens: Vec<_> = others.filter_map(|phone| phone.membership().token).collect();
        let by = self.dice.pick(&tokens).filter(|_| self.dice.once_in(2));
        let Some(by) = by.and_then(|token| now(self.shop.member_of(token)).ok()) else {
            // A device that never joined, or joined after the copy that was put back, is not known.
            drop(now(self.shop.revoke(device)));
            return;
        };
        let done = now(self.shop.shut_out(&by, device));
        let is_right = match by.role {
            Role::Repairer => matches!(done, Ok(()) | Err(Error::NotFound)),
            _ => matches!(done, Err(Error::ForRepairer)),
        };
        assert!(is_right, "{by:?} shuts {device} out: {done:?}");
    }

    pub(crate) fn back_up(&mut self, which: usize) {
        let scope = if self.dice.once_in(2) {
            Scope::All
        } else {
            Scope::Unsynced
        };
        let mut file = Vec::new();
        let mut sink = |piece: Vec<u8>| file.extend_from_slice(&piece);
        if now(self.phones[which].store.write_backup(scope, &Native, &mut sink)).is_ok() {
            self.backups.push(file);
        }
    }

    /// The shop buys a phone and reads an old backup in; the one it was made on may still be there.
    pub(crate) fn restore_on_a_new_phone(&mut self) {
        let Some(file) = self.dice.pick(&self.backups) else {
            return;
        };
        if self.phones.len() >= 5 {
            return;
        }
        let phone = Phone::new(self.dice.seed(), self.time, self.dice.role());
        now(phone.store.read_backup(file, &Native)).expect("a whole backup can be read in");
        self.seen.restored.set(true);
        self.phones.push(phone);
    }

    pub(crate) fn look_through_what_is_kept_aside(&mut self) {
        if let Some(member) = self.repairer() {
            self.at_what_is_kept_aside(member).look_through(&self.dice);
        }
    }

    pub(crate) fn clear_out(&mut self, which: usize) {
        if self.dice.once_in(2) {
            now(doings::clear_out(
                &self.phones[which].store,
                &self.dice,
                &self.seen,
            ));
        }
    }
}
