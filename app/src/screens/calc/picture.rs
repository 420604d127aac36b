//! A photograph of the job on which points are tapped.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Blob;
use shared::trade::formulas::Point;
use wasm_bindgen::JsCast;
use web_sys::HtmlImageElement;

use crate::device::picture::use_object_url;
use crate::device::pictures::fetched;
use crate::screens::job::JobLife;
use crate::session::use_live_query;
use app_core::store::Size;

/// A tapped point: in pixels of the picture, and in per cent of its displayed size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PictureTap {
    pub(super) pixel: Point,
    percent: Point,
}

/// The photograph with a mark at every tapped point.
#[component]
pub(super) fn Picture(
    job: SubjectId,
    photos: Memo<Vec<Blob>>,
    /// Which photograph, counted from the latest.
    which: RwSignal<usize>,
    taps: RwSignal<Vec<PictureTap>>,
    /// Called with each tap and the image.
    on_tap: impl Fn(PictureTap, &HtmlImageElement) + Copy + Send + 'static,
    /// The alternative text: what to do with the picture.
    alt: &'static str,
    /// The text shown if there is no photograph.
    none: &'static str,
) -> impl IntoView {
    let bytes = use_live_query(move |phone| {
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
        let tap = PictureTap {
            pixel: [at[0] * size[0], at[1] * size[1]],
            percent: [at[0] * 100.0, at[1] * 100.0],
        };
        on_tap(tap, &image);
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
                Some(address) => view! { <img src=address alt=alt on:click=tap/> }.into_any(),
                None => view! { <p>{none}</p> }.into_any(),
            }}
            {marks}
        </div>
    }
}

/// A button that removes the last tap, and one that shows the photograph before.
#[component]
pub(super) fn Back(
    photos: Memo<Vec<Blob>>,
    which: RwSignal<usize>,
    taps: RwSignal<Vec<PictureTap>>,
) -> impl IntoView {
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
    view! {
        <p class="row">
            <button class="bench quiet" on:click=take_back>{words::calc_screens::undo_last_point()}</button>
            <button class="bench quiet" on:click=earlier>{words::calc_screens::another_photograph()}</button>
        </p>
    }
}

/// The full pictures of the job, the latest first.
pub(super) fn photos_of(known: &JobLife) -> Vec<Blob> {
    let photos = known.state().into_iter().flat_map(|job| job.photos.iter().rev());
    photos.map(|item| item.body.full.clone()).collect()
}
