//! Where each job in the shop is: at a station, drying, waiting for a customer or for material, or ready.
//!
//! Pure: from the summaries of the pairs in the shop and the time to what the Bench shows.

mod jobs;
mod spans;

use shared::log::fold::{JobLine, Summary};
use shared::log::{SubjectId, UnixMs};
use shared::trade::{Material, Station, operation};

pub use jobs::{goods, planned};
pub use spans::{minutes_in_words, nearness, ready_for, time_left};

/// The length of a UUID with hyphens, in characters.
const ID_LENGTH: usize = 36;

/// The place of a job on the Bench.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum JobPlace {
    /// The station of its next operation.
    At(Station),
    /// Its next operation is one of the shop's own, without a station.
    OwnWork,
    /// Only the final check is left.
    FinalCheck,
    /// It dries or sets until the time of a wait is over.
    Drying,
    /// A question to the customer is open.
    Customer,
    /// Material is ordered.
    Material,
    /// It is ready, on its shelf.
    Ready,
}

impl JobPlace {
    /// The place of a job at a time. A wait or question comes before the next operation.
    pub fn of(job: &JobLine, now: UnixMs) -> JobPlace {
        if job.ready_at.is_some() {
            return JobPlace::Ready;
        }
        if job.asked {
            return JobPlace::Customer;
        }
        if job.material.is_some() {
            return JobPlace::Material;
        }
        if job.dry_at.is_some_and(|end| end > now) {
            return JobPlace::Drying;
        }
        match job.left.first().map(|code| operation(code)) {
            Some(Some(known)) => JobPlace::At(known.station.clone()),
            Some(None) => JobPlace::OwnWork,
            None => JobPlace::FinalCheck,
        }
    }

    /// The name of the place on the Bench.
    pub fn words(&self) -> &str {
        match self {
            JobPlace::At(station) => station.words(),
            JobPlace::OwnWork => words::stations::other_work(),
            JobPlace::FinalCheck => words::stations::final_check(),
            JobPlace::Drying => words::stations::drying(),
            JobPlace::Customer => words::stations::waiting_for_customer(),
            JobPlace::Material => words::stations::waiting_for_material(),
            JobPlace::Ready => words::stations::ready_to_collect(),
        }
    }

    /// Whether work is done at this place.
    pub fn is_work(&self) -> bool {
        matches!(self, JobPlace::At(_) | JobPlace::OwnWork | JobPlace::FinalCheck)
    }

    /// The order of the places on the Bench: work first, in the order in which a pair passes the stations, then waits.
    fn rank(&self) -> usize {
        let stations = Station::KNOWN.len();
        match self {
            JobPlace::At(station) => Station::KNOWN
                .iter()
                .position(|known| known == station)
                .unwrap_or(stations),
            JobPlace::OwnWork => stations + 1,
            JobPlace::FinalCheck => stations + 2,
            JobPlace::Drying => stations + 3,
            JobPlace::Customer => stations + 4,
            JobPlace::Material => stations + 5,
            JobPlace::Ready => stations + 6,
        }
    }
}

/// One job in the shop, with what a list shows of its pair.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StationRow {
    /// The pair.
    pub pair: SubjectId,
    /// What it is, in words; never empty.
    pub title: String,
    /// The customer's name.
    pub customer: String,
    /// SHA-256 of the thumbnail that stands for the pair in lists.
    pub face: Option<String>,
    /// Its kind of goods, by its word in [`Goods`](shared::trade::Goods); empty if not stated.
    pub goods: String,
    /// What upper and sole are made of; empty if not stated.
    pub materials: Vec<Material>,
    /// The job.
    pub job: JobLine,
}

impl StationRow {
    /// The name of the job on the Bench: its tag number, or else what the pair is.
    pub fn name(&self) -> &str {
        if self.job.tag.is_empty() {
            &self.title
        } else {
            &self.job.tag
        }
    }
}

/// The jobs at one place, in the order in which to do them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StationSection {
    /// The place.
    pub place: JobPlace,
    /// The jobs; never empty.
    pub rows: Vec<StationRow>,
}

/// Every job of a pair that is in the shop for it.
pub fn in_shop(pairs: Vec<Summary>) -> impl Iterator<Item = StationRow> {
    pairs.into_iter().flat_map(|pair| {
        let title = pair.name().to_owned();
        let open = pair.jobs.into_iter().filter(|job| job.open);
        open.map(move |job| StationRow {
            pair: pair.id,
            title: title.clone(),
            customer: pair.customer.clone(),
            face: pair.face.clone(),
            goods: pair.goods.clone(),
            materials: pair.materials.clone(),
            job,
        })
    })
}

/// The jobs in the shop by place. `order` has the planned jobs in order of when their work begins, or is empty if there
/// is no plan. Without a plan, rush jobs come first, then the promised day decides, and for drying jobs the time when
/// they are dry. Empty places are left out.
pub fn sections(pairs: Vec<Summary>, now: UnixMs, order: &[SubjectId]) -> Vec<StationSection> {
    let mut rows: Vec<(JobPlace, StationRow)> = in_shop(pairs)
        .map(|row| (JobPlace::of(&row.job, now), row))
        .collect();
    rows.sort_by_key(|(place, StationRow { job, .. })| {
        let dry = job.dry_at.filter(|_| *place == JobPlace::Drying);
        // Pairs without a promised day come after those with one.
        let day = (job.day.is_none(), job.day);
        (place.rank(), dry, !job.rush, day, job.opened_at, job.id)
    });
    let mut sections: Vec<StationSection> = Vec::new();
    for (place, row) in rows {
        match sections.last_mut() {
            Some(last) if last.place == place => last.rows.push(row),
            _ => sections.push(StationSection {
                place,
                rows: vec![row],
            }),
        }
    }
    as_planned(&mut sections, order);
    sections
}

/// Sorts the jobs at work by the plan, and the stations by their first job; jobs that are not planned come after.
fn as_planned(sections: &mut [StationSection], order: &[SubjectId]) {
    let place_of = |row: &StationRow| {
        order
            .iter()
            .position(|job| *job == row.job.id)
            .unwrap_or(usize::MAX)
    };
    let at_work = |section: &&mut StationSection| section.place.is_work();
    for section in sections.iter_mut().filter(at_work) {
        section.rows.sort_by_key(place_of);
    }
    let working = sections.iter().filter(|section| section.place.is_work()).count();
    sections[..working].sort_by_key(|section| section.rows.first().map_or(usize::MAX, place_of));
}

/// The jobs that a scanned or typed text refers to: by the id of a pair, job or ticket at its end (as on a stub), or
/// else by tag number.
pub fn answering(rows: impl IntoIterator<Item = StationRow>, text: &str) -> Vec<StationRow> {
    let text = text.trim();
    let id = id_at_end(text);
    let means = |row: &StationRow| match id {
        Some(id) => row.pair == id || row.job.id == id || row.job.ticket == Some(id),
        None => !text.is_empty() && row.job.tag.eq_ignore_ascii_case(text),
    };
    rows.into_iter().filter(means).collect()
}

/// The tag number that a scanned text refers to: the text itself or, on the app's own stubs and tags, which name a pair
/// by its id, the number of that pair. `None` if no pair in the shop has that id.
pub fn number_meant(rows: impl IntoIterator<Item = StationRow>, text: &str) -> Option<String> {
    let text = text.trim();
    if id_at_end(text).is_none() {
        return Some(text.to_owned());
    }
    answering(rows, text).into_iter().next().map(|row| row.job.tag)
}

fn id_at_end(text: &str) -> Option<SubjectId> {
    let from = text.len().saturating_sub(ID_LENGTH);
    text.get(from..).and_then(|end| end.parse().ok())
}

#[cfg(test)]
mod tests;
