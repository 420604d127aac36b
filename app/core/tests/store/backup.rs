//! Backup to one file and back, without a server.

use std::collections::BTreeSet;

use crate::common::story::{Story, acts};
use crate::common::*;
use app_core::store::memory::now;
use app_core::store::{BackupError, Restored, Scope, Sha256Digest, StoreError, tables};
use proptest::prelude::*;
use shared::log::Draft;
use shared::log::body::{Detail, field};
use shared::log::{Body, UnixMs};
use shared::sync::machine::{Progress, Settled};

/// SHA-256 from the `sha2` crate.
struct Library;

impl Sha256Digest for Library {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        Ok(sha256(bytes))
    }
}

fn backup(device: &Device, scope: Scope) -> Vec<u8> {
    let mut file = Vec::new();
    now(device
        .store
        .write_backup(scope, &Library, &mut |piece| file.extend(piece)))
    .unwrap();
    file
}

fn restore(device: &Device, file: &[u8]) -> Result<Restored, StoreError> {
    now(device.store.read_backup(file, &Library))
}

/// All that a device has, apart from its own identity.
fn knowledge(device: &Device) -> impl PartialEq + std::fmt::Debug + use<> {
    let unsent: BTreeSet<_> = now(device.store.load_unsent(usize::MAX))
        .unwrap()
        .into_iter()
        .map(|held| held.entry.id)
        .collect();
    let refused: Vec<_> = now(device.store.refused())
        .unwrap()
        .into_iter()
        .map(|record| (record.received.entry.id, record.refused))
        .collect();
    let bytes = [tables::BLOBS, tables::THUMBS].map(|table| device.kv.rows(table));
    let counts = now(device.store.counts()).unwrap();
    (
        held(&device.kv),
        unsent,
        refused,
        bytes,
        counts,
        stored_summaries(&device.kv),
    )
}

/// A phone with a photographed job.
fn photographed(seed: u64) -> (Device, Taken) {
    let device = Device::new(seed);
    let taken = taken(&device);
    device.save(drop_off(&taken, "A. Example", "derby"));
    let (draft, blobs) = photo(&taken.job, "picture");
    now(device.store.save(vec![draft], blobs)).unwrap();
    (device, taken)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn everything_comes_back(acts in acts(30)) {
        let mut story = Story::new();
        for act in &acts {
            story.carry_out(act).unwrap();
        }
        let copy = Device::new(9);
        restore(&copy, &backup(&story.device, Scope::All)).unwrap();
        prop_assert_eq!(knowledge(&copy), knowledge(&story.device));
        // Restoring the same backup again changes nothing.
        restore(&copy, &backup(&story.device, Scope::All)).unwrap();
        prop_assert_eq!(knowledge(&copy), knowledge(&story.device));
        prop_assert_eq!(fresh_summaries(&copy.kv), stored_summaries(&copy.kv));
    }
}

#[test]
fn a_backup_of_what_is_unsynced_holds_just_that() {
    let (device, taken) = photographed(1);
    let settled: Vec<_> = held(&device.kv)
        .iter()
        .map(|held| Settled::Accepted {
            id: held.entry.id,
            received: MORNING,
        })
        .collect();
    now(device.store.settle(&settled, Progress::default())).unwrap();
    let later = device.save(vec![step(&taken.job, "half_sole")]);
    let copy = Device::new(2);
    assert_eq!(
        restore(&copy, &backup(&device, Scope::Unsynced)),
        Ok(Restored { entries: 1, blobs: 2 })
    );
    assert_eq!(held(&copy.kv), later);
    assert_eq!(now(copy.store.load_unsent(usize::MAX)).unwrap(), later);
}

#[test]
fn a_cut_or_damaged_file_is_refused_before_anything_is_written() {
    let (device, _) = photographed(1);
    let file = backup(&device, Scope::All);
    let copy = Device::new(2);
    let untouched = copy.kv.commits();
    for length in 0..file.len() {
        let refused = restore(&copy, &file[..length]);
        assert!(
            matches!(refused, Err(StoreError::Backup(_))),
            "cut after {length} bytes: {refused:?}"
        );
    }
    for place in (0..file.len()).step_by(7) {
        let mut damaged = file.clone();
        damaged[place] ^= 0x20;
        let refused = restore(&copy, &damaged);
        assert!(
            matches!(refused, Err(StoreError::Backup(_))),
            "damaged at {place}: {refused:?}"
        );
    }
    let longer = [file.as_slice(), b"more"].concat();
    assert_eq!(
        restore(&copy, &longer),
        Err(StoreError::Backup(BackupError::Damaged))
    );
    assert_eq!(copy.kv.commits(), untouched);
}

#[test]
fn a_file_that_is_not_ours_is_refused_by_name() {
    let copy = Device::new(2);
    let refused = |file: &[u8]| restore(&copy, file).unwrap_err();
    assert_eq!(
        refused(b"\xff\xd8\xff\xe0 a picture\n"),
        StoreError::Backup(BackupError::Foreign)
    );
    assert_eq!(
        refused(b"waxend-backup x\n"),
        StoreError::Backup(BackupError::Foreign)
    );
    assert_eq!(
        refused(b"waxend-backup 2\n{}\n"),
        StoreError::Backup(BackupError::Newer)
    );
    assert_eq!(refused(b""), StoreError::Backup(BackupError::Foreign));
}

#[test]
fn a_copy_is_another_device_and_hangs_other_numbers() {
    let (device, _) = photographed(1);
    let copy = Device::new(2);
    restore(&copy, &backup(&device, Scope::All)).unwrap();
    assert_ne!(copy.store.device(), device.store.device());
    let tag = |device: &Device| {
        let taken = taken(device);
        let saved = now(device
            .store
            .save(drop_off(&taken, "B. Example", "boot"), Vec::new()))
        .unwrap();
        assert_eq!(saved.entries[0].entry.device, device.store.device());
        (saved.tags[0].clone(), saved.entries[0].entry.device_seq)
    };
    assert_eq!(tag(&device), ("2".to_owned(), 10));
    let (number, seq) = tag(&copy);
    let (letters, running) = number.split_once('-').unwrap();
    assert_eq!((letters.len(), running, seq), (4, "1", 1));
}

#[test]
fn a_copy_that_joins_takes_letters_and_the_shop_of_the_original() {
    let (device, _) = photographed(1);
    let answer = |shop| join_answer(shop, "secret-token", "C");
    now(device.store.set_join(&answer(5), "https://shop.example", "Bench")).unwrap();
    let file = backup(&device, Scope::All);
    assert!(
        !file.windows(12).any(|window| window == b"secret-token"),
        "the token never leaves the device"
    );
    let copy = Device::new(2);
    restore(&copy, &file).unwrap();
    let other = now(copy.store.set_join(&answer(6), "https://other.example", "Copy"));
    assert_eq!(other, Err(StoreError::OtherShop));
    let membership = now(copy.store.membership()).unwrap();
    assert_eq!((membership.joined(), membership.letters), (false, None));
    now(copy.store.set_join(&answer(5), "https://shop.example", "Copy")).unwrap();
    assert!(
        !now(copy.store.progress()).unwrap().compare,
        "what no server has seen is offered, not compared"
    );
}

#[test]
fn what_a_backup_says_to_be_on_a_server_is_compared_with_it() {
    let (device, _) = photographed(1);
    let unsent = now(device.store.load_unsent(1_000_000)).unwrap();
    let settled = Settled::Accepted {
        id: unsent[0].entry.id,
        received: UnixMs(1),
    };
    now(device.store.settle(&[settled], Progress::default())).unwrap();
    let copy = Device::new(2);
    restore(&copy, &backup(&device, Scope::All)).unwrap();
    assert!(
        now(copy.store.progress()).unwrap().compare,
        "the server may lack what the file holds"
    );
}

#[test]
fn a_backup_of_another_shop_is_refused() {
    let join = |device: &Device, shop| {
        let answer = join_answer(shop, "t", "A");
        now(device.store.set_join(&answer, "https://shop.example", "Bench")).unwrap();
    };
    let (device, _) = photographed(1);
    join(&device, 5);
    let other = Device::new(2);
    join(&other, 6);
    let untouched = other.kv.commits();
    assert_eq!(
        restore(&other, &backup(&device, Scope::All)),
        Err(StoreError::OtherShop)
    );
    assert_eq!(other.kv.commits(), untouched);
}

#[test]
fn what_was_erased_stays_erased_through_an_older_backup() {
    let (device, taken) = photographed(1);
    let older = backup(&device, Scope::All);
    now(device.store.erase(vec![taken.customer.clone()], None)).unwrap();
    restore(&device, &older).unwrap();
    let life = now(device.store.pair_history(taken.pair.id)).unwrap();
    assert_eq!(life.customers.get(&taken.customer.id).unwrap().name(), None);
    // The other way round: the backup has an erasure that this device has not seen.
    let (copy, newer) = (Device::new(2), backup(&device, Scope::Unsynced));
    restore(&copy, &older).unwrap();
    restore(&copy, &newer).unwrap();
    assert_eq!(knowledge(&copy), knowledge(&device));
}

#[test]
fn the_shop_s_own_settings_come_along() {
    let device = Device::new(1);
    let shop = now(device.store.shop_subject()).unwrap();
    device.save(vec![Draft::new(shop, detail(field::NAME, "The Last Stand"))]);
    let file = backup(&device, Scope::All);
    let name = |device: &Device| {
        now(device.store.shop_state())
            .unwrap()
            .name()
            .unwrap_or_default()
            .to_owned()
    };
    let copy = Device::new(2);
    restore(&copy, &file).unwrap();
    assert_eq!(name(&copy), "The Last Stand");
    let used = Device::new(3);
    let own = now(used.store.shop_subject()).unwrap();
    let terms = Body::Detail(Detail {
        field: field::TERMS.into(),
        value: "A year on the stitching.".into(),
    });
    used.save(vec![Draft::new(own, terms)]);
    restore(&used, &file).unwrap();
    assert_eq!(name(&used), "The Last Stand");
    assert_eq!(
        now(used.store.shop_state()).unwrap().terms(),
        Some("A year on the stitching.")
    );
}
