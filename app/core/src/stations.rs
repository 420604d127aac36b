//! Where each pair in the shop stands: at a station, drying, waiting for somebody, or ready.
//!
//! Pure: from the summaries of the pairs in the shop and the clock to what the Bench shows.

mod jobs;
mod spans;

use shared::log::fold::{JobLine, Summary};
use shared::log::{SubjectId, UnixMs};
use shared::trade::{Station, operation};

pub use jobs::{goods, planned};
pub use spans::{minutes_in_words, nearness, ready_for, time_left};

/// Characters of an id as it is written: a UUID with hyphens.
const ID_LENGTH: usize = 36;

/// Where a job stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum JobPlace {
    /// Its next operation is done here.
    At(Station),
    /// Its next operation is the shop's own.
    OwnWork,
    /// Nothing is left but the final check.
    FinalCheck,
    /// Until its time is over.
    Drying,
    /// A question is open.
    Customer,
    /// Something is ordered.
    Material,
    /// On its shelf.
    Ready,
}

impl JobPlace {
    /// Where a job stands at this moment. What holds it comes before what is next.
    pub fn of(job: &JobLine, now: UnixMs) -> JobPlace {
        if job.ready_at.is_some() {
            return JobPlace::Ready;
        }
        if job.asked {
            return JobPlace::Customer;
        }
        if !job.material.is_empty() {
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

    /// What the Bench calls it.
    pub fn words(&self) -> &str {
        match self {
            JobPlace::At(station) => station.words(),
            JobPlace::OwnWork => "Other work",
            JobPlace::FinalCheck => "Final check",
            JobPlace::Drying => "Drying",
            JobPlace::Customer => "Waiting for the customer",
            JobPlace::Material => "Waiting for material",
            JobPlace::Ready => "Ready to collect",
        }
    }

    /// Whether somebody works there.
    fn is_work(&self) -> bool {
        matches!(self, JobPlace::At(_) | JobPlace::OwnWork | JobPlace::FinalCheck)
    }

    /// Where it comes on the Bench: work first, in the order a pair goes through the stations; waits after it.
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
    /// Whose it is.
    pub customer: String,
    /// SHA-256 of the thumbnail by which it is known.
    pub face: Option<String>,
    /// Its kind of goods, a word of the price list; empty if not said.
    pub goods: String,
    /// The job.
    pub job: JobLine,
}

impl StationRow {
    /// What the pair answers to: its number, else what it is.
    pub fn name(&self) -> &str {
        if self.job.tag.is_empty() {
            &self.title
        } else {
            &self.job.tag
        }
    }
}

/// The jobs that stand at one place, in the order to take them up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StationSection {
    /// Where.
    pub place: JobPlace,
    /// Who, never nobody.
    pub rows: Vec<StationRow>,
}

/// Every job that keeps a pair in the shop.
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
            job,
        })
    })
}

/// The shop by station, in the order of the plan: `order` are the planned jobs by when they are taken up next, empty while
/// there is no plan. Without one, rush goes first, then the day; what dries, by when it is dry. Empty places are left out.
pub fn sections(pairs: Vec<Summary>, now: UnixMs, order: &[SubjectId]) -> Vec<StationSection> {
    let mut rows: Vec<(JobPlace, StationRow)> = in_shop(pairs)
        .map(|row| (JobPlace::of(&row.job, now), row))
        .collect();
    rows.sort_by_key(|(place, StationRow { job, .. })| {
        let dry = job.dry_at.filter(|_| *place == JobPlace::Drying);
        // A pair without a day comes after those that have one.
        let day = (job.day.is_empty(), job.day.clone());
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

/// Those at work in the order of the plan, and the stations by their first pair; what is not planned comes after.
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

/// Those that a scanned or typed text means: by a pair's, job's or ticket's id at its end, as on a stub, else by tag number.
pub fn answering(rows: impl IntoIterator<Item = StationRow>, text: &str) -> Vec<StationRow> {
    let text = text.trim();
    let id = id_at_end(text);
    let means = |row: &StationRow| match id {
        Some(id) => row.pair == id || row.job.id == id || row.job.ticket == Some(id),
        None => !text.is_empty() && row.job.tag.eq_ignore_ascii_case(text),
    };
    rows.into_iter().filter(means).collect()
}

/// The number that a scanned text is: what it says, but on the app's own stubs and tags, which name a pair by its id, the
/// number which that pair bears. `None` if nothing in the shop has that id.
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
