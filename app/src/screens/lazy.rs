//! Lazy loading of the screens that are not needed first.
//!
//! The bundler cuts pieces out of the app's wasm (`app/bundle/src/split.rs`); code that the Bench needs too stays in
//! the main file. There are two pieces: all other screens, and the code that writes the log (`device/lazy.rs`). The
//! Join screen belongs to the latter, because it is the first screen of a new device. More pieces would mean more files
//! with less in common: all pieces are loaded soon after each start, once the Bench is drawn, so that a tap finds its
//! screen loaded.

use std::future::Future;

use futures_util::future::join;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_split_helpers::wasm_split;

use super::{ask, camera, collect, compare, complaint, drop_off, join, open_up};
use super::{calc, pair, pickup, print, records, shop, work};
use crate::device::DeviceError;
use crate::device::lazy::fetch_log;
use crate::device::worker::reload;
use crate::parts::PhotographViewer;
use crate::session::{Session, is_shown};

/// Declares the screens of a piece: for each the name that the routes use, and its component.
macro_rules! screens {
    ($piece:ident: $($name:ident = $screen:path),+ $(,)?) => {
        $(
            #[wasm_split($piece, fallible)]
            pub(super) fn $name() -> Result<AnyView, DeviceError> {
                Ok($screen().into_any())
            }
        )+
    };
}

screens!(log: join_shop = join::Join);
screens!(screens:
    drop_off = drop_off::DropOff,
    ticket = collect::Collect,
    waiting = collect::Waiting,
    pickup = pickup::Pickup,
    print = print::Print,
    camera = camera::Camera,
    job = work::Work,
    open_up = open_up::OpenUp,
    ask = ask::Ask,
    complaint = complaint::Complaint,
    calc = calc::Calc,
    records = records::Records,
    pair = pair::Pair,
    compare = compare::Compare,
    shop = shop::Shop,
    prices = shop::PriceList,
    profitability = shop::ProfitabilityScreen,
    books = shop::TheBooks,
    shelf = shop::ShelfScreen,
    hidden = shop::Hidden,
    bring = shop::Bring,
    photograph_viewer = PhotographViewer,
);

/// Does nothing. It exists so that the piece can be loaded before one of its screens is needed.
#[wasm_split(screens, fallible, preload(fetch_screens))]
fn at_hand() -> Result<(), DeviceError> {
    Ok(())
}

/// A screen of a piece, drawn once the piece is loaded; at once if it is.
pub(super) fn later<F>(screen: fn() -> F) -> impl Fn() -> AnyView + Clone + Send + 'static
where
    F: Future<Output = Result<AnyView, DeviceError>> + Send + 'static,
{
    move || {
        let again = Trigger::new();
        let shown = move || {
            again.track();
            Suspend::new(async move { screen().await.unwrap_or_else(|_| missing(again).into_any()) })
        };
        shown.into_any()
    }
}

/// Says that a screen could not be loaded: there is no network and the app is not complete on the device yet, or a
/// newer build has replaced it. The records are not affected.
fn missing(again: Trigger) -> impl IntoView {
    view! {
        <section class="card bad" role="alert">
            <h2>{words::device::screen_missing()}</h2>
            <p>{words::device::screen_not_fetched()}</p>
            <button on:click=move |_| again.notify()>{words::parts::try_again()}</button>
            <button on:click=move |_| reload()>{words::device::start_again()}</button>
        </section>
    }
}

/// Loads the pieces: at once if another screen than the Bench is shown first, else when the Bench is drawn.
pub(super) fn fetch_all(session: Session) {
    Effect::new(move |_| {
        if !is_shown("/") || session.is_started().get() {
            spawn_local(async {
                // An error is shown when somebody opens a screen of the piece.
                let _ = join(fetch_log(), fetch_screens()).await;
            });
        }
    });
}
