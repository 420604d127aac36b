//! What is not quite a match: saying it, photographing it, and taking it back.

use leptos::html::Details;
use leptos::prelude::*;
use shared::log::body::Measured;
use shared::log::fold::{Item, JobState};
use shared::log::{Subject, SubjectId, SubjectKind};

use super::super::{WorkJob, state_of};
use crate::parts::{Photograph, Toggle, Typed};
use crate::screens::camera::Back;
use crate::selection::use_selection;
use crate::session::use_session;
use app_core::commands::{self, MatchOf, TypedMatch, match_line, match_of, matches};

/// What was said so far, and a form to say something, folded until it is wanted.
#[component]
pub fn NotQuite(known: WorkJob, job: SubjectId) -> impl IntoView {
    let opened = RwSignal::new(false);
    let form = NodeRef::<Details>::new();
    let said = move || {
        let known = known.get()?;
        let (_, state) = state_of(&known)?;
        Some(matches(state).map(|item| row(job, state, item)).collect_view())
    };
    let done = Callback::new(move |()| {
        // Folded again, so that what was said comes into view.
        if let Some(form) = form.get_untracked() {
            form.set_open(false);
        }
    });
    view! {
        <section class="card" aria-label=words::work::not_quite_a_match()>
            <ul class="plain">{said}</ul>
            <details node_ref=form on:toggle=move |_| opened.set(true)>
                <summary>{words::work::not_quite_a_match()}</summary>
                <Show when=move || opened.get()><MatchForm known job done/></Show>
            </details>
        </section>
    }
}

/// One of them, with its photographs.
fn row(job: SubjectId, state: &JobState, item: &Item<Measured>) -> impl IntoView + use<> {
    let bench = use_selection();
    let entry = item.entry;
    let back = commands::undo(Subject::new(SubjectKind::Job, job), entry);
    let take_back = move |_| bench.act(vec![back.clone()], words::work::match_withdrawn());
    let photos = state.photos.iter().filter(|photo| photo.body.of == Some(entry));
    let photos = photos.map(|photo| {
        let caption = words::work::not_quite_a_match().to_owned();
        view! { <Photograph photo=photo.body.clone() job caption/> }
    });
    view! {
        <li class="left-row">
            <span>{match_line(&item.body)}</span>
            <div class="choices">
                <a class="button bench quiet" href=Back::Work.camera(job, Some("swatch"), Some(entry))>{words::work::photograph_match()}</a>
                <button class="bench quiet" on:click=take_back>{words::work::withdraw_match()}</button>
            </div>
            <div class="photographs">{photos.collect_view()}</div>
        </li>
    }
}

/// What does not match, what the customer reads, and how far the colours are apart.
#[component]
fn MatchForm(
    known: WorkJob,
    job: SubjectId,
    /// Called once it is said.
    done: Callback<()>,
) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let usual = move |of: MatchOf| {
        known.with_untracked(|known| {
            let state = known.as_ref().and_then(state_of).map(|(_, state)| state);
            match state {
                Some(state) => TypedMatch::usual(of, state),
                None => TypedMatch::usual(of, &JobState::default()),
            }
        })
    };
    let typed = RwSignal::new(usual(MatchOf::Laces));
    let chips = MatchOf::ALL.map(|of| {
        let on = Signal::derive(move || typed.with(|typed| typed.of == of));
        let press = Callback::new(move |()| typed.set(usual(of)));
        view! { <Toggle label=of.words() on press/> }
    });
    let say = Signal::derive(move || typed.with(|typed| typed.say.clone()));
    let difference = Signal::derive(move || typed.with(|typed| typed.difference.clone()));
    let keep = move |_| match typed.with_untracked(|typed| match_of(job, typed)) {
        Ok(draft) => {
            bench.act(vec![draft], words::work::match_saved());
            typed.set(usual(MatchOf::Laces));
            done.run(());
        }
        Err(why) => session.ask_to_correct(why),
    };
    view! {
        <div class="stack">
            <div class="chips" role="group" aria-label=words::work::of_what()>{chips.into_iter().collect_view()}</div>
            <Typed label=words::work::what_the_customer_reads().to_owned() value=say
                typed=Callback::new(move |text| typed.update(|typed| typed.say = text))/>
            <Typed label=words::work::measured_difference().to_owned() value=difference inputmode="decimal"
                typed=Callback::new(move |text| typed.update(|typed| typed.difference = text))/>
            <button class="bench" on:click=keep>{words::work::save_the_match()}</button>
        </div>
    }
}
