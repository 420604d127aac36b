//! Giving the customer a care card.

use shared::log::body::{CardPhoto, Published, Section, Shows, Withdrawn, field};
use shared::log::fold::{Life, State, summary};
use shared::log::{Body, Subject, SubjectId, SubjectKind};
use shared::trade::operations;

use crate::device::store::Draft;

/// The section a job would publish today, from what is recorded: the screen shows it before anybody sees it.
///
/// `day` is today as `YYYY-MM-DD`; `chosen` says which photographs (by SHA-256) the customer may see.
pub fn compose(
    life: &Life,
    job: SubjectId,
    shop: &State,
    day: &str,
    chosen: impl Fn(&str) -> bool,
) -> Section {
    let Some(state) = life.jobs.get(&job) else {
        return Section::default();
    };
    let codes = done(state);
    let known = |code: &&str| operations::operation(code);
    Section {
        title: summary::title(&life.pair),
        day: day.to_owned(),
        done: codes.iter().map(|code| plain(code)).collect(),
        wait_hours: codes
            .iter()
            .filter_map(known)
            .map(|one| one.wear_after_h)
            .max()
            .filter(|hours| *hours > 0),
        terms: shop.text(field::TERMS).to_owned(),
        shop: contact(shop),
        photos: photos(state, chosen),
        ..Section::default()
    }
}

/// Operations done, each once, in the order they were done; what was agreed if no step was noted.
fn done(job: &State) -> Vec<&str> {
    let steps = job.steps.iter().map(|step| step.body.operation.as_str());
    let agreed = job
        .agreed
        .iter()
        .filter_map(|line| line.versions.last())
        .map(|one| one.body.operation.as_str());
    let all: Vec<&str> = if job.steps.is_empty() {
        agreed.collect()
    } else {
        steps.collect()
    };
    let mut once = Vec::new();
    for code in all {
        if !once.contains(&code) {
            once.push(code);
        }
    }
    once
}

fn plain(code: &str) -> String {
    operations::operation(code).map_or_else(|| code.to_owned(), |known| known.plain.to_owned())
}

fn contact(shop: &State) -> String {
    let lines = [field::NAME, field::PHONE].map(|name| shop.text(name));
    lines
        .into_iter()
        .filter(|line| !line.is_empty())
        .collect::<Vec<_>>()
        .join(", ")
}

/// The chosen photographs: as brought first, finished last.
fn photos(job: &State, chosen: impl Fn(&str) -> bool) -> Vec<CardPhoto> {
    let mut shown: Vec<_> = job
        .photos
        .iter()
        .filter(|item| chosen(&item.body.full.sha256))
        .collect();
    shown.sort_by_key(|item| match item.body.shows {
        Shows::DropOff => 0,
        Shows::Finished => 2,
        _ => 1,
    });
    let caption = |item: &shared::log::fold::Item<shared::log::body::Photo>| match &item.body.shows {
        Shows::DropOff => "Before".to_owned(),
        Shows::Finished => "After".to_owned(),
        Shows::Damage => "What was found".to_owned(),
        _ => item
            .body
            .operation
            .as_deref()
            .map_or_else(|| "At work".to_owned(), |code| operations::name(code).to_owned()),
    };
    shown
        .into_iter()
        .map(|item| CardPhoto {
            blob: item.body.full.clone(),
            caption: caption(item),
        })
        .collect()
}

/// Publishes a section, replacing the job's earlier ones and naming the withdrawals this device has seen.
pub fn publish(life: &Life, job: SubjectId, section: Section) -> Draft {
    let state = life.jobs.get(&job);
    let seen = life
        .pair
        .withdrawn
        .iter()
        .chain(state.iter().flat_map(|job| &job.withdrawn))
        .copied()
        .collect();
    let over = state
        .map(|job| job.published.iter().map(|item| item.entry).collect())
        .unwrap_or_default();
    let body = Body::Published(Published {
        pair: life.id,
        section,
        seen,
    });
    Draft::new(Subject::new(SubjectKind::Job, job), body).over(over)
}

/// Takes the pair's whole card back, on every link that leads to it.
pub fn withdraw(pair: SubjectId) -> Draft {
    Draft::new(
        Subject::new(SubjectKind::Pair, pair),
        Body::Withdrawn(Withdrawn {}),
    )
}
