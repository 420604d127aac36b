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
        Then::Open => view! { <p>"It cannot be told before opening."</p> }.into_any(),
    };
    view! {
        <details class="which">
            <summary>"Which is it? By what can be seen"</summary>
            <div class="stack" aria-live="polite">
                {now}
                <Show when=move || at.get() != Then::Ask(0)>
                    <button class="quiet" on:click=move |_| at.set(Then::Ask(0))>"From the beginning"</button>
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
        view! { <button class="bench quiet" on:click=move |_| at.set(answer.then)>{answer.say}</button> }
    });
    view! { <p><strong>{question.ask}</strong></p> <div class="answers">{answers.collect_view()}</div> }
        .into_any()
}

fn guessed(bench: Selection, job: SubjectId, state: StoredValue<JobState>, guess: &'static Guess) -> AnyView {
    let take = move |_| {
        let subject = Subject::new(SubjectKind::Job, job);
        let chosen = guess.construction.as_str();
        let draft = state
            .with_value(|state| commands::set(subject, &state.details, field::CONSTRUCTION_GUESSED, chosen));
        if let Some(draft) = draft {
            bench.act(
                vec![draft],
                ["As guessed: ", guess.construction.words(), "."].concat(),
            );
        }
    };
    let lines = [
        ("For it: ", guess.speaks_for),
        ("Against it, if seen: ", guess.speaks_against),
        ("A new sole: ", guess.resole),
        ("Not before opening: ", guess.before_opening),
    ];
    let lines = lines.map(|(label, text)| view! { <p><strong>{label}</strong>{text}</p> });
    view! {
        <p>"Most likely: "<strong>{guess.construction.words()}</strong></p>
        {lines.collect_view()}
        <button class="bench" on:click=take>"Take it as the guess"</button>
    }
    .into_any()
}
