//! What only repairers do on a phone: prices, what a newer app writes, erasures, and calling them off.

use app_core::commands;
use app_core::store::StoreError;
use shared::log::body::{Detail, Photo, field};
use shared::log::fold::{Item, JobLine, PairHistory};
use shared::log::{Body, Draft, ReceivedEntry, Subject, SubjectId, SubjectKind};

use crate::dice::Dice;
use crate::phone::Store;
use crate::saving::keep;
use crate::seen::{Erasable, Seen};

pub(crate) async fn set_price(store: &Store, dice: &Dice, seen: &Seen) -> Result<(), StoreError> {
    let shop = store.shop_subject().await?;
    let goods = dice.pick(&["low_shoe", "boot"]).expect("there are some");
    let body = Body::Detail(Detail {
        field: field::price("half_sole", goods),
        value: dice.between(1_000, 9_900).into(),
    });
    keep(store, seen, vec![Draft::new(shop, body)], Vec::new()).await
}

pub(crate) async fn a_newer_app_writes(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
) -> Result<(), StoreError> {
    let subject = Subject::new(SubjectKind::Pair, life.id);
    let body = format!(
        "{{ \"hours\":{} , \"bath\" : \"\\u0074epid\", \"hours\":1.0e1 }}",
        dice.between(0, 99)
    );
    let held = store.save_raw(subject, "soaked_overnight", 7, &body).await?;
    seen.saved_entry(&held.entry);
    Ok(())
}

/// The customer wishes to be forgotten.
pub(crate) async fn erase(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
) -> Result<(), StoreError> {
    let customers: Vec<SubjectId> = life.customers.keys().copied().collect();
    match dice.pick(&customers) {
        Some(customer) => forget(store, seen, *customer).await,
        None => Ok(()),
    }
}

/// Erases everything about a customer.
pub(crate) async fn forget(store: &Store, seen: &Seen, customer: SubjectId) -> Result<(), StoreError> {
    let before = store.entries_about(customer).await?;
    let joined = begin(store, seen, Erasable::Subject(customer)).await?;
    let subject = Subject::new(SubjectKind::Customer, customer);
    let saved = store.erase(vec![subject], None).await?;
    seen.saved(&saved, Vec::new());
    if joined {
        nothing_is_blanked(&before, &store.entries_about(customer).await?);
    }
    Ok(())
}

/// Notes that somebody is about to erase this. Returns whether the device has joined a shop.
pub(crate) async fn begin(store: &Store, seen: &Seen, what: Erasable) -> Result<bool, StoreError> {
    let joined = store.membership().await?.shop.is_some();
    if joined {
        seen.erasing(what);
    } else {
        seen.erasing_alone(what);
    }
    Ok(joined)
}

/// On a device that has joined, an erasure blanks nothing before the server has accepted it.
fn nothing_is_blanked(before: &[ReceivedEntry], after: &[ReceivedEntry]) {
    // Meanwhile another device's erasure may have come from the server.
    let is_taken = |held: &ReceivedEntry| held.entry.kind == "erased" && held.received.is_some();
    if after.iter().any(is_taken) {
        return;
    }
    for held in before.iter().filter(|held| held.entry.kind != "erased") {
        let now = after.iter().find(|now| now.entry.id == held.entry.id);
        let body = now.map(|now| &now.entry.body);
        assert_eq!(
            body,
            Some(&held.entry.body),
            "blanked before the server knows of it"
        );
    }
}

/// A photograph is destroyed.
pub(crate) async fn destroy(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
    job: &JobLine,
) -> Result<(), StoreError> {
    let photos: &[Item<Photo>] = life.jobs.get(&job.id).map_or(&[], |state| &state.photos);
    let Some(photo) = dice.pick(photos) else {
        return Ok(());
    };
    for hash in [&photo.body.full.sha256, &photo.body.thumb.sha256] {
        let before = store.blob(hash).await?;
        let joined = begin(store, seen, Erasable::Blob(hash.clone())).await?;
        let subject = Subject::new(SubjectKind::Job, job.id);
        let saved = store.erase_blob(subject, hash.clone(), None).await?;
        seen.saved(&saved, Vec::new());
        if joined {
            no_bytes_are_gone(store, job.id, hash, before.as_deref()).await?;
        }
    }
    Ok(())
}

/// On a device that has joined, an erasure destroys no photograph before the server has accepted it.
async fn no_bytes_are_gone(
    store: &Store,
    job: SubjectId,
    hash: &str,
    before: Option<&[u8]>,
) -> Result<(), StoreError> {
    // Meanwhile another device's erasure may have come from the server.
    let what = Some(Erasable::Blob(hash.to_owned()));
    let is_taken = |held: &ReceivedEntry| {
        let is_erasure = held.entry.kind == "erased" && held.received.is_some();
        is_erasure && Erasable::of(&held.entry) == what
    };
    let about = store.entries_about(job).await?;
    if !about.iter().any(is_taken) {
        let after = store.blob(hash).await?;
        assert_eq!(
            after.as_deref(),
            before,
            "destroyed before the server knows of it"
        );
    }
    Ok(())
}

/// Somebody calls off an erasure that was asked for because it was beyond the number that the server takes in a day.
pub(crate) async fn call_off(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
) -> Result<(), StoreError> {
    let subjects = life.customers.keys().chain(life.jobs.keys());
    let mut requests = Vec::new();
    for subject in subjects.copied().collect::<Vec<_>>() {
        let about = store.entries_about(subject).await?;
        requests.extend(about.into_iter().filter(|held| {
            let what = Erasable::of(&held.entry).filter(|_| held.entry.kind == "erasure_asked");
            what.is_some_and(|what| seen.may_be_called_off(&what))
        }));
    }
    let Some(request) = dice.pick(&requests) else {
        return Ok(());
    };
    let draft = commands::records::call_off(request.entry.subject.clone(), request.entry.id);
    keep(store, seen, vec![draft], Vec::new()).await
}
