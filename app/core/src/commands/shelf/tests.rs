use serde_json::json;
use shared::log::ReceivedEntry;
use shared::log::body::{Side, Step};
use shared::log::fold::Entries;
use shared::shelf::{Materials, Shelf, is_for};
use support::sample::Pen;

use super::*;
use crate::commands::scene;
use crate::commands::work::on_job;

const SHEET: u128 = 0x5e;

fn form() -> MaterialForm {
    MaterialForm {
        name: " Rubber sheet ".to_owned(),
        unit: "sheet".to_owned(),
        thickness_mm: Some(6.0),
        cost: Some(Minor(3_000)),
        least: Some(2_000),
        takes: vec![("half_sole".into(), 156)],
        ..MaterialForm::default()
    }
}

/// A device that writes drafts and folds the shelf from them.
struct Writer {
    pen: Pen,
    entries: Entries,
}

impl Writer {
    fn new() -> Self {
        let mut writer = Self {
            pen: Pen::new(1),
            entries: Entries::default(),
        };
        writer.save(add(scene::subject(SHEET), &form()));
        writer
    }

    /// Saves drafts, and returns the id of the last entry.
    fn save(&mut self, drafts: Vec<Draft>) -> Option<EntryId> {
        let mut last = None;
        for draft in drafts {
            let mut entry = self
                .pen
                .entry(draft.subject.kind.clone(), draft.subject.id, &draft.body);
            entry.over = draft.over;
            last = Some(entry.id);
            self.entries.take(ReceivedEntry::unsent(entry));
        }
        last
    }

    fn material(&self) -> KeptMaterial {
        let materials = Materials::of(&self.entries);
        materials.iter().next().cloned().expect("it was added")
    }

    fn row(&self) -> ShelfRow {
        Shelf::of(&Materials::of(&self.entries), &[]).rows.remove(0)
    }
}

#[test]
fn a_form_is_kept_and_only_what_changed_is_written_again() {
    let mut writer = Writer::new();
    let mut known = MaterialForm::of(&writer.material());
    assert_eq!(
        known,
        MaterialForm {
            name: "Rubber sheet".to_owned(),
            ..form()
        }
    );
    assert_eq!(edit(&writer.material(), &known), [], "nothing has changed");
    known.supplier = "Brack & Daughters".to_owned();
    known.least = None;
    known.takes = vec![("half_sole".into(), 0), ("heel_block".into(), 0)];
    let drafts = edit(&writer.material(), &known);
    let names: Vec<_> = drafts
        .iter()
        .filter_map(|draft| match &draft.body {
            Body::Detail(detail) => Some((detail.field.as_str(), detail.value.clone())),
            _ => None,
        })
        .collect();
    assert_eq!(
        names,
        [
            ("supplier", json!("Brack & Daughters")),
            ("least", json!(null)),
            ("takes/half_sole", json!(0))
        ]
    );
    writer.save(drafts);
    let state = writer.material().state;
    assert_eq!((state.least(), state.takes("half_sole")), (None, None));
}

#[test]
fn counts_orders_and_arrivals_add_up() {
    let mut writer = Writer::new();
    let sheet = scene::subject(SHEET);
    let first = count(&writer.row(), 1_500);
    let first = writer.save(vec![first]).expect("a count");
    let lines = Shelf {
        rows: vec![writer.row()],
    }
    .order_list();
    assert_eq!(lines[0].thousandths, 1_000, "half a sheet is missing");
    let sent = writer.save(order_all(&lines)).expect("an order");
    assert_eq!((writer.row().on_order, writer.row().missing()), (1_000, 0));
    writer.save(vec![arrived(sheet, Some(sent), 600, None)]);
    writer.save(vec![call_off(sheet, sent)]);
    assert_eq!((writer.row().on_hand, writer.row().on_order), (Some(2_100), 0));
    let again = count(&writer.row(), 2_000);
    assert_eq!(again.over, [first], "the first one is known");
    writer.save(vec![again]);
    assert_eq!((writer.row().on_hand, writer.row().check), (Some(2_000), None));
}

#[test]
fn a_new_material_is_counted_in_the_same_save() {
    let mut writer = Writer::new();
    writer.save(vec![first_count(scene::subject(SHEET), 2_500)]);
    assert_eq!((writer.row().on_hand, writer.row().check), (Some(2_500), None));
}

#[test]
fn what_a_pair_usually_takes_is_noted_once() {
    let mut writer = Writer::new();
    assert!(usually_takes(&writer.material(), "half_sole", 156).is_none());
    let noted = usually_takes(&writer.material(), "heel_block", 90).expect("another operation");
    writer.save(vec![noted]);
    assert_eq!(writer.material().state.takes("heel_block"), Some(90));
}

#[test]
fn a_material_that_is_retired_is_not_ordered() {
    let mut writer = Writer::new();
    let few = count(&writer.row(), 100);
    writer.save(vec![few]);
    assert!(retire(&writer.material(), false).is_none());
    let retired = retire(&writer.material(), true).expect("it was kept");
    writer.save(vec![retired]);
    assert!(writer.row().is_below_least());
    assert_eq!(writer.row().missing(), 0);
}

#[test]
fn what_a_step_took_is_said_with_it_or_afterwards() {
    let used = vec![Used {
        material: "Rubber sheet".to_owned(),
        thousandths: 160,
        material_id: Some(scene::subject(SHEET)),
    }];
    let step = Step {
        operation: "half_sole".into(),
        side: Side::Both,
        note: String::new(),
        minutes: Some(20),
        used: Vec::new(),
        line: None,
        cement: None,
    };
    let draft = on_job(scene::subject(scene::JOB), Body::Step(step.clone()));
    let Body::Step(made) = taking(draft, used.clone()).body else {
        panic!("not a step")
    };
    assert_eq!(made.used, used);

    let earlier = Spent {
        step: scene::entry(1),
        minutes: Some(25),
        used: Vec::new(),
        cement: Some("neoprene".to_owned()),
    };
    let state = JobState {
        steps: vec![scene::said(1, 0, step)],
        spent: vec![scene::said(2, 1, earlier)],
        ..JobState::default()
    };
    let draft = take(scene::subject(scene::JOB), &state, scene::entry(1), used.clone());
    assert_eq!(draft.over, [scene::entry(2)]);
    let Body::Spent(spent) = draft.body else {
        panic!("not what it took")
    };
    assert_eq!(
        (spent.minutes, spent.cement.as_deref(), &spent.used),
        (Some(25), Some("neoprene"), &used),
        "the minutes and the cement stay"
    );
    let more = vec![Used {
        thousandths: 200,
        ..used[0].clone()
    }];
    let again = taking(
        on_job(scene::subject(scene::JOB), Body::Spent(spent)),
        more.clone(),
    );
    assert!(matches!(again.body, Body::Spent(spent) if spent.used == more));
}

#[test]
fn a_wait_names_the_material_for_older_apps_too() {
    let wait = waiting_for(scene::subject(SHEET), "Rubber sheet");
    assert_eq!(
        (wait.note.as_str(), wait.material),
        ("Rubber sheet", Some(scene::subject(SHEET)))
    );
    assert!(is_for(&wait, &Writer::new().material()));
}
