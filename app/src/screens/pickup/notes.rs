//! What else the card can say: what is not quite a match, which the customer should know, and what the shop has
//! written.

use leptos::prelude::*;

use super::choices::{Tick, flip};
use crate::screens::job::JobLife;
use app_core::commands::{self, AtPickup, match_line};

/// What is not quite a match; it is on the card unless it is taken off.
pub(super) fn not_quite(found: &JobLife, chosen: RwSignal<AtPickup>) -> Option<AnyView> {
    let said = found.state().into_iter().flat_map(commands::matches);
    let lines = said.map(|item| {
        let (this, pressed) = (item.entry.to_string(), item.entry.to_string());
        let on = Signal::derive(move || !chosen.with(|made| made.matches_left_out.contains(&this)));
        let press = Callback::new(move |()| {
            chosen.update(|made| flip(&mut made.matches_left_out, &pressed));
        });
        view! { <li><Tick label=match_line(&item.body) on press/></li> }
    });
    listed(words::pickup::not_quite_a_match(), lines.collect())
}

/// The written notes of the job and its ticket; none is on the card unless it is ticked.
pub(super) fn notes(found: &JobLife, chosen: RwSignal<AtPickup>) -> Option<AnyView> {
    let written = found
        .state()
        .map(|job| commands::notes::written(&found.life, job));
    let lines = written.into_iter().flatten().map(|note| {
        let (this, pressed) = (note.entry.to_string(), note.entry.to_string());
        let on = Signal::derive(move || chosen.with(|made| made.notes_on_card.contains(&this)));
        let press = Callback::new(move |()| {
            chosen.update(|made| flip(&mut made.notes_on_card, &pressed));
        });
        view! { <li><Tick label=note.text on press/></li> }
    });
    let list = listed(words::pickup::notes_for_the_card(), lines.collect())?;
    Some(view! { {list} <p class="quiet">{words::pickup::notes_as_written()}</p> }.into_any())
}

/// Lines to tick under a heading; nothing if there are none.
fn listed<V: IntoView + 'static>(heading: &'static str, lines: Vec<V>) -> Option<AnyView> {
    (!lines.is_empty()).then(|| {
        view! {
            <h3>{heading}</h3>
            <ul class="plain ticks" aria-label=heading>{lines}</ul>
        }
        .into_any()
    })
}
