//! Choosing goods that are sold over the counter: what, how many, at what price.

use leptos::prelude::*;
use shared::price::minor::Minor;

use super::{Toggle, Typed};
use crate::session::use_live_query;
use crate::shop::{ShopContext, use_shop};
use app_core::commands::{GoodsIn, MOST_GOODS, OfferedGoods, goods_price_id};

/// How many goods are offered at once; the others are unfolded.
const OFFERED: usize = 8;

/// The chosen goods, shared by the lines. Cheap to copy.
#[derive(Clone, Copy)]
struct GoodsForm {
    goods: Signal<Vec<GoodsIn>>,
    change: Callback<Vec<GoodsIn>>,
    wrong: Signal<String>,
    offered: Memo<Vec<OfferedGoods>>,
    shop: ShopContext,
}

impl GoodsForm {
    fn edit(self, edit: impl FnOnce(&mut Vec<GoodsIn>)) {
        let mut all = self.goods.get_untracked();
        edit(&mut all);
        self.change.run(all);
    }

    fn edit_line(self, at: usize, edit: impl FnOnce(&mut GoodsIn)) {
        self.edit(|all| {
            if let Some(one) = all.get_mut(at) {
                edit(one);
            }
        });
    }

    /// A value read from a line; the default once the line is gone.
    fn of<T: Default + Send + Sync + 'static>(
        self,
        at: usize,
        read: impl Fn(&GoodsIn) -> T + Send + Sync + 'static,
    ) -> Signal<T> {
        Signal::derive(move || self.goods.with(|all| all.get(at).map(&read).unwrap_or_default()))
    }

    fn toggle(self, offered: &OfferedGoods) {
        self.edit(|all| offered.toggle(all, self.shop.money_kind()));
    }

    /// The price of one piece, if it is known.
    fn each(self, what: &str) -> Option<Minor> {
        self.offered
            .with_untracked(|all| all.iter().find(|one| one.what == what)?.each)
    }
}

/// Chips for what was sold lately and what is on the shop's list, a field for other goods, and a line for all that are
/// chosen.
#[component]
pub fn GoodsChoice(
    /// The goods that are chosen.
    goods: Signal<Vec<GoodsIn>>,
    /// Called with the goods after each change.
    change: Callback<Vec<GoodsIn>>,
    /// The id of the field that prevents the form from being accepted; empty if none does.
    wrong: Signal<String>,
) -> impl IntoView {
    let shop = use_shop();
    let lately = use_live_query(|phone| async move { Ok(phone.sold_lately().await?) });
    let offered = Memo::new(move |_| OfferedGoods::all(&shop.state(), &lately.get().unwrap_or_default()));
    let form = GoodsForm {
        goods,
        change,
        wrong,
        offered,
        shop,
    };
    let count = Memo::new(move |_| goods.with(Vec::len));
    let chips = move |from: usize, most: usize| {
        let all = offered.get().into_iter().skip(from).take(most);
        all.map(|one| chip(form, one)).collect_view()
    };
    view! {
        <div class="chips" role="group" aria-label=words::parts::goods()>{move || chips(0, OFFERED)}</div>
        <details>
            <summary>{words::parts::other_goods()}</summary>
            <div class="chips" role="group" aria-label=words::parts::more_goods()>{move || chips(OFFERED, usize::MAX)}</div>
            <OtherGoods form/>
        </details>
        <ul class="plain lines" aria-label=words::parts::chosen_goods()>
            <For each=move || 0..count.get() key=|at| *at let:at><GoodsLine form at/></For>
        </ul>
    }
}

fn chip(form: GoodsForm, offered: OfferedGoods) -> impl IntoView {
    let (label, what) = (offered.what.clone(), offered.what.clone());
    let on = Signal::derive(move || form.goods.with(|all| all.iter().any(|one| one.what == what)));
    let press = Callback::new(move |()| form.toggle(&offered));
    view! { <Toggle label on press/> }
}

/// Goods that are not on the list, described in words.
#[component]
fn OtherGoods(form: GoodsForm) -> impl IntoView {
    let text = RwSignal::new(String::new());
    let add = move |_| {
        let what = text.get_untracked().trim().to_owned();
        let chosen = form
            .goods
            .with_untracked(|all| all.iter().any(|one| one.what == what));
        if !what.is_empty() && !chosen {
            let each = form.each(&what);
            form.toggle(&OfferedGoods { what, each });
        }
        text.set(String::new());
    };
    let typed = Callback::new(move |what| text.set(what));
    view! {
        <div class="row">
            <Typed label=words::parts::what_goods().to_owned() value=text.into() typed/>
            <button type="button" class="quiet" on:click=add>{words::parts::add_goods()}</button>
        </div>
    }
}

/// One line: the goods, their number and their price.
#[component]
fn GoodsLine(form: GoodsForm, at: usize) -> impl IntoView {
    let name = form.of(at, |one| one.what.clone());
    let off = move |_| {
        form.edit(|all| {
            if at < all.len() {
                all.remove(at);
            }
        });
    };
    let id = goods_price_id(at);
    let label = Signal::derive(move || words::parts::price_of_goods(&name.get()));
    let value = form.of(at, |one| one.price.clone());
    let typed = Callback::new(move |text| {
        form.edit_line(at, |one| {
            one.price = text;
            one.by_hand = true;
        });
    });
    let missing = id.clone();
    let unread = form.of(at, move |one| one.is_unread(form.shop.money_kind()));
    let wrong = Signal::derive(move || unread.get() || form.wrong.with(|wrong| *wrong == missing));
    view! {
        <li class="line row between">
            <Pieces form at name/>
            <Typed label id=id inputmode="decimal" value typed wrong/>
            <button type="button" class="quiet" on:click=off>{move || words::parts::without_goods(&name.get())}</button>
        </li>
    }
}

/// How many pieces; a price that nobody typed follows.
#[component]
fn Pieces(form: GoodsForm, at: usize, name: Signal<String>) -> impl IntoView {
    let count = form.of(at, |one| one.count);
    let set = move |count: u32| {
        let each = form.each(&name.get_untracked());
        let currency = form.shop.money_kind();
        form.edit_line(at, |one| one.set_count(count, each, currency));
    };
    let fewer = move |_| set(count.get_untracked().saturating_sub(1));
    let further = move |_| set(count.get_untracked().saturating_add(1));
    let full = move || count.get() >= MOST_GOODS;
    view! {
        <div class="row" role="group" aria-label=move || words::parts::how_many_of(&name.get())>
            <button type="button" class="quiet" disabled=move || count.get() <= 1
                aria-label=move || words::parts::one_fewer(&name.get()) on:click=fewer>"−"</button>
            <output aria-live="polite">{move || count.get()}</output>
            <button type="button" class="quiet" disabled=full
                aria-label=move || words::parts::one_more(&name.get()) on:click=further>"+"</button>
        </div>
    }
}
