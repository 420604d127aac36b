//! When the parts of the pair should be looked at, as forecast from their wear.

use leptos::prelude::*;
use shared::analytics::{CheckForecast, Looks};
use shared::price::records::PairFacts;

use crate::analytics::recent;
use crate::device::analytics::ask_analytics;
use crate::parts::today;
use crate::session::use_live_query;

/// Part by part, the earliest first; nothing while nothing can be forecast.
#[component]
pub fn Forecast(
    /// What the forecast needs to know of the pair.
    facts: PairFacts,
) -> impl IntoView {
    let found = use_live_query(move |phone| {
        let asked = Looks {
            own: facts.jobs.clone(),
            leaving: None,
            today: today(),
        };
        async move { ask_analytics::<_, Vec<CheckForecast>>(&asked, &recent(&phone).await?).await }
    });
    move || {
        let looks = found.get()?;
        let lines = looks.iter().map(|look| {
            let when = look.on.as_ref().map(|on| words::pair::look_at_it(&on.when));
            view! {
                <li><strong>{look.part.clone()}</strong>{when.unwrap_or_else(|| " ".to_owned())}<span class="quiet">{look.rests_on.clone()}</span></li>
            }
        });
        let lines = lines.collect_view();
        (!looks.is_empty()).then(|| {
            view! { <section class="card" aria-label=words::pair::forecast()><h2>{words::pair::next_to_look_at()}</h2><ul class="plain">{lines}</ul></section> }
        })
    }
}
