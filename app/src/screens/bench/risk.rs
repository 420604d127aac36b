//! Pairs that are late or due today, and those that will be late unless something changes, with what would help them.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::SubjectId;
use shared::trade::formulas::day::Day;
use shared::week::{Sentence, WeekPlan};

use super::fold::fold;
use crate::device::Phone;
use crate::device::lazy::lazy;
use crate::parts::today;
use crate::screens::job::{JobLife, of_job};
use crate::selection::{Selection, use_selection};
use crate::session::{Session, use_session};
use app_core::commands;
use app_core::stations::{JobPlace, StationSection};
use shared::log::Draft;

/// The id of these lines on the page.
pub(super) const LATE: &str = "late";

/// A job and what its pair is called on the Bench.
type NamedJob = (SubjectId, String);

/// What is late, or due today and not ready, at any station, the earliest day first.
pub(super) fn due(shop: Memo<Option<Vec<StationSection>>>) -> Memo<Vec<NamedJob>> {
    Memo::new(move |_| {
        let today = Day::parse(&today());
        shop.with(|shop| {
            let sections = shop.iter().flatten();
            let working = sections.filter(|section| section.place != JobPlace::Ready);
            let rows = working.flat_map(|section| &section.rows);
            let mut due: Vec<_> = rows
                .filter(|row| row.job.day.is_some() && row.job.day <= today)
                .collect();
            due.sort_by_key(|row| row.job.day);
            due.iter()
                .map(|row| (row.job.id, row.name().to_owned()))
                .collect()
        })
    })
}

/// How many pairs are due, at risk or not planned.
pub(super) fn late_count(due: Memo<Vec<NamedJob>>, told: Memo<WeekPlan>) -> Memo<usize> {
    Memo::new(move |_| {
        let mut jobs: Vec<SubjectId> = due.with(|due| due.iter().map(|one| one.0).collect());
        told.with(|told| jobs.extend(told.risks.iter().chain(&told.unplanned).map(|said| said.job)));
        jobs.sort_unstable();
        jobs.dedup();
        jobs.len()
    })
}

/// A line for the pairs that are due, one for those at risk, and one for those that fit on no day; each unfolds.
#[component]
pub(super) fn Risks(due: Memo<Vec<NamedJob>>, told: Memo<WeekPlan>) -> impl IntoView {
    let links = move || {
        let due = due.get();
        let count = due.len();
        (count > 0).then(|| {
            let words = words::bench::due_today_or_late();
            let line = view! { <h2>{words}" "<span class="count">{count}</span></h2> };
            let links = due.into_iter().map(|(job, name)| {
                let label = words::bench::pair_is_due(&name);
                view! { <li><a href=format!("/job/{job}") aria-label=label><strong class="tag">{name}</strong></a></li> }
            });
            let links = view! { <ul class="plain row">{links.collect_view()}</ul> };
            fold(words.to_owned(), false, line.into_any(), links.into_any())
        })
    };
    let list = |heading: &'static str, all: Vec<Sentence>| {
        (!all.is_empty()).then(|| {
            let names: Vec<&str> = all.iter().map(|said| said.name.as_str()).collect();
            let names = names.join(", ");
            let line = view! { <h2>{heading}{names}</h2> };
            let unfolded = view! { <ul class="plain">{all.iter().map(one).collect_view()}</ul> };
            fold(heading.to_owned(), false, line.into_any(), unfolded.into_any())
        })
    };
    let easy = Memo::new(move |_| {
        told.with(|told| !told.order.is_empty() && told.risks.is_empty() && told.unplanned.is_empty())
    });
    let told = Memo::new(move |_| told.with(|told| (told.risks.clone(), told.unplanned.clone())));
    view! {
        <div class="risks" id=LATE>
            {links}
            {move || told.with(|(risks, _)| list(words::bench::at_risk(), risks.clone()))}
            {move || told.with(|(_, unplanned)| list(words::bench::not_planned(), unplanned.clone()))}
            <Show when=move || easy.get()><p class="quiet">{words::bench::no_promised_day_is_missed()}</p></Show>
        </div>
    }
}

fn one(said: &Sentence) -> impl IntoView + use<> {
    let (bench, session) = (use_selection(), use_session());
    let job = said.job;
    let label = words::bench::do_this_pair_first(&said.name);
    let late = words::bench::pair_is_at_risk(&said.name);
    let first = said.first.then(|| {
        view! { <button class="bench" aria-label=label on:click=move |_| put_first(session, bench, vec![job], true)>{words::work::do_this_first()}</button> }
    });
    view! {
        <li class="row between">
            <span><a href=format!("/job/{job}") aria-label=late><strong class="tag">{said.name.clone()}</strong></a>" "{said.words.clone()}" "<span class="quiet">{said.help.clone()}</span></span>
            {first}
        </li>
    }
}

/// Puts jobs before all others in the plan, or back among them.
pub(in crate::screens) fn put_first(session: Session, bench: Selection, jobs: Vec<SubjectId>, first: bool) {
    spawn_local(async move {
        let Some(phone) = session.phone() else { return };
        let said = if first {
            words::bench::done_first_from_now_on()
        } else {
            words::bench::back_among_the_others()
        };
        match put(phone, jobs, first).await {
            Ok(drafts) => bench.act(drafts, said),
            Err(error) => session.complain(error),
        }
    });
}

lazy! {
    /// The drafts for that. They need the jobs' pair histories, which nothing else on the Bench reads.
    fn put(phone: Phone, jobs: Vec<SubjectId>, first: bool) -> Vec<Draft> {
        let mut drafts = Vec::new();
        for job in jobs {
            let found = of_job(&phone, job).await?;
            let state = found.as_ref().and_then(JobLife::state);
            drafts.extend(state.and_then(|state| commands::first(job, state, first)));
        }
        Ok(drafts)
    }
}
