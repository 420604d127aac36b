//! The account of a ticket: charges, gifts, payments, and paying.

use leptos::prelude::*;
use shared::log::body::{Agreed, GiftWhy, Paid, Payment};
use shared::log::fold::Item;
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::price::bill;
use shared::price::minor::Minor;
use shared::price::pickup::{AmountDue, PaidTogether, TicketAccount};
use shared::trade::line_name;

use super::figures::figures;
use crate::parts::{Field, on_day};
use crate::screens::job::JobLife;
use crate::screens::ticket::TicketLife;
use crate::session::use_session;
use crate::shop::{ShopContext, use_shop};
use app_core::commands;

/// The figures of a ticket, its gifts, its payments, and one tap to pay what is due: for the whole ticket, for the
/// pairs that are ready, and for `this`, if it is the job that is collected.
pub fn account(ticket: &TicketLife, this: Option<&JobLife>) -> AnyView {
    let shop = use_shop();
    let (account, this) = (ticket.account(), this.map(|job| job.job));
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
            {figures(&account, this, shop)}
            {gifts}
            <ul class="plain" aria-label=words::collect::payments()>{payments.collect_view()}</ul>
            {pay(ticket.ticket, &account, this)}
        </section>
    }
    .into_any()
}

/// The work that is charged, line by line, with the pair's number if there are several pairs; then goods sold over the
/// counter.
fn work(ticket: &TicketLife, shop: ShopContext) -> AnyView {
    let several = ticket.jobs.len() > 1;
    let jobs = ticket.jobs.iter().filter_map(JobLife::state);
    let lines =
        jobs.flat_map(|job| bill::charged(job).map(move |line| (job.tag().unwrap_or_default(), line)));
    // Gifts are listed below.
    let lines = lines.filter(|(_, line)| !line.price_minor.is_zero());
    let lines = lines.map(|(tag, line)| {
        let tag = several.then(|| [tag, " "].concat());
        let name = line_name(line);
        view! { <dt>{tag}{name}</dt><dd>{shop.money(line.price_minor)}</dd> }
    });
    let sold = ticket.state().map_or(&[][..], |state| state.sold.as_slice());
    let goods = sold.iter().map(|item| {
        let name = commands::counted_goods(&item.body.what, item.body.count);
        view! { <dt>{name}</dt><dd>{shop.money(bill::goods(&item.body))}</dd> }
    });
    let goods = goods.collect_view();
    view! { <dl class="figures" aria-label=words::collect::agreed_work()>{lines.collect_view()}{goods}</dl> }
        .into_any()
}

fn gift(line: &Agreed, shop: ShopContext) -> AnyView {
    let gift = line.gift.as_ref();
    let worth = gift.map(|gift| shop.money(gift.worth_minor));
    let text = words::collect::gift_worth(&line_name(line), &worth.unwrap_or_default());
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
    let label = words::collect::withdraw_payment(what, &amount);
    let back = move |_| {
        let undo = commands::undo(Subject::new(SubjectKind::Ticket, ticket), entry);
        session.save_and(vec![undo], |_| {});
    };
    view! {
        <li class="row between">
            <span>{words::collect::payment_of(what, &amount)}" "<span class="quiet">{on_day(item.at.utc)}</span></span>
            <button class="quiet" aria-label=label on:click=back>{words::collect::withdraw_entry()}</button>
        </li>
    }
    .into_any()
}

/// The buttons for what is due, and the field for another amount.
fn pay(ticket: SubjectId, account: &TicketAccount, this: Option<SubjectId>) -> AnyView {
    let (session, shop) = (use_session(), use_shop());
    let left = account.bill().left();
    let note = move |draft| session.save_and(vec![draft], move |_| session.tell(words::collect::noted()));
    // First the amount for most pairs.
    let amounts = account.amounts(this).into_iter().rev().enumerate();
    let buttons = amounts.filter_map(|(at, amount)| {
        let draft = commands::settle(amount.minor, ticket)?;
        let label = pay_for(&amount, &shop.money(amount.minor.abs()));
        let class = if at == 0 { "bench" } else { "bench quiet" };
        let settle = move |_| note(draft.clone());
        Some(view! { <button class=class on:click=settle>{label}</button> })
    });
    let nothing = this.is_some_and(|job| account.due(PaidTogether::This(job)).is_zero());
    let nothing = match (left.is_zero(), nothing) {
        (true, _) => Some(words::collect::nothing_is_due()),
        (false, true) => Some(words::collect::nothing_is_due_for_this_pair()),
        (false, false) => None,
    };
    let amount = RwSignal::new(String::new());
    let part = move |_| match shop.reads(&amount.get_untracked()).filter(Minor::is_positive) {
        Some(minor) if minor > left => {
            session.ask_to_correct(words::collect::more_than_is_due(&shop.money(left)));
        }
        Some(minor) => note(commands::pay(ticket, minor, Paid::Balance)),
        None => session.ask_to_correct(words::collect::not_an_amount()),
    };
    view! {
        {buttons.collect_view()}
        {nothing.map(|words| view! { <p>{words}</p> })}
        {(!left.is_zero()).then(|| view! {
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

/// The words of the button for an amount, which is `money` in words.
fn pay_for(amount: &AmountDue, money: &str) -> String {
    // Goods are no pairs, so the whole of a ticket with goods is not named by its pairs.
    let all = if amount.goods { 1 } else { amount.count.max(1) };
    if amount.minor < Minor::ZERO {
        return words::collect::give_back_all(all, money);
    }
    match (amount.pairs, amount.with_gone) {
        (PaidTogether::Gone, _) if amount.count == 0 => words::collect::pay_for_goods(money),
        (PaidTogether::Gone, _) => words::collect::pay_for_what_has_left(money),
        (PaidTogether::This(_), false) => words::collect::pay_for_this_pair(money),
        (PaidTogether::This(_), true) => words::collect::pay_for_this_pair_and_what_has_left(money),
        (PaidTogether::Ready, false) => words::collect::pay_for_ready_pairs(amount.count, money),
        (PaidTogether::Ready, true) => {
            words::collect::pay_for_ready_pairs_and_what_has_left(amount.count, money)
        }
        (PaidTogether::All, _) if amount.goods && amount.count > 0 => words::collect::pay_in_all(money),
        (PaidTogether::All, _) => words::collect::pay_all(all, money),
    }
}
