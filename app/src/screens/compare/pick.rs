//! A strip of the photographs of a pair, to pick one from.

use leptos::prelude::*;

use crate::parts::Face;
use crate::screens::pair::the_day;
use app_core::pair_history::{PairPhoto, caption, same_view};

/// Every photograph as a thumbnail, the oldest first; with `beside`, those that show the same view come first.
#[component]
pub(super) fn Strip(
    label: &'static str,
    all: StoredValue<Vec<PairPhoto>>,
    /// Which is picked.
    at: Memo<usize>,
    pick: Callback<usize>,
    /// The photograph that it is compared with, whose view comes first.
    beside: Option<Memo<usize>>,
) -> impl IntoView {
    let choices = move || {
        all.with_value(|all| {
            let wanted = beside.and_then(|beside| all.get(beside.get()));
            let alike = |shot: &PairPhoto| wanted.is_none_or(|wanted| same_view(&wanted.photo, &shot.photo));
            let (same, others): (Vec<_>, Vec<_>) = all.iter().enumerate().partition(|(_, shot)| alike(shot));
            let all = same.into_iter().chain(others);
            all.map(|(n, shot)| small(n, shot, at, pick)).collect_view()
        })
    };
    view! {
        <h2>{label}</h2>
        <div class="pick-strip" role="group" aria-label=label>{choices}</div>
    }
}

fn small(n: usize, shot: &PairPhoto, at: Memo<usize>, pick: Callback<usize>) -> AnyView {
    let pressed = move || if at.get() == n { "true" } else { "false" };
    let words = caption(&shot.photo).to_owned();
    view! {
        <button class="quiet" aria-pressed=pressed on:click=move |_| pick.run(n)>
            <Face of=Some(shot.photo.thumb.sha256.clone()) on=Some(shot.job) alt=""/>
            <span>{words}</span>
            <span class="quiet">{the_day(shot.at)}</span>
        </button>
    }
    .into_any()
}
