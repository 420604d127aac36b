//! Goods sold over the counter, beside what is taken in or alone.

use leptos::prelude::*;

use super::counter::CounterForm;
use crate::parts::GoodsChoice;

/// The goods of the form.
#[component]
pub(super) fn Goods(counter: CounterForm) -> impl IntoView {
    let goods = counter.said(|form| form.goods.clone());
    let change = Callback::new(move |goods| counter.change(|form| form.goods = goods));
    view! {
        <section class="card stack" aria-label=words::parts::sundries()>
            <h2>{words::parts::sundries()}</h2>
            <GoodsChoice goods change wrong=counter.wrong.into()/>
        </section>
    }
}
