//! What to mind at an operation: one line, shown unfolded to a person who has not read it yet.

use leptos::prelude::*;
use shared::trade::cautions::{Caution, cautions_for};
use shared::trade::dangers::hazards;
use shared::trade::hazards::Hazard;
use shared::trade::{Goods, Material};

use crate::device::screen::{has_read, note_read};
use crate::session::use_session;

/// The cautions of an operation on these goods and materials; nothing where there are none.
#[component]
pub fn Cautions<'a>(
    /// The operation's word in the log.
    operation: &'a str,
    /// The kind of goods; `None` if it was not stated.
    goods: Option<&'a Goods>,
    /// What upper and sole are made of; empty if not said.
    materials: &'a [Material],
) -> impl IntoView + use<> {
    let shown = cautions_for(operation, goods, materials);
    let first = shown.first()?;
    let key = key(*first, materials);
    let new = !has_read(&key);
    let full = shown.iter().map(|one| view! { <p>{one.full()}</p> });
    let hurts: Vec<_> = hazards(operation, materials).into_iter().map(hazard).collect();
    // Folded, because it is long and seldom needed at once; the next button stays within reach.
    let hurts = (!hurts.is_empty()).then(|| {
        view! { <details><summary>{words::parts::hazards()}</summary><ul class="plain quiet">{hurts}</ul></details> }
    });
    Some(view! {
        <details class="caution" open=new on:toggle=move |_| note_read(&key)>
            <summary>{first.line()}</summary>
            // Scrolls by itself, so that the next button stays within reach.
            <div class="full" tabindex="0" role="region" aria-label=first.line()>{full.collect_view()}</div>
            {hurts}
        </details>
    })
}

/// A hazard: what causes it, what it does, what protects, and the hazard codes with their texts.
fn hazard(hazard: &'static Hazard) -> AnyView {
    let codes: Vec<_> = hazard
        .codes
        .iter()
        .map(|code| words::parts::hazard_code(code.code, code.words()))
        .collect();
    view! { <li><strong>{hazard.source()}</strong>". "{hazard.does()}" "{hazard.protection()}" "{codes.join("; ")}</li> }.into_any()
}

/// The key under which a caution counts as read: by person, caution and material.
fn key(caution: Caution, materials: &[Material]) -> String {
    let person = use_session().person().get_untracked();
    let person = person.map_or_else(String::new, |one| one.to_string());
    let materials: Vec<&str> = materials.iter().map(Material::as_str).collect();
    [person.as_str(), caution.line(), &materials.join(", ")].join("/")
}
