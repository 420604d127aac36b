//! The lines of the final check.

use leptos::prelude::*;
use shared::log::body::field;
use shared::trade::final_check::{line_of, shown, usual_list};

use super::form::ShopForm;
use crate::session::use_session;
use crate::shop::use_shop;

/// The lines that must be ticked before a pair leaves. The usual list, until the shop writes its own.
#[component]
pub fn FinalCheck() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let form = ShopForm::of(move || {
        let state = shop.state();
        let own: Vec<_> = state.final_check().collect();
        if own.is_empty() {
            usual_list().map(shown).collect::<Vec<_>>().join("\n")
        } else {
            own.into_iter().map(shown).collect::<Vec<_>>().join("\n")
        }
    });
    let save = move |_| {
        let text = form.values.get();
        let own: Vec<&str> = text
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty())
            .map(line_of)
            .collect();
        shop.set(
            session,
            vec![(field::FINAL_CHECK.to_owned(), own.into())],
            move || {
                form.follow();
                session.tell(words::shop::saved());
            },
        );
    };
    view! {
        <section class="card" aria-label=words::shop::check::final_check()>
            <h2>{words::shop::check::final_check()}</h2>
            <label class="field">
                <span>{words::shop::check::a_line_for_each_thing()}</span>
                <textarea rows="8" prop:value=move || form.values.get()
                    on:input=move |event| form.edit(|lines| *lines = event_target_value(&event))></textarea>
            </label>
            <button on:click=save>{words::shop::check::save_list()}</button>
        </section>
    }
}
