//! A pair comes back because of earlier work: that work on one screen, and taking the pair in again at no charge.

use leptos::prelude::*;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;
use shared::log::SubjectId;
use shared::log::body::{Cause, Side, Step};
use shared::log::fold::{Item, JobState, bench};
use shared::trade::{line_name, operations};

use super::job::{JobLife, pair_head, use_job};
use crate::parts::{Photograph, Toggle, Typed, in_days, note_list, on_day};
use crate::session::use_session;
use crate::shop::{ShopContext, use_shop};
use app_core::commands::notes::on_entry;
use app_core::commands::{self, CameBack, EarlierWork, TakenBackIn};
use app_core::store::Surroundings;

/// The default promise, in days from today.
const SOON: u32 = 3;

/// The earlier work with its photographs, its terms, who did it and when; then the form.
#[component]
pub fn Complaint() -> impl IntoView {
    let found = use_job();
    let said = RwSignal::new(CameBack {
        day: in_days(SOON),
        ..CameBack::default()
    });
    move || match found.get()? {
        None => Some(
            view! { <h1>{words::complaint::complaint()}</h1> <p>{words::complaint::no_such_job()}</p> }
                .into_any(),
        ),
        Some(found) => Some(view! { <Earlier found=found.clone()/> <Form found said/> }.into_any()),
    }
}

/// Everything about the earlier job that matters for a complaint.
#[component]
fn Earlier(found: JobLife) -> impl IntoView {
    let shop = use_shop();
    let state = found.state().cloned().unwrap_or_default();
    let job = found.job;
    let photos = state.photos.iter().enumerate().map(|(n, item)| {
        let caption = item.body.operation.as_deref().map(operations::name);
        let caption = caption.map_or_else(|| words::complaint::photograph_number(n + 1), str::to_owned);
        view! { <Photograph photo=item.body.clone() job caption/> }
    });
    let left = state.handed_over.as_ref().map(|slot| on_day(slot.current.at.utc));
    let terms = terms(&state, shop);
    view! {
        {pair_head(words::complaint::complaint(), &found)}
        <section class="card stack" aria-label=words::complaint::earlier_work()>
            <h2>{words::complaint::what_was_done()}</h2>
            <ul class="plain">{work(job, &state, shop)}</ul>
            {left.map(|when| view! { <p>{words::complaint::left_the_shop(&when)}</p> })}
            {(!terms.is_empty()).then(|| view! { <p class="terms">{words::complaint::guarantee(&terms)}</p> })}
            <div class="photographs">{photos.collect_view()}</div>
        </section>
    }
}

/// The terms that the customer was given with the work, else the shop's present ones.
fn terms(job: &JobState, shop: ShopContext) -> String {
    let given = job.published.last().map(|item| item.body.section.terms.clone());
    given.unwrap_or_else(|| shop.state().terms().unwrap_or_default().to_owned())
}

fn work(id: SubjectId, job: &JobState, shop: ShopContext) -> AnyView {
    let steps = bench::done(job).map(|step| {
        let notes = on_entry(job, step.entry).collect();
        let work = bench::name_of_step(job, &step.body);
        let work = match step.body.side {
            Side::Both => words::complaint::work_on_both_shoes(&work),
            _ => work,
        };
        one_step(
            step,
            work,
            note_list(notes, id, words::work::notes().to_owned()),
            shop,
        )
    });
    let steps: Vec<_> = steps.collect();
    let agreed = bench::agreed(job).filter(|_| steps.is_empty());
    let agreed = agreed.map(|line| {
        let name = line_name(&line.body);
        view! { <li>{name}" "<span class="quiet">{words::complaint::agreed_but_not_noted_as_done()}</span></li> }
    });
    let agreed = agreed.collect_view();
    view! { {steps}{agreed} }.into_any()
}

fn one_step(step: &Item<Step>, work: String, notes: Option<AnyView>, shop: ShopContext) -> AnyView {
    let who = step.person.and_then(|person| shop.name_of(person));
    let note = step.body.note.clone();
    view! {
        <li>{work}" "<span class="quiet">{on_day(step.at.utc)}" "{who}</span>
            {(!note.is_empty()).then(|| view! { <br/>{note} })}{notes}</li>
    }
    .into_any()
}

/// The form: which work it is about, and taking the pair in.
#[component]
fn Form(found: JobLife, said: RwSignal<CameBack>) -> impl IntoView {
    let (session, go) = (use_session(), use_navigate());
    let job = found.job;
    let works = found.state().map(commands::complained_of).unwrap_or_default();
    let choose = move |work: &EarlierWork| {
        said.update(|said| (said.operation, said.line) = (Some(work.operation.clone()), work.line));
    };
    // If only one work is possible, it is preselected.
    if let [only] = works.as_slice() {
        choose(only);
    }
    let about = works.into_iter().map(|work| {
        let (shown, name) = (work.clone(), work.name.clone());
        let on = Signal::derive(move || {
            said.with(|said| said.operation.as_ref() == Some(&shown.operation) && said.line == shown.line)
        });
        let press = Callback::new(move |()| choose(&work));
        view! { <Toggle label=name on press/> }
    });
    let about = about.collect_view();
    let note = Signal::derive(move || said.with(|said| said.note.clone()));
    let day = Signal::derive(move || said.with(|said| said.day.clone()));
    let take = move |_| {
        let Some(phone) = session.phone() else { return };
        let around = phone.surroundings();
        let made = said
            .with_untracked(|said| commands::take_back_in(&found.life, job, said, || around.new_subject()));
        let Some((TakenBackIn { job, .. }, drafts)) = made else {
            session.ask_to_correct(words::complaint::say_what_it_is_about());
            return;
        };
        let go = go.clone();
        session.save_and(drafts, move |_| {
            go(
                &format!("/camera/{job}?shows=drop_off"),
                NavigateOptions::default(),
            );
        });
    };
    view! {
        <section class="card stack" aria-label=words::complaint::what_it_is_about()>
            <h2>{words::complaint::what_it_is_about()}</h2>
            <div class="chips" role="group" aria-label=words::complaint::work()>{about}</div>
            {causes(said)}
            <Typed label=words::complaint::what_the_customer_says().to_owned() value=note
                typed=Callback::new(move |text| said.update(|said| said.note = text))/>
            <Typed label=words::complaint::day_promised().to_owned() kind="date" value=day
                typed=Callback::new(move |text| said.update(|said| said.day = text))/>
            <button class="bench" on:click=take>{words::complaint::take_it_in_again()}</button>
        </section>
    }
}

/// Buttons for the cause, as far as it is known at the counter; it can be set at the bench as well.
fn causes(said: RwSignal<CameBack>) -> AnyView {
    let chips = Cause::KNOWN.iter().map(|cause| {
        let label = commands::cause_words(cause);
        let cause = StoredValue::new(cause.clone());
        let on = Signal::derive(move || said.with(|said| said.cause == Some(cause.get_value())));
        let press = Callback::new(move |()| {
            said.update(|said| {
                said.cause = Some(cause.get_value()).filter(|cause| said.cause.as_ref() != Some(cause));
            });
        });
        view! { <Toggle label on press/> }
    });
    view! {
        <div class="chips" role="group" aria-label=words::complaint::cause_if_known()>{chips.collect_view()}</div>
        <p class="quiet">{words::complaint::cause_can_wait()}</p>
    }
    .into_any()
}
