//! Drop-off: taking in what a customer brings.

mod brought;
mod counter;
mod customer;
mod days;
mod doubtful;
mod goods;
mod half_finished;
mod kind;
mod lines;
mod number;
mod outlook;
mod pair;
mod ticket;
mod work;

use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::NavigateOptions;
use leptos_router::hooks::use_navigate;

use self::counter::CounterForm;
use self::half_finished::Keeper;
use crate::device::screen::focus;
use crate::device::storage::keep_records;
use crate::session::{Session, use_session};
use app_core::commands::{self, Missing, PairIn, TakenIn};
use app_core::store::Surroundings;

/// The form for one ticket: customer, pairs, work, day. Photographs are taken afterwards; numbers are assigned by the
/// app.
#[component]
pub fn DropOff() -> impl IntoView {
    let counter = CounterForm::new();
    let keeper = Keeper::start(counter);
    let count = Memo::new(move |_| counter.form.with(|form| form.pairs.len()));
    let begun = Memo::new(move |_| counter.form.with(|form| !form.is_blank()));
    let another = move |_| {
        counter.change(|form| form.pairs.push(PairIn::default()));
        let place = count.get() - 1;
        counter.open.set(place);
        focus(format!("pair-{place}"));
    };
    view! {
        <div class="row between">
            <h1>{words::drop_off::title()}</h1>
            <Show when=move || begun.get()>
                <button type="button" class="quiet" on:click=move |_| keeper.put_aside()>{words::drop_off::put_aside()}</button>
            </Show>
        </div>
        <half_finished::HalfFinished keeper/>
        <div class="drop-off">
            <customer::Customer counter/>
            <For each=move || 0..count.get() key=|place| *place let:place><pair::Pair counter place/></For>
            <button type="button" class="quiet another" on:click=another>{words::drop_off::another_pair()}</button>
            <goods::Goods counter/>
            <ticket::Ticket counter/>
            <Finish counter keeper/>
        </div>
    }
}

/// The screen that follows once a drop-off is saved. After a sale without a pair it is the ticket.
#[derive(Clone, Copy)]
enum Next {
    /// The camera, with a run through the pairs.
    Photograph,
    /// Printing the stub and the tags.
    Print,
}

/// The total and the buttons that save, always visible at the lower edge.
#[component]
fn Finish(counter: CounterForm, keeper: Keeper) -> impl IntoView {
    let session = use_session();
    let navigate = StoredValue::new_local(use_navigate());
    let busy = RwSignal::new(false);
    let sale = Memo::new(move |_| counter.form.with(commands::DropOff::is_sale));
    let take_in = move |next: Next| {
        if busy.get() || is_doubtful(session, counter) {
            return;
        }
        busy.set(true);
        spawn_local(async move {
            match save(session, counter, keeper).await {
                Ok(taken) => {
                    // A notice about something missing no longer applies.
                    session.notice().set(None);
                    navigate.with_value(|go| go(&way(&taken, next), NavigateOptions::default()));
                }
                Err(Trouble::Missing(missing)) => {
                    session.ask_to_correct(&missing);
                    show(counter, &missing);
                }
                Err(Trouble::Store(why)) => session.complain(why),
            }
            busy.try_set(false);
        });
    };
    view! {
        <div class="finish">
            <outlook::Outlook counter/>
            <ticket::Total counter/>
            <div class="row">
                <Show when=move || sale.get() fallback=move || view! {
                    <button type="button" class="quiet bench" disabled=move || busy.get()
                        on:click=move |_| take_in(Next::Print)>{words::drop_off::take_in_and_print()}</button>
                    <button type="button" class="bench go" disabled=move || busy.get()
                        on:click=move |_| take_in(Next::Photograph)>{words::drop_off::take_in_and_photograph()}</button>
                }>
                    <button type="button" class="bench go" disabled=move || busy.get()
                        on:click=move |_| take_in(Next::Print)>{words::drop_off::sold()}</button>
                </Show>
            </div>
        </div>
    }
}

/// Whether something speaks against the promise and the person has not been asked. Asks; a second tap on the button
/// then accepts it. A sale without a pair promises nothing.
fn is_doubtful(session: Session, counter: CounterForm) -> bool {
    if counter.form.with_untracked(commands::DropOff::is_sale) {
        return false;
    }
    let Some(question) = doubtful::ask_again(counter) else {
        return false;
    };
    session.ask_to_correct(question);
    focus(commands::DAY.to_owned());
    true
}

/// Unfolds the pair and moves the focus to what is missing.
fn show(counter: CounterForm, missing: &Missing) {
    if let Some(pair) = missing.pair {
        counter.open.set(pair);
    }
    focus(missing.element());
    counter.wrong.set(missing.element());
}

fn way(taken: &TakenIn, next: Next) -> String {
    if taken.jobs.is_empty() {
        return format!("/ticket/{}", taken.ticket);
    }
    let Some(first) = taken.jobs.first().filter(|_| matches!(next, Next::Photograph)) else {
        return format!("/print/{}", taken.ticket);
    };
    let run: Vec<_> = taken.jobs.iter().map(ToString::to_string).collect();
    format!("/camera/{first}?shows=drop_off&run={}", run.join(","))
}

/// Why a drop-off was not saved; the form stays as it was.
enum Trouble {
    Missing(Missing),
    Store(String),
}

/// Saves the drop-off in one transaction, with the next tag numbers unless the shop uses its own.
async fn save(session: Session, counter: CounterForm, keeper: Keeper) -> Result<TakenIn, Trouble> {
    let store = |error: crate::device::DeviceError| Trouble::Store(error.to_string());
    let phone = session.opened().map_err(store)?;
    let around = phone.surroundings();
    let form = counter.form.get_untracked();
    let secret = || around.random().iter().map(|byte| format!("{byte:02x}")).collect();
    let (taken, drafts) = commands::take_in(
        &form,
        (counter.shop.tax(), counter.shop.money_kind()),
        || around.new_subject(),
        secret,
    )
    .map_err(Trouble::Missing)?;
    session.save(drafts, Vec::new()).await.map_err(store)?;
    keeper.done(&phone).await.map_err(store)?;
    // A browser may ask the person whether to keep the records, which is best done after a tap and once there are
    // records.
    spawn_local(async {
        keep_records().await;
    });
    Ok(taken)
}
