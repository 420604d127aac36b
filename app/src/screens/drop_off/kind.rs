//! The kind of goods, tapped on its drawing.

use leptos::prelude::*;
use shared::trade::Goods;

use super::counter::CounterForm;
use crate::parts::Drawing;

/// A tile for each kind of goods, which is a column of the price list.
#[component]
pub(super) fn Kind(counter: CounterForm, place: usize) -> impl IntoView {
    let tiles = Goods::KNOWN.iter().map(|kind| {
        let code = kind.as_str();
        let on = counter.of_pair(place, move |pair| pair.goods == code);
        let press = move |_| {
            let chosen = if on.get_untracked() { "" } else { code };
            let shop = counter.shop.state();
            counter.change_pair(place, |pair| pair.is_a(chosen, &shop));
        };
        view! {
            <button type="button" class="kind-tile" aria-pressed=move || if on.get() { "true" } else { "false" } on:click=press>
                <Drawing name=code.to_owned()/>
                <span>{kind.words()}</span>
            </button>
        }
    });
    view! {
        <div class="kinds" role="group" aria-label=words::drop_off::kind()>{tiles.collect_view()}</div>
    }
}
