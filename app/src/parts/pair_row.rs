//! One pair in a list.

use leptos::prelude::*;
use leptos_router::components::A;
use shared::log::fold::Summary;

use super::{Face, camera_icon, promised_for};

/// A pair's thumbnail, number, name and owner, linking to its page, and a link to the camera if a job of it is in the
/// shop.
#[component]
pub fn PairRow(summary: Summary) -> impl IntoView {
    let job = summary
        .jobs
        .iter()
        .find(|job| job.open)
        .or(summary.jobs.first())
        .cloned();
    let job_id = job.as_ref().map(|job| job.id);
    let tag = job.as_ref().map(|job| job.tag.clone()).unwrap_or_default();
    let stands = match job.as_ref().filter(|job| job.open) {
        Some(job) => promised_for(job),
        None => Some(words::parts::not_in_shop().to_owned()),
    };
    let camera = job.filter(|job| job.open).map(|job| {
        let label = words::camera::photograph(if tag.is_empty() { &summary.title } else { &tag });
        view! { <a class="button shoot" href=format!("/camera/{}", job.id)  aria-label=label>{camera_icon()}</a> }
    });
    let title = summary.name().to_owned();
    view! {
        <li class="pair-row">
            <A href=format!("/pair/{}", summary.id)>
                <Face of=summary.face.clone() on=job_id alt="" goods=summary.goods.clone()/>
                <span class="who">
                    <strong class="tag">{tag.clone()}</strong>
                    <span>{title}</span>
                    <span class="quiet">{summary.customer.clone()}</span>
                    {stands.map(|stands| view! { <span class="quiet">{stands}</span> })}
                </span>
            </A>
            {camera}
        </li>
    }
}
