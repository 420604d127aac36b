//! The account of a ticket: charges, gifts, payments, and paying.

use leptos::prelude::*;
use shared::log::body::{Agreed, GiftWhy, Paid, Payment};
use shared::log::fold::Item;
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::price::bill::{self, Bill};
use shared::price::minor::Minor;
use shared::price::tax;
use shared::trade::operations;

use crate::parts::{Field, on_day};
use crate::screens::job::JobLife;
use crate::screens::ticket::TicketLife;
use crate::session::use_session;
use crate::shop::{ShopContext, use_shop};
use app_core::commands;

/// The figures of a ticket, its gifts, its payments, and one tap to pay what is due. If `this` is a job that is
/// collected alone, what is due for it can be paid separately.
pub fn account(ticket: &TicketLife, this: Option<&JobLife>) -> AnyView {
    let shop = use_shop();
    let bill = ticket.bill();
    let gifts = ticket.jobs.iter().filter_map(JobLife::state);
    let gifts: Vec<_> = gifts
        .flat_map(commands::given)
        .map(|line| gift(line, shop))
        .collect();
    let gifts = (!gifts.is_empty()).then(|| {
        view! { <h3>{words::collect::extras_at_no_charge()}</h3> <ul class="plain" aria-label=words::collect::extras()>{gifts}</ul> }
    });
    let payments = ticket
        .state()
        .map(|state| state.payments.clone())
        .unwrap_or_default();
    let payments = payments.iter().map(|item| payment(ticket.ticket, item, shop));
    view! {
        <section class="card stack" aria-label=words::collect::money()>
            <h2>{words::collect::due()}</h2>
            {work(ticket, shop)}
            {figures(&bill, shop)}
            {gifts}
            <ul class="plain" aria-label=words::collect::payments()>{payments.collect_view()}</ul>
            {pay(ticket, bill, this)}
        </section>
    }
    .into_any()
}

/// The work that is charged, line by line; with the pair's number if there are several pairs.
fn work(ticket: &TicketLife, shop: ShopContext) -> AnyView {
    let several = ticket.jobs.len() > 1;
    let jobs = ticket.jobs.iter().filter_map(JobLife::state);
    let lines =
        jobs.flat_map(|job| bill::charged(job).map(move |line| (job.tag().unwrap_or_default(), line)));
    // Gifts are listed below.
    let lines = lines.filter(|(_, line)| !line.price_minor.is_zero());
    let lines = lines.map(|(tag, line)| {
        let tag = several.then(|| [tag, " "].concat());
        let name = [operations::name(&line.operation), line.side.after()].concat();
        view! { <dt>{tag}{name}</dt><dd>{shop.money(line.price_minor)}</dd> }
    });
    view! { <dl class="figures" aria-label=words::collect::agreed_work()>{lines.collect_view()}</dl> }
        .into_any()
}

/// Tax, total, what was paid and what is due; each only if it is not zero.
pub fn figures(bill: &Bill, shop: ShopContext) -> AnyView {
    // Tax included in the prices is listed below the total, tax added to them above it.
    let rate = bill.rate.unwrap_or_default();
    let tax = |included: bool| bill.total.tax.filter(|_| (rate > 0) == included);
    let percent = tax::format_rate(rate);
    let left = bill.left();
    let last = if left < Minor::ZERO {
        words::collect::to_give_back()
    } else {
        words::collect::due()
    };
    let lines = [
        tax(false).map(|minor| (words::collect::tax_on_top(&percent), minor)),
        Some((words::collect::total().to_owned(), bill.total.minor)),
        tax(true).map(|minor| (words::collect::tax_included(&percent), minor)),
        (!bill.paid.is_zero()).then(|| (words::collect::paid_so_far().to_owned(), bill.paid)),
        Some((last.to_owned(), left.abs())),
    ];
    let lines = lines.into_iter().flatten();
    let lines = lines.map(|(words, minor)| view! { <dt>{words}</dt><dd>{shop.money(minor)}</dd> });
    view! { <dl class="figures">{lines.collect_view()}</dl> }.into_any()
}

fn gift(line: &Agreed, shop: ShopContext) -> AnyView {
    let gift = line.gift.as_ref();
    let worth = gift.map(|gift| shop.money(gift.worth_minor));
    let text = words::collect::gift_worth(operations::name(&line.operation), &worth.unwrap_or_default());
    let why = gift.map(|gift| match gift.why {
        GiftWhy::Needed => words::collect::gift_as_needed(),
        _ => words::collect::gift_by_choice(),
    });
    view! { <li>{text}" "<span class="quiet">{why}</span></li> }.into_any()
}

/// The kind of a payment in words.
pub fn paid_words(what: &Paid) -> &'static str {
    match what {
        Paid::Deposit => words::collect::deposit(),
        Paid::Refund => words::collect::given_back(),
        _ => words::collect::paid(),
    }
}

fn payment(ticket: SubjectId, item: &Item<Payment>, shop: ShopContext) -> AnyView {
    let session = use_session();
    let entry = item.entry;
    let what = paid_words(&item.body.what);
    let amount = shop.money(item.body.minor);
    let label = words::collect::take_back_payment(what, &amount);
    let back = move |_| {
        let undo = commands::undo(Subject::new(SubjectKind::Ticket, ticket), entry);
        session.save_and(vec![undo], |_| {});
    };
    view! {
        <li class="row between">
            <span>{words::collect::payment_of(what, &amount)}" "<span class="quiet">{on_day(item.at.utc)}</span></span>
            <button class="quiet" aria-label=label on:click=back>{words::collect::take_back()}</button>
        </li>
    }
    .into_any()
}

fn pay(ticket: &TicketLife, bill: Bill, this: Option<&JobLife>) -> AnyView {
    let (session, shop) = (use_session(), use_shop());
    // On the page of one pair too, the payment is for the whole ticket.
    let pairs = ticket.jobs.len();
    let alone = this.map(|job| ticket.bill_of(std::iter::once(job)).total.minor);
    let alone = alone.filter(|minor| minor.is_positive() && *minor < bill.left());
    let ticket = ticket.ticket;
    let note = move |draft| session.save_and(vec![draft], move |_| session.tell(words::collect::noted()));
    let alone = alone.map(|minor| {
        let label = words::collect::pay_for_this_pair(&shop.money(minor));
        let settle = move |_| note(commands::pay(ticket, minor, Paid::Balance));
        view! { <button class="bench quiet" on:click=settle>{label}</button> }
    });
    let all = commands::settle(&bill, ticket).map(|draft| {
        let left = bill.left();
        let amount = shop.money(left.abs());
        let label = if left.is_positive() {
            words::collect::pay_all(pairs, &amount)
        } else {
            words::collect::give_back_all(pairs, &amount)
        };
        let settle = move |_| note(draft.clone());
        view! { <button class="bench" on:click=settle>{label}</button> }
    });
    let amount = RwSignal::new(String::new());
    let part = move |_| match shop.reads(&amount.get_untracked()).filter(Minor::is_positive) {
        Some(minor) if minor > bill.left() => {
            session.ask_to_correct(words::collect::more_than_is_due(&shop.money(bill.left())));
        }
        Some(minor) => note(commands::pay(ticket, minor, Paid::Balance)),
        None => session.ask_to_correct(words::collect::not_an_amount()),
    };
    let settled = bill.left().is_zero();
    view! {
        {all}
        {alone}
        {settled.then(|| view! { <p>{words::collect::nothing_is_due()}</p> })}
        {(!settled).then(|| view! {
            <details>
                <summary>{words::collect::another_amount()}</summary>
                <div class="row">
                    <Field label=words::collect::amount_paid() value=amount inputmode="decimal"/>
                    <button class="quiet" on:click=part>{words::collect::this_was_paid()}</button>
                </div>
            </details>
        })}
    }
    .into_any()
}
