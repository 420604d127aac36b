//! The plan of what is on the bench, made anew whenever something there changes.

use leptos::prelude::*;
use shared::analytics::TheRun;
use shared::log::fold::Summary;
use shared::week::RunTold;

use crate::analytics::reckon_taught;
use crate::device::screen::use_now;
use crate::selection::use_selection;
use crate::session::{LiveQuery, use_live_query};
use crate::shop::use_shop;
use app_core::browser::clock::here;
use app_core::stations::{in_shop, planned};

/// A plan is made anew after so long though nothing was noted: the time it counted from has gone.
const STALE_MS: i64 = 5 * 60_000;

/// What is planned.
pub(super) struct BenchPlan {
    /// What to do now, kept for the next visit; nothing before the first plan, and an empty one where it cannot be made: the
    /// Bench stands without it.
    pub(super) told: Memo<Option<RunTold>>,
    /// Why it cannot be made, in words.
    pub(super) trouble: Signal<Option<String>, LocalStorage>,
}

/// Begins to plan.
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
                return Ok(Some(Ok(RunTold::default())));
            }
            let told: Result<RunTold, _> = reckon_taught(&phone, &asked).await;
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
