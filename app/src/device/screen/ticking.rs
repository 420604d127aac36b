//! The time of day, as screens that count down follow it.

use std::time::Duration;

use leptos::prelude::*;
use shared::log::UnixMs;

use super::taps::when_lifted;
use app_core::browser::clock::now;

/// How often the clock is read. Waits are shown in minutes.
const GLANCE: Duration = Duration::from_secs(5);

/// The time, for as long as the current reactive owner lives.
#[must_use]
pub fn use_now() -> Signal<UnixMs> {
    let time = RwSignal::new(now());
    // Rows move when a wait ends, which must not happen under a finger.
    let tick = move || {
        when_lifted(move || {
            time.try_set(now());
        });
    };
    let ticking = set_interval_with_handle(tick, GLANCE);
    if let Ok(ticking) = ticking {
        on_cleanup(move || ticking.clear());
    }
    time.into()
}
