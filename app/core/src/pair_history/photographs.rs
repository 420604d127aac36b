//! The photographs of a pair across its jobs: which two to compare, and with which earlier one the next is aligned.

use std::cmp::Reverse;

use shared::log::body::{Photo, Shows};
use shared::log::fold::{Item, JobState, PairHistory, Summary};
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
    let of_job = |(job, state): (&SubjectId, &JobState)| {
        let job = *job;
        state
            .photos
            .iter()
            .map(move |item| shot(job, item))
            .collect::<Vec<_>>()
    };
    let mut all: Vec<PairPhoto> = history.jobs.iter().flat_map(of_job).collect();
    all.sort_by_key(|shot| (shot.at.utc, shot.entry));
    all
}

/// A photograph of a job.
fn shot(job: SubjectId, item: &Item<Photo>) -> PairPhoto {
    PairPhoto {
        entry: item.entry,
        job,
        at: item.at,
        photo: item.body.clone(),
    }
}

/// The photograph that stands for the pair in lists, see [`Summary::face`]; `None` for a pair without photographs.
pub fn face_shot(history: &PairHistory) -> Option<PairPhoto> {
    let face = Summary::of(history).face?;
    shots(history)
        .into_iter()
        .rfind(|shot| shot.photo.thumb.sha256 == face)
}

/// Last time and this time: a photograph of each of the two latest jobs that have any, the earlier one first. They show the
/// same view if both jobs have one, the pair as brought before others; otherwise each is the first of its job. `None` if
/// fewer than two jobs were photographed.
pub fn last_and_this_time(history: &PairHistory) -> Option<[PairPhoto; 2]> {
    let mut photographed = history
        .jobs
        .iter()
        .rev()
        .filter(|(_, job)| !job.photos.is_empty());
    let (this, last) = (photographed.next()?, photographed.next()?);
    // No two damages or colours are the same view.
    let of_pair = |item: &&Item<Photo>| !matches!(item.body.shows, Shows::Damage | Shows::Swatch);
    let alike = |now: &Item<Photo>| {
        let mut then = last.1.photos.iter();
        then.find(|then| same_view(&then.body, &now.body))
    };
    let mut views: Vec<&Item<Photo>> = this.1.photos.iter().filter(of_pair).collect();
    views.sort_by_key(|item| item.body.shows != Shows::DropOff);
    let both = views.into_iter().find_map(|now| Some((alike(now)?, now)));
    let (then, now) = match both {
        Some(both) => both,
        None => (last.1.photos.first()?, this.1.photos.first()?),
    };
    Some([shot(*last.0, then), shot(*this.0, now)])
}

/// The photographs by which a job is known in a list: the pair before and after the work. After is the pair when it was
/// finished, else its latest step; `None` while there is neither.
pub fn before_and_after(job: &JobState) -> (Option<&Photo>, Option<&Photo>) {
    let photos = || job.photos.iter().map(|item| &item.body);
    let before = photos()
        .find(|photo| photo.shows == Shows::DropOff)
        .or_else(|| photos().next());
    let latest = |shows: Shows| photos().rfind(|photo| photo.shows == shows);
    let after = latest(Shows::Finished).or_else(|| latest(Shows::Step));
    (before, after.filter(|after| Some(*after) != before))
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
