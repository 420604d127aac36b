//! When the parts that are on the pair should be looked at.

use leptos::prelude::*;
use shared::price::facts::PairFacts;
use shared::trade::reckon::day::Day;

use crate::earnings::{ENOUGH, MONTHS_BACK, months_back};
use crate::forecast::{Look, lives, looks, rests_on, words};
use crate::parts::today;
use crate::workshop::use_stored;

/// Part by part, the earliest first; nothing while nothing can be foretold.
#[component]
pub fn Forecast(
    /// What the books know of the pair.
    facts: PairFacts,
) -> impl IntoView {
    let found = use_stored(move |phone| {
        let jobs = facts.jobs.clone();
        async move {
            let months = months_back(&today(), MONTHS_BACK);
            let shop = lives(&phone.books(&months, ENOUGH).await?);
            Ok(looks(&jobs, &shop))
        }
    });
    let line = |look: &Look, now: Day| {
        view! {
            <li><strong>{look.part.words().to_owned()}</strong>": look at it "{words(&look.check, now)}"; "
                <span class="quiet">{rests_on(&look.check)}</span></li>
        }
    };
    move || {
        let (looks, now) = (found.get()?, Day::parse(&today())?);
        let lines = looks.iter().map(|look| line(look, now)).collect_view();
        (!looks.is_empty()).then(|| {
            view! { <section class="card" aria-label="Forecast"><h2>"Next to look at"</h2><ul class="plain">{lines}</ul></section> }
        })
    }
}
