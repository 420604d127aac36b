//! Any order, duplication or split of entries and of their `received` gives the same state; a replaced entry never
//! wins; concurrent values are all kept.

use crate::support::*;
use proptest::prelude::*;
use shared::log::body::Erased;
use shared::log::fold::{Entries, JobState};
use shared::log::supersession::Supersession;
use shared::log::{Body, Erasures, Merged, ReceivedEntry, Subject, SubjectKind, UnixMs};
use shared::price::minor::Minor;

/// A delivery of a history: copies of its entries, some without `received` or with a later one.
fn copies(history: Vec<ReceivedEntry>) -> impl Strategy<Value = (Vec<ReceivedEntry>, Vec<ReceivedEntry>)> {
    let extra = prop::collection::vec((any::<prop::sample::Index>(), prop::option::of(0i64..20)), 0..20);
    (Just(history), extra)
        .prop_map(|(history, extra)| {
            let mut all = history.clone();
            for (index, later) in extra {
                if history.is_empty() {
                    continue;
                }
                let mut copy = index.get(&history).clone();
                copy.received = copy.received.and_then(|at| later.map(|more| UnixMs(at.0 + more)));
                all.push(copy);
            }
            (history, all)
        })
        .prop_flat_map(|(history, all)| (Just(history), Just(all).prop_shuffle()))
}

/// The current text of a field.
fn shown<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>, field: &str) -> String {
    JobState::of(entries)
        .details
        .text(field)
        .unwrap_or_default()
        .to_owned()
}

fn fold(entries: &Entries) -> JobState {
    JobState::of(entries.iter())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, ..ProptestConfig::default() })]

    #[test]
    fn any_order_duplication_and_split_gives_the_same_state(
        (history, delivered) in history(0..24).prop_flat_map(copies),
        cut in any::<prop::sample::Index>(),
    ) {
        let expected = history.into_iter().collect::<Entries>();
        let straight = delivered.iter().cloned().collect::<Entries>();
        prop_assert_eq!(&straight, &expected);

        // Two phones that each received one part, and then exchanged them.
        let (first, second) = delivered.split_at(cut.index(delivered.len() + 1));
        let mut one = first.iter().cloned().collect::<Entries>();
        let two = second.iter().cloned().collect::<Entries>();
        for held in two.iter() {
            one.take(held.clone());
        }
        prop_assert_eq!(fold(&one), fold(&expected));
    }

    #[test]
    fn folding_as_entries_arrive_equals_folding_afresh(
        (_, delivered) in history(1..20).prop_flat_map(copies),
    ) {
        let mut growing = Entries::default();
        for (n, held) in delivered.iter().enumerate() {
            growing.take(held.clone());
            let fresh = delivered[..=n].iter().cloned().collect::<Entries>();
            prop_assert_eq!(fold(&growing), fold(&fresh));
        }
    }

    #[test]
    fn nothing_shown_is_replaced_or_retracted(history in history(1..24)) {
        let entries = history.into_iter().collect::<Entries>();
        let standing = Supersession::of(entries.iter());
        let state = fold(&entries);
        let honest_over = |shown| {
            // A circle of replacements leaves its greatest member standing; these histories have no circles,
            // because they only ever replace earlier entries.
            !standing.is_replaced(shown) && !standing.is_retracted(shown)
        };
        for (_, slot) in state.details.iter() {
            for entry in slot.entries() {
                prop_assert!(honest_over(entry));
            }
        }
        for line in &state.agreed {
            for version in &line.versions {
                prop_assert!(honest_over(version.entry));
            }
        }
    }

    #[test]
    fn a_replacement_wins_whatever_the_clocks_say(stamps in prop::array::uniform2(0i64..1_000),
                                                  received in prop::array::uniform2(prop::option::of(0i64..1_000))) {
        let mut former = ReceivedEntry::unsent(entry(0, pair(1), stamps[0], 0, &detail("colour", "black")));
        let mut later = ReceivedEntry::unsent(over(entry(1, pair(1), stamps[1], 1, &detail("colour", "oxblood")), &[0]));
        former.received = received[0].map(UnixMs);
        later.received = received[1].map(UnixMs);
        let both = [former.clone(), later.clone()];
        prop_assert_eq!(shown(&both, "colour"), "oxblood");

        let undo = ReceivedEntry::unsent(entry(2, pair(1), 0, 2, &retracted(1)));
        let undone = [former.clone(), later.clone(), undo.clone()];
        prop_assert_eq!(shown(&undone, "colour"), "black");

        let redo = ReceivedEntry::unsent(entry(3, pair(1), 0, 2, &retracted(2)));
        prop_assert_eq!(shown(&[former, later, undo, redo], "colour"), "oxblood");
    }

    #[test]
    fn truly_concurrent_values_are_all_kept(stamps in prop::collection::vec(0i64..1_000, 2..6)) {
        let mut held = vec![ReceivedEntry::unsent(entry(0, pair(1), 500, 0, &agreed("half_sole", 4_500)))];
        for (n, ms) in stamps.iter().enumerate() {
            let n = u16::try_from(n + 1).expect("small");
            let version = entry(n, pair(1), *ms, u8::try_from(n).expect("small"), &agreed("half_sole", i64::from(n)));
            held.push(ReceivedEntry::unsent(over(version, &[0])));
        }
        let state = JobState::of(&held);
        prop_assert_eq!(state.agreed.len(), 1, "one line, several versions");
        prop_assert_eq!(state.agreed[0].versions.len(), stamps.len());

        // A later entry settles it: one version that replaces all others.
        let all: Vec<u16> = (1..=u16::try_from(stamps.len()).expect("small")).collect();
        held.push(ReceivedEntry::unsent(over(entry(99, pair(1), 0, 9, &agreed("half_sole", 4_200)), &all)));
        let settled = JobState::of(&held);
        prop_assert_eq!(settled.agreed.len(), 1);
        prop_assert_eq!(settled.agreed[0].versions.len(), 1);
        prop_assert_eq!(settled.agreed[0].versions[0].body.price_minor, Minor(4_200));
    }

    #[test]
    fn merging_copies_is_commutative_associative_and_idempotent(
        received in prop::array::uniform3(prop::option::of(0i64..100)), blank in prop::array::uniform3(any::<bool>()),
        erased in any::<bool>(), tie in any::<bool>(),
    ) {
        let body = if tie { retracted(1) } else { detail("colour", "tan") };
        let mut erasures = Erasures::default();
        if erased {
            erasures.note(&entry(9, pair(1), 8, 0, &Body::Erased(Erased::default())));
        }
        let copy = |n: usize| {
            let mut held = ReceivedEntry::unsent(entry(0, pair(1), 7, 0, &body));
            held.received = received[n].map(UnixMs);
            if blank[n] { held.entry.body.clear(); }
            held
        };
        let merge = |a: &ReceivedEntry, b: &ReceivedEntry| { let mut a = a.clone(); a.merge(b, &erasures); a };
        // The caller of `merge` applies the erasures to each copy first.
        let held = |n: usize| { let mut held = copy(n); erasures.blank(&mut held.entry); held };
        let [a, b, c] = [held(0), held(1), held(2)];
        prop_assert_eq!(merge(&a, &b), merge(&b, &a));
        prop_assert_eq!(merge(&merge(&a, &b), &c), merge(&a, &merge(&b, &c)));
        prop_assert_eq!(&merge(&a, &a), &a);

        // A full copy survives every blank copy, unless the erasure covers it.
        let all = merge(&merge(&a, &b), &c);
        let covered = erased && !tie;
        prop_assert_eq!(all.entry.is_blank(), covered || blank.iter().all(|blank| *blank));
    }

    #[test]
    fn a_blank_copy_destroys_nothing_whatever_arrives_first(
        order in Just(vec![0usize, 1, 2, 3]).prop_shuffle(), erased in any::<bool>(),
    ) {
        let customer = Subject::new(SubjectKind::Customer, subject_id(3));
        let full = ReceivedEntry::unsent(entry(0, customer.clone(), 1, 0, &detail("name", "Ottoline Brack")));
        let mut blank = full.clone();
        blank.entry.body.clear();
        let erasure = ReceivedEntry::unsent(entry(1, customer.clone(), 2, 1, &Body::Erased(Erased::default())));
        let other = ReceivedEntry::unsent(entry(2, customer, 3, 0, &detail("phone", "555")));
        let stream = [Some(full.clone()), Some(blank), erased.then_some(erasure), Some(other)];

        let mut known = Erasures::default();
        let mut kept: Vec<ReceivedEntry> = Vec::new();
        for held in order.into_iter().filter_map(|n| stream[n].clone()) {
            known.note(&held.entry);
            match kept.iter_mut().find(|one| one.entry.id == held.entry.id) {
                Some(one) => drop(one.merge(&held, &known)),
                None => kept.push(held),
            }
            for one in &mut kept {
                known.blank(&mut one.entry);
            }
        }
        let one = kept.iter().find(|one| one.entry.id == full.entry.id).expect("it is kept");
        prop_assert_eq!(one.entry.is_blank(), erased);
    }

    #[test]
    fn entries_that_replace_or_retract_each_other_in_a_circle_still_show_one_value(ms in prop::array::uniform2(0i64..9)) {
        let a = ReceivedEntry::unsent(over(entry(0, pair(1), ms[0], 0, &detail("colour", "black")), &[1]));
        let b = ReceivedEntry::unsent(over(entry(1, pair(1), ms[1], 1, &detail("colour", "white")), &[0]));
        let greatest = if a.position() > b.position() { "black" } else { "white" };
        prop_assert_eq!(shown(&[a, b], "colour"), greatest);

        let value = ReceivedEntry::unsent(entry(2, pair(1), 0, 0, &detail("maker", "kept")));
        let hide = ReceivedEntry::unsent(entry(3, pair(1), 0, 0, &retracted(2)));
        let circle = [
            ReceivedEntry::unsent(entry(4, pair(1), ms[0], 0, &retracted(5))),
            ReceivedEntry::unsent(entry(5, pair(1), ms[1], 1, &retracted(4))),
        ];
        let all = [vec![value, hide], circle.to_vec()].concat();
        prop_assert_eq!(shown(&all, "maker"), "", "a circle elsewhere disturbs nothing");
    }
}

#[test]
fn the_same_id_with_other_content_is_refused_and_the_first_stands() {
    let first = ReceivedEntry::unsent(entry(0, pair(1), 7, 0, &detail("colour", "tan")));
    let mut kept = first.clone();
    let mut forged = first.clone();
    forged.entry.body = r#"{"field":"colour","value":"pink"}"#.to_owned();
    let none = Erasures::default();
    assert_eq!(kept.merge(&forged, &none), Merged::Conflict);
    forged.entry.body = first.entry.body.clone();
    forged.entry.subject = pair(2);
    assert_eq!(kept.merge(&forged, &none), Merged::Conflict);
    assert_eq!(kept, first);
}

#[test]
fn the_shop_itself_cannot_be_erased() {
    let shop = Subject::new(SubjectKind::Shop, subject_id(7));
    let name = entry(0, shop.clone(), 1, 0, &detail("name", "Corner bench"));
    let erasure = |kind| {
        entry(
            1,
            Subject::new(kind, shop.id),
            2,
            1,
            &Body::Erased(Erased::default()),
        )
    };
    let mut erasures = Erasures::default();
    assert!(!erasures.note(&erasure(SubjectKind::Shop)));
    assert!(!erasures.covers(&name));
    // Nor by the shop's id with another kind of subject.
    erasures.note(&erasure(SubjectKind::Customer));
    assert!(!erasures.covers(&name));
}
