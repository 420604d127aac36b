//! Records: finding any pair that the shop ever had, and goods that were sold without one.

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;

use shared::trade::formulas::day::Day;

use super::pair::export::Export;
use super::pair::forget::Forget;
use crate::card::in_words;
use crate::parts::{Field, PairRow, on_day, today};
use crate::session::use_live_query;
use app_core::commands::counted_goods;
use app_core::store::{CustomerAlone, SaleAlone};
use shared::log::body::field;
use shared::log::{Subject, SubjectKind};

/// The most pairs shown for a search.
const SHOWN: usize = 50;
/// The most tickets without a pair shown for a search.
const SALES_SHOWN: usize = 20;
/// The most customers without a pair shown for a search.
const CUSTOMERS_SHOWN: usize = 20;
/// The most pairs listed as due for a check.
const DUE_SHOWN: u32 = 50;
/// How many days after its day a check is still listed.
const LATE_DAYS: i64 = 90;
/// How many days before its day a check is listed.
const SOON_DAYS: i64 = 30;

/// The day so many days from today, `YYYY-MM-DD`; empty if it cannot be calculated.
fn days_from_today(days: i64) -> String {
    let day = Day::parse(&today()).and_then(|day| Day::counted(day.count() + days));
    day.map(|day| day.to_string()).unwrap_or_default()
}

/// Search over number, customer, last digits of the telephone number, maker, colour, look and notes, over everything that
/// was logged of a pair, and over goods that were sold without one.
#[component]
pub fn Records() -> impl IntoView {
    let asked = use_query_map().get_untracked().get("words").unwrap_or_default();
    let words = RwSignal::new(asked);
    let found = use_live_query(move |phone| {
        let words = words.get();
        async move {
            let pairs = phone.search_logged(&words, SHOWN).await?;
            if words.trim().is_empty() {
                return Ok((pairs, Vec::new(), Vec::new()));
            }
            let sales = phone.search_sales(&words, SALES_SHOWN).await?;
            let customers = phone.search_customers(&words, CUSTOMERS_SHOWN).await?;
            Ok((pairs, sales, customers))
        }
    });
    let due =
        use_live_query(|phone| async move { Ok(phone.due(&days_from_today(-LATE_DAYS), DUE_SHOWN).await?) });
    let due = move || {
        let soon = days_from_today(SOON_DAYS);
        let due: Vec<_> = due.get()?.into_iter().filter(|(day, _)| *day <= soon).collect();
        let rows = due.iter().map(|(day, summary)| {
            view! { <PairRow summary=summary.clone()/> <li class="quiet">{words::records::check_on(&in_words(day))}</li> }
        });
        (!due.is_empty() && words.with(String::is_empty)).then(|| {
            view! {
                <details class="card" data-ready="due">
                    <summary>{words::records::pairs_due_for_a_check(due.len())}</summary>
                    <ul class="pairs" aria-label=words::records::due_for_a_check()>{rows.collect_view()}</ul>
                </details>
            }
        })
    };
    let rows = move || {
        found.get().map(|(found, sales, customers)| {
            let none = found.is_empty() && sales.is_empty() && customers.is_empty();
            let many = found.len() == SHOWN;
            view! {
                <ul class="pairs" aria-label=words::records::found()>
                    {found.into_iter().map(|summary| view! { <PairRow summary/> }).collect_view()}
                </ul>
                {(!sales.is_empty()).then(|| view! {
                    <h2>{words::records::sold_without_a_pair()}</h2>
                    <ul class="pairs" aria-label=words::records::sold_without_a_pair()>
                        {sales.iter().map(sale_row).collect_view()}
                    </ul>
                })}
                {customers_alone(&customers)}
                {none.then(|| view! { <p>{words::records::no_pair_answers()}</p> })}
                {many.then(|| view! { <p class="quiet">{words::records::newest_shown(SHOWN)}</p> })}
            }
        })
    };
    view! {
        <div class="row between">
            <h1>{words::records::title()}</h1>
            <a class="button quiet" href="/collect">{words::records::not_collected()}</a>
        </div>
        <Field label=words::records::search() value=words kind="search"/>
        <p class="quiet">{words::records::also_found_by()}</p>
        {due}
        {rows}
    }
}

/// A ticket without a pair: what was sold on it, to whom and when, linking to the ticket.
fn sale_row(sale: &SaleAlone) -> impl IntoView + use<> {
    let sold = sale.state.sold.iter();
    let goods = sold.map(|item| counted_goods(&item.body.what, item.body.count));
    let goods = goods.collect::<Vec<_>>().join(", ");
    let customer = sale.customer.name().unwrap_or_default().to_owned();
    let when = sale.state.sold.last().map(|item| on_day(item.at.utc));
    view! {
        <li class="pair-row">
            <a href=format!("/ticket/{}", sale.ticket)>
                <span class="who">
                    <span>{goods}</span>
                    <span class="quiet">{customer}</span>
                    <span class="quiet">{when}</span>
                </span>
            </a>
        </li>
    }
}

/// Customers whom no pair names: what is known of each, everything of them as a file, and the way to erase them.
fn customers_alone(customers: &[CustomerAlone]) -> Option<impl IntoView + use<>> {
    let rows = customers.iter().map(|one| {
        let known = [
            field::PHONE,
            field::PHONE_SECOND,
            field::EMAIL,
            field::ADDRESS,
            field::NOTE,
        ];
        let known = known.into_iter().filter_map(|name| one.state.details.text(name));
        let known = known.collect::<Vec<_>>().join(", ");
        let name = one.state.name().unwrap_or_default().to_owned();
        view! {
            <li><details class="card">
                <summary><strong>{name}</strong></summary>
                <p>{known}</p>
                <Export customer=Some(one.id)/>
                <Forget customers=vec![Subject::new(SubjectKind::Customer, one.id)] jobs=Vec::new()/>
            </details></li>
        }
    });
    let rows = rows.collect_view();
    (!customers.is_empty()).then(|| {
        view! {
            <h2>{words::records::customers_without_a_pair()}</h2>
            <ul class="plain" aria-label=words::records::customers_without_a_pair()>{rows}</ul>
        }
    })
}
