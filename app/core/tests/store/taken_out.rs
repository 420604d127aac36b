//! Everything as files: the archive is read by another library, and its tables, entries and photographs say what the log
//! says.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Read;

use crate::common::story::{Story, acts};
use crate::common::*;
use app_core::commands::bring::{CustomersPreview, FileKind, PricesPreview, customers_in};
use app_core::store::kv::{Kv, KvTx, Mode};
use app_core::store::memory::now;
use app_core::store::{NewBlob, tables};
use app_core::take_out::{FilesTakenOut, take_out};
use proptest::prelude::*;
use shared::csv;
use shared::log::body::{Note, Opened, field};
use shared::log::{Body, Draft, EntryId, ReceivedEntry, SubjectKind};

/// The files of an archive, by name.
type Files = BTreeMap<String, Vec<u8>>;

fn archive(device: &Device) -> (Vec<u8>, FilesTakenOut) {
    let mut all = Vec::new();
    let done = now(take_out(&device.store, &mut |piece| all.extend(piece))).unwrap();
    (all, done)
}

fn files_in(archive: &[u8]) -> Files {
    let mut files = Files::new();
    for entry in tar::Archive::new(archive).entries().unwrap() {
        let mut entry = entry.unwrap();
        let name = entry.path().unwrap().to_str().unwrap().to_owned();
        let mut bytes = Vec::new();
        entry.read_to_end(&mut bytes).unwrap();
        assert_eq!(files.insert(name.clone(), bytes), None, "{name} is there twice");
    }
    files
}

fn text<'a>(files: &'a Files, name: &str) -> &'a str {
    std::str::from_utf8(&files[name]).unwrap()
}

/// The lines of a table, each as its fields by heading.
fn table(files: &Files, name: &str) -> Vec<BTreeMap<String, String>> {
    let mut records = csv::read(text(files, name), ',')
        .into_iter()
        .map(|record| record.fields.unwrap());
    let heads = records.next().unwrap();
    let line = |fields: Vec<String>| {
        assert_eq!(fields.len(), heads.len(), "{name}");
        heads.iter().cloned().zip(fields).collect()
    };
    records.map(line).collect()
}

/// The entries in the archive, by id.
fn entries(files: &Files) -> Vec<ReceivedEntry> {
    let names = files.keys().filter(|name| name.starts_with("entries/"));
    let lines = names.flat_map(|name| text(files, name).lines());
    lines.map(|line| serde_json::from_str(line).unwrap()).collect()
}

/// A small shop: a pair with a photograph, a note and an accent in its name, goods sold alone, a customer who was brought
/// in, prices.
fn small_shop() -> (Device, Taken, NewBlob) {
    let device = Device::new(1);
    let one = taken(&device);
    device.save(drop_off(&one, "Lea, \"the\" Example", "Größe 12 boot"));
    device.save(vec![Draft::new(
        one.customer.clone(),
        detail(field::PHONE, "+00 30 555-0142"),
    )]);
    device.save(vec![step(&one.job, "half_sole"), pay(&one.ticket, 4200)]);
    let note = Note {
        text: "=1+1\nsecond line".to_owned(),
        ..Note::default()
    };
    device.save(vec![Draft::new(one.job.clone(), Body::Note(note))]);
    let (draft, blobs) = photo(&one.job, "picture");
    let full = blobs[0].clone();
    now(device.store.save(vec![draft], blobs)).unwrap();
    device.save(vec![hand_over(&one.job)]);
    let ticket = device.subject(SubjectKind::Ticket);
    device.save(sale(&ticket, "Laces", 400));
    let alone = device.subject(SubjectKind::Customer);
    device.save(vec![
        Draft::new(alone.clone(), Body::Opened(Opened::default())),
        Draft::new(alone.clone(), detail(field::NAME, "Ines Vell")),
        Draft::new(alone, detail(field::EMAIL, "ines@shop.example")),
    ]);
    let shop = now(device.store.shop_subject()).unwrap();
    let prices = [
        "price/half_sole/boot",
        "price_of/half_sole/leather/boot",
        "goods/Laces",
    ];
    let price = |name: &&str| {
        let detail = shared::log::body::Detail {
            field: (*name).to_owned(),
            value: 4250.into(),
        };
        Draft::new(shop.clone(), Body::Detail(detail))
    };
    device.save(prices.iter().map(price).collect());
    (device, one, full)
}

#[test]
fn a_shop_is_read_without_the_app() {
    let (device, one, full) = small_shop();
    let (bytes, done) = archive(&device);
    // `make oracle` reads the same archive with a library of another language.
    if let Some(path) = std::env::var_os("WAXEND_TAKEN_OUT") {
        std::fs::write(path, &bytes).unwrap();
    }
    assert_eq!((done.pairs, done.photographs, done.missing), (1, 1, 0));
    let files = files_in(&bytes);
    let read_me = text(&files, "README.txt");
    for name in files.keys().filter(|name| name.ends_with(".csv")) {
        assert!(read_me.contains(&format!("{name}: ")), "{name} is not explained");
        let marked = text(&files, name).strip_prefix(csv::BYTE_ORDER_MARK);
        let marked = marked.expect("spreadsheets read a table as UTF-8 by its mark");
        let heads = marked.lines().next().unwrap().replace(',', ", ");
        assert!(read_me.contains(&heads), "{name}: {heads}");
    }

    let customers = table(&files, "customers.csv");
    let names: BTreeSet<_> = customers.iter().map(|line| line["name"].as_str()).collect();
    assert_eq!(names, BTreeSet::from(["Lea, \"the\" Example", "Ines Vell"]));
    let pairs = table(&files, "pairs.csv");
    assert_eq!(pairs[0]["customer_id"], one.customer.id.to_string());
    assert_eq!(pairs[0]["folder"], "1-grosse-12-boot");
    let photographs = table(&files, "photographs.csv");
    assert_eq!(
        photographs[0]["file"],
        "pairs/1-grosse-12-boot/2026-03-02-step.jpg"
    );
    assert_eq!(photographs[0]["stored"], "full");
    assert_eq!(files[&photographs[0]["file"]], full.bytes);
    let work: Vec<_> = table(&files, "work.csv");
    let work: Vec<_> = work
        .iter()
        .map(|line| (line["what"].as_str(), line["price"].as_str()))
        .collect();
    assert_eq!(work, [("agreed", "42.00"), ("done", "")]);
    let money = table(&files, "money.csv");
    let money: BTreeSet<_> = money
        .iter()
        .map(|line| (line["what"].as_str(), line["amount"].as_str()))
        .collect();
    assert_eq!(money, BTreeSet::from([("balance", "42.00"), ("sold", "4.00")]));
    assert_eq!(table(&files, "tickets.csv").len(), 2);
    assert_eq!(table(&files, "notes.csv")[0]["text"], "'=1+1\nsecond line");
    assert!(table(&files, "jobs.csv")[0]["handed_over"].starts_with("2026-03-02T09:00:"));
}

#[test]
fn what_was_taken_out_can_be_brought_in_again() {
    let (device, ..) = small_shop();
    let files = files_in(&archive(&device).0);
    let shop = now(device.store.shop_state()).unwrap();
    let (customers, prices) = (text(&files, "customers.csv"), text(&files, "prices.csv"));
    assert_eq!(FileKind::of(customers, &shop), FileKind::Customers);
    assert_eq!(FileKind::of(prices, &shop), FileKind::Prices);
    let anew = CustomersPreview::of(customers_in(customers, FileKind::Customers), &[]);
    let read: BTreeSet<_> = anew
        .new
        .iter()
        .map(|one| (one.name.as_str(), one.phone.as_str()))
        .collect();
    assert_eq!(
        read,
        BTreeSet::from([("Lea, \"the\" Example", "+00 30 555-0142"), ("Ines Vell", "")])
    );
    assert!(anew.unread.is_empty() && anew.unknown.is_empty(), "{anew:?}");
    let known = now(device.store.customer_names()).unwrap();
    let again = CustomersPreview::of(customers_in(customers, FileKind::Customers), &known);
    assert_eq!((again.new.len(), again.doubles.len()), (0, 2));
    let same = PricesPreview::of(prices, &shop);
    assert_eq!((same.same, same.new.len(), same.unread.len()), (3, 0, 0));
    let elsewhere = PricesPreview::of(prices, &shared::log::fold::ShopState::default());
    assert_eq!(elsewhere.new.len(), 3);
}

#[test]
fn a_photograph_that_is_not_here_in_full_is_told() {
    let (device, _, full) = small_shop();
    let tx = now(device.kv.begin(&[tables::BLOBS], Mode::Write)).unwrap();
    tx.delete(tables::BLOBS, &full.about.sha256);
    now(tx.commit()).unwrap();
    let (bytes, done) = archive(&device);
    assert_eq!((done.photographs, done.missing), (0, 1));
    let files = files_in(&bytes);
    let photographs = table(&files, "photographs.csv");
    assert_eq!(photographs[0]["stored"], "small");
    assert_eq!(files[&photographs[0]["file"]], b"small picture");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn every_entry_that_is_read_is_in_it_once(acts in acts(40)) {
        let mut story = Story::new();
        for act in &acts {
            story.carry_out(act).unwrap();
        }
        let device = &story.device;
        let files = files_in(&archive(device).0);
        let taken = entries(&files);
        let ids: BTreeSet<EntryId> = taken.iter().map(|received| received.entry.id).collect();
        prop_assert_eq!(ids.len(), taken.len(), "an entry is there twice");
        let held: BTreeSet<EntryId> = held(&device.kv).iter().map(|received| received.entry.id).collect();
        prop_assert_eq!(ids, held);
        prop_assert_eq!(table(&files, "pairs.csv").len(), stored_summaries(&device.kv).len());
    }
}
