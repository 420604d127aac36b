//! Announces, on any screen, that a drying time is over.

use std::collections::BTreeSet;
use std::time::Duration;

use leptos::prelude::*;
use shared::log::UnixMs;

use crate::device::screen::use_now;
use crate::session::{use_live_query, use_session};
use app_core::stations::in_shop;

/// Announces each pair whose drying time ends while the app is open. Times that ended before are shown on the Bench
/// only.
#[component]
pub fn DryNotice() -> impl IntoView {
    // Starts only after the first screen, which must not be slowed down by it.
    let begun = RwSignal::new(false);
    let begin = move || {
        begun.try_set(true);
    };
    set_timeout(begin, LATER);
    view! { <Show when=move || begun.get()><Watch/></Show> }
}

#[component]
fn Watch() -> impl IntoView {
    let (session, now) = (use_session(), use_now());
    let shop = use_live_query(|phone| async move { Ok(phone.in_shop().await?) });
    Effect::new(move |before: Option<Option<BTreeSet<(UnixMs, String)>>>| {
        let pairs = shop.get()?;
        let now = now.get();
        let over = in_shop(pairs).filter_map(|row| {
            let end = row
                .job
                .dry_at
                .filter(|end| *end <= now && row.job.ready_at.is_none())?;
            Some((end, row.name().to_owned()))
        });
        let over: BTreeSet<_> = over.collect();
        // Only what ended since the clock was last read, not what a sync or the first reading brings.
        if let Some(Some(before)) = before {
            let fresh = over
                .difference(&before)
                .filter(|(end, _)| now.0 - end.0 < JUST_MS);
            let names: Vec<_> = fresh.map(|(_, name)| name.as_str()).collect();
            if !names.is_empty() {
                session.tell(words::parts::dry(&names.join(", ")));
            }
        }
        Some(over)
    });
}

/// How long after the start it begins.
const LATER: Duration = Duration::from_secs(3);
/// A drying time that ended longer ago than this, in ms, is not announced.
const JUST_MS: i64 = 120_000;
