//! The shutter: the lower part of the screen, a key, a remote control or a pedal; at once or after three seconds.

use leptos::html::Button;
use leptos::prelude::*;
use leptos::web_sys;
use shared::log::SubjectId;

use super::naming::{described, named};
use super::run::{CameraRun, use_onward};
use super::timer::CameraTimer;
use super::visit::Visit;
use crate::device::camera::{Camera as Lens, CameraState};

/// The shutter, and beside it in a run the button that takes the last photograph of a pair and goes on.
#[component]
pub fn Trigger(lens: Lens, visit: Visit, timer: CameraTimer, run: CameraRun) -> impl IntoView {
    let button = NodeRef::<Button>::new();
    let (line, job) = (visit.line(), visit.job());
    let label = Memo::new(move |_| {
        let called = line.with(|line| {
            let (summary, line) = line.as_ref()?;
            let more = described(summary, line).unwrap_or_default();
            Some([named(summary, line), more].join(" "))
        });
        let called = called.unwrap_or_else(|| words::camera::this_pair().to_owned());
        words::camera::shutter(called.trim_end())
    });
    let ready = Memo::new(move |_| lens.state().get() == CameraState::Live && job.get().is_some());
    let shoot = move || {
        // Checked again, because timers and keys do not go through the button's disabled state.
        if ready.get_untracked() {
            match lens.shoot() {
                Ok(exposure) => visit.keep(exposure.develop()),
                Err(error) => visit.complain(error),
            }
        }
    };
    keys(move || timer.fire(shoot), button);
    // The shutter gets the focus, so that a pedal that sends Enter presses it and not the button tapped last.
    Effect::new(move |_| {
        if ready.get()
            && let Some(button) = button.get_untracked()
        {
            drop(button.focus());
        }
    });
    let counting = move || timer.left().get() > 0;
    view! {
        <div class="under-thumb">
            <button node_ref=button class="shutter" data-again="" disabled=move || !ready.get()
                on:click=move |_| timer.fire(shoot) aria-label=move || label.get()>
                <span>{words::camera::take()}</span>
                <Show when=counting><strong class="count-down" role="timer">{move || timer.left().get()}</strong></Show>
            </button>
            <Show when=move || run.is_of_several()><TakeAndGo lens visit timer run ready/></Show>
        </div>
    }
}

/// Takes a photograph, and goes to the next pair, or from the last one to the Bench, once it is saved. If it is not saved,
/// or the pair was changed meanwhile, nothing moves.
#[component]
fn TakeAndGo(
    lens: Lens,
    visit: Visit,
    timer: CameraTimer,
    run: CameraRun,
    ready: Memo<bool>,
) -> impl IntoView {
    let onward = StoredValue::new_local(use_onward(run));
    let saving = RwSignal::new(false);
    let gone_on = move |under: Option<SubjectId>| {
        saving.try_set(false);
        if let Some(job) = under
            && visit.is_at(job)
            && let Some(onward) = onward.try_get_value()
        {
            // A timer that runs was started for this pair.
            timer.stop();
            onward();
        }
    };
    let shoot = move || {
        // Checked again, as above. This button may have gone while the timer ran.
        if !ready.get_untracked() || saving.try_get_untracked() != Some(false) {
            return;
        }
        match lens.shoot() {
            Ok(exposure) => {
                saving.set(true);
                visit.keep_and(exposure.develop(), gone_on);
            }
            Err(error) => visit.complain(error),
        }
    };
    let words = move || match run.next() {
        Some(_) => words::camera::take_and_next(),
        None => words::camera::take_and_done(),
    };
    view! {
        <button class="bench quiet take-on" disabled=move || !ready.get() || saving.get()
            on:click=move |_| timer.fire(shoot)>{words}</button>
    }
}

/// Calls `fire` for Space and Enter, and for the keys that Bluetooth remotes and pedals send.
fn keys(fire: impl Fn() + 'static, shutter: NodeRef<Button>) {
    let listening = window_event_listener(leptos::ev::keydown, move |event| {
        let target = event.target();
        let to = target
            .as_ref()
            .and_then(|target| wasm_bindgen::JsCast::dyn_ref::<web_sys::Element>(target));
        let on = |tags: &[&str]| to.is_some_and(|to| tags.contains(&to.tag_name().as_str()));
        let on_shutter = shutter
            .get_untracked()
            .is_some_and(|button| to == Some(button.as_ref()));
        let meant = match event.key().as_str() {
            // Buttons and lists have no use for these keys.
            "AudioVolumeUp" | "PageDown" => !on(&["INPUT", "TEXTAREA"]),
            // Only where the focus is on the shutter or on nothing that uses these keys.
            " " | "Enter" => on_shutter || !on(&["INPUT", "TEXTAREA", "SELECT", "BUTTON", "A", "SUMMARY"]),
            _ => false,
        };
        if meant {
            event.prevent_default();
            // A key held down takes one photograph.
            if !event.repeat() {
                fire();
            }
        }
    });
    on_cleanup(move || listening.remove());
}
