//! One quiet line where the agreed price is likely to lose.

use std::rc::Rc;

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::price::experience::Experience;
use shared::price::parse_minor;
use shared::trade::Goods;

use super::counter::Counter;
use crate::acts::PairIn;
use crate::earnings::{hourly_target, with_setting};
use crate::screens::shop::recent;
use crate::workshop::use_workshop;

/// Said only where it loses more often than not.
const LIKELY: f64 = 0.5;

/// What finished jobs say of the prices on the screen. They are read once, after the screen stands: who takes a pair in does
/// not wait for them.
#[component]
pub(super) fn Outlook(counter: Counter) -> impl IntoView {
    let experience = RwSignal::new_local(None::<Rc<Experience>>);
    let workshop = use_workshop();
    let shop = counter.shop;
    let target = Memo::new(move |_| hourly_target(&shop.state()));
    Effect::new(move |_| {
        if target.get().is_none() || shop.helper() || experience.get_untracked().is_some() {
            return;
        }
        let Some(phone) = workshop.phone() else { return };
        let state = shop.state();
        spawn_local(async move {
            if let Ok(ledger) = recent(&phone).await {
                experience.try_set(Some(Rc::new(ledger.experience(&state))));
            }
        });
    });
    let lines = move || {
        let known = experience.get()?;
        let target = target.get()?;
        let state = shop.state();
        let chances = counter.form.with(|form| {
            let chance = |(at, pair): (usize, &PairIn)| Some((at, loss(&known, pair, &state)?));
            form.pairs
                .iter()
                .enumerate()
                .filter_map(chance)
                .collect::<Vec<_>>()
        });
        let several = counter.form.with(|form| form.pairs.len() > 1);
        let likely = chances.into_iter().filter(|(_, chance)| *chance > LIKELY);
        let said = likely.map(|(at, chance)| {
            let which = if several { format!("Pair {}: ", at + 1) } else { String::new() };
            let of_ten = (chance * 10.0).round();
            view! { <p class="quiet outlook">{which}"At "{shop.money(target)}" an hour, this price falls short in "{of_ten}" of 10 such jobs."</p> }
        });
        Some(said.collect_view())
    };
    view! { <div aria-live="polite">{lines}</div> }
}

/// How likely the prices of a pair do not meet the target; `None` while there is nothing to say.
fn loss(known: &Experience, pair: &PairIn, state: &shared::log::fold::State) -> Option<f64> {
    let priced = pair
        .lines
        .iter()
        .map(|line| Some((line.operation.as_str(), parse_minor(&line.price)?)));
    let lines = priced.collect::<Option<Vec<_>>>()?;
    if lines.is_empty() {
        return None;
    }
    let goods = if pair.goods.is_empty() {
        Goods::LowShoe
    } else {
        Goods::from(pair.goods.as_str())
    };
    with_setting(state, |setting| {
        known.loss_chance(&lines, pair.construction.as_ref(), &goods, setting)
    })
    .ok()?
}
