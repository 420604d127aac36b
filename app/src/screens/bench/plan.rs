//! The plan of the work at the bench, made again whenever something there changes.

use leptos::prelude::*;
use shared::analytics::TheRun;
use shared::log::fold::Summary;
use shared::week::WeekPlan;

use crate::analytics::ask_with_statistics;
use crate::device::screen::use_now;
use crate::selection::use_selection;
use crate::session::{LiveQuery, use_live_query};
use crate::shop::use_shop;
use app_core::browser::clock::here;
use app_core::stations::{in_shop, planned};

/// After this time, in ms, the plan is made again even if nothing has changed, because the time it starts from has
/// passed.
const STALE_MS: i64 = 5 * 60_000;

/// The plan, as the Bench follows it.
pub(super) struct BenchPlan {
    /// The plan, kept for the next visit to the Bench; `None` before the first, and empty if it cannot be made: the
    /// Bench works without it.
    pub(super) told: Memo<Option<WeekPlan>>,
    /// Why the plan cannot be made, in words.
    pub(super) trouble: Signal<Option<String>, LocalStorage>,
}

/// Begins to plan these pairs, and plans again when they, the shop's settings or the time change.
pub(super) fn follow(pairs: LiveQuery<Vec<Summary>>) -> BenchPlan {
    let (bench, shop, now) = (use_selection(), use_shop(), use_now());
    let turn = Memo::new(move |_| now.get().0 / STALE_MS);
    let answer = use_live_query(move |phone| {
        turn.track();
        bench.planned_again().track();
        let known = pairs.get().filter(|_| shop.is_read());
        let rows = known.map(|pairs| in_shop(pairs).collect::<Vec<_>>());
        let asked = rows.map(|rows| TheRun {
            shop: shop.known(),
            here: here(),
            jobs: planned(&rows, &bench.later()),
        });
        async move {
            let Some(asked) = asked else { return Ok(None) };
            if asked.jobs.is_empty() {
                return Ok(Some(Ok(WeekPlan::default())));
            }
            let told: Result<WeekPlan, _> = ask_with_statistics(&phone, &asked).await;
            Ok(Some(told.map_err(|error| error.to_string())))
        }
    });
    Effect::new(move |_| {
        if let Some(answer) = answer.get().flatten() {
            bench.told().set(Some(answer.unwrap_or_default()));
        }
    });
    BenchPlan {
        told: Memo::new(move |_| bench.told().get()),
        trouble: Signal::derive_local(move || answer.get().flatten()?.err()),
    }
}
