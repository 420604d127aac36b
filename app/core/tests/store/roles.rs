//! Devices with roles: what the server keeps for a repairer is left out, and an erasure waits for the server.

use crate::common::*;
use app_core::commands::records::call_off;
use app_core::store::kv::Row;
use app_core::store::memory::{Memory, now};
use app_core::store::tables;
use shared::log::body::{Body, ErasureAsked, Role, field};
use shared::log::fold::{CustomerState, JobState};
use shared::log::{Draft, ReceivedEntry, Subject, UnixMs};
use shared::sync::Code;
use shared::sync::machine::{Progress, Settled};

fn accept(device: &Device, held: &ReceivedEntry) {
    settle(
        device,
        Settled::Accepted {
            id: held.entry.id,
            received: MORNING,
        },
    );
}

fn look(device: &Device, taken: &Taken) -> String {
    let life = now(device.store.pair_history(taken.pair.id)).unwrap();
    life.pair.look().unwrap_or_default().to_owned()
}

/// The customer as the device shows them.
fn customer(device: &Device, taken: &Taken) -> CustomerState {
    let life = now(device.store.pair_history(taken.pair.id)).unwrap();
    life.customers.get(&taken.customer.id).unwrap().clone()
}

fn kinds(entries: &[ReceivedEntry]) -> Vec<&str> {
    entries.iter().map(|held| held.entry.kind.as_str()).collect()
}

/// A new look of the pair that replaces the one of the drop-off.
fn correct(device: &Device, taken: &Taken) -> ReceivedEntry {
    let life = now(device.store.pair_history(taken.pair.id)).unwrap();
    let replaced = life.pair.details.over(field::LOOK);
    let draft = Draft::new(taken.pair.clone(), detail(field::LOOK, "oxford")).over(replaced);
    device.save(vec![draft]).remove(0)
}

#[test]
fn the_device_knows_its_role_from_joining_and_from_every_pull() {
    let device = Device::new(1);
    let membership = || now(device.store.membership()).unwrap();
    assert!(!membership().is_helper(), "alone it can do everything");
    join(&device, Role::Helper);
    assert!(membership().is_helper());
    assert_eq!(now(device.store.progress()).unwrap().role, Some(Role::Helper));
    let told = |role| Progress {
        role,
        ..Progress::default()
    };
    now(device.store.apply(Vec::new(), told(Some(Role::Repairer)))).unwrap();
    assert!(!membership().is_helper());
    now(device.store.settle(&[], told(None))).unwrap();
    assert_eq!(membership().role, Role::Repairer);
    now(device.store.apply(Vec::new(), told(Some(Role::from("owner"))))).unwrap();
    assert!(
        membership().is_helper(),
        "a role of a newer server may not do more"
    );
}

#[test]
fn a_device_of_before_roles_is_a_repairer_s() {
    let device = Device::new(1);
    join(&device, Role::Repairer);
    let rows = device.kv.rows(tables::META);
    let row = rows.iter().find(|row| row.key == "membership").unwrap();
    let mut membership: serde_json::Value = serde_json::from_str(row.as_text().unwrap()).unwrap();
    membership.as_object_mut().unwrap().remove("role");
    device
        .kv
        .plant(tables::META, Row::text("membership", membership.to_string()));
    assert!(!now(device.store.membership()).unwrap().is_helper());
}

#[test]
fn what_the_server_keeps_for_a_repairer_is_left_out_until_the_server_has_it() {
    for code in [Code::KeptForRepairer, Code::DroppedByRepairer] {
        for comes_back in [accept, send] {
            let (device, taken) = joined(Role::Helper);
            let before = now(device.store.counts()).unwrap().entries;
            let made = correct(&device, &taken);
            assert_eq!(look(&device, &taken), "oxford");
            refuse(&device, &made, code.clone());
            let left_out = || {
                assert_eq!(look(&device, &taken), "derby", "what it replaces shows again");
                assert!(now(device.store.find("oxford")).unwrap().is_empty());
                assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
                now(device.store.counts()).unwrap()
            };
            let counts = left_out();
            assert_eq!((counts.entries, counts.refused), (before, 1));
            assert_eq!(
                now(device.store.refused()).unwrap()[0].refused,
                Some(problem(code.clone()))
            );
            now(device.store.retry_refused()).unwrap();
            assert_eq!(unsent(&device), std::slice::from_ref(&made));
            assert_eq!(left_out().refused, 0, "it is offered again, and not shown yet");

            comes_back(&device, &made);
            assert_eq!(look(&device, &taken), "oxford");
            assert_eq!(now(device.store.find("oxford")).unwrap().len(), 1);
            let counts = now(device.store.counts()).unwrap();
            assert_eq!(
                (counts.entries, counts.unsent, counts.refused),
                (before + 1, 0, 0)
            );
            assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
        }
    }
}

/// The server was set back and has lost an entry of a repairer. This device, a helper's, has it in the archive and offers it.
#[test]
fn the_archived_copy_of_what_the_server_keeps_for_a_repairer_is_left_out_too() {
    let device = Device::new(1);
    join(&device, Role::Helper);
    let pairs: Vec<_> = (0..10).map(|_| taken_in(&device)).collect();
    acknowledge(&device, MORNING);
    assert!(device.kv.rows(tables::TAIL).is_empty(), "all of it is archived");
    let before = held(&device.kv);
    let lost = before
        .iter()
        .find(|held| held.entry.subject == pairs[3].pair && held.entry.kind == "detail")
        .unwrap();
    now(device.store.mark_unsent(&[lost.entry.id])).unwrap();
    refuse(&device, lost, Code::KeptForRepairer);
    assert_eq!(look(&device, &pairs[3]), "");
    let counts = now(device.store.counts()).unwrap();
    assert_eq!(counts.entries, before.len() as u64 - 1);
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
    send(&device, lost);
    assert_eq!(look(&device, &pairs[3]), "derby");
    assert_eq!(held(&device.kv), before);
}

/// A photograph on a job, which the server has.
fn photographed(device: &Device, taken: &Taken) -> [String; 2] {
    let (draft, blobs) = photo(&taken.job, "heel");
    let hashes = [&blobs[0], &blobs[1]].map(|blob| blob.about.sha256.clone());
    now(device.store.save(vec![draft], blobs)).unwrap();
    acknowledge(device, MORNING);
    hashes
}

#[test]
fn an_erasure_on_a_joined_device_destroys_nothing_before_the_server_has_accepted_it() {
    let (mut device, taken) = joined(Role::Repairer);
    let [full, _] = photographed(&device, &taken);
    let before = held(&device.kv);
    now(device.store.erase(vec![taken.customer.clone()], None)).unwrap();
    now(device.store.erase_blob(taken.job.clone(), full.clone(), None)).unwrap();
    device.restart();
    assert_eq!(held(&device.kv), before);
    let waits = customer(&device, &taken);
    assert_eq!((waits.name(), waits.erased), (Some("A. Example"), false));
    assert!(now(device.store.blob(&full)).unwrap().is_some());
    assert!(!now(device.store.is_destroyed(&full)).unwrap());
    let waiting = now(device.store.erasures_waiting()).unwrap();
    assert!(waiting.subjects.contains(&taken.customer.id) && waiting.covers_blob(&full));
    assert_eq!(kinds(&unsent(&device)), ["erased", "erased"]);

    acknowledge(&device, MORNING);
    let erased = customer(&device, &taken);
    assert_eq!((erased.name(), erased.erased), (None, true));
    assert_eq!(tables_with(&device.kv, "A. Example"), [""; 0]);
    assert_eq!(now(device.store.blob(&full)).unwrap(), None);
    assert!(now(device.store.erasures_waiting()).unwrap().is_empty());
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
}

#[test]
fn the_erasure_of_another_device_counts_as_soon_as_the_server_sends_it() {
    let (device, taken) = joined(Role::Helper);
    let elsewhere = Device::new(2);
    let erased = now(elsewhere.store.erase(vec![taken.customer.clone()], None)).unwrap();
    send(&device, &erased.entries[0]);
    assert_eq!(customer(&device, &taken).name(), None);
}

#[test]
fn a_phone_alone_erases_at_once_and_sends_the_erasure_after_it_has_joined() {
    let device = Device::new(1);
    let taken = taken_in(&device);
    now(device.store.erase(vec![taken.customer.clone()], None)).unwrap();
    let erased = |device: &Device| {
        let state = customer(device, &taken);
        (state.name().map(str::to_owned), state.erased)
    };
    assert_eq!(erased(&device), (None, true));
    join(&device, Role::Repairer);
    assert_eq!(erased(&device), (None, true));
    let offered = unsent(&device);
    assert_eq!(kinds(&offered)[0], "erased");
    // It cannot ask for what it has erased itself. A person can send it again another day.
    refuse(&device, &offered[0], Code::TooManyErasures);
    assert_eq!(erased(&device), (None, true));
    assert_eq!(now(device.store.refused()).unwrap().len(), 1);
    now(device.store.retry_refused()).unwrap();
    assert_eq!(unsent(&device), offered);
}

#[test]
fn an_erasure_beyond_those_of_a_day_is_asked_for_instead() {
    let (device, taken) = joined(Role::Repairer);
    let erase = || {
        let saved = now(device.store.erase(vec![taken.customer.clone()], None)).unwrap();
        refuse(&device, &saved.entries[0], Code::TooManyErasures);
    };
    erase();
    let asked = unsent(&device);
    assert_eq!(kinds(&asked), ["erasure_asked"]);
    assert_eq!(asked[0].entry.subject, taken.customer);
    let state = customer(&device, &taken);
    assert_eq!((state.name(), state.erased), (Some("A. Example"), false));
    assert_eq!(state.erasures_asked[0].entry, asked[0].entry.id);
    assert!(now(device.store.erasures_waiting()).unwrap().is_empty());

    // The erasure is neither shown as refused, nor sent again, nor compared.
    now(device.store.retry_refused()).unwrap();
    assert_eq!(unsent(&device), asked);
    let counts = now(device.store.counts()).unwrap();
    assert_eq!(
        (counts.refused, now(device.store.refused()).unwrap().len()),
        (0, 0)
    );
    let of_server = held(&device.kv).len() - asked.len();
    assert_eq!(now(device.store.load_holdings(None)).unwrap().len(), of_server);

    erase();
    assert_eq!(unsent(&device), asked, "it is asked for once");
    device.save(vec![call_off(taken.customer.clone(), asked[0].entry.id)]);
    assert!(customer(&device, &taken).erasures_asked.is_empty());
    erase();
    assert_eq!(
        customer(&device, &taken).erasures_asked.len(),
        1,
        "and again after it was called off"
    );
}

#[test]
fn the_destruction_of_a_photograph_is_asked_for_too() {
    let (device, taken) = joined(Role::Repairer);
    let [full, _] = photographed(&device, &taken);
    let saved = now(device.store.erase_blob(taken.job.clone(), full.clone(), None)).unwrap();
    refuse(&device, &saved.entries[0], Code::TooManyErasures);
    let job = || {
        let life = now(device.store.pair_history(taken.pair.id)).unwrap();
        life.jobs.get(&taken.job.id).cloned().unwrap()
    };
    let blobs = |state: &JobState| {
        let asked = state.erasures_asked.iter();
        asked.map(|asked| asked.body.blob.clone()).collect::<Vec<_>>()
    };
    assert_eq!(blobs(&job()), [Some(full)]);
    assert_eq!(job().photos.len(), 1, "it is shown until it is destroyed");
    write_due(&device, &unsent(&device));
    acknowledge(&device, MORNING);
    assert_eq!((blobs(&job()).len(), job().destroyed_photos.len()), (0, 1));
}

fn write_due(device: &Device, requests: &[ReceivedEntry]) {
    now(device.store.write_due(requests)).unwrap();
}

/// A request to erase a customer, as the server sends it.
fn asked_elsewhere(customer: &Subject) -> ReceivedEntry {
    let elsewhere = Device::new(2);
    let body = Body::ErasureAsked(ErasureAsked::default());
    let mut asked = elsewhere.save(vec![Draft::new(customer.clone(), body)]).remove(0);
    asked.received = Some(UnixMs(MORNING.0 + 1));
    asked
}

#[test]
fn an_erasure_that_is_due_is_written_once_and_fulfils_the_request() {
    let (device, taken) = joined(Role::Repairer);
    let asked = asked_elsewhere(&taken.customer);
    send(&device, &asked);
    write_due(&device, &[asked.clone(), asked.clone()]);
    write_due(&device, std::slice::from_ref(&asked));
    let offered = unsent(&device);
    assert_eq!(kinds(&offered), ["erased"]);
    assert_eq!(offered[0].entry.subject, taken.customer);
    assert_eq!(customer(&device, &taken).name(), Some("A. Example"));
    acknowledge(&device, MORNING);
    let state = customer(&device, &taken);
    assert_eq!((state.name(), state.erasures_asked.len()), (None, 0));
    write_due(&device, &[asked]);
    assert!(unsent(&device).is_empty());
}

/// The server reads only retractions.
#[test]
fn an_entry_in_the_place_of_a_request_does_not_call_it_off() {
    let (device, taken) = joined(Role::Repairer);
    let asked = asked_elsewhere(&taken.customer);
    send(&device, &asked);
    let draft = Draft::new(taken.customer.clone(), detail(field::NAME, "B. Example"));
    device.save(vec![draft.over(vec![asked.entry.id])]);
    acknowledge(&device, MORNING);
    assert_eq!(customer(&device, &taken).erasures_asked.len(), 1);
    write_due(&device, &[asked]);
    assert_eq!(kinds(&unsent(&device)), ["erased"]);
}

#[test]
fn an_erasure_that_was_called_off_meanwhile_is_not_written() {
    let (device, taken) = joined(Role::Repairer);
    let asked = asked_elsewhere(&taken.customer);
    send(&device, &asked);
    let off = device.save(vec![call_off(taken.customer, asked.entry.id)]);
    write_due(&device, &[asked]);
    assert_eq!(unsent(&device), off);
}

/// Nothing of an earlier version has the new fields, and nothing that is not left out is written with them.
#[test]
fn rows_of_entries_that_are_shown_are_as_before() {
    let (device, _) = joined(Role::Repairer);
    let text = |kv: &Memory| -> String {
        let rows = kv.rows(tables::TAIL).into_iter();
        rows.map(|row| row.as_text().unwrap().to_owned()).collect()
    };
    assert!(!text(&device.kv).contains("left_out") && !text(&device.kv).contains("retired"));
}
