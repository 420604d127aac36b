//! The rows of tickets on which goods were sold over the counter: they equal a fresh fold, and the books read them.

use crate::common::*;
use app_core::store::kv::{Kv, KvTx, Mode, Row};
use app_core::store::memory::{Fault, now};
use app_core::store::{Compacted, tables};
use serde_json::Value as Json;
use shared::log::body::Role;
use shared::log::{Draft, ReceivedEntry, Subject, SubjectKind};
use shared::price::minor::Minor;
use shared::price::records::month_word;
use shared::sync::machine::Progress;

/// 31 days, in ms.
const MONTH_MS: i64 = 31 * 24 * 3_600_000;

fn ticket(device: &Device) -> Subject {
    device.subject(SubjectKind::Ticket)
}

/// What was sold in a month, as the books read it: the price of each of the goods.
fn sold_in(device: &Device, month: (i64, i64)) -> Vec<i64> {
    let rows = now(device.store.sales(&[month_word(month)])).unwrap();
    let facts = rows.iter().map(|row| facts_in(row));
    let sold = facts
        .flat_map(|facts| facts.tickets)
        .flat_map(|ticket| ticket.sold);
    sold.map(|sold| sold.minor.0).collect()
}

fn is_true(device: &Device) {
    assert_eq!(stored_sales(&device.kv), fresh_sales(&device.kv));
}

/// Entries of another device arrive in one batch.
fn arrive(device: &Device, mut entries: Vec<ReceivedEntry>) {
    entries.iter_mut().for_each(|held| held.received = Some(MORNING));
    now(device.store.apply(entries, Progress::default())).unwrap();
}

#[test]
fn a_sale_without_a_pair_is_in_the_books_until_it_is_taken_back() {
    let device = Device::new(1);
    let ticket = ticket(&device);
    let saved = device.save(sale(&ticket, "Polish", 900));
    assert_eq!(sold_in(&device, (2026, 3)), [900]);
    assert!(sold_in(&device, (2026, 4)).is_empty());

    device.around.advance(MONTH_MS);
    device.save(vec![pay(&ticket, 900)]);
    let months = [(2026, 3), (2026, 4)].map(month_word);
    let rows = now(device.store.sales(&months)).unwrap();
    assert_eq!(rows.len(), 1, "once, although two months have it");
    assert_eq!(facts_in(&rows[0]).tickets[0].money[0].minor, Minor(900));
    is_true(&device);

    // What was paid, and what is given back afterwards, stays in the books.
    device.save(vec![take_back(&saved[1])]);
    device.save(vec![pay(&ticket, 1)]);
    assert!(sold_in(&device, (2026, 3)).is_empty());
    let rows = now(device.store.sales(&months)).unwrap();
    assert_eq!(facts_in(&rows[0]).tickets[0].money.len(), 2);
    is_true(&device);
}

#[test]
fn goods_on_the_ticket_of_a_pair_are_with_the_pair_and_in_a_row_of_their_own() {
    let device = Device::new(1);
    let taken = taken_in(&device);
    device.around.advance(MONTH_MS);
    device.save(vec![sell(&taken.ticket, "Laces", 400)]);
    let pairs = now(device.store.books(&[month_word((2026, 4))], usize::MAX)).unwrap();
    assert_eq!(
        pairs.len(),
        1,
        "the pair is in the month in which goods were sold"
    );
    assert_eq!(facts_in(&pairs[0]).tickets[0].sold[0].what, "Laces");
    assert_eq!(sold_in(&device, (2026, 4)), [400]);
    is_true(&device);
}

/// 500 sales, each paid, and a day that nobody needs: 2,000 entries.
fn many_sales(elsewhere: &Device) -> Vec<ReceivedEntry> {
    let one = |number: i64| {
        let ticket = ticket(elsewhere);
        let mut drafts = sale(&ticket, &format!("Goods {number}"), 100 + number);
        drafts.push(pay(&ticket, 100));
        drafts.push(Draft::new(ticket, detail("day", "2026-03-02")));
        elsewhere.save(drafts)
    };
    (0..500).flat_map(one).collect()
}

#[test]
fn a_batch_of_any_size_leaves_the_sales_true() {
    // In the transaction of the batch, and in later ones.
    for batches in [1, 3] {
        let (device, elsewhere) = (Device::new(1), Device::new(2));
        let entries: Vec<_> = (0..batches).flat_map(|_| many_sales(&elsewhere)).collect();
        assert_eq!(entries.len(), 2_000 * batches);
        arrive(&device, entries.clone());
        assert_eq!(device.kv.rows(tables::SALES).len(), 500 * batches);
        is_true(&device);
        // Payments and retractions name no goods; their tickets are found all the same.
        let of_kind = |kind: &'static str| entries.iter().filter(move |held| held.entry.kind == kind);
        let again = of_kind("sold").flat_map(|held| {
            let ticket = &held.entry.subject;
            elsewhere.save(vec![pay(ticket, 1), take_back(held)])
        });
        let mut more: Vec<_> = again.collect();
        let unpaid = of_kind("payment").step_by(2);
        more.extend(unpaid.flat_map(|held| elsewhere.save(vec![take_back(held)])));
        arrive(&device, more);
        assert!(sold_in(&device, (2026, 3)).is_empty());
        is_true(&device);
    }
}

#[test]
fn a_crash_after_a_large_batch_loses_no_sale() {
    let (mut device, elsewhere) = (Device::new(1), Device::new(2));
    let mut entries = many_sales(&elsewhere);
    // More subjects than one transaction folds.
    while entries.len() < 8_000 {
        entries.extend(many_sales(&elsewhere));
    }
    entries.iter_mut().for_each(|held| held.received = Some(MORNING));
    device.kv.fail(Fault::CrashAfter(2));
    drop(now(device.store.apply(entries, Progress::default())));
    assert!(device.kv.crashed());
    device.restart();
    assert!(device.kv.rows(tables::SALES).len() < 2_000, "some are to be made");
    now(device.store.rebuild_summaries()).unwrap();
    assert_eq!(device.kv.rows(tables::SALES).len(), 2_000);
    is_true(&device);
}

#[test]
fn an_erased_ticket_leaves_no_row() {
    let device = Device::new(1);
    let (erased, other) = (ticket(&device), ticket(&device));
    device.save(sale(&erased, "Zz-boot trees", 3_900));
    device.save(sale(&other, "Laces", 400));
    assert_eq!(tables_with(&device.kv, "Zz-boot"), ["tail", "sales"]);
    now(device.store.erase(vec![erased], None)).unwrap();
    assert_eq!(tables_with(&device.kv, "Zz-boot"), [""; 0]);
    assert_eq!(sold_in(&device, (2026, 3)), [400]);
    is_true(&device);
}

/// Makes the database look as an app without rows of sales has left it.
fn as_before_sales(device: &Device) {
    let tx = now(device.kv.begin(&[tables::META, tables::SALES], Mode::Write)).unwrap();
    for row in device.kv.rows(tables::SALES) {
        tx.delete(tables::SALES, &row.key);
    }
    let mut rows = device.kv.rows(tables::META).into_iter();
    let state = rows.find(|row| row.key == "state").unwrap();
    let mut value: Json = serde_json::from_str(state.as_text().unwrap()).unwrap();
    value["fold_version"] = 11.into();
    tx.put(tables::META, Row::text("state", value.to_string()));
    now(tx.commit()).unwrap();
}

#[test]
fn what_an_earlier_app_received_is_found_once_the_app_is_updated() {
    let (mut device, elsewhere) = (Device::new(1), Device::new(2));
    // In the archive, in the tail, and one that is taken back.
    arrive(&device, many_sales(&elsewhere));
    let (kept, gone) = (ticket(&device), ticket(&device));
    device.save(sale(&kept, "Polish", 900));
    let saved = device.save(sale(&gone, "Laces", 400));
    let mut rows = device.kv.rows(tables::SALES).into_iter();
    let row = rows.find(|row| row.key == gone.id.to_string()).unwrap();
    device.save(vec![take_back(&saved[1])]);
    as_before_sales(&device);
    // A row from before the goods were taken back, which the earlier app did not know.
    device.kv.plant(tables::SALES, row);
    device.restart();
    now(device.store.rebuild_summaries()).unwrap();
    assert_eq!(device.kv.rows(tables::SALES).len(), 502);
    is_true(&device);
}

#[test]
fn sales_without_a_pair_go_into_the_archive() {
    let device = Device::new(1);
    for number in 0..40 {
        device.save(sale(&ticket(&device), "Laces", 400 + number));
    }
    acknowledge_by(20, &device, MORNING);
    assert_eq!(device.kv.rows(tables::TAIL).len(), 80);
    while now(device.store.compact()).unwrap() == Compacted::Partly {}
    assert!(device.kv.rows(tables::TAIL).is_empty());
    assert_eq!(device.kv.rows(tables::SALES).len(), 40);
    is_true(&device);
}

#[test]
fn a_device_that_is_shut_out_keeps_only_the_sales_that_no_server_has() {
    let device = Device::new(1);
    join(&device, Role::Repairer);
    let (first, second) = (ticket(&device), ticket(&device));
    device.save(sale(&first, "Laces", 400));
    let progress = Progress {
        cursor: Some(shared::sync::Cursor {
            epoch: uuid::Uuid::from_u128(1),
            seq: 1,
            mark: uuid::Uuid::from_u128(1),
        }),
        ..Progress::default()
    };
    acknowledge(&device, MORNING);
    now(device.store.apply(Vec::new(), progress)).unwrap();
    device.save(sale(&second, "Polish", 900));
    let access = now(device.store.access()).unwrap().unwrap();
    let refused = problem(shared::sync::Code::TokenRevoked);
    now(device.store.wipe_confirmed(&access, refused)).unwrap();
    assert_eq!(sold_in(&device, (2026, 3)), [900]);
    is_true(&device);
}

#[test]
fn what_was_sold_last_is_known_by_name() {
    let device = Device::new(1);
    device.save(sale(&ticket(&device), "Insoles", 700));
    device.around.advance(4 * MONTH_MS);
    for (what, minor) in [("Laces", 400), ("Polish", 900), ("Laces", 450)] {
        device.save(sale(&ticket(&device), what, minor));
    }
    let lately = now(device.store.sold_lately()).unwrap();
    let lately: Vec<_> = lately
        .iter()
        .map(|sold| (sold.what.as_str(), sold.minor.0))
        .collect();
    assert_eq!(lately, [("Laces", 450), ("Polish", 900)]);
}
