//! What an operation on one kind of goods uncovers: how often each part is found damaged, and how often the repairer
//! expects it.

use leptos::prelude::*;
use leptos_router::hooks::use_params_map;
use shared::analytics::{self as asked, HiddenDamageRate};
use shared::log::body::field;
use shared::trade::{Construction, Goods, operations};

use crate::analytics::recent;
use crate::device::analytics::ask_analytics;
use crate::parts::Toggle;
use crate::session::{use_live_query, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::calc::number;

/// The parts that an operation lays open, for the construction chosen as the guess at the counter.
#[component]
pub fn Hidden() -> impl IntoView {
    let shop = use_shop();
    let params = use_params_map();
    let named = move |name: &str| params.read().get(name).unwrap_or_default();
    let code = Memo::new(move |_| named("operation"));
    let goods = Memo::new(move |_| Goods::from(named("goods").as_str()));
    let guess = RwSignal::new(None::<Construction>);
    let guesses = std::iter::once(None)
        .chain(Construction::offered().cloned().map(Some))
        .map(|one| {
            let words = one
                .as_ref()
                .map_or(words::shop::hidden::construction_not_known(), Construction::words)
                .to_owned();
            let this = one.clone();
            let on = Signal::derive(move || guess.get() == this);
            view! { <Toggle label=words on press=Callback::new(move |()| guess.set(one.clone()))/> }
        });
    let guesses = guesses.collect_view();
    let parts = use_live_query(move |phone| {
        let asked = asked::HiddenDamageQuery {
            shop: shop.known(),
            goods: goods.get(),
            code: code.get().into(),
            guessed: guess.get(),
        };
        async move { ask_analytics::<_, Vec<HiddenDamageRate>>(&asked, &recent(&phone).await?).await }
    });
    let list = move || {
        let (code, guess) = (code.get_untracked(), guess.get_untracked());
        parts.get().map(|parts| {
            let none = parts.is_empty();
            let rows = parts
                .into_iter()
                .map(|part| row(&part, &code, guess.as_ref(), shop))
                .collect_view();
            view! {
                {none.then(|| view! { <p>{words::shop::hidden::opens_nothing()}</p> })}
                <ul class="plain" aria-label=words::shop::hidden::parts() data-ready="hidden">{rows}</ul>
            }
        })
    };
    view! {
        <section hidden=move || shop.helper()>
            <h1>{words::shop::hidden::what_it_hides()}</h1>
            <p>{move || words::shop::prices::operation_on_goods(operations::name(&code.get()), &goods.get().words().to_lowercase())}</p>
            <p class="quiet">{words::shop::hidden::what_is_counted()}</p>
            <div class="chips" role="group" aria-label=words::shop::hidden::as_guessed()>{guesses}</div>
            {list}
            <p><a class="button quiet" href="/shop/truth">{words::books::what_each_job_earns()}</a></p>
        </section>
    }
}

fn row(part: &HiddenDamageRate, code: &str, guess: Option<&Construction>, shop: ShopContext) -> AnyView {
    let session = use_session();
    let words = part.part.words().to_owned();
    let text = part.said.map(|said| said.to_string()).unwrap_or_default();
    let name = field::of_ten(code, guess.map_or("", Construction::as_str), part.part.as_str());
    let save = move |event: leptos::ev::Event| {
        let typed = event_target_value(&event);
        let said = match number(&typed) {
            Some(said) if (0.0..=10.0).contains(&said) => said.into(),
            None if typed.trim().is_empty() => serde_json::Value::Null,
            _ => return session.ask_to_correct(words::shop::hidden::not_from_0_to_10(&typed)),
        };
        shop.set(session, vec![(name.clone(), said)], move || {
            session.tell(words::shop::saved())
        });
    };
    let [least, most] = part.between;
    let told = words::shop::hidden::found_of_ten(part.of_ten, least, most);
    let asked = words::shop::hidden::ask_how_many_of_ten(&words);
    view! {
        <li class="card">
            <h2>{words}" "<span class="quiet">{told}</span></h2>
            <label class="field">
                <span>{asked}</span>
                <input inputmode="decimal" autocomplete="off" prop:value=text on:change=save/>
            </label>
        </li>
    }
    .into_any()
}
