//! The screens that the first one does not wait for: a piece of the app, fetched apart.
//!
//! The bundler cuts pieces out of the app (`app/bundle/src/split.rs`); what the Bench uses too stays where it is. There are
//! two: all other screens, and what writes the log (`device/apart.rs`), to which Join belongs, for on a new device it is the
//! first screen. More pieces would be more files with less in common: each start has all of them soon after the Bench
//! stands, so that a tap finds its screen there.

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
use crate::session::{Session, on_bench};

/// Screens of a piece, each by the name that the routes have for it.
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
    truth = shop::PriceTruth,
    books = shop::TheBooks,
    materials = shop::Materials,
    hidden = shop::Hidden,
);

/// Nothing but a way to fetch the piece before any of its screens is wanted.
#[wasm_split(screens, fallible, preload(fetch_screens))]
fn at_hand() -> Result<(), DeviceError> {
    Ok(())
}

/// A screen of a piece, drawn when the piece is there; at once if it is.
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

/// Says that a screen could not be fetched: no network before the app was complete on the device, or a newer build has
/// replaced it meanwhile. What is recorded is not touched by it.
fn missing(again: Trigger) -> impl IntoView {
    view! {
        <section class="card bad" role="alert">
            <h2>"This screen is not on this device yet"</h2>
            <p>"It could not be fetched. Everything recorded is safe. Try again when there is a network, or start the app again if it has just been updated."</p>
            <button on:click=move |_| again.notify()>"Try again"</button>
            <button on:click=move |_| reload()>"Start again"</button>
        </section>
    }
}

/// Fetches the pieces: at once when another screen than the Bench is to be shown first, else when the Bench stands.
pub(super) fn fetch_all(session: Session) {
    Effect::new(move |_| {
        if !on_bench() || session.is_started().get() {
            spawn_local(async {
                // A piece that is missing says so when somebody wants to see it.
                let _ = join(fetch_log(), fetch_screens()).await;
            });
        }
    });
}
