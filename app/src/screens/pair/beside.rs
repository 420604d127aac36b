//! Last time beside this time.

use leptos::prelude::*;
use shared::log::fold::PairHistory;

use super::fitted::the_day;
use crate::parts::Face;
use app_core::pair_history::{PairPhoto, caption, last_and_this_time, shots};

/// A photograph of the last job and one of this job, side by side, linking to where any two photographs are compared; for a
/// pair that was here once, the link alone. Nothing if there are not two photographs.
pub(super) fn beside(life: &PairHistory) -> AnyView {
    let compare = format!("/pair/{}/compare", life.id);
    let label = words::pair::compare_photographs();
    match last_and_this_time(life) {
        Some(both) => {
            let both = both.map(picture);
            view! { <a class="beside" href=compare>{both} <span class="to">{label}</span></a> }.into_any()
        }
        None if shots(life).len() > 1 => {
            view! { <a class="button bench quiet" href=compare>{label}</a> }.into_any()
        }
        None => ().into_any(),
    }
}

/// A photograph; below it what it shows, and when it was taken.
fn picture(shot: PairPhoto) -> AnyView {
    let said = words::pair::photographed_on(caption(&shot.photo), &the_day(shot.at));
    view! { <span class="one"><Face of=Some(shot.photo.thumb.sha256) on=Some(shot.job) alt=""/><span class="quiet">{said}" "</span></span> }
        .into_any()
}
