//! What the card says about the shop.

use leptos::prelude::*;
use shared::log::body::field;
use shared::log::fold::ShopState;

use crate::parts::Field;
use crate::session::{use_live_query, use_session};
use app_core::commands;

/// Name, telephone and guarantee terms.
#[component]
pub fn Details() -> impl IntoView {
    let shop =
        use_live_query(|phone| async move { Ok((phone.shop_subject().await?, phone.shop_state().await?)) });
    move || shop.get().map(|(subject, state)| form(subject, state))
}

fn form(subject: shared::log::Subject, state: ShopState) -> impl IntoView {
    let session = use_session();
    let value = |name: &str| RwSignal::new(state.details.text(name).unwrap_or_default().to_owned());
    let (name, phone, terms) = (value(field::NAME), value(field::PHONE), value(field::TERMS));
    let save = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let fields = [(field::NAME, name), (field::PHONE, phone), (field::TERMS, terms)];
        let drafts: Vec<_> = fields
            .into_iter()
            .filter_map(|(name, value)| commands::set(subject.clone(), &state.details, name, &value.get()))
            .collect();
        if !drafts.is_empty() {
            session.save_and(drafts, move |_| session.tell(words::shop::saved()));
        }
    };
    view! {
        <section class="card">
            <h2>{words::shop::details::on_the_care_card()}</h2>
            <form class="stack" on:submit=save>
                <Field label=words::shop::details::name_of_the_shop() value=name/>
                <Field label=words::shop::details::telephone() value=phone kind="tel"/>
                <Field label=words::shop::details::guarantee_terms() value=terms/>
                <button type="submit">{words::shop::details::save()}</button>
            </form>
        </section>
    }
}
