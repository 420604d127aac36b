//! The address of the published card.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::fold::Card;

use crate::device::network::public_url;
use crate::device::share;
use crate::screens::job::JobLife;
use crate::session::{LiveQuery, use_session};
use app_core::commands;
use app_core::store::Membership;

/// The address of the published card: to share, to open, to withdraw.
pub(super) fn card_link(found: &JobLife, base: LiveQuery<Membership>) -> AnyView {
    let session = use_session();
    let card = Card::of(&found.life);
    let secret = found.life.pair.links.first().map(|link| link.body.secret.clone());
    let pair = found.life.id;
    let withdraw = move |_| {
        session.save_and(vec![commands::withdraw(pair)], move |_| {
            session.tell(words::pickup::card_withdrawn())
        });
    };
    let state = match card {
        Card::NotYet => words::pickup::nothing_published_yet(),
        Card::Withdrawn => words::pickup::card_was_withdrawn(),
        Card::Sections(_) => words::pickup::card_is_published(),
    };
    let shown = matches!(card, Card::Sections(_));
    let address = move || {
        Some(format!(
            "{}/card/{}",
            public_url(base.get()?.url.as_deref()),
            secret.clone()?
        ))
    };
    let address = Signal::derive_local(address);
    let pass_on = move |_| {
        let Some(url) = address.get_untracked() else {
            return;
        };
        spawn_local(async move {
            match share::share_link(words::pickup::care_card_of_your_pair(), &url).await {
                Ok(_) => {}
                Err(error) => session.complain(error),
            }
        });
    };
    view! {
        <section class="card">
            <h2>{words::pickup::care_card()}</h2>
            <p>{state}</p>
            <Show when=move || shown>
                <p class="address"><a href=move || address.get() target="_blank" rel="noopener">{move || address.get()}</a></p>
                <div class="row">
                    <button on:click=pass_on>{words::pickup::pass_link_on()}</button>
                    <button class="quiet" on:click=withdraw>{words::pickup::withdraw_card()}</button>
                </div>
            </Show>
        </section>
    }.into_any()
}
