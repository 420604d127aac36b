//! Saving and reading on one device.

use crate::common::*;
use app_core::store::StoreError;
use app_core::store::kv::KvError;
use app_core::store::memory::{Fault, now};
use shared::log::Draft;
use shared::log::body::{Body, Photo, Retracted, Shows, field};
use shared::log::fold::PairHistoryLoader;

#[test]
fn a_drop_off_is_in_the_shop_until_it_is_handed_over() {
    let device = Device::new(1);
    let taken = taken(&device);
    device.save(drop_off(&taken, "A. Example", "derby"));
    let shop = now(device.store.in_shop()).unwrap();
    assert_eq!(shop.len(), 1);
    assert_eq!(
        (shop[0].title.as_str(), shop[0].customer.as_str()),
        ("derby", "A. Example")
    );
    assert_eq!(shop[0].jobs[0].tag, "1");
    device.save(vec![hand_over(&taken.job)]);
    assert!(now(device.store.in_shop()).unwrap().is_empty());
    assert_eq!(now(device.store.search("derby", 10)).unwrap().len(), 1);
    assert_eq!(fresh_summaries(&device.kv), stored_summaries(&device.kv));
}

#[test]
fn a_full_disk_refuses_the_picture_and_leaves_the_log_usable() {
    let device = Device::new(1);
    let taken = taken(&device);
    device.save(drop_off(&taken, "A. Example", "derby"));
    device.kv.fail(Fault::Full(1));
    let (draft, blobs) = photo(&taken.job, "picture");
    let full = now(device.store.save(vec![draft.clone()], blobs.clone()));
    assert_eq!(full, Err(StoreError::Kv(KvError::Full)));
    assert_eq!(
        now(device.store.pair_history(taken.pair.id)).unwrap().jobs[&taken.job.id]
            .photos
            .len(),
        0
    );
    assert_eq!(now(device.store.in_shop()).unwrap().len(), 1);
    device.kv.restart();
    now(device.store.save(vec![draft], blobs.clone())).unwrap();
    assert_eq!(
        now(device.store.blob(&blobs[0].about.sha256)).unwrap(),
        Some(b"picture".to_vec())
    );
}

#[test]
fn the_life_is_the_fold_of_what_was_saved() {
    let device = Device::new(1);
    let taken = taken(&device);
    let saved = device.save(drop_off(&taken, "A. Example", "derby"));
    let changed = device.save(vec![
        Draft::new(taken.pair.clone(), detail(field::LOOK, "oxford")).over(vec![saved[4].entry.id]),
    ]);
    let life = || now(device.store.pair_history(taken.pair.id)).unwrap();
    assert_eq!(life().pair.look(), Some("oxford"));
    let retracted = Body::Retracted(Retracted {
        entry: changed[0].entry.id,
    });
    device.save(vec![Draft::new(taken.pair.clone(), retracted)]);
    assert_eq!(life().pair.look(), Some("derby"));
    assert_eq!(now(device.store.history(taken.pair.id)).unwrap().len(), 8);
    assert_eq!(life().id, PairHistoryLoader::pair(taken.pair.id).finish().id);
}

#[test]
fn a_tiny_picture_that_is_its_own_small_copy_is_counted_once() {
    let device = Device::new(1);
    let taken = taken(&device);
    let bytes = blob("four pixels");
    let photo = Photo::new(bytes.about.clone(), bytes.about.clone(), Shows::Step);
    let draft = Draft::new(taken.job, Body::Photo(photo));
    now(device.store.save(vec![draft], vec![bytes.clone(), bytes.clone()])).unwrap();
    let counts = now(device.store.counts()).unwrap();
    assert_eq!((counts.blobs, counts.unsent_blobs), (1, 1));
    assert_eq!(counts.bytes, bytes.about.bytes);
}
