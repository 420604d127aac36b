//! The jobs in the shop as the plan is asked of them.

use shared::log::SubjectId;
use shared::trade::{Construction, Goods};
use shared::week::Job;

use super::StationRow;

/// Every job with something to be done on it; `later` are not for the run that is on now. What is ready is done.
pub fn planned<'a>(rows: impl IntoIterator<Item = &'a StationRow>, later: &[SubjectId]) -> Vec<Job> {
    let mut working: Vec<&StationRow> = rows
        .into_iter()
        .filter(|row| row.job.ready_at.is_none())
        .collect();
    // Of plans that are equally good the first one found stays: what was promised sooner, then what came sooner.
    working.sort_by_key(|row| {
        (
            row.job.day.is_empty(),
            row.job.day.clone(),
            row.job.ready_from.clone(),
            row.job.opened_at,
            row.job.id,
        )
    });
    let job = |row: &StationRow| Job {
        id: row.job.id,
        tag: row.name().to_owned(),
        goods: goods(&row.goods),
        guessed: Some(row.job.guessed.as_str())
            .filter(|guessed| !guessed.is_empty())
            .map(Construction::from),
        left: row.job.left.clone(),
        begun: !row.job.done.is_empty(),
        dry: row.job.dry_at.map(|end| (end, row.job.dries.clone())),
        day: row.job.day.clone(),
        ready_from: row.job.ready_from.clone(),
        rush: row.job.rush,
        waits: row.job.waits,
        complaint: row.job.complaint,
        first: row.job.first,
        later: later.contains(&row.job.id),
        held: row.job.asked || !row.job.material.is_empty(),
    };
    working.into_iter().map(job).collect()
}

/// The word of goods; those that nobody named are taken for a low shoe.
pub fn goods(word: &str) -> Goods {
    if word.is_empty() {
        Goods::LowShoe
    } else {
        Goods::from(word)
    }
}
