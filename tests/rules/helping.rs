//! What a helper's device may send for others, and when.

use server_core::shop::Member;
use server_core::store::{LogTx, Store, StoreTx, TxMode};
use shared::log::body::Role;
use shared::log::{Entry, EntryId, ReceivedEntry, SubjectKind};
use shared::sync::messages::{Holding, JoinRequest, PushOutcome};
use support::memory::{Household, MemoryShop};
use support::sample::{Pen, unsent};

/// A shop with a repairer's and a helper's device.
async fn shop() -> (Household, MemoryShop, Member, Member) {
    let household = Household::new(1);
    let shop = household.open().await;
    let mut members = Vec::new();
    for (number, role) in [(1, Role::Repairer), (2, Role::Helper)] {
        let request = JoinRequest {
            code: shop.join_code(role).await.unwrap().code,
            device: Pen::new(number).device,
            name: "Bench phone".to_owned(),
            shop: None,
        };
        let token = shop.join(&request).await.unwrap().token;
        members.push(shop.member_of(&token).await.unwrap());
    }
    let [repairer, helper]: [Member; 2] = members.try_into().unwrap();
    (household, shop, repairer, helper)
}

/// Whether the entry is accepted from this device.
async fn accepts(shop: &MemoryShop, member: &Member, entry: &Entry) -> bool {
    let held = vec![ReceivedEntry::unsent(entry.clone())];
    let answer = shop.push(member, held.into()).await.unwrap();
    matches!(answer.results[..], [PushOutcome::Accepted { .. }])
}

/// Which of these entries the device is asked for.
async fn asked(shop: &MemoryShop, member: &Member, entries: &[Entry]) -> Vec<EntryId> {
    let held: Vec<_> = entries
        .iter()
        .map(|entry| Holding {
            id: entry.id,
            received: None,
        })
        .collect();
    shop.missing_entries(member.device, &held).await.unwrap()
}

#[tokio::test]
async fn a_helpers_device_sends_what_it_was_asked_for_within_an_hour() {
    let (household, shop, _, helper) = shop().await;
    let mut other = Pen::new(3);
    let job = other.subject();
    let entries = [(); 2].map(|()| other.raw(SubjectKind::Job, job, "note", "{}"));
    assert!(!accepts(&shop, &helper, &entries[0]).await);
    assert_eq!(asked(&shop, &helper, &entries).await.len(), 2);
    household.world.advance(60 * 60 * 1000 - 1);
    assert!(accepts(&shop, &helper, &entries[0]).await);
    household.world.advance(1);
    assert!(!accepts(&shop, &helper, &entries[1]).await);
    // It is asked again when it compares again, and another device is not asked by that.
    assert_eq!(asked(&shop, &helper, &entries).await, [entries[1].id]);
    let stranger = Member {
        device: Pen::new(4).device,
        ..helper.clone()
    };
    assert!(!accepts(&shop, &stranger, &entries[1]).await);
    assert!(accepts(&shop, &helper, &entries[1]).await);
}

/// A server of an earlier version can have blank entries that no erasure explains.
#[tokio::test]
async fn a_helpers_device_fills_a_blank_entry_only_if_it_was_asked_and_may_write_it() {
    let (household, shop, repairer, helper) = shop().await;
    let mut pen = Pen::new(1);
    let [job, own] = [pen.subject(), pen.subject()];
    let note = pen.raw(SubjectKind::Job, job, "note", "{}");
    let price = pen.raw(SubjectKind::Shop, own, "detail", "{}");
    let entries = [note, price];
    shop.push(&repairer, unsent(&entries).into()).await.unwrap();
    let mut tx = household.store.begin(TxMode::Write).await.unwrap();
    let ids = entries.each_ref().map(|entry| entry.id);
    for stored in tx.stored(&ids).await.unwrap() {
        tx.blank(&stored).await.unwrap();
    }
    tx.commit().await.unwrap();

    let blank = async || {
        let pulled = shop.pull(&Role::Repairer, None, None).await.unwrap().entries;
        let blank = pulled.into_iter().filter(|held| held.entry.is_blank());
        blank.map(|held| held.entry.id).collect::<Vec<_>>()
    };
    for entry in &entries {
        assert!(accepts(&shop, &helper, entry).await, "it is stored already");
    }
    assert_eq!(blank().await, ids);
    assert_eq!(asked(&shop, &helper, &entries).await, ids);
    for entry in &entries {
        assert!(accepts(&shop, &helper, entry).await);
    }
    assert_eq!(
        blank().await,
        [entries[1].id],
        "a price is for a repairer's device to fill"
    );
    assert!(accepts(&shop, &repairer, &entries[1]).await);
    assert_eq!(blank().await, []);
}
