//! Customers whom no pair names: they are found by name and number until one does.

use crate::common::*;
use app_core::commands;
use app_core::store::Saved;
use app_core::store::memory::now;
use app_core::store::tables;
use shared::log::body::{Body, Opened, field};
use shared::log::{Draft, Subject, SubjectKind};
use shared::sync::machine::Progress;

/// The drafts of a customer whom a file brought in.
fn brought_in(customer: &Subject, name: &str, phone: &str) -> Vec<Draft> {
    vec![
        Draft::new(customer.clone(), Body::Opened(Opened::default())),
        Draft::new(customer.clone(), detail(field::NAME, name)),
        Draft::new(customer.clone(), detail(field::PHONE, phone)),
    ]
}

/// The names of the customers without a pair that these words find.
fn found(device: &Device, words: &str) -> Vec<String> {
    let found = now(device.store.search_customers(words, 10)).unwrap();
    let names = found
        .iter()
        .map(|one| one.state.name().unwrap_or_default().to_owned());
    names.collect()
}

fn saved(device: &Device, drafts: Vec<Draft>) -> Saved {
    device.around.advance(1000);
    now(device.store.save(drafts, Vec::new())).unwrap()
}

fn is_true(device: &Device) {
    let lines = |key: &str| key.starts_with("customers/");
    let rows = device
        .kv
        .rows(tables::SEARCH)
        .into_iter()
        .filter(|row| lines(&row.key));
    let rows: Vec<_> = rows.map(|row| row.as_text().unwrap().to_owned()).collect();
    let stored = rows.iter().flat_map(|text| text.lines()).map(|line| {
        let parts: Vec<_> = line.splitn(3, '\t').collect();
        (parts[0].to_owned(), parts[2].to_owned())
    });
    assert_eq!(
        stored.collect::<std::collections::BTreeMap<_, _>>(),
        fresh_customer_lines(&device.kv)
    );
}

#[test]
fn a_customer_is_found_by_name_or_number_until_a_pair_names_them_and_again_after_undo() {
    let device = Device::new(1);
    let one = taken(&device);
    device.save(brought_in(&one.customer, "Ottoline Brack", "+00 30 555-0142"));
    assert_eq!(found(&device, "brack 0142"), ["Ottoline Brack"]);
    assert_eq!(found(&device, "vell"), [""; 0]);
    assert!(now(device.store.search("brack", 5)).unwrap().is_empty());
    is_true(&device);

    let drop_off = drop_off(&one, "Ottoline Brack", "derby").into_iter();
    let drop_off = drop_off.filter(|draft| draft.subject.kind != SubjectKind::Customer);
    let taken_in = saved(&device, drop_off.collect());
    assert_eq!(found(&device, "brack"), [""; 0]);
    assert_eq!(now(device.store.search("brack", 5)).unwrap().len(), 1);
    is_true(&device);

    saved(&device, commands::undo_all(&taken_in));
    assert_eq!(found(&device, "brack"), ["Ottoline Brack"]);
    is_true(&device);
}

#[test]
fn an_undone_or_erased_customer_is_found_no_more() {
    let device = Device::new(1);
    let [undone, erased] = [0, 1].map(|_| device.subject(SubjectKind::Customer));
    let first = saved(&device, brought_in(&undone, "Zz-Undone", "1"));
    device.save(brought_in(&erased, "Zz-Erased", "2"));
    assert_eq!(
        found(&device, "zz"),
        ["Zz-Erased", "Zz-Undone"],
        "the newest first"
    );
    saved(&device, commands::undo_all(&first));
    assert_eq!(found(&device, "zz"), ["Zz-Erased"]);
    now(device.store.erase(vec![erased], None)).unwrap();
    assert_eq!(found(&device, "zz"), [""; 0]);
    assert_eq!(tables_with(&device.kv, "zz-erased"), [""; 0]);
    assert_eq!(tables_with(&device.kv, "Zz-Erased"), [""; 0]);
    is_true(&device);
}

/// In the transaction of the batch, and in later ones.
#[test]
fn a_thousand_customers_and_more_are_brought_in_and_taken_back_in_one_save_each() {
    for count in [1000, 1500] {
        let device = Device::new(1);
        let one = |number: usize| {
            let customer = device.subject(SubjectKind::Customer);
            brought_in(
                &customer,
                &format!("Customer {number}"),
                &format!("0555 {number:06}"),
            )
        };
        let all = saved(&device, (0..count).flat_map(one).collect());
        assert_eq!(found(&device, "000321"), ["Customer 321"]);
        assert_eq!(
            now(device.store.search_customers("", usize::MAX)).unwrap().len(),
            count
        );
        assert_eq!(now(device.store.customer_names()).unwrap().len(), count);
        is_true(&device);
        saved(&device, commands::undo_all(&all));
        assert_eq!(found(&device, ""), [""; 0]);
        is_true(&device);
    }
}

/// What another device has brought in comes in pages.
#[test]
fn customers_of_another_device_are_found_too() {
    let (device, elsewhere) = (Device::new(1), Device::new(2));
    let customer = elsewhere.subject(SubjectKind::Customer);
    let mut entries = elsewhere.save(brought_in(&customer, "Ines Vell", "555 0199"));
    entries.iter_mut().for_each(|held| held.received = Some(MORNING));
    now(device.store.apply(entries, Progress::default())).unwrap();
    assert_eq!(found(&device, "vell"), ["Ines Vell"]);
    is_true(&device);
}
