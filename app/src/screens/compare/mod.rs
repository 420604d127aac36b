//! Comparing any two photographs of a pair, side by side or one over the other.

mod laid;
mod pick;

use leptos::prelude::*;
use shared::log::EntryId;
use shared::log::fold::{PairHistory, Summary};

use super::pair::use_life;
use crate::parts::BackLink;
use app_core::pair_history::{PairPhoto, compared, like, shots};

use laid::Laid;
use pick::Strip;

/// From this width on, in CSS pixels, there is room for two photographs side by side.
const DESK: f64 = 800.0;

/// Two photographs, and strips to pick them from.
#[component]
pub fn Compare() -> impl IntoView {
    let life = use_life();
    // Outside of the closure, so that it is kept when the pair history is read again.
    let picked = RwSignal::new((None, None));
    move || {
        life.get().map(|life| match life {
            Some(life) => two(&life, picked).into_any(),
            None => view! { <h1>{words::compare::compare()}</h1> <p>{words::compare::no_such_pair()}</p> }
                .into_any(),
        })
    }
}

/// The entries of the two photographs that are picked; `None` until somebody picks.
type Picked = RwSignal<(Option<EntryId>, Option<EntryId>)>;

fn two(life: &PairHistory, picked: Picked) -> impl IntoView + use<> {
    let title = Summary::of(life).name().to_owned();
    let back = format!("/pair/{}", life.id);
    let all = shots(life);
    let body = match compared(&all) {
        None => view! { <p>{words::compare::too_few_photographs()}</p> }.into_any(),
        Some(usual) => view! { <Both all usual picked/> }.into_any(),
    };
    view! {
        <BackLink/>
        <h1>{words::compare::compare()}</h1>
        <p><a class="back" href=back>{title}</a></p>
        {body}
    }
}

#[component]
fn Both(all: Vec<PairPhoto>, usual: (usize, usize), picked: Picked) -> impl IntoView {
    let wide = window().inner_width().ok().and_then(|width| width.as_f64());
    let over = RwSignal::new(wide.is_none_or(|width| width < DESK));
    let all = StoredValue::new(all);
    let place = move |entry: Option<EntryId>, usual: usize| {
        let at = all.with_value(|all| all.iter().position(|shot| Some(shot.entry) == entry));
        at.unwrap_or(usual)
    };
    let first = Memo::new(move |_| place(picked.get().0, usual.0));
    let second = Memo::new(move |_| place(picked.get().1, usual.1));
    let entry = move |at: usize| all.with_value(|all| all.get(at).map(|shot| shot.entry));
    let pick_first = Callback::new(move |at: usize| {
        // By default, a photograph of the same view from another year is shown beside it, if there is one.
        let beside = all
            .with_value(|all| like(all, at))
            .unwrap_or_else(|| second.get_untracked());
        picked.set((entry(at), entry(beside)));
    });
    let pick_second = Callback::new(move |at: usize| {
        picked.set((entry(first.get_untracked()), entry(at)));
    });
    let shot =
        move |at: Memo<usize>| Signal::derive(move || all.with_value(|all| all.get(at.get()).cloned()));
    let ways = [
        (words::compare::with_divider(), true),
        (words::compare::side_by_side(), false),
    ]
    .map(|(words, way)| {
        let pressed = move || if over.get() == way { "true" } else { "false" };
        view! { <button class="chip bench" aria-pressed=pressed on:click=move |_| over.set(way)>{words}</button> }
    });
    view! {
        <Laid first=shot(first) second=shot(second) over/>
        <div class="chips" role="group" aria-label=words::compare::how_they_are_laid()>{ways.into_iter().collect_view()}</div>
        <Strip label=words::compare::first_photograph() all at=first pick=pick_first beside=None/>
        <Strip label=words::compare::second_photograph() all at=second pick=pick_second beside=Some(first)/>
    }
}
