//! Results that were kept on a pair before.

use leptos::prelude::*;
use serde_json::{Map, Value};
use shared::log::SubjectId;
use shared::log::body::Measured;
use shared::log::fold::Item;

use super::super::camera::Back;
use super::super::job::JobLife;
use crate::parts::on_day;
use app_core::calc::{DYE, called};

/// The inputs of a calculation that were kept.
pub(super) struct LastKept {
    pub(super) given: Map<String, Value>,
    /// Whether they were kept on this job; on an earlier one otherwise.
    pub(super) here: bool,
}

/// The latest inputs of a calculation that were kept: for this operation, else on this job, else on any job of the
/// pair.
pub(super) fn last(known: &JobLife, what: &str, operation: &str) -> Option<LastKept> {
    let of_job = known
        .state()
        .into_iter()
        .flat_map(|job| job.measured.iter().rev());
    let of_pair = known
        .life
        .jobs
        .values()
        .rev()
        .flat_map(|job| job.measured.iter().rev());
    let same = |item: &&Item<Measured>| item.body.what == what;
    let here: Vec<_> = of_job.filter(same).collect();
    let served = here
        .iter()
        .find(|item| item.body.operation.as_deref().unwrap_or_default() == operation)
        .or(here.first());
    let found = served.copied().or_else(|| of_pair.into_iter().find(same));
    found.map(|item| LastKept {
        given: item.body.given.clone(),
        here: served.is_some(),
    })
}

/// What was measured on a job, one line each; a colour recipe links to taking a photograph of its sample.
pub(in crate::screens) fn measured(job: SubjectId, all: &[Item<Measured>]) -> AnyView {
    let lines = all.iter().map(|item| {
        let Measured { what, say, .. } = &item.body;
        let said = words::calc_screens::measured_before(called(what), say);
        let swatch = (what == DYE).then(|| {
            view! { <a class="button quiet" href=Back::Work.camera(job, Some("swatch"), Some(item.entry))>{words::calc_screens::photograph_swatch()}</a> }
        });
        view! { <li>{said}" "<span class="quiet">{on_day(item.at.utc)}</span>{swatch}</li> }
    });
    view! { <ul class="plain" aria-label=words::calc_screens::measured()>{lines.collect_view()}</ul> }
        .into_any()
}
