//! Camera: photographing a step with one thumb.

use leptos::html::{Input, Video};
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_query_map;
use shared::log::SubjectId;
use shared::log::body::{Photo, Shows, Side};
use shared::log::fold::Summary;
use shared::trade::operations;

use super::job::{JobLife, use_job};
use crate::acts;
use crate::device::camera::{Camera as Lens, CameraState, use_camera};
use crate::device::picture::{Picture, PictureError, from_file};
use crate::device::screen::{SavedSign, use_awake};
use crate::parts::{Face, OperationChoice};
use crate::workshop::{Stored, Workshop, use_workshop};

/// The state of one visit to the camera.
#[derive(Clone, Copy)]
struct Visit {
    workshop: Workshop,
    job: Signal<Option<SubjectId>>,
    operation: RwSignal<String>,
    brought: Signal<bool>,
    /// Taken and not yet stored on the device.
    unsaved: RwSignal<u32>,
    saved: RwSignal<u32>,
    sign: SavedSign,
}

impl Visit {
    /// Stores what comes out of the darkroom, and only then says so.
    fn keep(self, developing: impl Future<Output = Result<Picture, PictureError>> + 'static) {
        let Some(job) = self.job.get_untracked() else {
            return self
                .workshop
                .complain("This photograph was not saved: its pair is not on this device.");
        };
        let brought = self.brought.get_untracked();
        let operation = (!brought).then(|| self.operation.get_untracked());
        let shows = if brought { Shows::DropOff } else { Shows::Step };
        self.unsaved.update(|count| *count += 1);
        spawn_local(async move {
            let kept = match developing.await {
                Ok(picture) => self
                    .store(job, picture, shows, operation)
                    .await
                    .map_err(|error| error.to_string()),
                Err(error) => Err(error.to_string()),
            };
            // The screen may have been left meanwhile; the photograph is stored all the same.
            self.unsaved.try_update(|count| *count -= 1);
            match kept {
                Ok(()) => {
                    self.saved.try_update(|count| *count += 1);
                    self.sign.show();
                }
                Err(why) => self
                    .workshop
                    .complain(format!("This photograph was not saved: {why}.")),
            }
        });
    }

    async fn store(
        self,
        job: SubjectId,
        picture: Picture,
        shows: Shows,
        operation: Option<String>,
    ) -> Result<(), crate::device::store::StoreError> {
        let Picture { full, thumb } = picture;
        let photo = Photo {
            operation,
            ..Photo::new(full.about.clone(), thumb.about.clone(), shows)
        };
        self.workshop
            .save(vec![acts::photo(job, photo)], vec![full, thumb])
            .await
            .map(drop)
    }

    fn step_done(self) {
        let Some(job) = self.job.get_untracked() else {
            return;
        };
        let step = acts::step(job, &self.operation.get_untracked(), Side::Both, "");
        let workshop = self.workshop;
        let noted = format!("{} noted.", operations::name(&self.operation.get_untracked()));
        workshop.save_and(vec![step], move |_| workshop.tell(noted));
    }
}

/// The camera for one job.
#[component]
pub fn Camera() -> impl IntoView {
    let found = use_job();
    let query = use_query_map();
    let lens = use_camera();
    use_awake();
    lens.start();
    let visit = Visit {
        workshop: use_workshop(),
        job: Signal::derive(move || found.get().flatten().map(|found| found.job)),
        operation: RwSignal::new(String::new()),
        brought: Signal::derive(move || query.read().get("shows").as_deref() == Some("drop_off")),
        unsaved: RwSignal::new(0),
        saved: RwSignal::new(0),
        sign: SavedSign::new(),
    };
    Effect::new(move |_| {
        if let Some(found) = found.get().flatten()
            && visit.operation.get_untracked().is_empty()
        {
            visit.operation.set(likely_next(&found));
        }
    });
    let shoot = move || match lens.shoot() {
        Ok(exposure) => visit.keep(exposure.develop()),
        Err(error) => visit.workshop.complain(error),
    };
    view! {
        <div class="camera" class:saved-flash=move || visit.sign.flashing().get()>
            <Viewfinder lens/>
            <div class="row between">
                <Counts visit/>
                <SystemCamera visit/>
            </div>
            <Show when=move || visit.brought.get() fallback=move || view! {
                <div class="row">
                    <OperationChoice label="Operation" value=visit.operation/>
                    <button class="bench" on:click=move |_| visit.step_done()>"Step done"</button>
                </div>
            }>
                <p class="row"><a class="button bench" href="/">"Done, to the Bench"</a></p>
            </Show>
            <Trigger lens found shoot/>
        </div>
    }
}

/// The first agreed operation that has no step yet, else the last one agreed.
fn likely_next(found: &JobLife) -> String {
    let Some(job) = found.state() else {
        return String::new();
    };
    let done: Vec<_> = job
        .steps
        .iter()
        .map(|step| step.body.operation.as_str())
        .collect();
    let mut agreed = job
        .agreed
        .iter()
        .filter_map(|line| line.versions.last())
        .map(|one| one.body.operation.as_str());
    let open = agreed.clone().find(|code| !done.contains(code));
    open.or(agreed.next_back())
        .unwrap_or("clean_condition_polish")
        .to_owned()
}

/// The live picture, or why there is none.
#[component]
fn Viewfinder(lens: Lens) -> impl IntoView {
    let video = NodeRef::<Video>::new();
    video.on_load(move |element| lens.attach(element));
    let trouble = move || match lens.state().get() {
        CameraState::Failed(error) => Some(view! {
            <div class="trouble" role="alert">
                <p>{error.to_string()}</p>
                <p>"Use the phone's own camera; photographs are filed just the same."</p>
                <button on:click=move |_| lens.start()>"Try again"</button>
            </div>
        }),
        _ => None,
    };
    view! {
        <div class="viewfinder">
            <video node_ref=video autoplay playsinline muted aria-label="What the camera sees"></video>
            {trouble}
        </div>
    }
}

/// How many are saved and how many are not yet: never fewer than there are.
#[component]
fn Counts(visit: Visit) -> impl IntoView {
    view! {
        <p class="counts" role="status">
            <span data-count="saved">{move || visit.saved.get()}</span>" saved"
            <Show when=move || { visit.unsaved.get() > 0 }>
                ", "<span data-count="unsaved">{move || visit.unsaved.get()}</span>" being saved"
            </Show>
        </p>
    }
}

/// The shutter: the whole lower part of the screen, with the pair's face and number on it.
#[component]
fn Trigger(lens: Lens, found: Stored<Option<JobLife>>, shoot: impl Fn() + Copy + 'static) -> impl IntoView {
    let summary = Memo::new(move |_| {
        found
            .get()
            .flatten()
            .map(|found| (found.job, Summary::of(&found.life)))
    });
    let face = Signal::derive(move || summary.get().and_then(|(_, summary)| summary.face));
    let job = Signal::derive(move || summary.get().map(|(job, _)| job));
    let tag = move || {
        let (job, summary) = summary.get()?;
        let line = summary.jobs.into_iter().find(|line| line.id == job)?;
        Some(if line.tag.is_empty() {
            summary.title
        } else {
            line.tag
        })
    };
    let name = move || tag().unwrap_or_else(|| "this pair".to_owned());
    let key = window_event_listener(leptos::ev::keydown, move |event| {
        // Space, Enter, and what Bluetooth remotes and pedals send.
        let shutter = matches!(event.key().as_str(), " " | "Enter" | "AudioVolumeUp" | "PageDown");
        let on_control = event.target().is_some_and(|target| is_control(&target));
        if shutter && !on_control && !event.repeat() {
            event.prevent_default();
            shoot();
        }
    });
    on_cleanup(move || key.remove());
    let ready = move || lens.state().get() == CameraState::Live && summary.get().is_some();
    view! {
        <button class="shutter" disabled=move || !ready() on:click=move |_| shoot()
            aria-label=move || format!("Photograph {}", name())>
            <Face of=face on=job alt=""/>
            <strong>{name}</strong>
        </button>
    }
}

/// Whether a key press belongs to the element it went to.
fn is_control(target: &web_sys::EventTarget) -> bool {
    use wasm_bindgen::JsCast;
    let element = target.dyn_ref::<web_sys::Element>();
    element.is_some_and(|element| {
        matches!(
            element.tag_name().as_str(),
            "INPUT" | "SELECT" | "TEXTAREA" | "BUTTON" | "A"
        )
    })
}

/// The way out when the page may not use the camera: the phone's own.
#[component]
fn SystemCamera(visit: Visit) -> impl IntoView {
    let input = NodeRef::<Input>::new();
    let taken = move |_| {
        let Some(element) = input.get() else { return };
        let Some(files) = element.files() else { return };
        for file in (0..files.length()).filter_map(|index| files.get(index)) {
            visit.keep(async move { from_file(&file).await });
        }
        // The same file can be chosen again.
        element.set_value("");
    };
    view! {
        <label class="file">
            "The phone's own camera"
            <input node_ref=input type="file" accept="image/*" capture="environment" multiple
                disabled=move || visit.job.get().is_none() on:change=taken/>
        </label>
    }
}
