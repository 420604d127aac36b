//! A hint if the agreed price is likely to make a loss.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::analytics::{Loss, PairOffered};
use shared::log::body::OperationCode;
use shared::price::minor::Minor;
use shared::trade::Goods;

use super::counter::CounterForm;
use crate::analytics::ask_with_statistics;
use crate::session::use_session;
use crate::shop::ShopContext;
use app_core::commands::PairIn;
use app_core::stations::goods;

/// From this probability of a loss on, the hint is shown.
const LIKELY: f64 = 0.5;

/// The forecast from finished jobs for the prices on the form. Their records are read once, after the screen is drawn,
/// so that taking a pair in does not wait for them.
#[component]
pub(super) fn Outlook(counter: CounterForm) -> impl IntoView {
    let (session, shop) = (use_session(), counter.shop);
    let target = Memo::new(move |_| shop.state().hourly_target());
    let offered = Memo::new(move |_| {
        counter.form.with(|form| {
            form.pairs
                .iter()
                .map(|pair| offered(pair, shop))
                .collect::<Vec<_>>()
        })
    });
    let chances = RwSignal::new(Vec::<Option<f64>>::new());
    let turn = StoredValue::new(0_u32);
    Effect::new(move |_| {
        let pairs: Vec<Option<PairOffered>> = offered.get();
        if target.get().is_none() || shop.helper() || pairs.iter().all(Option::is_none) {
            return chances.set(Vec::new());
        }
        let Some(phone) = session.phone() else { return };
        let known = shop.known_with_shelf(phone.clone());
        let pairs = pairs.into_iter().map(|pair| pair.unwrap_or_else(nothing));
        let pairs: Vec<_> = pairs.collect();
        turn.update_value(|turn| *turn += 1);
        let this = turn.get_value();
        spawn_local(async move {
            let told = async {
                let shop = known.await?;
                ask_with_statistics(&phone, &Loss { shop, pairs }).await
            };
            // Errors are not shown: nobody at the counter can do anything about them.
            if let Ok(told) = told.await
                && turn.try_get_value() == Some(this)
            {
                chances.set(told);
            }
        });
    });
    let lines = move || {
        let target = target.get()?;
        let chances = chances.get();
        let several = chances.len() > 1;
        let likely = chances
            .into_iter()
            .enumerate()
            .filter_map(|(at, chance)| Some((at, chance.filter(|chance| *chance > LIKELY)?)));
        let said = likely.map(|(at, chance)| {
            let (target, of_ten) = (shop.money(target), (chance * 10.0).round());
            let words = if several {
                words::drop_off::price_of_pair_falls_short(at + 1, &target, of_ten)
            } else {
                words::drop_off::price_falls_short(&target, of_ten)
            };
            view! { <p class="quiet outlook">{words}</p> }
        });
        Some(said.collect_view())
    };
    view! { <div aria-live="polite">{lines}</div> }
}

/// A pair with all its prices; `None` while one is missing.
fn offered(pair: &PairIn, shop: ShopContext) -> Option<PairOffered> {
    let mut lines: Vec<(OperationCode, Minor)> = Vec::new();
    for line in &pair.lines {
        let price = shop.reads(&line.price)?;
        // Work that is done differently on each shoe has two lines, and is one work on the pair.
        match lines.iter_mut().find(|(code, _)| *code == line.operation) {
            Some((_, sum)) => *sum += price,
            None => lines.push((line.operation.clone(), price)),
        }
    }
    if lines.is_empty() {
        return None;
    }
    Some(PairOffered {
        goods: goods(&pair.goods),
        guessed: pair.construction.clone(),
        lines,
    })
}

/// A pair for which nothing can be forecast yet.
fn nothing() -> PairOffered {
    PairOffered {
        goods: Goods::LowShoe,
        guessed: None,
        lines: Vec::new(),
    }
}
