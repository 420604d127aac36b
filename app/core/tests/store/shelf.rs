//! The materials of the shelf, and what the jobs on the device have used of them.

use crate::common::*;
use app_core::commands::shelf::{
    MaterialForm, add, arrived_and_on, count, pairs_that_wait, waiting_for, waiting_jobs,
};
use app_core::commands::undo_all;
use app_core::stations::{StationRow, in_shop};
use app_core::store::memory::now;
use app_core::store::tables;
use shared::log::body::{Body, Note, Retracted, Side, Step, Used};
use shared::log::{Draft, Subject, SubjectId, SubjectKind, UnixMs};
use shared::shelf::{Shelf, UsualTakes, uses_in_rows};

fn shelf(device: &Device) -> Shelf {
    let materials = now(device.store.materials()).unwrap();
    let shop = now(device.store.shop_state()).unwrap();
    let rows = match materials.begun() {
        Some(since) => now(device.store.used_since(since)).unwrap(),
        None => Vec::new(),
    };
    let usage = uses_in_rows(&rows, &UsualTakes::of(&materials, &shop));
    Shelf::of(&materials, &usage)
}

/// Puts a material on the shelf.
fn put(device: &Device, name: &str) -> SubjectId {
    let id = device.subject(SubjectKind::Material).id;
    let form = MaterialForm {
        name: name.to_owned(),
        unit: "sheet".to_owned(),
        ..MaterialForm::default()
    };
    device.save(add(id, &form));
    id
}

fn on_hand(device: &Device, material: SubjectId) -> Option<i64> {
    shelf(device).row(material).unwrap().on_hand
}

/// A step that takes half a unit.
fn taking(job: &Subject, material: SubjectId) -> Draft {
    let used = Used {
        material: String::new(),
        thousandths: 500,
        material_id: Some(material),
    };
    let step = Step {
        operation: "half_sole".into(),
        side: Side::Both,
        note: String::new(),
        minutes: None,
        used: vec![used],
        line: None,
        cement: None,
    };
    Draft::new(job.clone(), Body::Step(step))
}

#[test]
fn what_is_there_follows_from_the_tail_and_from_the_archive() {
    let device = Device::new(1);
    assert!(shelf(&device).rows.is_empty());
    let [rubber, leather] = ["Rubber", "Leather"].map(|name| put(&device, name));
    let taken = taken_in(&device);
    device.save(vec![taking(&taken.job, rubber)]);
    let row = shelf(&device).row(rubber).unwrap().clone();
    device.save(vec![count(&row, 5_000)]);
    let saved = device.save(vec![taking(&taken.job, rubber)]);
    assert_eq!(
        on_hand(&device, rubber),
        Some(4_500),
        "only what was used since the count"
    );
    assert_eq!(on_hand(&device, leather), None);

    let note = Note {
        text: "left heel soft".to_owned(),
        ..Note::default()
    };
    device.save(vec![Draft::new(taken.job.clone(), Body::Note(note)); 100]);
    acknowledge(&device, UnixMs(i64::MAX));
    assert!(device.kv.rows(tables::TAIL).is_empty());
    assert_eq!(on_hand(&device, rubber), Some(4_500));

    let back = Retracted {
        entry: saved[0].entry.id,
    };
    device.save(vec![Draft::new(taken.job, Body::Retracted(back))]);
    assert_eq!(on_hand(&device, rubber), Some(5_000));
}

/// The rows of the pairs are kept equal to a fresh fold, so what was used last year is found without folding a job.
#[test]
fn what_was_used_months_ago_counts_too() {
    let device = Device::new(1);
    let rubber = put(&device, "Rubber");
    let row = shelf(&device).row(rubber).unwrap().clone();
    device.save(vec![count(&row, 5_000)]);
    for _ in 0..14 {
        device.around.advance(30 * 86_400_000);
        let taken = taken_in(&device);
        device.save(vec![taking(&taken.job, rubber), hand_over(&taken.job)]);
    }
    assert_eq!(on_hand(&device, rubber), Some(5_000 - 14 * 500));
}

/// One save notes that a material has come and ends the wait of the job; both come back with it.
#[test]
fn an_arrival_lets_the_jobs_go_on_that_wait_for_it_until_it_is_undone() {
    let device = Device::new(1);
    let rubber = put(&device, "Rubber");
    let [waits, works] = [(); 2].map(|()| taken_in(&device));
    let wait = Body::Wait(waiting_for(rubber, "Rubber"));
    device.save(vec![Draft::new(waits.job.clone(), wait)]);
    let rows = || -> Vec<StationRow> { in_shop(now(device.store.in_shop()).unwrap()).collect() };
    let held = || -> Vec<_> {
        let waiting = rows().into_iter().filter(|row| row.job.material.is_some());
        waiting.map(|row| row.job.id).collect()
    };
    assert_eq!(held(), [waits.job.id]);
    assert!(rows().iter().any(|row| row.job.id == works.job.id));

    let materials = now(device.store.materials()).unwrap();
    let histories = now(device.store.pair_histories(&pairs_that_wait(&rows()))).unwrap();
    let waiting = waiting_jobs(&materials, &rows(), &histories);
    let drafts = arrived_and_on(materials.get(rubber).unwrap(), None, 2_000, None, &waiting);
    let saved = now(device.store.save(drafts, Vec::new())).unwrap();
    assert_eq!(held(), []);
    assert_eq!(on_hand(&device, rubber), Some(2_000));

    device.save(undo_all(&saved));
    assert_eq!(held(), [waits.job.id]);
    assert_eq!(on_hand(&device, rubber), None);
}
