//! The mentions of a customer as lists to tick.

use leptos::prelude::*;
use shared::log::EntryId;

use super::search::{MentionLine, ToErase};

/// The mentions that surely are of the customer, then those that may be of somebody else. `ticked` are the entries in
/// which the mention is erased.
pub(super) fn mention_lists(found: &ToErase, ticked: RwSignal<Vec<EntryId>>) -> AnyView {
    let all = &found.mentions;
    let (sure, perhaps): (Vec<_>, Vec<_>) = all.iter().partition(|line| line.is_sure);
    view! {
        {all.is_empty().then(|| view! { <p>{words::pair::mentioned_nowhere()}</p> })}
        {list(words::pair::mentions(), words::pair::mentioned_here(), &sure, ticked)}
        {list(words::pair::perhaps_mentions(), words::pair::perhaps_mentioned_here(), &perhaps, ticked)}
    }
    .into_any()
}

/// A list with this name, under a sentence; nothing when it is empty.
fn list(
    name: &'static str,
    sentence: &'static str,
    lines: &[&MentionLine],
    ticked: RwSignal<Vec<EntryId>>,
) -> Option<AnyView> {
    if lines.is_empty() {
        return None;
    }
    let rows = lines.iter().map(|line| row(line, ticked)).collect_view();
    let list = view! {
        <p>{sentence}</p>
        <ul class="plain ticks" aria-label=name>{rows}</ul>
    };
    Some(list.into_any())
}

/// A mention with its box.
fn row(line: &MentionLine, ticked: RwSignal<Vec<EntryId>>) -> AnyView {
    let id = line.id();
    let on = move || ticked.with(|ticked| ticked.contains(&id));
    let press = move |_| ticked.update(|ticked| flip(ticked, id));
    let MentionLine {
        what, of, made, text, ..
    } = line.clone();
    view! {
        <li>
            <label class="check-line">
                <input type="checkbox" prop:checked=on on:change=press/>
                <span><strong>{what}</strong>" "{of}" "<span class="quiet">{made}</span><br/>{text}</span>
            </label>
        </li>
    }
    .into_any()
}

/// Adds an entry, or removes it.
fn flip(ticked: &mut Vec<EntryId>, id: EntryId) {
    match ticked.iter().position(|one| *one == id) {
        Some(at) => drop(ticked.remove(at)),
        None => ticked.push(id),
    }
}
