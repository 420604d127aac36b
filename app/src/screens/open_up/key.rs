//! Finding the construction of a shoe from what can be seen: a few questions, then a guess with the reasons for and
//! against it.

use leptos::prelude::*;
use shared::log::body::field;
use shared::log::fold::JobState;
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::trade::construction_key::{Guess, QUESTIONS, Then};

use crate::selection::{Selection, use_selection};
use app_core::commands;

/// The questions, folded until wanted; their result can be noted as the guess.
#[component]
pub(super) fn WhichIsIt(job: SubjectId, state: StoredValue<JobState>) -> impl IntoView {
    let bench = use_selection();
    let at = RwSignal::new(Then::Ask(0));
    let now = move || match at.get() {
        Then::Ask(question) => asked(at, question),
        Then::Guess(guess) => guessed(bench, job, state, guess),
        Then::Open => view! { <p>{words::open_up::not_told_before_opening()}</p> }.into_any(),
    };
    view! {
        <details class="which">
            <summary>{words::open_up::which_is_it()}</summary>
            <div class="stack" aria-live="polite">
                {now}
                <Show when=move || at.get() != Then::Ask(0)>
                    <button class="quiet" on:click=move |_| at.set(Then::Ask(0))>{words::open_up::from_the_beginning()}</button>
                </Show>
            </div>
        </details>
    }
}

fn asked(at: RwSignal<Then>, question: usize) -> AnyView {
    let Some(question) = QUESTIONS.get(question) else {
        return ().into_any();
    };
    let answers = question.answers.iter().map(|answer| {
        view! { <button class="bench quiet" on:click=move |_| at.set(answer.then)>{answer.say()}</button> }
    });
    view! { <p><strong>{question.ask()}</strong></p> <div class="answers">{answers.collect_view()}</div> }
        .into_any()
}

fn guessed(bench: Selection, job: SubjectId, state: StoredValue<JobState>, guess: &'static Guess) -> AnyView {
    let take = move |_| {
        let subject = Subject::new(SubjectKind::Job, job);
        let chosen = guess.construction.as_str();
        let draft = state
            .with_value(|state| commands::set(subject, &state.details, field::CONSTRUCTION_GUESSED, chosen));
        if let Some(draft) = draft {
            let label = words::open_up::as_guessed();
            let said = words::open_up::construction_noted(label, guess.construction.words());
            bench.act(vec![draft], said);
        }
    };
    let lines = [
        (words::open_up::speaks_for_it(), guess.speaks_for()),
        (words::open_up::speaks_against_it(), guess.speaks_against()),
        (words::open_up::a_new_sole(), guess.resole()),
        (words::open_up::not_before_opening(), guess.before_opening()),
    ];
    let lines = lines.map(|(label, text)| view! { <p><strong>{label}</strong>{text}</p> });
    view! {
        <p>{words::open_up::most_likely()}<strong>{guess.construction.words()}</strong></p>
        {lines.collect_view()}
        <button class="bench" on:click=take>{words::open_up::take_as_guess()}</button>
    }
    .into_any()
}
