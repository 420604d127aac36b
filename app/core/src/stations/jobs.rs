//! The jobs in the shop as the input of the plan of the coming days.

use shared::trade::{Construction, Goods};
use shared::week::Job;

use super::StationRow;

/// Every job with work left, from which the days at the counter are planned. Jobs that are ready are left out. What was
/// decided about the run of the hour is left out too: it moves no job to another day.
pub fn planned<'a>(rows: impl IntoIterator<Item = &'a StationRow>) -> Vec<Job> {
    let mut working: Vec<&StationRow> = rows
        .into_iter()
        .filter(|row| row.job.ready_at.is_none())
        .collect();
    // The solver keeps the first of several equally good plans: so earlier promised days come first, then earlier
    // drop-offs.
    working.sort_by_key(|row| {
        (
            row.job.day.is_none(),
            row.job.day,
            row.job.ready_from.clone(),
            row.job.opened_at,
            row.job.id,
        )
    });
    let job = |row: &StationRow| Job {
        id: row.job.id,
        tag: row.name().to_owned(),
        goods: goods(&row.goods),
        guessed: row.job.guessed.as_deref().map(Construction::from),
        left: row.job.left.clone(),
        begun: !row.job.done.is_empty(),
        dry: row.job.dry_at.map(|end| (end, row.job.drying_operation.clone())),
        dries: row.job.drying_kind.clone(),
        dried: row.job.drying_waits_noted,
        amounts: row.job.amounts.clone(),
        cements: row.job.cements.clone(),
        materials: row.materials.clone(),
        day: row.job.day,
        ready_from: row.job.ready_from.clone(),
        rush: row.job.rush,
        waits: row.job.waits,
        complaint: row.job.complaint,
        first: row.job.first,
        put_aside: None,
        run_begun: None,
        run_interrupted: None,
        opened_at: row.job.opened_at,
        held: row.job.asked || row.job.material.is_some(),
    };
    working.into_iter().map(job).collect()
}

/// The goods of a word; goods that were not stated count as a shoe.
pub fn goods(word: &str) -> Goods {
    if word.is_empty() {
        Goods::LowShoe
    } else {
        Goods::from(word)
    }
}
