//! Event listeners that end with their owner.

use leptos::prelude::{LocalStorage, StoredValue, document};
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Event, EventTarget, VisibilityState};

/// An event listener; dropping it stops listening.
pub(crate) struct Listener {
    target: EventTarget,
    event: &'static str,
    callback: Closure<dyn FnMut(Event)>,
}

impl Listener {
    /// Listens to `event` on `target`.
    #[must_use = "dropping a listener stops it"]
    pub(crate) fn on(target: &EventTarget, event: &'static str, act: impl FnMut(Event) + 'static) -> Self {
        let callback = Closure::<dyn FnMut(Event)>::new(act);
        // It can only fail for a target that is no event target, which the types rule out.
        drop(target.add_event_listener_with_callback(event, callback.as_ref().unchecked_ref()));
        Self {
            target: target.clone(),
            event,
            callback,
        }
    }

    /// Listens to the page coming into view or going out of view; `act` is told which.
    #[must_use = "dropping a listener stops it"]
    pub(crate) fn on_view(mut act: impl FnMut(PageVisibility) + 'static) -> Self {
        Self::on(&document(), "visibilitychange", move |_| {
            act(PageVisibility::now())
        })
    }

    /// Hands the listener to the current reactive owner: it is removed when that owner is disposed of.
    pub(crate) fn keep(self) {
        StoredValue::<_, LocalStorage>::new_local(self);
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        let callback = self.callback.as_ref().unchecked_ref();
        drop(
            self.target
                .remove_event_listener_with_callback(self.event, callback),
        );
    }
}

/// Whether anybody can see the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum PageVisibility {
    /// In view.
    Seen,
    /// Not in view: in the background, or the screen is off.
    Hidden,
}

impl PageVisibility {
    /// Whether it is in view now.
    pub(crate) fn now() -> Self {
        match document().visibility_state() {
            VisibilityState::Visible => Self::Seen,
            _ => Self::Hidden,
        }
    }
}
