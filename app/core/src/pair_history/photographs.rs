//! The photographs of a pair across its jobs: which two to compare, and with which earlier one the next is aligned.

use std::cmp::Reverse;

use shared::log::body::{Photo, Shows};
use shared::log::fold::PairHistory;
use shared::log::{EntryId, MadeAt, SubjectId};
use shared::trade::operations;

/// A photograph of the pair.
#[derive(Debug, Clone, PartialEq)]
pub struct PairPhoto {
    /// The entry that recorded it.
    pub entry: EntryId,
    /// The job it belongs to.
    pub job: SubjectId,
    /// When it was taken.
    pub at: MadeAt,
    /// The photograph.
    pub photo: Photo,
}

/// Every photograph of the pair, the oldest first.
pub fn shots(history: &PairHistory) -> Vec<PairPhoto> {
    let of_job = |(job, state): (&SubjectId, &shared::log::fold::JobState)| {
        let job = *job;
        let shot = move |item: &shared::log::fold::Item<Photo>| PairPhoto {
            entry: item.entry,
            job,
            at: item.at,
            photo: item.body.clone(),
        };
        state.photos.iter().map(shot).collect::<Vec<_>>()
    };
    let mut all: Vec<PairPhoto> = history.jobs.iter().flat_map(of_job).collect();
    all.sort_by_key(|shot| (shot.at.utc, shot.entry));
    all
}

/// What a photograph shows, in a few words.
pub fn caption(photo: &Photo) -> &str {
    match (&photo.shows, photo.operation.as_deref()) {
        (Shows::DropOff, _) => words::history::photo_as_brought(),
        (Shows::Finished, _) => words::history::photo_finished(),
        (Shows::Damage, _) => words::history::photo_of_damage(),
        (Shows::Swatch, _) => words::history::photo_of_swatch(),
        (_, Some(code)) => operations::name(code),
        _ => words::history::other_photo(),
    }
}

/// Whether two photographs show the same view: the pair as brought, the same operation, or the finished pair.
pub fn same_view(one: &Photo, other: &Photo) -> bool {
    (&one.shows, &one.operation) == (&other.shows, &other.operation)
}

/// The two photographs that are compared unless a person picks others, the older first: the pair as first and last
/// brought; otherwise as brought and finished; otherwise the first and the last. `None` if there are fewer than two.
pub fn compared(shots: &[PairPhoto]) -> Option<(usize, usize)> {
    let (last, showing) = (shots.len().checked_sub(1)?, |shows: Shows| {
        move |shot: &PairPhoto| shot.photo.shows == shows
    });
    let first = shots.iter().position(showing(Shows::DropOff)).unwrap_or(0);
    let second = shots
        .iter()
        .rposition(showing(Shows::DropOff))
        .filter(|second| *second != first)
        .or_else(|| shots.iter().rposition(showing(Shows::Finished)))
        .filter(|second| *second != first)
        .unwrap_or(last);
    // The only photograph of the pair as brought may be the last of all.
    let (first, second) = if first == second {
        (0, last)
    } else {
        (first, second)
    };
    (first != second).then_some((first.min(second), first.max(second)))
}

/// The photograph of the same view that is farthest in time from the given one; `None` if there is no other.
pub fn like(shots: &[PairPhoto], one: usize) -> Option<usize> {
    let wanted = shots.get(one)?;
    let others = shots
        .iter()
        .enumerate()
        .filter(|(at, shot)| *at != one && same_view(&shot.photo, &wanted.photo));
    let far = |shot: &PairPhoto| (shot.at.utc.0 - wanted.at.utc.0).abs();
    others
        .max_by_key(|(at, shot)| (far(shot), Reverse(*at)))
        .map(|(at, _)| at)
}

/// The photograph with which the next one of a job is aligned, and the job it belongs to.
///
/// It is of the same view on the latest earlier job that has one: the n-th photograph of that view if this job has n−1
/// of them (or the last, if there are fewer), because a shop takes its views in the same order each time. If no earlier
/// job has one, it is the latest of the same view on this job; and if there is none, or the finished pair is to be
/// photographed, the n-th one of the pair as it was brought this time.
pub fn before<'a>(
    history: &'a PairHistory,
    job: SubjectId,
    shows: &Shows,
    operation: Option<&str>,
) -> Option<(SubjectId, &'a Photo)> {
    let of = |job: SubjectId, shows: &Shows| -> Vec<&'a Photo> {
        let photos = history.jobs.get(&job).into_iter().flat_map(|state| &state.photos);
        let same = photos.map(|item| &item.body).filter(|photo| {
            let work =
                *shows != Shows::Step || operation.is_some() && photo.operation.as_deref() == operation;
            photo.shows == *shows && work
        });
        same.collect()
    };
    let here = of(job, shows);
    let nth = |all: Vec<&'a Photo>| all.get(here.len()).or(all.last()).copied();
    let earlier = history.jobs.range(..job).rev().map(|(earlier, _)| *earlier);
    let found = earlier
        .filter_map(|earlier| Some((earlier, nth(of(earlier, shows))?)))
        .next();
    let brought = || Some((job, nth(of(job, &Shows::DropOff))?));
    match here.last() {
        _ if found.is_some() => found,
        // On this job itself: the next photograph of the same work is aligned with the latest one.
        Some(last) if *shows != Shows::Finished => Some((job, last)),
        _ => brought(),
    }
}

#[cfg(test)]
mod tests;
