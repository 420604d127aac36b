//! Books: what was earned, what was given away and what had to be made good, over twelve months.

mod csv;
mod plot;
mod table;

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::price::books::Books;
use shared::trade::operations;

use crate::device::share::{NewFile, Passed, share_files};
use crate::earnings::{Ledger, months_back};
use crate::parts::{Toggle, today};
use crate::shop::{Shop, use_shop};
use crate::workshop::{use_stored, use_workshop};

use plot::months_plot;
use table::{Row, rows_table};

/// Months shown at a time.
const YEAR: usize = 12;

/// By what the rows are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum By {
    Month,
    Operation,
    Construction,
    Person,
}

const WAYS: [(By, &str); 4] = [
    (By::Month, "By month"),
    (By::Operation, "By operation"),
    (By::Construction, "By construction"),
    (By::Person, "By person"),
];

/// The books of twelve months: the plot, the table, the file.
#[component]
pub fn TheBooks() -> impl IntoView {
    let shop = use_shop();
    let (by, years) = (RwSignal::new(By::Month), RwSignal::new(0_usize));
    let period = Memo::new(move |_| period(years.get()));
    let books = use_stored(move |phone| {
        let (months, state) = (period.get(), shop.state());
        async move {
            // The month before as well: a job of the first may have been worked on in it.
            let read = phone.books(&months, usize::MAX).await?;
            let ledger = Ledger::of(read);
            let shown = &months[..YEAR.min(months.len())];
            Ok((ledger.books(&state), ledger.books_of(&state, shown)))
        }
    });
    let chips = WAYS.map(|(way, words)| {
        let on = Signal::derive(move || by.get() == way);
        view! { <Toggle label=words on press=Callback::new(move |()| by.set(way))/> }
    });
    let body = move || {
        let (all, of_year) = books.get()?;
        let months = period.get_untracked();
        let shown = &months[..YEAR.min(months.len())];
        let rows = rows(by.get(), &all, &of_year, shown, shop);
        let plot = (by.get() == By::Month).then(|| months_plot(&rows, shop));
        let undated = (all.undated > 0).then(|| {
            view! { <p class="quiet">{all.undated}" entries bear a day that cannot be right and are in no month."</p> }
        });
        let held = (all.held_minor > 0).then(|| {
            view! { <p>"Paid beforehand for pairs that are still here: "{shop.money(all.held_minor)}"."</p> }
        });
        Some(view! {
            {plot}
            {rows_table(&rows, by.get() == By::Month, shop)}
            {undated}
            {held}
            <Give rows/>
        })
    };
    let older = move |_| years.update(|years| *years += 1);
    let newer = move |_| years.update(|years| *years = years.saturating_sub(1));
    view! {
        <Show when=move || shop.helper()><p>"The books are for repairers."</p></Show>
        <section class="books" hidden=move || shop.helper() data-ready="books">
            <h1>"Books"</h1>
            <div class="row">
                <button class="quiet" on:click=older>"Twelve months earlier"</button>
                <Show when=move || { years.get() > 0 }><button class="quiet" on:click=newer>"Later"</button></Show>
            </div>
            <div class="chips" role="group" aria-label="By what">{chips.collect_view()}</div>
            {body}
            <p class="quiet">"A job counts in the month in which it left the shop, without tax. Money counts when it changed hands. Hours
                are reckoned from when photographs and steps were noted."</p>
        </section>
    }
}

/// The months of a period, newest first, and the one before it.
fn period(years: usize) -> Vec<String> {
    let mut months = months_back(&today(), (years + 1) * YEAR + 1);
    months.drain(..(years * YEAR).min(months.len()));
    months
}

/// The rows of the table, in its order.
fn rows(by: By, all: &Books, of_year: &Books, shown: &[String], shop: Shop) -> Vec<Row> {
    let named = |name: String, sums: &shared::price::books::Sums| Row {
        name,
        sums: sums.clone(),
    };
    match by {
        By::Month => {
            let month = |word: &String| {
                let key = (word.get(..4)?.parse().ok()?, word.get(5..)?.parse().ok()?);
                Some(named(
                    word.clone(),
                    all.months.get(&key).unwrap_or(&Default::default()),
                ))
            };
            shown.iter().rev().filter_map(month).collect()
        }
        By::Operation => {
            let one = |(code, sums): (&String, _)| named(operations::name(code).to_owned(), sums);
            of_year.operations.iter().map(one).collect()
        }
        By::Construction => {
            let one = |(kind, sums): (&Option<shared::trade::Construction>, _)| {
                named(
                    kind.as_ref().map_or("Not known", |kind| kind.words()).to_owned(),
                    sums,
                )
            };
            of_year.constructions.iter().map(one).collect()
        }
        By::Person => {
            let one = |(person, sums): (&Option<shared::log::PersonId>, _)| {
                let name = person.and_then(|person| shop.name_of(person));
                named(name.unwrap_or_else(|| "Nobody named".to_owned()), sums)
            };
            of_year.people.iter().map(one).collect()
        }
    }
}

/// The table as a file for a spreadsheet.
#[component]
fn Give(rows: Vec<Row>) -> impl IntoView {
    let (shop, workshop) = (use_shop(), use_workshop());
    let give = move |_| {
        let text = csv::text(&rows, &shop.currency());
        spawn_local(async move {
            let file = NewFile {
                name: "books.csv",
                media_type: "text/csv",
                bytes: text.as_bytes(),
            };
            match share_files(&[file], "Books").await {
                Ok(Passed::Downloaded) => workshop.tell("books.csv is among the downloads."),
                Ok(_) => {}
                Err(error) => workshop.complain(error),
            }
        });
    };
    view! { <p><button class="quiet" on:click=give>"As a file (CSV)"</button></p> }
}
