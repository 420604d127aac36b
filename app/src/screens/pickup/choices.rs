//! What is chosen on this screen, kept as it is chosen.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::SubjectId;

use crate::acts::AtPickup;
use crate::workshop::use_workshop;

/// The choices of one job: read back when the screen opens, written whenever one is made.
pub(super) fn use_choices(job: SubjectId) -> RwSignal<AtPickup> {
    let workshop = use_workshop();
    let name = format!("pickup/{job}");
    let chosen = RwSignal::new(AtPickup::default());
    let read = name.clone();
    spawn_local(async move {
        let Some(phone) = workshop.phone() else { return };
        match phone.draft(&read).await {
            Ok(text) => {
                let kept = text.and_then(|text| serde_json::from_str(&text).ok());
                // Unless a choice was made, or the screen left, before this was read.
                if let Some(kept) = kept
                    && chosen.try_with_untracked(|made| *made == AtPickup::default()) == Some(true)
                {
                    chosen.set(kept);
                }
            }
            Err(error) => workshop.complain(error),
        }
    });
    Effect::new(move |before: Option<AtPickup>| {
        let made = chosen.get();
        if before.is_some_and(|before| before != made) {
            let (name, text) = (name.clone(), serde_json::to_string(&made).ok());
            spawn_local(async move {
                let Some(phone) = workshop.phone() else { return };
                if let Err(error) = phone.keep_draft(&name, text).await {
                    workshop.complain(error);
                }
            });
        }
        made
    });
    chosen
}

/// Puts a word on a list, or takes it off again.
pub(super) fn flip(list: &mut Vec<String>, word: &str) {
    match list.iter().position(|one| one == word) {
        Some(at) => drop(list.remove(at)),
        None => list.push(word.to_owned()),
    }
}

/// A line with a box to tick: `word` is on the list of choices that `of` names, or (for what is left out) is not.
#[component]
pub(super) fn Tick(
    /// What is ticked.
    label: String,
    /// Whether it is.
    on: Signal<bool>,
    /// What a tap does.
    press: Callback<()>,
) -> impl IntoView {
    view! {
        <label class="check-line">
            <input type="checkbox" prop:checked=move || on.get() on:change=move |_| press.run(())/>
            <span>{label}</span>
        </label>
    }
}
