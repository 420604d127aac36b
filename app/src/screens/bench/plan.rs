//! The plan of the work at the bench, made again whenever something there changes.

use std::collections::BTreeSet;

use leptos::prelude::*;
use shared::analytics::{PAIRS_BACK_MS, ShopSettings, TheRun};
use shared::log::fold::Summary;
use shared::log::{SubjectId, UnixMs, inserted};
use shared::week::WeekPlan;

use crate::analytics::ask_with_statistics;
use crate::device::lazy::lazy;
use crate::device::screen::use_now;
use crate::device::{Phone, has_read_everything};
use crate::selection::use_selection;
use crate::session::{LiveQuery, use_live_query};
use crate::shop::use_shop;
use app_core::browser::clock::here;

/// After this time, in ms, the plan is asked for again even if nothing has changed: its times move on with the clock.
const STALE_MS: i64 = 5 * 60_000;

/// The plan, as the Bench follows it.
pub(super) struct BenchPlan {
    /// The plan, kept for the next visit to the Bench; `None` before the first, and empty if it cannot be made: the
    /// Bench works without it.
    pub(super) told: Memo<Option<WeekPlan>>,
    /// Why the plan cannot be made, in words.
    pub(super) trouble: Signal<Option<String>, LocalStorage>,
}

/// Begins to plan these pairs, and plans again when they, the log, the shop's settings or the time change.
pub(super) fn follow(pairs: LiveQuery<Vec<Summary>>) -> BenchPlan {
    let (bench, shop, now) = (use_selection(), use_shop(), use_now());
    let turn = Memo::new(move |_| now.get().0 / STALE_MS);
    let answer = use_live_query(move |phone| {
        // Read, not only tracked: a memo that nobody reads is not told when the clock moves on.
        turn.get();
        let known = pairs.get().filter(|_| shop.is_read());
        let asked = known.map(|pairs| {
            let open: Vec<_> = pairs.iter().map(|pair| pair.id).collect();
            (open, shop.known())
        });
        async move {
            let Some((open, shop)) = asked else {
                return Ok(None);
            };
            if open.is_empty() {
                return Ok(Some(Ok(WeekPlan::default())));
            }
            let told = plan_of_the_day(phone, open, shop).await;
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

lazy! {
    /// The plan with these pairs in the shop. It needs the log of the pairs, which nothing else on the Bench reads,
    /// also of those that have just left, whose work belonged to the plan of the day.
    fn plan_of_the_day(phone: Phone, open: Vec<SubjectId>, shop: ShopSettings) -> WeekPlan {
        let here = here();
        let left = phone.left_since(UnixMs(here.now.0 - PAIRS_BACK_MS)).await?;
        let pairs: BTreeSet<_> = inserted(open.into_iter().chain(left));
        let pairs: Vec<_> = pairs.into_iter().collect();
        let asked = TheRun {
            shop,
            here,
            pairs: phone.pair_logs(&pairs).await?,
            whole: has_read_everything(&phone).await?,
        };
        ask_with_statistics(&phone, &asked).await
    }
}
