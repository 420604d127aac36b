//! The search lines that the store keeps of customers whom no pair names.

use std::collections::{BTreeMap, BTreeSet};

use app_core::store::memory::Memory;
use shared::log::SubjectKind;
use shared::log::fold::{CustomerState, summary};

/// The search lines of the customers whom no pair names, by customer, folded from all entries without using anything
/// derived that is stored.
pub(crate) fn fresh_customer_lines(kv: &Memory) -> BTreeMap<String, String> {
    let histories = super::fresh_histories(kv);
    let named: BTreeSet<_> = histories.iter().flat_map(summary::owner_ids).collect();
    let entries = super::held(kv);
    let subjects = entries.iter().map(|held| &held.entry.subject);
    let customers =
        subjects.filter(|subject| subject.kind == SubjectKind::Customer && !named.contains(&subject.id));
    let customers: BTreeSet<_> = customers.map(|subject| subject.id).collect();
    let line = |id| {
        let own = entries.iter().filter(|held| {
            let subject = &held.entry.subject;
            subject.id == id && subject.kind == SubjectKind::Customer
        });
        let state = CustomerState::of(own);
        let numbers = [state.phone(), state.phone_second()].map(Option::unwrap_or_default);
        let numbers = numbers.join(",");
        let digits = numbers
            .split(',')
            .map(|number| number.replace(|c: char| !c.is_ascii_digit(), ""));
        let name = state.name().unwrap_or_default().to_owned();
        let words: Vec<String> = std::iter::once(name)
            .chain(digits)
            .filter(|word| !word.is_empty())
            .collect();
        let text = format!("\u{1c}{}", words.join(" ").to_lowercase());
        (!words.is_empty()).then(|| (id.to_string(), text))
    };
    customers.into_iter().filter_map(line).collect()
}
