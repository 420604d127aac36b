//! The language of the screens and of the care card.

use leptos::prelude::*;
use serde_json::Value;
use shared::log::body::field;
use words::Language;

use crate::device::screen::keep_language;
use crate::parts::Toggle;
use crate::session::use_session;
use crate::shop::use_shop;

/// A choice of the shop's language. The app starts anew in it; the shop's other devices speak it from their next start.
#[component]
pub fn ChooseLanguage() -> impl IntoView {
    let (shop, session) = (use_shop(), use_session());
    let chips = Language::ALL.map(|language| {
        let on = Signal::derive(move || shop.state().language() == language);
        let press = Callback::new(move |()| {
            let field = (field::LANGUAGE.to_owned(), Value::from(language.tag()));
            shop.set(session, vec![field], move || {
                keep_language(language);
                // A page that cannot be loaded anew speaks it from the next start on.
                drop(window().location().reload());
            });
        });
        view! { <Toggle label=language.name() on press/> }
    });
    view! {
        <section class="card" aria-label=words::shop::language()>
            <h2>{words::shop::language()}</h2>
            <div class="chips" role="group" aria-label=words::shop::language()>{chips.collect_view()}</div>
        </section>
    }
}
