//! Comparing two colours in one photograph: the wanted one and the mixed one, with a white card beside them as the
//! reference.

use leptos::prelude::*;
use serde_json::Value;
use shared::log::SubjectId;
use web_sys::HtmlImageElement;

use super::keep::{Keep, KeptCalculation};
use super::kept::last;
use super::picture::{Back, Picture, PictureTap, photos_of};
use super::{CalcJob, said};
use crate::device::picture::spot;
use crate::parts::Typed;
use crate::screens::job::pair_head;
use crate::session::use_session;
use app_core::calc::{COMPARE, USUAL_WHITE, called, compare, compared, number};

/// The taps needed: on the wanted colour, on the mixed one, and on the card.
const SPOTS: usize = 3;

/// The form for three taps on a photograph, and the result.
#[component]
pub(super) fn Compare(known: CalcJob, job: SubjectId, operation: Memo<String>) -> impl IntoView {
    let session = use_session();
    let photos = Memo::new(move |_| {
        known
            .with(|known| known.as_ref().map(photos_of))
            .unwrap_or_default()
    });
    let which = RwSignal::new(0_usize);
    let taps = RwSignal::new(Vec::<PictureTap>::new());
    let colours = RwSignal::new(Vec::<[f64; 3]>::new());
    let white = RwSignal::new(card(known, &operation.get_untracked()).to_string());
    let percent = move || number(&white.get()).unwrap_or(f64::NAN);
    // When a tap is taken back, its colour goes too.
    let spots = Memo::new(move |_| {
        let count = taps.with(Vec::len);
        colours.with(|all| all.iter().take(count).copied().collect::<Vec<_>>())
    });
    let answer = Memo::new(move |_| compare(&spots.get(), percent()).map_err(|refused| refused.to_string()));
    let on_tap = move |tap: PictureTap, image: &HtmlImageElement| match spot(image, tap.pixel) {
        Ok(colour) => {
            let at = taps.with_untracked(Vec::len).min(SPOTS - 1);
            colours.update(|all| {
                all.truncate(at);
                all.push(colour);
            });
            taps.update(|taps| {
                taps.truncate(at);
                taps.push(tap);
            });
        }
        Err(error) => session.complain(error),
    };
    let offered = Signal::derive(move || spots.with(Vec::len) > 1 && answer.with(Result::is_ok));
    let keep = Callback::new(move |()| {
        let say = answer.get_untracked().ok()?.say;
        let spots = spots.get_untracked();
        let photo =
            photos.with_untracked(|all| all.get(which.get_untracked()).map(|blob| blob.sha256.clone()));
        (spots.len() > 1).then(|| KeptCalculation {
            what: COMPARE,
            say,
            given: compared(&spots, untrack(percent), photo.as_deref()),
        })
    });
    view! {
        {move || known.get().map(|found| pair_head(called(COMPARE), &found))}
        {move || said(answer.get())}
        <div class="swatches" aria-hidden="true">{move || spots.get().into_iter().map(swatch).collect_view()}</div>
        <Picture job photos which taps on_tap alt=words::calc_screens::tap_to_compare()
            none=words::calc_screens::photograph_colours_first()/>
        <Back photos which taps/>
        <Typed label=words::calc_screens::white_card_light() value=white.into() inputmode="decimal" typed=Callback::new(move |text| white.set(text))/>
        <p class="quiet">{words::calc_screens::white_card_advice()}</p>
        <Keep known job operation keep offered/>
    }
}

/// The reflectance of the card used last on this pair, else of a usual one, in per cent.
fn card(known: CalcJob, operation: &str) -> f64 {
    let kept = known.with_untracked(|known| known.as_ref().and_then(|known| last(known, COMPARE, operation)));
    kept.and_then(|kept| kept.given.get("white_percent").and_then(Value::as_f64))
        .unwrap_or(USUAL_WHITE)
}

/// A patch of a tapped colour, as it is in the picture.
fn swatch([r, g, b]: [f64; 3]) -> impl IntoView {
    let colour = format!("rgb({r:.0} {g:.0} {b:.0})");
    view! { <span style=("background", colour)></span> }
}
