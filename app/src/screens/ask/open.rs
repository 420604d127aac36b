//! An open question, and a button for each possible outcome.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::{Outcome, Question};
use shared::log::fold::{Item, JobState, bench};
use shared::price::minor::Minor;

use crate::parts::{Field, on_day};
use crate::selection::use_selection;
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands::inside::answer;

/// The usual times at which customers ask to be called again; any other time is typed.
const WHEN: [&str; 4] = [
    "this afternoon",
    "this evening",
    "tomorrow morning",
    "after the weekend",
];

/// The question, the outcomes noted so far, and buttons for the next one.
pub(super) fn open(job: SubjectId, question: &Item<Question>, state: &JobState) -> impl IntoView + use<> {
    let (bench, session) = (use_selection(), use_session());
    let shop = use_shop();
    let call_at = RwSignal::new(String::new());
    let so_far = bench::answer_to(state, question.entry).map(|last| match last.body.outcome {
        Outcome::CallBack => ["To be called again: ", &last.body.call_at].concat(),
        _ => ["Nobody was reached, ", &on_day(last.at.utc)].concat(),
    });
    let (text, at, choices) = (
        question.body.text.clone(),
        question.at.utc,
        question.body.choices.clone(),
    );
    let question = StoredValue::new((question.clone(), state.clone()));
    let settle = move |outcome: Outcome, choice: Option<usize>, said: String| {
        let drafts = question.with_value(|(question, state)| {
            answer((job, state), question, outcome, choice, &call_at.get_untracked())
        });
        bench.act(drafts, said);
    };
    let yes = choices.into_iter().enumerate().map(|(n, choice)| {
        // A choice without work has no price.
        let label = if shop.helper() || choice.operation.is_none() && choice.price_minor == Minor::ZERO {
            ["Yes: ", &choice.say].concat()
        } else {
            ["Yes: ", &choice.say, ", ", &shop.money(choice.price_minor)].concat()
        };
        let said = ["Agreed: ", &choice.say, "."].concat();
        view! { <button class="bench" on:click=move |_| settle(Outcome::Yes, Some(n), said.clone())>{label}</button> }
    });
    let others: [(&str, Outcome, &str); 2] = [
        ("No, only the agreed work", Outcome::No, "Answered: no."),
        (
            "Nobody answered",
            Outcome::NoAnswer,
            "Nobody answered; the pair is held.",
        ),
    ];
    let others = others.into_iter().map(|(label, outcome, said)| {
        view! { <button class="bench quiet" on:click=move |_| settle(outcome.clone(), None, said.to_owned())>{label}</button> }
    });
    let back = move |_| {
        settle(
            Outcome::ReturnUnrepaired,
            None,
            "It goes back as it is.".to_owned(),
        )
    };
    let back = view! { <button class="bench quiet" on:click=back>"Give it back as it is"</button> };
    let call_again = move || match call_at.with_untracked(|said| said.trim().is_empty()) {
        true => session.ask_to_correct("When shall they be called again?"),
        false => settle(
            Outcome::CallBack,
            None,
            ["To be called again: ", call_at.get_untracked().trim(), "."].concat(),
        ),
    };
    let when = WHEN.into_iter().map(|words| {
        let press = move |_| {
            call_at.set(words.to_owned());
            call_again();
        };
        view! { <button class="bench quiet" on:click=press>{words}</button> }
    });
    view! {
        <section class="card" aria-label="Open question">
            <h2>{text}</h2>
            <p class="quiet">"Asked "{on_day(at)}</p>
            <p>{so_far}</p>
            <div class="stack">
                {yes.collect_view()}{others.collect_view()}
                <h3>"Call again"</h3>
                <div class="choices" role="group" aria-label="Call again">{when.collect_view()}</div>
                <div class="row">
                    <Field label="Another time" value=call_at/>
                    <button class="bench quiet" on:click=move |_| call_again()>"Call again then"</button>
                </div>
                <h3>"Nothing is done"</h3>
                {back}
            </div>
        </section>
    }
}
