//! Goods of a ticket: what was sold over the counter, and selling something more.

use leptos::prelude::*;
use shared::log::body::Sold;
use shared::log::fold::Item;
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::price::bill;

use crate::device::screen::focus;
use crate::parts::{GoodsChoice, on_day};
use crate::screens::ticket::TicketLife;
use crate::session::{Session, use_session};
use crate::shop::{ShopContext, use_shop};
use app_core::commands::{self, GoodsIn};

/// What is being sold on the ticket. It outlasts a redraw of the screen. Cheap to copy.
#[derive(Clone, Copy)]
pub(super) struct Selling {
    goods: RwSignal<Vec<GoodsIn>>,
    wrong: RwSignal<String>,
    open: RwSignal<bool>,
    session: Session,
}

impl Selling {
    /// Nothing yet.
    pub(super) fn new() -> Self {
        Self {
            goods: RwSignal::new(Vec::new()),
            wrong: RwSignal::new(String::new()),
            open: RwSignal::new(false),
            session: use_session(),
        }
    }

    fn change(self, goods: Vec<GoodsIn>) {
        self.wrong.update(String::clear);
        self.session.corrected();
        self.goods.set(goods);
    }

    fn end(self) {
        self.goods.update(Vec::clear);
        self.open.set(false);
    }
}

/// The goods that were sold on the ticket, and a form for more.
pub(super) fn goods(ticket: &TicketLife, selling: Selling) -> AnyView {
    let shop = use_shop();
    let sold = ticket.state().map_or(&[][..], |state| state.sold.as_slice());
    let rows = sold.iter().map(|item| row(ticket.ticket, item, shop));
    let rows = rows.collect_view();
    view! {
        <section class="card stack" aria-label=words::parts::sundries()>
            <ul class="plain" aria-label=words::collect::sold()>{rows}</ul>
            <Sell ticket=ticket.ticket selling/>
        </section>
    }
    .into_any()
}

/// Goods that were sold. A person who may not see prices sees none.
fn row(ticket: SubjectId, item: &Item<Sold>, shop: ShopContext) -> AnyView {
    let session = use_session();
    let (entry, when) = (item.entry, on_day(item.at.utc));
    let name = commands::counted_goods(&item.body.what, item.body.count);
    let price = (!shop.helper()).then(|| shop.money(bill::goods(&item.body)));
    let label = words::collect::withdraw_goods(&name);
    let back = move |_| {
        let undo = commands::undo(Subject::new(SubjectKind::Ticket, ticket), entry);
        session.save_and(vec![undo], |_| {});
    };
    view! {
        <li class="row between">
            <span>{name}" "{price}" "<span class="quiet">{when}</span></span>
            <button class="quiet" aria-label=label on:click=back>{words::collect::withdraw_entry()}</button>
        </li>
    }
    .into_any()
}

/// The form for goods that are sold now.
#[component]
fn Sell(ticket: SubjectId, selling: Selling) -> impl IntoView {
    let (session, shop) = (use_session(), use_shop());
    let begin = move |_| selling.open.set(true);
    let change = Callback::new(move |goods| selling.change(goods));
    let sell = move |_| {
        let goods = selling.goods.get_untracked();
        match commands::sell(ticket, &goods, shop.money_kind()) {
            Ok(drafts) if drafts.is_empty() => {}
            Ok(drafts) => session.save_and(drafts, move |_| {
                selling.end();
                session.tell(words::collect::noted());
            }),
            Err(missing) => {
                session.ask_to_correct(&missing);
                focus(missing.element());
                selling.wrong.set(missing.element());
            }
        }
    };
    view! {
        <Show when=move || selling.open.get() fallback=move || view! {
            <button type="button" class="quiet" on:click=begin>{words::collect::sell_something()}</button>
        }>
            <GoodsChoice goods=selling.goods.into() change wrong=selling.wrong.into()/>
            <button type="button" class="bench" on:click=sell>{words::drop_off::sold()}</button>
        </Show>
    }
}
