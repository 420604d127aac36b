//! The price list's truth: what each line of it really takes, carries and earns.

use leptos::prelude::*;
use shared::log::body::field;
use shared::price::experience::Experience;
use shared::price::truth::Truth;
use shared::trade::operations::{self, OPERATIONS};
use shared::trade::{Goods, prices};

use crate::device::Phone;
use crate::device::store::StoreError;
use crate::earnings::{ENOUGH, Ledger, MONTHS_BACK, hourly_target, months_back, with_setting};
use crate::parts::{Toggle, today};
use crate::shop::{Shop, use_shop};
use crate::workshop::{use_stored, use_workshop};

/// Chosen prices meet the target in this many of five jobs.
const OF_FIVE: &str = "in 4 of 5 jobs";

/// What the shop's last jobs teach.
pub(in crate::screens) async fn recent(phone: &Phone) -> Result<Ledger, StoreError> {
    let months = months_back(&today(), MONTHS_BACK);
    Ok(Ledger::of(phone.books(&months, ENOUGH).await?))
}

/// One line of the list.
#[derive(Debug, Clone, PartialEq)]
struct Line {
    code: String,
    /// The price now, minor units, and whether it is the shop's own.
    price: Option<i64>,
    own: bool,
    truth: Result<Truth, String>,
}

/// A kind at a time: the lines that were done, then, if asked, those that rest on norms.
#[component]
pub fn PriceTruth() -> impl IntoView {
    let shop = use_shop();
    let shown = RwSignal::new(Goods::KNOWN[0].clone());
    let norms = RwSignal::new(false);
    let kinds = Goods::KNOWN.iter().map(|kind| {
        let on = Signal::derive(move || shown.get() == *kind);
        view! { <Toggle label=kind.words() on press=Callback::new(move |()| shown.set(kind.clone()))/> }
    });
    let kinds = kinds.collect_view();
    let lines = use_stored(move |phone| {
        let (goods, norms, state) = (shown.get(), norms.get(), shop.state());
        async move {
            let experience = recent(&phone).await?.experience(&state);
            Ok(with_setting(&state, |setting| {
                let codes = codes(&experience, shop, &goods, norms);
                let line = |code: String| {
                    let own = shop.price(&code, goods.as_str());
                    Line {
                        price: own.or_else(|| prices::norm(&code, &goods)),
                        own: own.is_some(),
                        truth: experience
                            .truth(&code, &goods, setting)
                            .map_err(|refused| refused.to_string()),
                        code,
                    }
                };
                codes.into_iter().map(line).collect::<Vec<_>>()
            }))
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
                {none.then(|| view! { <p>"No job of this kind is finished yet."</p> })}
                <ul class="plain truth" aria-label="Lines" data-ready="truth">{rows}</ul>
            }
        })
    };
    let more = move || {
        if norms.get() {
            "Only what was done"
        } else {
            "Also what rests on norms only"
        }
    };
    view! {
        <Show when=move || shop.helper()><p>"Prices are for repairers."</p></Show>
        <section hidden=move || shop.helper()>
            <h1>"What prices carry"</h1>
            <p class="quiet">"From the last "{ENOUGH}" pairs at most. Minutes are reckoned from when photographs and steps were noted, not
                stopped by a watch. Hidden damage that had to be made good for nothing is in what an hour earned."</p>
            <Target shop/>
            <div class="chips" role="group" aria-label="Kind">{kinds}</div>
            {list}
            <button class="quiet" on:click=move |_| norms.update(|norms| *norms = !*norms)>{more}</button>
        </section>
    }
}

/// That no hourly target is set, or what it is.
#[component]
fn Target(shop: Shop) -> impl IntoView {
    move || {
        match hourly_target(&shop.state()) {
        Some(minor) => view! { <p>"An hour should earn "<strong>{shop.money(minor)}</strong>", without tax and material."</p> }.into_any(),
        None => view! {
            <p>"Say in "<a href="/shop">"Shop, Money"</a>" what an hour should earn: then each line says which price does."</p>
        }
        .into_any(),
    }
    }
}

/// The lines to tell of: those done, the most often done first; then the others.
fn codes(experience: &Experience, shop: Shop, goods: &Goods, norms: bool) -> Vec<String> {
    let trade = OPERATIONS
        .iter()
        .filter(|one| one.fits(goods))
        .map(|one| one.code.to_owned());
    let mut all: Vec<(usize, String)> = trade
        .chain(shop.own_operations())
        // What is part of other work has no price: nobody sets one.
        .filter(|code| {
            let sold = experience
                .samples(code, goods)
                .any(|one| one.work.price_minor > 0);
            sold || shop.listed(code, goods.as_str()).is_some()
        })
        .map(|code| (experience.samples(&code, goods).count(), code))
        .filter(|(jobs, _)| *jobs > 0 || norms)
        .collect();
    all.sort_by_key(|(jobs, _)| std::cmp::Reverse(*jobs));
    all.into_iter().map(|(_, code)| code).collect()
}

fn row(line: &Line, goods: &Goods, shop: Shop) -> AnyView {
    let name = operations::name(&line.code).to_owned();
    let price = match (line.price, line.own) {
        (Some(minor), true) => shop.money(minor),
        (Some(minor), false) => [&shop.money(minor), ", the norm"].concat(),
        (None, _) => "no price".to_owned(),
    };
    let hides = format!(
        "/shop/hidden/{}/{}",
        goods,
        js_sys::encode_uri_component(&line.code)
    );
    let told = match &line.truth {
        Ok(truth) => {
            let said = told(truth, shop)
                .into_iter()
                .map(|text| view! { <li>{text}</li> });
            view! { <ul class="plain">{said.collect_view()}</ul> {adopt(line, truth, goods, shop)} }
                .into_any()
        }
        Err(why) => view! { <p class="bad">{why.clone()}</p> }.into_any(),
    };
    view! {
        <li class="card">
            <h2>{name.clone()}" "<span class="quiet">{price}</span></h2>
            {told}
            <p><a href=hides aria-label=format!("What {name} hides")>"What it hides"</a></p>
        </li>
    }
    .into_any()
}

/// A line's truth, a sentence each.
fn told(truth: &Truth, shop: Shop) -> Vec<String> {
    let rests = match truth.jobs {
        0 => "Norms only: no finished job of this yet.".to_owned(),
        1 => "Rests on 1 job and the norms.".to_owned(),
        jobs => format!("Rests on {jobs} jobs."),
    };
    let mut all = vec![
        rests,
        format!(
            "About {:.0} min, one in ten over {:.0} min.",
            truth.minutes.p50, truth.minutes.p90
        ),
    ];
    if truth.materials_minor > 0 {
        all.push(["Material ", &shop.money(truth.materials_minor), "."].concat());
    }
    if truth.carried_minutes > 0.0 || truth.carried_minor > 0 {
        let worth = shop.money(truth.carried_minor);
        all.push(format!(
            "It carried {:.0} min a job of needed work nobody paid for, worth {worth}.",
            truth.carried_minutes
        ));
    }
    if let Some(minor) = truth.allowance_minor.filter(|minor| *minor > 0) {
        all.push(
            [
                "To be expected: ",
                &shop.money(minor),
                " a job for what is hidden.",
            ]
            .concat(),
        );
    }
    if truth.given_minutes > 0.0 || truth.given_minor > 0 {
        let worth = shop.money(truth.given_minor);
        all.push(format!(
            "Given by choice: {:.0} min a job, worth {worth}.",
            truth.given_minutes
        ));
    }
    if let Some(minor) = truth.earned_per_hour_minor {
        all.push(["An hour earned ", &shop.money(minor), "."].concat());
    }
    all
}

/// The price that meets the target, adopted in one tap.
fn adopt(line: &Line, truth: &Truth, goods: &Goods, shop: Shop) -> Option<AnyView> {
    let needed = truth.needed_minor?;
    if line.price == Some(needed) {
        return Some(view! { <p>"Its price meets the target "{OF_FIVE}"."</p> }.into_any());
    }
    let workshop = use_workshop();
    let name = operations::name(&line.code).to_owned();
    let words = shop.money(needed);
    let (field, said) = (
        field::price(&line.code, goods.as_str()),
        format!("{name}, {}: {words} from today on.", goods.words().to_lowercase()),
    );
    let go = move |_| {
        let said = said.clone();
        shop.set(workshop, vec![(field.clone(), needed.into())], move || {
            workshop.tell(said)
        });
    };
    Some(view! {
        <p>"The price that meets the target "{OF_FIVE}": "<strong>{words.clone()}</strong></p>
        <button class="bench quiet" aria-label=format!("Take {words} for {name}") on:click=go>"Take "{words.clone()}" from today on"</button>
    }
    .into_any())
}
