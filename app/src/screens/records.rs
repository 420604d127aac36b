//! Records: finding any pair that the shop ever had.

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;

use shared::trade::formulas::day::Day;

use crate::card::in_words;
use crate::parts::{Field, PairRow, today};
use crate::session::use_live_query;

/// The most pairs shown for a search.
const SHOWN: usize = 50;
/// The most pairs listed as due for a check.
const DUE_SHOWN: u32 = 50;
/// How many days after its day a check is still listed.
const LATE_DAYS: i64 = 90;
/// How many days before its day a check is listed.
const SOON_DAYS: i64 = 30;

/// The day so many days from today, `YYYY-MM-DD`; empty if it cannot be calculated.
fn days_from_today(days: i64) -> String {
    let day = Day::parse(&today()).and_then(|day| Day::counted(day.count() + days));
    day.map(|day| day.to_string()).unwrap_or_default()
}

/// Search over number, customer, last digits of the telephone number, maker, colour, look and notes.
#[component]
pub fn Records() -> impl IntoView {
    let asked = use_query_map().get_untracked().get("words").unwrap_or_default();
    let words = RwSignal::new(asked);
    let found = use_live_query(move |phone| {
        let words = words.get();
        async move { Ok(phone.search(&words, SHOWN).await?) }
    });
    let due =
        use_live_query(|phone| async move { Ok(phone.due(&days_from_today(-LATE_DAYS), DUE_SHOWN).await?) });
    let due = move || {
        let soon = days_from_today(SOON_DAYS);
        let due: Vec<_> = due.get()?.into_iter().filter(|(day, _)| *day <= soon).collect();
        let rows = due.iter().map(|(day, summary)| {
            view! { <PairRow summary=summary.clone()/> <li class="quiet">{words::records::check_on(&in_words(day))}</li> }
        });
        (!due.is_empty() && words.with(String::is_empty)).then(|| {
            view! {
                <details class="card" data-ready="due">
                    <summary>{words::records::pairs_due_for_a_check(due.len())}</summary>
                    <ul class="pairs" aria-label=words::records::due_for_a_check()>{rows.collect_view()}</ul>
                </details>
            }
        })
    };
    let rows = move || {
        found.get().map(|found| {
            let none = found.is_empty();
            let many = found.len() == SHOWN;
            view! {
                <ul class="pairs" aria-label=words::records::found()>
                    {found.into_iter().map(|summary| view! { <PairRow summary/> }).collect_view()}
                </ul>
                {none.then(|| view! { <p>{words::records::no_pair_answers()}</p> })}
                {many.then(|| view! { <p class="quiet">{words::records::newest_shown(SHOWN)}</p> })}
            }
        })
    };
    view! {
        <div class="row between">
            <h1>{words::records::title()}</h1>
            <a class="button quiet" href="/collect">{words::records::not_collected()}</a>
        </div>
        <Field label=words::records::search() value=words kind="search"/>
        {due}
        {rows}
    }
}
