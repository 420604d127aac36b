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
fn usual_times() -> [&'static str; 4] {
    [
        words::ask::this_afternoon(),
        words::ask::this_evening(),
        words::ask::tomorrow_morning(),
        words::ask::after_the_weekend(),
    ]
}

/// The question, the outcomes noted so far, and buttons for the next one.
pub(super) fn open(job: SubjectId, question: &Item<Question>, state: &JobState) -> impl IntoView + use<> {
    let (bench, session) = (use_selection(), use_session());
    let shop = use_shop();
    let call_at = RwSignal::new(String::new());
    let so_far = bench::answer_to(state, question.entry).map(|last| match last.body.outcome {
        Outcome::CallBack => words::ask::to_be_called_again(&last.body.call_at),
        _ => words::ask::nobody_was_reached(&on_day(last.at.utc)),
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
            words::ask::yes_to(&choice.say)
        } else {
            words::ask::yes_at_price(&choice.say, &shop.money(choice.price_minor))
        };
        let said = words::ask::agreed(&choice.say);
        view! { <button class="bench" on:click=move |_| settle(Outcome::Yes, Some(n), said.clone())>{label}</button> }
    });
    let others: [(&str, Outcome, &str); 2] = [
        (
            words::ask::no_only_the_agreed_work(),
            Outcome::No,
            words::ask::answered_no(),
        ),
        (
            words::ask::nobody_answered(),
            Outcome::NoAnswer,
            words::ask::nobody_answered_and_held(),
        ),
    ];
    let others = others.into_iter().map(|(label, outcome, said)| {
        view! { <button class="bench quiet" on:click=move |_| settle(outcome.clone(), None, said.to_owned())>{label}</button> }
    });
    let back = move |_| {
        settle(
            Outcome::ReturnUnrepaired,
            None,
            words::ask::goes_back_as_it_is().to_owned(),
        )
    };
    let back =
        view! { <button class="bench quiet" on:click=back>{words::ask::give_it_back_as_it_is()}</button> };
    let call_again = move || match call_at.with_untracked(|said| said.trim().is_empty()) {
        true => session.ask_to_correct(words::ask::when_to_call_again()),
        false => settle(
            Outcome::CallBack,
            None,
            words::ask::noted_to_be_called_again(call_at.get_untracked().trim()),
        ),
    };
    let when = usual_times().into_iter().map(|words| {
        let press = move |_| {
            call_at.set(words.to_owned());
            call_again();
        };
        view! { <button class="bench quiet" on:click=press>{words}</button> }
    });
    view! {
        <section class="card" aria-label=words::ask::open_question()>
            <h2>{text}</h2>
            <p class="quiet">{words::ask::asked_at(&on_day(at))}</p>
            <p>{so_far}</p>
            <div class="stack">
                {yes.collect_view()}{others.collect_view()}
                <h3>{words::ask::call_again()}</h3>
                <div class="choices" role="group" aria-label=words::ask::call_again()>{when.collect_view()}</div>
                <div class="row">
                    <Field label=words::ask::another_time() value=call_at/>
                    <button class="bench quiet" on:click=move |_| call_again()>{words::ask::call_again_then()}</button>
                </div>
                <h3>{words::ask::stop_the_job()}</h3>
                {back}
            </div>
        </section>
    }
}
