//! The top of the screen: the pair's picture, its number, and when it is wanted.

use leptos::prelude::*;
use shared::log::fold::{JobState, Summary};

use super::WorkJob;
use crate::parts::{BackLink, WideFace, promised_for};
use crate::screens::job::JobLife;
use app_core::pair_history::face_shot;

/// The picture with the number on a tag; below it the name, the owner and the day, linking to the pair's page.
#[component]
pub fn WorkHead(known: WorkJob) -> impl IntoView {
    let shot = Memo::new(move |_| known.with(|known| face_shot(&known.as_ref()?.life)));
    let goods = Memo::new(move |_| {
        let goods = known.with(|known| known.as_ref()?.life.pair.goods_code().map(str::to_owned));
        goods.unwrap_or_default()
    });
    let pair = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.life.id)));
    let tag = Memo::new(move |_| known.with(|known| known.as_ref().map(tag_of)).unwrap_or_default());
    view! {
        <header class="work-head">
            <BackLink/>
            <a class="life" href=move || pair.get().map(|pair| format!("/pair/{pair}"))>
                <WideFace shot goods alt=""/>
                {move || known.get().map(|found| whose(&found))}
            </a>
            <h1><span class="unseen">{words::work::screen_name()}" "</span><strong class="tag">{move || tag.get()}</strong></h1>
        </header>
    }
}

/// The number that hangs on the pair; empty if it has none.
fn tag_of(found: &JobLife) -> String {
    let tag = found.state().and_then(JobState::tag);
    tag.unwrap_or_default().to_owned()
}

fn whose(found: &JobLife) -> AnyView {
    let summary = Summary::of(&found.life);
    let day = summary
        .jobs
        .iter()
        .find(|line| line.id == found.job)
        .and_then(promised_for);
    let owner = [summary.customer.as_str(), &summary.phone].join(" ");
    view! {
        <span class="who">
            <span><strong>{summary.name().to_owned()}</strong>" "<span class="quiet">{owner}</span></span>
            <span><span class="quiet">{day}</span>" "<span class="to">{words::records::history()}</span></span>
        </span>
    }
    .into_any()
}
