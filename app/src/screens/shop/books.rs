//! The books: what was charged, given away and made good, over twelve months.

mod plot;

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::analytics::{BooksTable, By, TheBooks as Asked, months_back};

use crate::device::analytics::ask_analytics;
use crate::device::share::{NewFile, Passed, share_files};
use crate::parts::{Toggle, today};
use crate::session::{use_live_query, use_session};
use crate::shop::use_shop;

use plot::months_plot;

/// Months shown at a time.
const YEAR: usize = 12;

/// The ways in which the rows can be grouped, and what they are called.
fn ways() -> [(By, &'static str); 4] {
    [
        (By::Month, words::books::by_month()),
        (By::Operation, words::books::by_operation()),
        (By::Construction, words::books::by_construction()),
        (By::Person, words::books::by_person()),
    ]
}

/// The books of twelve months: a plot, a table, and the table as a file.
#[component]
pub fn TheBooks() -> impl IntoView {
    let shop = use_shop();
    let (by, years) = (RwSignal::new(By::Month), RwSignal::new(0_usize));
    let period = Memo::new(move |_| period(years.get()));
    let books = use_live_query(move |phone| {
        let mut months = period.get();
        let read = months.clone();
        months.truncate(YEAR);
        let (shop, by) = (shop.known_with_shelf(phone.clone()), by.get());
        async move {
            let asked = Asked {
                shop: shop.await?,
                months,
                by,
            };
            // The month before is included, because a job of the first month may have been begun in it.
            let mut rows = phone.books(&read, usize::MAX).await?;
            rows.extend(phone.sales(&read).await?);
            ask_analytics::<_, BooksTable>(&asked, &rows).await
        }
    });
    let chips = ways().map(|(way, words)| {
        let on = Signal::derive(move || by.get() == way);
        view! { <Toggle label=words on press=Callback::new(move |()| by.set(way))/> }
    });
    let body = move || {
        let told = books.get()?;
        let undated = (told.undated > 0).then(|| {
            view! { <p class="quiet">{words::books::undated(told.undated)}</p> }
        });
        let held = (!told.held.is_empty()).then(|| {
            view! { <p>{words::books::paid_beforehand(&told.held)}</p> }
        });
        Some(view! {
            {(by.get_untracked() == By::Month).then(|| months_plot(&told))}
            {table(&told)}
            {undated}
            {held}
            <Give csv=told.csv/>
        })
    };
    let older = move |_| years.update(|years| *years += 1);
    let newer = move |_| years.update(|years| *years = years.saturating_sub(1));
    view! {
        <Show when=move || shop.helper()><p>{words::books::books_are_for_repairers()}</p></Show>
        <section class="books" hidden=move || shop.helper() data-ready="books">
            <h1>{words::books::books()}</h1>
            <div class="row">
                <button class="quiet" on:click=older>{words::books::twelve_months_earlier()}</button>
                <Show when=move || { years.get() > 0 }><button class="quiet" on:click=newer>{words::books::later()}</button></Show>
            </div>
            <div class="chips" role="group" aria-label=words::books::by_what()>{chips.collect_view()}</div>
            {body}
            <p class="quiet">{words::books::when_jobs_and_money_count()}</p>
        </section>
    }
}

/// The months of a period, newest first, followed by the month before it.
fn period(years: usize) -> Vec<String> {
    let mut months = months_back(&today(), (years + 1) * YEAR + 1);
    months.drain(..(years * YEAR).min(months.len()));
    months
}

/// The whole table; on a phone it scrolls sideways.
fn table(told: &BooksTable) -> AnyView {
    let heads = told
        .heads
        .iter()
        .map(|head| view! { <th scope="col">{head.clone()}</th> })
        .collect_view();
    let lines = told.rows.iter().map(|row| {
        let cells = row
            .cells
            .iter()
            .map(|cell| view! { <td>{cell.clone()}</td> })
            .collect_view();
        view! { <tr><th scope="row">{row.name.clone()}</th>{cells}</tr> }
    });
    let lines = lines.collect_view();
    view! {
        <div class="wide" tabindex="0" role="group" aria-label=words::books::books()>
            <table><thead><tr><td></td>{heads}</tr></thead><tbody>{lines}</tbody></table>
        </div>
    }
    .into_any()
}

/// A button that passes on the table as a file for a spreadsheet.
#[component]
fn Give(csv: String) -> impl IntoView {
    let session = use_session();
    let give = move |_| {
        let text = csv.clone();
        spawn_local(async move {
            let file = NewFile {
                name: "books.csv",
                media_type: "text/csv",
                bytes: text.as_bytes(),
            };
            match share_files(&[file], words::books::books()).await {
                Ok(Passed::Downloaded) => session.tell(words::books::file_is_among_downloads()),
                Ok(_) => {}
                Err(error) => session.complain(error),
            }
        });
    };
    view! { <p><button class="quiet" on:click=give>{words::books::as_a_file()}</button></p> }
}
