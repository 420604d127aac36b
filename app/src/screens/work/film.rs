//! The steps so far as a strip of photographs, which is read at a glance.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Step;
use shared::log::fold::{Item, JobState};
use shared::trade::operations;

use super::{WorkJob, state_of};
use crate::parts::{Drawing, Photograph};

/// The drawing of a station for work that has none.
const OTHER: &str = "other";

/// A photograph of each step, in the order in which they were done; a tap shows it in full. A step without one is the drawing
/// of its station. Nothing while no step is done.
#[component]
pub fn Film(known: WorkJob) -> impl IntoView {
    move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        let frames = state.steps.iter().map(|step| frame(job, state, step));
        let frames: Vec<AnyView> = frames.collect();
        // It can be scrolled, also with the keyboard.
        (!frames.is_empty()).then(|| {
            view! { <ol class="plain film" tabindex="0" aria-label=words::work::steps_so_far()>{frames}</ol> }
        })
    }
}

fn frame(job: SubjectId, state: &JobState, step: &Item<Step>) -> AnyView {
    let work = &step.body.operation;
    // The short name: the whole one stands with the step's details.
    let name = [operations::tile_name(work), step.body.side.after()].concat();
    let of_it = || {
        let photos = state.photos.iter();
        photos.filter(move |photo| photo.body.operation.as_ref() == Some(work))
    };
    // The latest one taken before the step was noted; some are taken only after that.
    let photo = of_it()
        .rfind(|photo| photo.at.utc <= step.at.utc)
        .or_else(|| of_it().next());
    match photo {
        Some(photo) => view! { <li><Photograph photo=photo.body.clone() job caption=name/></li> }.into_any(),
        None => {
            let station = operations::operation(work).map_or(OTHER, |known| known.station.as_str());
            let drawing = format!("station_{station}");
            view! { <li><span class="frame"><Drawing name=drawing/></span><span class="step">{name}</span></li> }.into_any()
        }
    }
}
