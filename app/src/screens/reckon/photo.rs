//! Measuring on a photograph of the job: the corners of a card beside it, then from where to where.

use leptos::prelude::*;
use serde_json::{Map, Value, json};
use shared::log::SubjectId;
use shared::log::body::Blob;
use shared::trade::reckon::Point;
use wasm_bindgen::JsCast;
use web_sys::HtmlImageElement;

use super::keep::{Keep, Kept};
use super::{Known, said};
use crate::device::picture::use_object_url;
use crate::device::pictures::fetched;
use crate::device::store::Size;
use crate::parts::Toggle;
use crate::reckoning::{BESIDE, CORNERS, PHOTO, measure};
use crate::screens::job::pair_head;
use crate::shop::use_shop;
use crate::workshop::use_stored;

/// The latest photograph first; taps on it, and what they come to.
#[component]
pub(super) fn OnPhoto(known: Known, job: SubjectId, operation: Memo<String>) -> impl IntoView {
    let shop = use_shop();
    let photos = Memo::new(move |_| {
        known
            .with(|known| known.as_ref().map(photos_of))
            .unwrap_or_default()
    });
    // Counted from the latest.
    let (which, beside) = (RwSignal::new(0_usize), RwSignal::new(0_usize));
    let taps = RwSignal::new(Vec::<Tap>::new());
    let points = move || taps.with(|taps| taps.iter().map(|tap| tap.pixel).collect::<Vec<_>>());
    let answer = Memo::new(move |_| {
        let points = points();
        measure(&BESIDE[beside.get()], &points, shop.lengths()).map_err(|refused| refused.to_string())
    });
    let keep = Callback::new(move |()| {
        let answer = answer.get_untracked().ok()?;
        let points = untrack(points);
        (points.len() > CORNERS + 1).then(|| Kept {
            what: PHOTO,
            say: answer.say,
            given: given(
                BESIDE[beside.get_untracked()].word,
                &points,
                photos.with_untracked(|all| all.get(which.get_untracked()).cloned()),
            ),
        })
    });
    let earlier = move |_| {
        let count = photos.with_untracked(Vec::len).max(1);
        which.update(|which| *which = (*which + 1) % count);
        taps.set(Vec::new());
    };
    let take_back = move |_| {
        taps.update(|taps| {
            taps.pop();
        });
    };
    let beside_chips = BESIDE.iter().enumerate().map(|(at, one)| {
        let on = Signal::derive(move || beside.get() == at);
        view! { <Toggle label=one.words on press=Callback::new(move |()| beside.set(at))/> }
    });
    view! {
        {move || known.get().map(|found| pair_head("On a photograph", &found))}
        {move || said(answer.get())}
        <div class="chips" role="group" aria-label="What lies beside it"><span>"Beside it lies:"</span>{beside_chips.collect_view()}</div>
        <Picture job photos which taps/>
        <p class="row">
            <button class="bench quiet" on:click=take_back>"Take the last point back"</button>
            <button class="bench quiet" on:click=earlier>"Another photograph"</button>
        </p>
        <Keep known job operation keep/>
    }
}

/// A tap: where in the picture, in its own pixels, and where on the screen, in per cent of its size.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Tap {
    pixel: Point,
    percent: Point,
}

/// The photograph with a mark at every tap.
#[component]
fn Picture(
    job: SubjectId,
    photos: Memo<Vec<Blob>>,
    which: RwSignal<usize>,
    taps: RwSignal<Vec<Tap>>,
) -> impl IntoView {
    let bytes = use_stored(move |phone| {
        let wanted = photos.with(|all| all.get(which.get()).cloned());
        async move {
            match wanted {
                Some(blob) => fetched(&phone, &blob.sha256, job, Size::Full).await,
                None => Ok(None),
            }
        }
    });
    let address = use_object_url(move || Some((bytes.get().flatten()?, "image/jpeg".to_owned())));
    let tap = move |event: web_sys::MouseEvent| {
        let target = event
            .target()
            .and_then(|target| target.dyn_into::<HtmlImageElement>().ok());
        let Some(image) = target else { return };
        let share = |at: i32, of: i32| f64::from(at) / f64::from(of.max(1));
        let at = [
            share(event.offset_x(), image.client_width()),
            share(event.offset_y(), image.client_height()),
        ];
        let size = [
            f64::from(image.natural_width()),
            f64::from(image.natural_height()),
        ];
        taps.update(|taps| {
            taps.push(Tap {
                pixel: [at[0] * size[0], at[1] * size[1]],
                percent: [at[0] * 100.0, at[1] * 100.0],
            });
        });
    };
    let marks = move || {
        let marks = taps.get().into_iter().enumerate().map(|(n, tap)| {
            let [x, y] = tap.percent.map(|part| format!("{part}%"));
            view! { <span class="tapped" style=("left", x) style=("top", y)>{n + 1}</span> }
        });
        marks.collect_view()
    };
    view! {
        <div class="measured-photo">
            {move || match address.get() {
                Some(address) => view! { <img src=address alt="Tap on it to measure" on:click=tap/> }.into_any(),
                None => view! { <p>"Take a photograph first, with a card lying flat beside what is measured."</p> }.into_any(),
            }}
            {marks}
        </div>
    }
}

/// The full pictures of the job, the latest first.
fn photos_of(known: &crate::screens::job::JobLife) -> Vec<Blob> {
    let photos = known.state().into_iter().flat_map(|job| job.photos.iter().rev());
    photos.map(|item| item.body.full.clone()).collect()
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
