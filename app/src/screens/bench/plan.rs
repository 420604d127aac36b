//! The plan of what is on the bench, made anew whenever something there changes.

use leptos::prelude::*;
use shared::figures::TheRun;
use shared::log::fold::Summary;
use shared::week::RunTold;

use crate::device::clock::here;
use crate::device::screen::use_now;
use crate::learnt::reckon_taught;
use crate::shop::use_shop;
use crate::stations::{in_shop, planned};
use crate::workbench::use_workbench;
use crate::workshop::{Stored, use_stored};

/// A plan is made anew after so long though nothing was noted: the time it counted from has gone.
const STALE_MS: i64 = 5 * 60_000;

/// What to do now; nothing until it is reckoned, or where it cannot be. The Bench stands without it.
pub(super) fn follow(pairs: Stored<Vec<Summary>>) -> Stored<RunTold> {
    let (bench, shop, now) = (use_workbench(), use_shop(), use_now());
    let turn = Memo::new(move |_| now.get().0 / STALE_MS);
    use_stored(move |phone| {
        turn.track();
        bench.planned_again().track();
        let rows = pairs.get().map(|pairs| in_shop(pairs).collect::<Vec<_>>());
        let asked = rows.map(|rows| TheRun {
            shop: shop.known(),
            here: here(),
            jobs: planned(&rows, &bench.later()),
        });
        async move {
            match asked.filter(|asked| !asked.jobs.is_empty()) {
                Some(asked) => Ok(reckon_taught(&phone, &asked).await.unwrap_or_default()),
                None => Ok(RunTold::default()),
            }
        }
    })
}
