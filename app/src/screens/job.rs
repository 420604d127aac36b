//! The job named in an address, with its pair history.

use leptos::prelude::*;
use leptos_router::hooks::use_params_map;
use shared::log::body::Body;
use shared::log::fold::{JobState, PairHistory, Summary, bench};
use shared::log::{SubjectId, SubjectKind};
use shared::trade::{line_name, operations};

use crate::device::DeviceError;
use crate::device::Phone;
use crate::parts::{BackLink, Face, promised_for};
use crate::session::{LiveQuery, use_live_query};

/// A job and its pair history.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct JobLife {
    pub(super) job: SubjectId,
    pub(super) life: PairHistory,
}

impl JobLife {
    /// The state of the job.
    pub(super) fn state(&self) -> Option<&JobState> {
        self.life.jobs.get(&self.job)
    }
}

/// The id in the address under `name`; `None` if it is missing or not valid.
pub(super) fn use_subject(name: &'static str) -> Signal<Option<SubjectId>> {
    let params = use_params_map();
    Signal::derive(move || params.read().get(name).and_then(|text| text.parse().ok()))
}

/// The job in the address with its pair history, as a live query. `Some(None)`: there is no such job on this device.
pub(super) fn use_job() -> LiveQuery<Option<JobLife>> {
    let id = use_subject("job");
    use_live_query(move |phone| {
        let id = id.get();
        async move {
            match id {
                Some(job) => of_job(&phone, job).await,
                None => Ok(None),
            }
        }
    })
}

/// The top of a screen about one job: the way back, the screen's title, then the pair, linking to its page.
pub(super) fn pair_head(screen: &'static str, found: &JobLife) -> AnyView {
    let summary = Summary::of(&found.life);
    let line = summary.jobs.iter().find(|line| line.id == found.job);
    let tag = line.map_or_else(String::new, |line| line.tag.clone());
    let day = line.and_then(promised_for);
    let title = summary.name().to_owned();
    let whose = [summary.customer.as_str(), &summary.phone].join(" ");
    view! {
        <header class="pair-head">
            <BackLink/>
            <h1>{screen}" "<strong class="tag">{tag}</strong></h1>
            <a class="life" href=format!("/pair/{}", summary.id)>
                <Face of=summary.face on=Some(found.job) alt="" goods=summary.goods/>
                <span class="who">
                    <strong>{title}</strong>
                    <span class="quiet">{whose}</span>
                    <span class="quiet">{day}</span>
                    <span>{words::records::history()}</span>
                </span>
            </a>
        </header>
    }
    .into_any()
}

/// A link to the earlier work that this job makes good.
pub(super) fn makes_good(job: &JobState, life: &PairHistory) -> impl IntoView + use<> {
    let complaint = job.complaint.as_ref().map(|slot| slot.current.body.clone())?;
    let earlier = life
        .jobs
        .get(&complaint.job)
        .and_then(JobState::tag)
        .unwrap_or_default();
    let work = bench::agreed(job).find(|line| line.body.operation == complaint.operation);
    let work = work.map_or_else(
        || operations::name(&complaint.operation).to_owned(),
        |line| line_name(&line.body),
    );
    let words = words::records::makes_good(&work, earlier);
    Some(view! { <p>{words}" "{complaint.note}</p> })
}

/// Finds the pair of a job by the entries that opened the job, and reads its pair history.
pub(super) async fn of_job(phone: &Phone, job: SubjectId) -> Result<Option<JobLife>, DeviceError> {
    let about = phone.entries_about(job).await?;
    let own = about
        .iter()
        .filter(|held| held.entry.subject.kind == SubjectKind::Job && held.entry.subject.id == job);
    let pairs = own.filter_map(|held| match Body::of(&held.entry) {
        Body::Opened(opened) => opened.pair,
        _ => None,
    });
    // A job that was moved to another pair has several: the right one is the one whose pair history contains the job.
    for pair in pairs.collect::<Vec<_>>() {
        let life = phone.pair_history(pair).await?;
        if life.jobs.contains_key(&job) {
            return Ok(Some(JobLife { job, life }));
        }
    }
    Ok(None)
}
