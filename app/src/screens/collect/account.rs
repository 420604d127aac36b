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
        view! { <h3>"Extras, at no charge"</h3> <ul class="plain" aria-label="Extras">{gifts}</ul> }
    });
    let payments = ticket
        .state()
        .map(|state| state.payments.clone())
        .unwrap_or_default();
    let payments = payments.iter().map(|item| payment(ticket.ticket, item, shop));
    view! {
        <section class="card stack" aria-label="Money">
            <h2>"Due"</h2>
            {work(ticket, shop)}
            {figures(&bill, shop)}
            {gifts}
            <ul class="plain" aria-label="Payments">{payments.collect_view()}</ul>
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
    view! { <dl class="figures" aria-label="Agreed work">{lines.collect_view()}</dl> }.into_any()
}

/// Tax, total, what was paid and what is due; each only if it is not zero.
pub fn figures(bill: &Bill, shop: ShopContext) -> AnyView {
    // Tax included in the prices is listed below the total, tax added to them above it.
    let rate = bill.rate.unwrap_or_default();
    let tax = |wanted: bool, words: &str| {
        let minor = bill.total.tax.filter(|_| (rate > 0) == wanted)?;
        Some(([words, " ", &tax::format_rate(rate), " %"].concat(), minor))
    };
    let left = bill.left();
    let last = if left < Minor::ZERO { "To give back" } else { "Due" };
    let lines = [
        tax(false, "Tax"),
        Some(("Total".to_owned(), bill.total.minor)),
        tax(true, "Tax in it"),
        (!bill.paid.is_zero()).then(|| ("Paid".to_owned(), bill.paid)),
        Some((last.to_owned(), left.abs())),
    ];
    let lines = lines.into_iter().flatten();
    let lines = lines.map(|(words, minor)| view! { <dt>{words}</dt><dd>{shop.money(minor)}</dd> });
    view! { <dl class="figures">{lines.collect_view()}</dl> }.into_any()
}

fn gift(line: &Agreed, shop: ShopContext) -> AnyView {
    let name = operations::name(&line.operation).to_owned();
    let gift = line.gift.as_ref();
    let worth = gift.map(|gift| shop.money(gift.worth_minor));
    let why = gift.map(|gift| match gift.why {
        GiftWhy::Needed => "needed",
        _ => "my choice",
    });
    view! { <li>{name}", worth "{worth}" "<span class="quiet">{why}</span></li> }.into_any()
}

/// The kind of a payment in words.
pub fn paid_words(what: &Paid) -> &'static str {
    match what {
        Paid::Deposit => "Deposit",
        Paid::Refund => "Given back",
        _ => "Paid",
    }
}

fn payment(ticket: SubjectId, item: &Item<Payment>, shop: ShopContext) -> AnyView {
    let session = use_session();
    let entry = item.entry;
    let what = paid_words(&item.body.what);
    let amount = shop.money(item.body.minor);
    let label = ["Take back: ", what, " ", &amount].concat();
    let back = move |_| {
        let undo = commands::undo(Subject::new(SubjectKind::Ticket, ticket), entry);
        session.save_and(vec![undo], |_| {});
    };
    view! {
        <li class="row between">
            <span>{what}" "{amount}" "<span class="quiet">{on_day(item.at.utc)}</span></span>
            <button class="quiet" aria-label=label on:click=back>"Take back"</button>
        </li>
    }
    .into_any()
}

fn pay(ticket: &TicketLife, bill: Bill, this: Option<&JobLife>) -> AnyView {
    let (session, shop) = (use_session(), use_shop());
    // On the page of one pair too, the payment is for the whole ticket.
    let whole = match ticket.jobs.len() {
        1 => String::new(),
        many => format!(", for all {many} pairs"),
    };
    let alone = this.map(|job| ticket.bill_of(std::iter::once(job)).total.minor);
    let alone = alone.filter(|minor| minor.is_positive() && *minor < bill.left());
    let ticket = ticket.ticket;
    let note = move |draft| session.save_and(vec![draft], move |_| session.tell("Noted."));
    let alone = alone.map(|minor| {
        let label = ["Paid now: ", &shop.money(minor), ", for this pair"].concat();
        let settle = move |_| note(commands::pay(ticket, minor, Paid::Balance));
        view! { <button class="bench quiet" on:click=settle>{label}</button> }
    });
    let all = commands::settle(&bill, ticket).map(|draft| {
        let left = bill.left();
        let what = if left.is_positive() {
            "Paid now: "
        } else {
            "Given back: "
        };
        let label = [what, &shop.money(left.abs()), &whole].concat();
        let settle = move |_| note(draft.clone());
        view! { <button class="bench" on:click=settle>{label}</button> }
    });
    let amount = RwSignal::new(String::new());
    let part = move |_| match shop.reads(&amount.get_untracked()).filter(Minor::is_positive) {
        Some(minor) if minor > bill.left() => {
            session.ask_to_correct(["That is more than is due: ", &shop.money(bill.left()), "."].concat());
        }
        Some(minor) => note(commands::pay(ticket, minor, Paid::Balance)),
        None => session.ask_to_correct("That is not an amount."),
    };
    let settled = bill.left().is_zero();
    view! {
        {all}
        {alone}
        {settled.then(|| view! { <p>"Nothing is due."</p> })}
        {(!settled).then(|| view! {
            <details>
                <summary>"Another amount"</summary>
                <div class="row">
                    <Field label="Amount paid" value=amount inputmode="decimal"/>
                    <button class="quiet" on:click=part>"This was paid"</button>
                </div>
            </details>
        })}
    }
    .into_any()
}
