//! The rail on top of the Bench: who works, then a way to each station that has pairs.

use leptos::html::Details;
use leptos::prelude::*;

use super::risk::LATE;
use super::stations::{anchor, drawing_of, places, rows_at};
use crate::parts::{Drawing, Working};
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::stations::{JobPlace, StationSection};

/// Who works on this device, what is late, and every station with the number of its pairs. A tap goes there.
#[component]
pub(super) fn Rail(
    /// The sections of the Bench; `None` until they are read.
    shop: Memo<Option<Vec<StationSection>>>,
    /// How many pairs are late or at risk.
    late: Memo<usize>,
) -> impl IntoView {
    let any_late = Memo::new(move |_| late.get() > 0);
    let late_jump = move || {
        any_late.get().then(|| {
            view! { <a class="jump bad" href=format!("#{LATE}")><Drawing name="late"/><span class="unseen">{words::bench::late_or_at_risk()}" "</span><b>{move || late.get()}</b></a> }
        })
    };
    view! {
        <div class="rail">
            <WhoWorks/>
            <nav class="jumps" aria-label=words::bench::stations()>
                {late_jump}
                <For each=move || places(shop) key=|place| place.words().to_owned() let:place>{jump(place, shop)}</For>
            </nav>
        </div>
    }
}

/// A link to the section of a station.
fn jump(place: JobPlace, shop: Memo<Option<Vec<StationSection>>>) -> impl IntoView {
    let words = place.words().to_owned();
    let drawing = drawing_of(&place);
    let address = format!("#{}", anchor(&words));
    let count = move || shop.with(|shop| rows_at(shop.as_deref(), &place).len());
    view! { <a class="jump" href=address><Drawing name=drawing/><span class="unseen">{words}" "</span><b>{count}</b></a> }
}

/// The letters of the person who works on this device; a tap unfolds everybody who works here, and another chooses. Not
/// shown while the shop has no people.
#[component]
fn WhoWorks() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let nobody = move || shop.people().is_empty() && session.person().get().is_none();
    let name = move || session.person().get().and_then(|person| shop.name_of(person));
    let letters = move || name().map_or_else(|| "?".to_owned(), |name| initials(&name));
    let node = NodeRef::<Details>::new();
    let close = move |_| {
        if let Some(node) = node.get_untracked() {
            node.set_open(false);
        }
    };
    view! {
        <details class="who-works" node_ref=node hidden=nobody>
            <summary><span class="unseen">{words::parts::working_now_before_names()}" "{name}</span><span aria-hidden="true">{letters}</span></summary>
            <div on:click=close><Working/></div>
        </details>
    }
}

/// The first letters of the first two words of a name.
fn initials(name: &str) -> String {
    let letters = name.split_whitespace().filter_map(|word| word.chars().next());
    letters.take(2).collect()
}
