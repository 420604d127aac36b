//! The photographs of a pair across its jobs: which two to compare, and which earlier one to line the next up with.

use std::cmp::Reverse;

use shared::log::body::{Photo, Shows};
use shared::log::fold::PairHistory;
use shared::log::{EntryId, MadeAt, SubjectId};
use shared::trade::operations;

/// A photograph of the pair.
#[derive(Debug, Clone, PartialEq)]
pub struct PairPhoto {
    /// The entry that files it.
    pub entry: EntryId,
    /// The job it is filed under.
    pub job: SubjectId,
    /// When it was taken.
    pub at: MadeAt,
    /// The photograph.
    pub photo: Photo,
}

/// Every photograph of the pair, the oldest first.
pub fn shots(life: &PairHistory) -> Vec<PairPhoto> {
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
    let mut all: Vec<PairPhoto> = life.jobs.iter().flat_map(of_job).collect();
    all.sort_by_key(|shot| (shot.at.utc, shot.entry));
    all
}

/// What a photograph shows, in a word or two.
pub fn caption(photo: &Photo) -> &str {
    match (&photo.shows, photo.operation.as_deref()) {
        (Shows::DropOff, _) => "As brought",
        (Shows::Finished, _) => "Finished",
        (Shows::Damage, _) => "Damage",
        (Shows::Swatch, _) => "Swatch",
        (_, Some(code)) => operations::name(code),
        _ => "Photograph",
    }
}

/// Whether two photographs show the same: the pair as brought, the same work, the pair finished.
pub fn same_view(one: &Photo, other: &Photo) -> bool {
    (&one.shows, &one.operation) == (&other.shows, &other.operation)
}

/// Which two of the photographs are compared unless somebody picks others, the older first: the pair as it was first and
/// last brought, else as brought and finished, else the first and the last. `None` where there are not two.
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
    // The only one as brought may be the last of all.
    let (first, second) = if first == second {
        (0, last)
    } else {
        (first, second)
    };
    (first != second).then_some((first.min(second), first.max(second)))
}

/// The photograph that shows the same as one of them, and is farthest from it in time; `None` where no other does.
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

/// The photograph that the next one of a job is lined up with, and the job it is filed under.
///
/// The same view of an earlier job, the latest that has it: as many into its views as this job already has of them, for
/// a shop takes its views in the same order each time. Else the pair as it was brought this time, likewise; else the
/// latest of the same view.
pub fn before<'a>(
    life: &'a PairHistory,
    job: SubjectId,
    shows: &Shows,
    operation: &str,
) -> Option<(SubjectId, &'a Photo)> {
    let of = |job: SubjectId, shows: &Shows| -> Vec<&'a Photo> {
        let photos = life.jobs.get(&job).into_iter().flat_map(|state| &state.photos);
        let same = photos.map(|item| &item.body).filter(|photo| {
            let work = *shows != Shows::Step || photo.operation.as_deref() == Some(operation);
            photo.shows == *shows && work
        });
        same.collect()
    };
    let here = of(job, shows);
    let nth = |all: Vec<&'a Photo>| all.get(here.len()).or(all.last()).copied();
    let earlier = life.jobs.range(..job).rev().map(|(earlier, _)| *earlier);
    let found = earlier
        .filter_map(|earlier| Some((earlier, nth(of(earlier, shows))?)))
        .next();
    let brought = || Some((job, nth(of(job, &Shows::DropOff))?));
    match here.last() {
        _ if found.is_some() => found,
        // Work that is photographed twice is lined up with itself.
        Some(last) if *shows != Shows::Finished => Some((job, last)),
        _ => brought(),
    }
}

#[cfg(test)]
mod tests;
