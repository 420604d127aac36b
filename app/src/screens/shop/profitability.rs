//! Profitability of the price list: what each line really takes, carries and earns.

use leptos::prelude::*;
use shared::analytics::{ENOUGH, ProfitabilityLine, ProfitabilityQuery};
use shared::log::body::OperationCode;
use shared::log::body::field;
use shared::price::minor::Minor;
use shared::trade::Goods;
use shared::trade::operations::{self, operations};

use crate::analytics::recent;
use crate::device::analytics::ask_analytics;
use crate::parts::Toggle;
use crate::session::{use_live_query, use_session};
use crate::shop::{ShopContext, use_shop};

/// One kind of goods at a time: the lines that were done, then, if asked for, those that rest on norms.
#[component]
pub fn ProfitabilityScreen() -> impl IntoView {
    let shop = use_shop();
    let shown = RwSignal::new(Goods::KNOWN[0].clone());
    let norms = RwSignal::new(false);
    let kinds = Goods::KNOWN.iter().map(|kind| {
        let on = Signal::derive(move || shown.get() == *kind);
        view! { <Toggle label=kind.words() on press=Callback::new(move |()| shown.set(kind.clone()))/> }
    });
    let kinds = kinds.collect_view();
    let lines = use_live_query(move |phone| {
        let goods = shown.get();
        let (codes, norms) = (codes(shop, &goods), norms.get());
        let known = shop.known_with_shelf(phone.clone());
        async move {
            let asked = ProfitabilityQuery {
                shop: known.await?,
                codes,
                norms,
                goods,
            };
            ask_analytics::<_, Vec<ProfitabilityLine>>(&asked, &recent(&phone).await?).await
        }
    });
    let list = move || {
        let goods = shown.get_untracked();
        lines.get().map(|lines| {
            let none = lines.is_empty();
            let rows = lines
                .into_iter()
                .map(|line| row(&line, &goods, shop))
                .collect_view();
            view! {
                {none.then(|| view! { <p>{words::books::none_finished()}</p> })}
                <ul class="plain truth" aria-label=words::books::lines() data-ready="truth">{rows}</ul>
            }
        })
    };
    let more = move || {
        if norms.get() {
            words::books::only_what_was_done()
        } else {
            words::books::also_what_rests_on_norms()
        }
    };
    view! {
        <Show when=move || shop.helper()><p>{words::shop::prices::for_repairers()}</p></Show>
        <section hidden=move || shop.helper()>
            <h1>{words::books::what_each_job_earns()}</h1>
            <p class="quiet">{words::books::what_figures_rest_on(ENOUGH)}</p>
            <Target shop/>
            <div class="chips" role="group" aria-label=words::shop::prices::kind()>{kinds}</div>
            {list}
            <button class="quiet" on:click=move |_| norms.update(|norms| *norms = !*norms)>{more}</button>
        </section>
    }
}

/// The hourly target, or a note that none is set.
#[component]
fn Target(shop: ShopContext) -> impl IntoView {
    move || {
        match shop.state().hourly_target() {
        Some(minor) => view! { <p>{words::books::hourly_target_is()}<strong>{shop.money(minor)}</strong>{words::books::without_tax_and_material()}</p> }.into_any(),
        None => view! {
            <p>{words::books::set_in()}<a href="/shop">{words::books::shop_money()}</a>{words::books::an_hourly_target()}</p>
        }
        .into_any(),
    }
    }
}

/// The operations that have a price for a kind of goods. Operations that are part of others have none.
fn codes(shop: ShopContext, goods: &Goods) -> Vec<OperationCode> {
    let trade = operations()
        .filter(|one| one.fits(goods))
        .map(|one| OperationCode::from(one.code));
    let all = trade.chain(shop.own_operations());
    all.filter(|code| shop.listed(code, goods.as_str()).is_some())
        .collect()
}

fn row(line: &ProfitabilityLine, goods: &Goods, shop: ShopContext) -> AnyView {
    let name = operations::name(&line.code).to_owned();
    let own = shop.price(&line.code, goods.as_str());
    let price = own.or_else(|| shop.norm(&line.code, goods));
    let words = match (price, own) {
        (Some(minor), Some(_)) => shop.money(minor),
        (Some(minor), None) => words::books::norm(&shop.money(minor)),
        (None, _) => words::books::no_price().to_owned(),
    };
    let hides = format!(
        "/shop/hidden/{}/{}",
        goods,
        js_sys::encode_uri_component(&line.code)
    );
    let told = line.told.iter().map(|text| view! { <li>{text.clone()}</li> });
    let told = view! { <ul class="plain">{told.collect_view()}</ul> {adopt(line, price, goods, shop)} };
    view! {
        <li class="card">
            <h2>{name.clone()}" "<span class="quiet">{words}</span></h2>
            {told}
            <p><a href=hides aria-label=words::shop::hidden::what_operation_hides(&name)>{words::shop::hidden::what_it_hides()}</a></p>
        </li>
    }
    .into_any()
}

/// A button that adopts the price that would meet the target.
fn adopt(
    line: &ProfitabilityLine,
    price: Option<Minor>,
    goods: &Goods,
    shop: ShopContext,
) -> Option<AnyView> {
    let needed = line.needed?;
    if price == Some(needed) {
        return Some(view! { <p>{words::books::meets_target()}</p> }.into_any());
    }
    let session = use_session();
    let name = operations::name(&line.code).to_owned();
    let words = shop.money(needed);
    let (field, said) = (
        field::price(&line.code, goods.as_str()),
        words::books::from_today_on(&name, &goods.words().to_lowercase(), &words),
    );
    let go = move |_| {
        let said = said.clone();
        shop.set(session, vec![(field.clone(), needed.into())], move || {
            session.tell(said)
        });
    };
    Some(view! {
        <p>{words::books::price_that_meets_target()}<strong>{words.clone()}</strong></p>
        <button class="bench quiet" aria-label=words::books::take_from_today_for(&words, &name) on:click=go>{words::books::take_from_today(&words)}</button>
    }
    .into_any())
}
