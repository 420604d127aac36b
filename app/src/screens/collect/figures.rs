//! The figures of a ticket, on the screen and on paper: its total, its tax, what was paid, and what is due for which of
//! its pairs.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::price::minor::Minor;
use shared::price::pickup::{AmountDue, PaidTogether, TicketAccount};
use shared::price::tax;

use crate::shop::ShopContext;

/// Tax, total, what was paid and what is due; each only if it is not zero. What is due for a part of the ticket's pairs
/// stands before what is due for all. `this` is the job that the screen is about.
pub fn figures(account: &TicketAccount, this: Option<SubjectId>, shop: ShopContext) -> AnyView {
    // Tax included in the prices is listed below the total, tax added to them above it.
    let bill = account.bill();
    let rate = bill.rate.unwrap_or_default();
    let tax = |included: bool| bill.total.tax.filter(|_| (rate > 0) == included);
    let percent = tax::format_rate(rate);
    let first = [
        tax(false).map(|minor| (words::collect::tax_on_top(&percent), minor)),
        Some((words::collect::total().to_owned(), bill.total.minor)),
        tax(true).map(|minor| (words::collect::tax_included(&percent), minor)),
        (!bill.paid.is_zero()).then(|| (words::collect::paid_so_far().to_owned(), bill.paid)),
    ];
    let lines = first.into_iter().flatten().chain(due(account, this));
    let lines = lines.map(|(words, minor)| view! { <dt>{words}</dt><dd>{shop.money(minor)}</dd> });
    view! { <dl class="figures">{lines.collect_view()}</dl> }.into_any()
}

/// What is due, or to be given back, and what for; the whole ticket last.
fn due(account: &TicketAccount, this: Option<SubjectId>) -> Vec<(String, Minor)> {
    let left = account.bill().left();
    let parts = account.amounts(this).into_iter();
    let parts = parts.filter(|amount| amount.minor != left);
    let mut lines: Vec<_> = parts.map(|amount| (due_for(&amount), amount.minor)).collect();
    let last = if left < Minor::ZERO {
        words::collect::to_give_back().to_owned()
    } else if lines.is_empty() {
        words::collect::due().to_owned()
    } else if account.has_goods() {
        words::collect::due_in_all().to_owned()
    } else {
        words::collect::due_for_all(account.pairs())
    };
    lines.push((last, left.abs()));
    lines
}

fn due_for(amount: &AmountDue) -> String {
    match (amount.pairs, amount.with_gone) {
        (PaidTogether::Gone, _) if amount.count == 0 => words::collect::due_for_goods().to_owned(),
        (PaidTogether::Gone, _) => words::collect::due_for_what_has_left().to_owned(),
        (PaidTogether::This(_), false) => words::collect::due_for_this_pair().to_owned(),
        (PaidTogether::This(_), true) => words::collect::due_for_this_pair_and_what_has_left().to_owned(),
        (PaidTogether::Ready, false) => words::collect::due_for_ready_pairs(amount.count),
        (PaidTogether::Ready, true) => words::collect::due_for_ready_pairs_and_what_has_left(amount.count),
        (PaidTogether::All, _) if amount.goods => words::collect::due_in_all().to_owned(),
        (PaidTogether::All, _) => words::collect::due_for_all(amount.count),
    }
}
