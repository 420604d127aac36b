//! Two devices that work without knowing of each other come to the same shelf, in whatever order entries arrive.

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::*;

/// What somebody does on a device.
#[derive(Debug, Clone)]
enum Act {
    Counts(i64),
    Receives(u32),
    Takes(u32),
    TakesByName(u32),
    TakesUsual,
    TakesBack(prop::sample::Index),
    /// The devices exchange what they have.
    Meets,
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        (-2_000_i64..20_000).prop_map(Act::Counts),
        (0_u32..9_000).prop_map(Act::Receives),
        (0_u32..3_000).prop_map(Act::Takes),
        (0_u32..3_000).prop_map(Act::TakesByName),
        Just(Act::TakesUsual),
        any::<prop::sample::Index>().prop_map(Act::TakesBack),
        Just(Act::Meets),
    ]
}

fn on_hand(entries: &[ReceivedEntry]) -> Option<i64> {
    row(entries).on_hand
}

/// The n-th act, as an entry of a device that knows these.
fn write(n: u16, act: &Act, known: &[ReceivedEntry]) -> Option<ReceivedEntry> {
    let entry = match act {
        Act::Counts(seen) => {
            let now = row(known);
            let mut count = counted(n, seen - now.on_hand.unwrap_or(0), *seen, &[]);
            count.entry.over = now.state.last_counts.iter().map(|one| one.entry).collect();
            count
        }
        Act::Receives(amount) => arrived(n, *amount, None),
        Act::Takes(amount) => step(n, Side::Both, of_sheet(*amount)),
        Act::TakesByName(amount) => step(n, Side::Both, by_name("Rubber sheet", *amount)),
        Act::TakesUsual => step(n, Side::Right, Vec::new()),
        Act::TakesBack(which) => {
            let steps: Vec<_> = known.iter().filter(|one| one.entry.kind == "step").collect();
            if steps.is_empty() {
                return None;
            }
            let entry = which.get(&steps).entry.id;
            said(n, &job(), &Body::Retracted(Retracted { entry }), &[])
        }
        Act::Meets => return None,
    };
    Some(entry)
}

/// What is there, added up entry by entry.
fn added_up(entries: &[ReceivedEntry]) -> Option<i64> {
    let bodies = || entries.iter().map(|one| (one, Body::of(&one.entry)));
    let starts = |body: &Body| matches!(body, Body::Counted(_) | Body::Delivery(_));
    let begun = bodies()
        .filter(|(_, body)| starts(body))
        .map(|(one, _)| one.entry.made_at.utc);
    let begun = begun.min()?;
    let back = bodies().filter_map(|(_, body)| match body {
        Body::Retracted(retracted) => Some(retracted.entry),
        _ => None,
    });
    let back: BTreeSet<EntryId> = back.collect();
    let of = |(one, body): (&ReceivedEntry, Body)| match body {
        Body::Counted(count) => count.difference_thousandths,
        Body::Delivery(arrival) => i64::from(arrival.thousandths),
        Body::Step(_) if back.contains(&one.entry.id) || one.entry.made_at.utc <= begun => 0,
        Body::Step(step) => step.used.first().map_or(-78, |used| -i64::from(used.thousandths)),
        _ => 0,
    };
    Some(bodies().map(of).sum())
}

proptest! {
    #[test]
    fn any_order_and_any_split_over_two_devices_gives_the_same_shelf(
        acts in prop::collection::vec((any::<bool>(), act()), 0..24),
        keys in prop::collection::vec(any::<u32>(), 24),
        cut in any::<prop::sample::Index>(),
    ) {
        let mut devices: [Vec<ReceivedEntry>; 2] = Default::default();
        for (n, (second, act)) in (1_u16..).zip(&acts) {
            if matches!(act, Act::Meets) {
                let all: Entries = devices.iter().flatten().cloned().collect();
                devices = [(); 2].map(|()| all.iter().cloned().collect());
                continue;
            }
            let device = &mut devices[usize::from(*second)];
            if let Some(entry) = write(n, act, device) {
                device.push(entry);
            }
            if let Act::Counts(seen) = act {
                prop_assert_eq!(on_hand(device), Some(*seen), "the device that counts shows what was seen");
            }
        }
        let all: Entries = devices.into_iter().flatten().collect();
        let arriving: Vec<_> = all.iter().cloned().collect();
        let straight = row(&arriving);
        prop_assert_eq!(straight.on_hand, added_up(&arriving));

        let mut keyed: Vec<_> = keys.iter().copied().zip(arriving).collect();
        keyed.sort_by_key(|(key, _)| *key);
        let mixed: Vec<_> = keyed.into_iter().map(|(_, entry)| entry).collect();
        let (first, second) = mixed.split_at(cut.index(mixed.len() + 1));
        // What came first comes once more at the end.
        let twice: Vec<_> = second.iter().chain(first).chain(second).cloned().collect();
        prop_assert_eq!(row(&twice), straight);
    }
}
