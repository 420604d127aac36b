//! Properties that hold after any sequence of events: derived data equals what the entries say, and what was reported
//! as saved is there.

use std::collections::{BTreeMap, BTreeSet};

use crate::common::story::{Story, acts};
use crate::common::*;
use app_core::store::kv::{KvError, Row};
use app_core::store::memory::{Fault, Memory, now};
use app_core::store::{StoreCounts, StoreError, tables};
use proptest::prelude::*;
use shared::log::Draft;
use shared::log::body::{Note, field};
use shared::log::{Body, ReceivedEntry};
use shared::price::records::PairFacts;
use shared::sync::machine::Progress;

/// The counters, counted from the rows.
fn counted(kv: &Memory) -> StoreCounts {
    let json = |row: &Row| -> serde_json::Value { serde_json::from_str(row.as_text().unwrap()).unwrap() };
    let tail: Vec<_> = kv.rows(tables::TAIL).iter().map(json).collect();
    let infos: Vec<_> = kv.rows(tables::BLOB_INFO).iter().map(json).collect();
    let here = || infos.iter().filter(|info| info["present"] == true);
    let parked = |info: &&serde_json::Value| !info["parked"].is_null();
    let unconfirmed = |info: &&serde_json::Value| info["confirmed"] != true && info["parked"].is_null();
    StoreCounts {
        entries: held(kv).len() as u64,
        unsent: tail.iter().filter(|row| row["unsent"] == true).count() as u64,
        refused: tail.iter().filter(|row| !row["refused"].is_null()).count() as u64,
        blobs: (kv.rows(tables::BLOBS).len() + kv.rows(tables::THUMBS).len()) as u64,
        unsent_blobs: here().filter(unconfirmed).count() as u64,
        parked_blobs: here().filter(parked).count() as u64,
        bytes: here().map(|info| info["bytes"].as_u64().unwrap()).sum(),
    }
}

/// The search line of every pair, of every ticket on which goods are sold, and of every customer whom no pair names, from
/// the rows.
fn searchable(kv: &Memory) -> BTreeMap<String, String> {
    let rows = kv.rows(tables::SEARCH);
    let lines = rows.iter().flat_map(|row| row.as_text().unwrap().lines());
    lines
        .map(|line| {
            let parts: Vec<_> = line.splitn(3, '\t').collect();
            (parts[0].to_owned(), parts[2].to_owned())
        })
        .collect()
}

/// All derived data equals what a fold of the entries gives.
fn derived_is_true(kv: &Memory) {
    let fresh = fresh_summaries(kv);
    assert_eq!(stored_summaries(kv), fresh, "summaries");
    let mut lines: BTreeMap<_, _> = fresh
        .iter()
        .map(|summary| (summary.id.to_string(), summary.search_text()))
        .collect();
    lines.extend(fresh_sale_lines(kv));
    lines.extend(fresh_customer_lines(kv));
    assert_eq!(searchable(kv), lines, "search lines");
    assert_eq!(stored_sales(kv), fresh_sales(kv), "sales");
}

/// The books of every month equal a fresh fold of the pairs, and a pair is in the months in which something happened to
/// it.
fn books_are_true(kv: &Memory, story: &Story) {
    let fresh = fresh_pairs(kv).into_iter().map(|(_, facts)| facts);
    let dated: Vec<_> = fresh.filter(|facts| !facts.months().is_empty()).collect();
    let months: BTreeSet<_> = dated.iter().flat_map(PairFacts::months).collect();
    let months: Vec<_> = months.into_iter().collect();
    let books = now(story.device.store.books(&months, usize::MAX)).unwrap();
    let books: Vec<PairFacts> = books.iter().map(|row| facts_in(row)).collect();
    assert_eq!(books.len(), dated.len(), "each pair once");
    assert!(dated.iter().all(|facts| books.contains(facts)), "the books");
    for month in &months {
        let of_month = now(story.device.store.books(std::slice::from_ref(month), usize::MAX)).unwrap();
        let wanted = dated
            .iter()
            .filter(|facts| facts.months().contains(month))
            .count();
        assert_eq!(of_month.len(), wanted, "{month}");
    }
}

/// Every entry with a photograph has its bytes. None of these histories erases a photograph.
fn photographs_are_here(kv: &Memory) {
    let hashes = |table| {
        kv.rows(table)
            .into_iter()
            .map(|row| row.key)
            .collect::<BTreeSet<_>>()
    };
    let (full, thumbs) = (hashes(tables::BLOBS), hashes(tables::THUMBS));
    for held in held(kv) {
        if let Body::Photo(photo) = Body::of(&held.entry) {
            assert!(full.contains(&photo.full.sha256), "a picture is missing");
            assert!(thumbs.contains(&photo.thumb.sha256), "a thumbnail is missing");
        }
    }
}

/// No stamp, running number or tag number occurs twice.
fn nothing_twice(kv: &Memory, story: &Story) {
    let own: Vec<_> = stored(kv)
        .into_iter()
        .filter(|held| held.entry.device == story.device.store.device())
        .collect();
    let stamps: BTreeSet<_> = own.iter().map(|held| held.entry.stamp).collect();
    let numbers: BTreeSet<_> = own.iter().map(|held| held.entry.device_seq).collect();
    assert_eq!((stamps.len(), numbers.len()), (own.len(), own.len()));
    assert_eq!(numbers.last().copied().unwrap_or(0), own.len() as u64, "no gaps");
    let tags = story.shown.iter().filter_map(|held| match Body::of(&held.entry) {
        Body::Detail(detail) if detail.field == "tag" => Some(detail.value.to_string()),
        _ => None,
    });
    let tags: Vec<_> = tags.collect();
    assert_eq!(
        tags.iter().collect::<BTreeSet<_>>().len(),
        tags.len(),
        "tag numbers"
    );
}

/// Of a subject that was erased nothing is left, also in what is left out. None of these histories erases a photograph.
fn erased_is_gone(kv: &Memory) {
    let all = stored(kv);
    for erased in held(kv).iter().filter(|held| held.entry.kind == "erased") {
        for held in all
            .iter()
            .filter(|held| held.entry.subject == erased.entry.subject)
        {
            let ties = matches!(held.entry.kind.as_str(), "erased" | "retracted" | "same_as");
            assert!(ties || held.entry.is_blank(), "{} survives", held.entry.kind);
        }
    }
}

fn everything_holds(story: &Story) {
    let kv = &story.device.kv;
    derived_is_true(kv);
    books_are_true(kv, story);
    photographs_are_here(kv);
    nothing_twice(kv, story);
    erased_is_gone(kv);
    assert_eq!(now(story.device.store.counts()).unwrap(), counted(kv));
    let ids: BTreeSet<_> = stored(kv).into_iter().map(|held| held.entry.id).collect();
    assert!(
        story.shown_ids().iter().all(|id| ids.contains(id)),
        "something shown as saved is missing"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn what_is_derived_is_what_is_held(acts in acts(40)) {
        let mut story = Story::new();
        for act in &acts {
            story.carry_out(act).unwrap();
        }
        everything_holds(&story);
    }

    #[test]
    fn a_crash_at_any_commit_loses_nothing_shown(
        acts in acts(30),
        crashes in prop::collection::vec((1..8_u32, any::<bool>()), 1..6),
    ) {
        let mut story = Story::new();
        let mut crashes = crashes.into_iter().map(|(commits, before)| {
            if before { Fault::CrashBefore(commits) } else { Fault::CrashAfter(commits) }
        });
        for act in &acts {
            if let Some(fault) = (!story.device.kv.crashed()).then(|| crashes.next()).flatten() {
                story.device.kv.fail(fault);
            }
            if let Err(error) = story.carry_out(act) {
                prop_assert_eq!(error, StoreError::Kv(KvError::Lost));
            }
            if story.device.kv.crashed() {
                story.device.restart();
            }
        }
        story.device.restart();
        now(story.device.store.rebuild_summaries()).unwrap();
        derived_is_true(&story.device.kv);
        photographs_are_here(&story.device.kv);
        prop_assert_eq!(now(story.device.store.counts()).unwrap(), counted(&story.device.kv));
        let ids: BTreeSet<_> = stored(&story.device.kv).into_iter().map(|held| held.entry.id).collect();
        prop_assert!(story.shown_ids().iter().all(|id| ids.contains(id)));
    }

    #[test]
    fn a_full_disk_changes_nothing_and_stops_nothing(acts in acts(20), commits in 1..20_u32) {
        let mut story = Story::new();
        story.device.kv.fail(Fault::Full(commits));
        for act in &acts {
            let before = story.device.kv.commits();
            if let Err(error) = story.carry_out(act) {
                prop_assert_eq!(error, StoreError::Kv(KvError::Full));
                prop_assert_eq!(story.device.kv.commits(), before);
            }
        }
        story.device.kv.restart();
        now(story.device.store.rebuild_summaries()).unwrap();
        everything_holds(&story);
    }
}

const NAME: &str = "Zz-Unforgettable";

/// A device that has a customer's name in the tail, the archive, a summary, a search line, a draft form and a voice
/// note.
fn a_phone_full_of_a_name() -> (Device, Taken) {
    let (device, elsewhere) = (Device::new(1), Device::new(2));
    let taken = taken(&elsewhere);
    let mut history = elsewhere.save(drop_off(&taken, NAME, "derby"));
    for number in 0..9 {
        let other = crate::common::taken(&elsewhere);
        history.extend(elsewhere.save(drop_off(&other, &format!("Customer {number}"), "boot")));
    }
    history.iter_mut().for_each(|held| held.received = Some(MORNING));
    now(device.store.apply(history, Progress::default())).unwrap();

    let voice = blob("Zz-Unforgettable speaking");
    let note = Note {
        of: None,
        text: NAME.into(),
        voice: Some(voice.about.clone()),
    };
    let draft = Draft::new(taken.customer.clone(), Body::Note(note));
    now(device.store.save(vec![draft], vec![voice])).unwrap();
    let half_written = format!("{{\"customer\":\"{}\",\"name\":\"{NAME}\"}}", taken.customer.id);
    now(device.store.keep_draft("drop-off", Some(half_written))).unwrap();
    (device, taken)
}

/// A batch is folded in its own transaction, reading either ranges of ids or single ones, or in later transactions.
#[test]
fn a_batch_of_any_size_leaves_everything_derived_true() {
    for pairs in [9, 60, 450] {
        let (device, elsewhere) = (Device::new(1), Device::new(2));
        let arrive = |mut entries: Vec<ReceivedEntry>| {
            entries.iter_mut().for_each(|held| held.received = Some(MORNING));
            now(device.store.apply(entries, Progress::default())).unwrap();
            derived_is_true(&device.kv);
        };
        let everybody: Vec<_> = (0..pairs).map(|_| taken(&elsewhere)).collect();
        let first = |number: usize, taken: &Taken| {
            elsewhere.save(drop_off(taken, &format!("Customer {number}"), "derby"))
        };
        arrive(
            everybody
                .iter()
                .enumerate()
                .flat_map(|(number, taken)| first(number, taken))
                .collect(),
        );
        // Entries about pairs that are far apart in the table, then a batch of which half is known.
        let calls = |taken: &Taken| {
            elsewhere.save(vec![Draft::new(
                taken.customer.clone(),
                detail(field::NAME, NAME),
            )])
        };
        arrive(everybody.iter().step_by(3).flat_map(calls).collect());
        arrive(held(&elsewhere.kv));
        assert_eq!(stored_summaries(&device.kv), stored_summaries(&elsewhere.kv));
    }
}

#[test]
fn an_erasure_leaves_no_byte_in_any_table() {
    let (device, taken) = a_phone_full_of_a_name();
    assert_eq!(
        tables_with(&device.kv, NAME),
        ["meta", "tail", "blocks", "pairs", "blobs"]
    );
    assert_eq!(tables_with(&device.kv, &NAME.to_lowercase()), ["search"]);
    now(device.store.erase(vec![taken.customer.clone()], None)).unwrap();
    assert_eq!(tables_with(&device.kv, NAME), [""; 0]);
    assert_eq!(tables_with(&device.kv, &NAME.to_lowercase()), [""; 0]);

    // An outdated screen that still shows the name saves it again, and an outdated server sends it again.
    let again = device.save(vec![Draft::new(taken.customer, detail("name", NAME))]);
    let mut stale = again[0].clone();
    stale.received = Some(MORNING);
    now(device.store.apply(vec![stale], Progress::default())).unwrap();
    assert_eq!(tables_with(&device.kv, NAME), [""; 0]);
    derived_is_true(&device.kv);
}

#[test]
fn an_erased_picture_does_not_come_back() {
    // A hash in capitals, which no app writes, names the same picture.
    for written in [str::to_lowercase, str::to_uppercase] {
        let device = Device::new(1);
        let taken = taken(&device);
        device.save(drop_off(&taken, "A. Example", "derby"));
        let (draft, blobs) = photo(&taken.job, "Zz-picture");
        now(device.store.save(vec![draft.clone()], blobs.clone())).unwrap();
        assert_eq!(tables_with(&device.kv, "Zz-picture"), ["blobs", "thumbs"]);
        for blob in &blobs {
            let hash = written(&blob.about.sha256);
            now(device.store.erase_blob(taken.job.clone(), hash, None)).unwrap();
        }
        now(device.store.save(vec![draft], blobs)).unwrap();
        assert_eq!(tables_with(&device.kv, "Zz-picture"), [""; 0]);
        assert_eq!(now(device.store.counts()).unwrap(), counted(&device.kv));
    }
}
