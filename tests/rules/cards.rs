//! How much is looked up for a care card, on a store in memory that counts.

use server_core::error::Error;
use server_core::shop::Member;
use shared::log::body::{Role, SameAs};
use shared::log::fold::Card;
use shared::log::{Body, SubjectKind};
use support::memory::{Household, MemoryShop};
use support::sample::{Pen, WholeJob, unsent};

/// A job on whose pair's card one section is shown, and so many pairs that are the same pair.
async fn names(shop: &MemoryShop, count: usize) -> WholeJob {
    let mut pen = Pen::new(1);
    let job = pen.whole_job(b"");
    let mut entries = job.entries.clone();
    let same = Body::SameAs(SameAs { other: job.pair });
    for _ in 0..count {
        let other = pen.subject();
        entries.push(pen.entry(SubjectKind::Pair, other, &same));
    }
    let repairer = Member {
        device: pen.device,
        role: Role::Repairer,
    };
    for some in entries.chunks(1_000) {
        shop.push(&repairer, unsent(some).into()).await.unwrap();
    }
    job
}

#[tokio::test]
async fn a_card_takes_few_look_ups_however_many_names_its_pair_has() {
    for count in [2_000, 4_000] {
        let household = Household::new(1);
        let shop = household.open().await;
        let job = names(&shop, count).await;
        let before = household.store.outlines_read();
        let card = shop.card(&job.secret).await.unwrap();
        assert!(matches!(card, Card::Sections(shown) if shown.len() == 1));
        let looked_up = household.store.outlines_read() - before;
        assert_eq!(looked_up, 2, "the pair, then its job and all its names");
    }
}

#[tokio::test]
async fn a_card_that_would_take_too_much_memory_is_refused() {
    let household = Household::new(1);
    let shop = household.open().await;
    let job = names(&shop, 12_000).await;
    let card = shop.card(&job.secret).await;
    assert!(matches!(card, Err(Error::TooLarge)), "{card:?}");
    let guessed = shop.card("0123456789abcdef").await;
    assert!(matches!(guessed, Err(Error::NotFound)), "{guessed:?}");
}
