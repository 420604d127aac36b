//! Measuring on a photograph of the job: first the four corners of a card beside the object, then two points.

use leptos::prelude::*;
use serde_json::{Map, Value, json};
use shared::log::SubjectId;
use shared::log::body::Blob;
use shared::trade::formulas::Point;

use super::keep::{Keep, KeptCalculation};
use super::picture::{Back, Picture, PictureTap, photos_of};
use super::{CalcJob, said};
use crate::parts::Toggle;
use crate::screens::job::pair_head;
use crate::shop::use_shop;
use app_core::calc::{BESIDE, CORNERS, PHOTO, called, measure};

/// The form: a photograph, the taps on it, and the result.
#[component]
pub(super) fn OnPhoto(known: CalcJob, job: SubjectId, operation: Memo<String>) -> impl IntoView {
    let shop = use_shop();
    let photos = Memo::new(move |_| {
        known
            .with(|known| known.as_ref().map(photos_of))
            .unwrap_or_default()
    });
    // Indices of photographs, counted from the latest.
    let (which, beside) = (RwSignal::new(0_usize), RwSignal::new(0_usize));
    let taps = RwSignal::new(Vec::<PictureTap>::new());
    let points = move || taps.with(|taps| taps.iter().map(|tap| tap.pixel).collect::<Vec<_>>());
    let answer = Memo::new(move |_| {
        let points = points();
        measure(&BESIDE[beside.get()], &points, shop.lengths()).map_err(|refused| refused.to_string())
    });
    let offered = Signal::derive(move || taps.with(Vec::len) > CORNERS + 1 && answer.with(Result::is_ok));
    let keep = Callback::new(move |()| {
        let answer = answer.get_untracked().ok()?;
        let points = untrack(points);
        (points.len() > CORNERS + 1).then(|| KeptCalculation {
            what: PHOTO,
            say: answer.say,
            given: given(
                BESIDE[beside.get_untracked()].word,
                &points,
                photos.with_untracked(|all| all.get(which.get_untracked()).cloned()),
            ),
        })
    });
    let beside_chips = BESIDE.iter().enumerate().map(|(at, one)| {
        let on = Signal::derive(move || beside.get() == at);
        view! { <Toggle label=one.words() on press=Callback::new(move |()| beside.set(at))/> }
    });
    view! {
        {move || known.get().map(|found| pair_head(called(PHOTO), &found))}
        {move || said(answer.get())}
        <div class="chips" role="group" aria-label=words::calc_screens::what_lies_beside()><span>{words::calc_screens::beside_it_lies()}</span>{beside_chips.collect_view()}</div>
        <Picture job photos which taps on_tap=move |tap, _| taps.update(|taps| taps.push(tap))
            alt=words::calc_screens::tap_to_measure() none=words::calc_screens::photograph_card_first()/>
        <Back photos which taps/>
        <Keep known job operation keep offered/>
    }
}

fn given(beside: &str, points: &[Point], photo: Option<Blob>) -> Map<String, Value> {
    let photo = photo.map(|blob| blob.sha256);
    let fields = [
        ("beside", json!(beside)),
        ("taps_px", json!(points)),
        ("photo", json!(photo)),
    ];
    fields
        .into_iter()
        .map(|(name, value)| (name.to_owned(), value))
        .collect()
}
