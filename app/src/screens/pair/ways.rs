//! What can be done with a pair.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::fold::{JobLine, Summary};

use crate::parts::camera_icon;

/// The job that the page's own links are for: the one that the pair is in the shop for, else the latest.
pub(super) fn job_at_hand(summary: &Summary) -> Option<&JobLine> {
    let mut jobs = summary.jobs.iter();
    jobs.find(|job| job.open).or(summary.jobs.first())
}

/// Links about a job: while the pair is in the shop for it, and once it has left.
pub(super) fn of_job(line: &JobLine) -> Vec<(&'static str, String)> {
    let id = line.id;
    if line.open {
        vec![
            (words::pair::opening_up(), format!("/open/{id}")),
            (words::pair::ask(), format!("/ask/{id}")),
            (words::pair::pickup(), format!("/pickup/{id}")),
        ]
    } else {
        vec![(words::pair::care_card(), format!("/pickup/{id}"))]
    }
}

/// Links to what is next about the pair, in a row; also calling its owner, and everything of theirs.
pub(super) fn ways(summary: &Summary) -> AnyView {
    let Summary { customer, phone, .. } = summary;
    let of_job = job_at_hand(summary).map(of_job).unwrap_or_default().into_iter();
    let mut links: Vec<(String, String)> = of_job
        .map(|(label, address)| (label.to_owned(), address))
        .collect();
    if !phone.is_empty() {
        links.push((words::pair::call(phone), ["tel:", phone].concat()));
    }
    if !customer.is_empty() {
        let words: String = js_sys::encode_uri_component(customer).into();
        let address = format!("/records?words={words}");
        links.push((words::pair::everything_of_this_customer().to_owned(), address));
    }
    let links = links.into_iter();
    let links =
        links.map(|(label, address)| view! { <a class="button bench quiet" href=address>{label}</a> });
    view! { <div class="pair-ways">{links.collect_view()}</div> }.into_any()
}

/// At the lower edge, within reach of the thumb: the camera and the work on the pair while it is in the shop; once it has left,
/// a complaint, and taking it in again.
pub(super) fn dock(summary: &Summary) -> AnyView {
    let Some(job) = job_at_hand(summary) else {
        return ().into_any();
    };
    let (id, pair): (SubjectId, SubjectId) = (job.id, summary.id);
    let links = if job.open {
        view! {
            <a class="button bench quiet" aria-label=words::pair::camera() href=format!("/camera/{id}")>{camera_icon()}</a>
            <a class="button bench" href=format!("/job/{id}")>{words::pair::to_its_work()}</a>
        }
        .into_any()
    } else {
        view! {
            <a class="button bench quiet" href=format!("/complaint/{id}")>{words::pair::complaint()}</a>
            <a class="button bench" href=format!("/drop-off?pair={pair}")>{words::pair::take_in_again()}</a>
        }
        .into_any()
    };
    view! { <div class="dock job-dock">{links}</div> }.into_any()
}
