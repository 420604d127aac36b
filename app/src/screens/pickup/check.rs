//! The final check: by hand, inside and out, before a pair is called ready.

use leptos::prelude::*;
use shared::log::body::{Checked, field};
use shared::log::fold::{JobState, Slot, bench};
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::trade::final_check::{hours_since_cementing, hours_until_wear, shown};

use super::choices::{Tick, flip};
use crate::parts::{Typed, on_day};
use crate::screens::job::JobLife;
use crate::session::{Session, use_session};
use crate::shop::use_shop;
use app_core::browser::clock::now;
use app_core::commands::{self, AtPickup};
use app_core::stations::time_left;

/// The list to tick, what speaks against calling it ready, and the shelf.
pub(super) fn final_check(found: &JobLife, chosen: RwSignal<AtPickup>) -> AnyView {
    let job = found.job;
    let state = found.state().cloned().unwrap_or_default();
    let done = state.checked.clone();
    let leaving = state.handed_over.is_none();
    let open = (leaving && done.is_none()).then(|| to_tick(found, &state, chosen));
    view! {
        <section class="card stack" aria-label=words::pickup::final_check()>
            <h2>{words::pickup::final_check()}</h2>
            {done.map(|slot| finished(job, &slot, leaving))}
            {open}
            {leaving.then(|| shelf(job, state, chosen))}
        </section>
    }
    .into_any()
}

fn finished(job: SubjectId, slot: &Slot<Checked>, leaving: bool) -> AnyView {
    let (session, shop) = (use_session(), use_shop());
    let entry = slot.current.entry;
    let who = slot.current.person.and_then(|person| shop.name_of(person));
    let when = on_day(slot.current.at.utc);
    let back = move |_| {
        let undo = commands::undo(Subject::new(SubjectKind::Job, job), entry);
        session.save_and(vec![undo], |_| {});
    };
    let lines = slot.current.body.ticked.iter();
    let lines = lines
        .map(|line| view! { <li>{shown(line).to_owned()}</li> })
        .collect_view();
    view! {
        <p class="good"><strong>{words::pickup::checked_and_ready()}" "</strong><span class="quiet">{when}" "{who}</span></p>
        <details><summary>{words::pickup::what_was_checked()}</summary><ul>{lines}</ul></details>
        {leaving.then(|| view! { <button class="quiet" on:click=back>{words::pickup::withdraw_check()}</button> })}
    }.into_any()
}

fn to_tick(found: &JobLife, state: &JobState, chosen: RwSignal<AtPickup>) -> AnyView {
    let (session, shop) = (use_session(), use_shop());
    let job = found.job;
    let list = commands::check_list(&found.life, state, &shop.state());
    let lines = list.iter().map(|line| {
        let (this, pressed) = (line.clone(), line.clone());
        let on = Signal::derive(move || chosen.with(|made| made.ticked.contains(&this)));
        let press = Callback::new(move |()| chosen.update(|made| flip(&mut made.ticked, &pressed)));
        view! { <li><Tick label=shown(line).to_owned() on press/></li> }
    });
    let lines = lines.collect_view();
    let why = RwSignal::new(String::new());
    let kept = StoredValue::new((state.clone(), list));
    let press = move |_| {
        let ticked = chosen.with_untracked(|made| made.ticked.clone());
        match kept.with_value(|(state, list)| commands::check(job, state, list, &ticked)) {
            Ok(draft) => {
                let put = kept.with_value(|(state, _)| put_away(job, state, chosen));
                let drafts = put.into_iter().chain([draft]).collect();
                session.save_and(drafts, move |_| session.tell(words::pickup::checked_and_ready()));
            }
            Err(missing) => why.set(missing.to_string()),
        }
    };
    view! {
        {against(job, state)}
        <p>{hours(state)}</p>
        <ul class="plain ticks">{lines}</ul>
        <p class="bad" role="alert">{move || why.get()}</p>
        <button class="bench" on:click=press>{words::pickup::checked()}</button>
    }
    .into_any()
}

/// What is known to speak against calling it ready, and what to look for.
fn against(job: SubjectId, state: &JobState) -> AnyView {
    let said = |text: String, class: &'static str| view! { <p class=class>{text}</p> };
    let came = state.came_with();
    let came: Vec<String> = came.map(|one| one.words().to_owned()).collect();
    let out = commands::parts_out(state);
    let way = (!out.is_empty()).then(|| {
        view! { <a class="button quiet" href=format!("/open/{job}")>{words::pickup::put_back_in()}</a> }
    });
    let drying = bench::open_waits(state).filter_map(bench::ends).max();
    let drying = drying.filter(|end| *end > now());
    let drying = drying.map(|end| words::pickup::still_drying(&time_left(end, now())));
    let out = (!out.is_empty()).then(|| words::pickup::not_back_in(&out));
    let kept = commands::parts_for_customer(state);
    let kept = (!kept.is_empty()).then(|| words::pickup::for_the_customer(&kept));
    let came = came.join(", ");
    let came = (!came.is_empty()).then(|| words::pickup::came_with(&came));
    view! {
        {out.map(|text| said(text, "bad"))}{way}
        {drying.map(|text| said(text, "bad"))}
        {came.map(|text| said(text, ""))}
        {kept.map(|text| said(text, ""))}
    }
    .into_any()
}

/// How long ago cement or dye was last used, and how long until the pair may be worn.
fn hours(state: &JobState) -> String {
    let at = now().0;
    let Some(since) = hours_since_cementing(commands::step_times(state), at) else {
        return String::new();
    };
    let left = hours_until_wear(commands::step_times(state), at);
    if left > 0 {
        words::pickup::cemented_not_yet_to_wear(since, left)
    } else {
        words::pickup::cemented_may_be_worn(since)
    }
}

/// The field for the shelf where the pair waits to be collected.
fn shelf(job: SubjectId, state: JobState, chosen: RwSignal<AtPickup>) -> AnyView {
    let session = use_session();
    let known = StoredValue::new(state);
    let recorded = known.with_value(|state| state.shelf().unwrap_or_default().to_owned());
    let value = Signal::derive(move || {
        chosen
            .with(|made| made.shelf.clone())
            .unwrap_or_else(|| recorded.clone())
    });
    let typed = Callback::new(move |text| chosen.update(|made| made.shelf = Some(text)));
    let put = move |_| save_shelf(session, known.with_value(|state| put_away(job, state, chosen)));
    view! {
        <div class="row">
            <Typed label=words::pickup::shelf().to_owned() value typed/>
            <button class="quiet" on:click=put>{words::pickup::put_on_shelf()}</button>
        </div>
    }
    .into_any()
}

fn save_shelf(session: Session, put: Option<shared::log::Draft>) {
    if let Some(put) = put {
        session.save_and(vec![put], move |_| {
            session.tell(words::pickup::was_put_on_shelf())
        });
    }
}

/// The draft that notes the shelf, if it differs from the one noted.
fn put_away(job: SubjectId, state: &JobState, chosen: RwSignal<AtPickup>) -> Option<shared::log::Draft> {
    let place = chosen.with_untracked(|made| made.shelf.clone())?;
    commands::set(
        Subject::new(SubjectKind::Job, job),
        &state.details,
        field::SHELF,
        &place,
    )
}
