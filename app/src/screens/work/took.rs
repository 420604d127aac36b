//! What a step took of somebody's time: its minutes, inferred or noted, which can be corrected.

use leptos::prelude::*;
use shared::analytics::Took;
use shared::log::SubjectId;
use shared::log::body::{OperationCode, Spent, Step};
use shared::log::fold::{Item, JobState, bench};
use shared::price::records::PairFacts;

use super::WorkJob;
use crate::device::analytics::ask_analytics;
use crate::selection::use_selection;
use crate::session::{LiveQuery, use_live_query};
use app_core::commands;

/// A tap changes the minutes by up to this.
const TAP_MIN: u32 = 5;

/// The attended minutes of every operation of the job, inferred from all stamps of the days on which somebody worked on
/// it.
pub(super) fn minutes(known: WorkJob) -> LiveQuery<Vec<(Option<OperationCode>, f64)>> {
    use_live_query(move |phone| {
        let asked = known.with(|known| {
            let known = known.as_ref()?;
            Some((known.job, PairFacts::of(&known.life).months()))
        });
        async move {
            let Some((job, months)) = asked else {
                return Ok(Vec::new());
            };
            let months: Vec<_> = months.into_iter().collect();
            ask_analytics(&Took { job }, &phone.books(&months, usize::MAX).await?).await
        }
    })
}

/// What the latest step of an operation took. `reckoned` has the inferred minutes of each operation, of all its steps
/// together, because the stamps do not tell them apart.
pub(super) fn took(
    job: SubjectId,
    state: &JobState,
    step: &Item<Step>,
    inferred_minutes: &[(Option<OperationCode>, f64)],
) -> AnyView {
    let bench = use_selection();
    let noted = bench::noted_minutes(state, step);
    let code = step.body.operation.clone();
    let inferred: f64 = inferred_minutes
        .iter()
        .filter(|(operation, _)| operation.as_ref() == Some(&code))
        .map(|(_, minutes)| minutes)
        .sum();
    #[expect(
        clippy::cast_sign_loss,
        reason = "attended minutes are not negative; `as` keeps to the range"
    )]
    let now = noted.unwrap_or(inferred.round() as u32);
    let length = match noted {
        Some(minutes) => words::work::took_minutes(minutes),
        None if inferred >= 0.5 => words::work::took_about_minutes(now),
        None => words::work::minutes_not_known().to_owned(),
    };
    let name = bench::name_of_step(state, &step.body);
    let said = bench::spent_on(state, step.entry).cloned();
    let cement_now = said.as_ref().and_then(|spent| spent.cement.clone());
    let used_now = said.map_or_else(|| step.body.used.clone(), |spent| spent.used);
    let entry = step.entry;
    let over = commands::spent_before(state, entry);
    let tap = move |sign: &'static str, minutes: u32| {
        let spent = Spent {
            step: entry,
            minutes: Some(minutes),
            used: used_now.clone(),
            cement: cement_now.clone(),
        };
        let (over, said) = (over.clone(), words::work::minutes_noted(minutes, &name));
        let go = move |_| {
            bench.act(
                vec![commands::spent(job, spent.clone()).over(over.clone())],
                said.clone(),
            )
        };
        let label = words::work::note_minutes(minutes, &name);
        view! { <button class="quiet" aria-label=label on:click=go>{sign}</button> }
    };
    // To the next multiple of five, so that every tap changes something.
    let less = now.saturating_sub(1) / TAP_MIN * TAP_MIN;
    let more = now / TAP_MIN * TAP_MIN + TAP_MIN;
    view! {
        <div class="took"><span>{length}</span> {(less > 0).then(|| tap.clone()("−", less))} {tap("+", more)}</div>
    }
    .into_any()
}
