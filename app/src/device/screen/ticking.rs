//! The time of day, as screens that count down follow it.

use std::time::Duration;

use leptos::prelude::*;
use shared::log::UnixMs;

use crate::device::clock::now;

/// How often it is looked at: waits are told in minutes.
const GLANCE: Duration = Duration::from_secs(5);

/// The time, for as long as the current reactive owner lives.
#[must_use]
pub fn use_now() -> Signal<UnixMs> {
    let time = RwSignal::new(now());
    let ticking = set_interval_with_handle(
        move || {
            time.try_set(now());
        },
        GLANCE,
    );
    if let Ok(ticking) = ticking {
        on_cleanup(move || ticking.clear());
    }
    time.into()
}
