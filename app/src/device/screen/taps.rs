//! Handles every tap on the page before any button does: the second half of a double tap reaches no button, and nothing
//! is redrawn under a finger that touches the screen.
//!
//! One rule for all buttons, links and disclosures ([`crate::taps`]), so that no screen has to care. A control that is
//! meant to be pressed repeatedly (the shutter, the steps of a number) has the attribute `data-again`.

use std::cell::{Cell, RefCell};
use std::time::Duration;

use leptos::prelude::{document, set_timeout, window};
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{AddEventListenerOptions, Element, Event, HtmlElement, MouseEvent};

use crate::taps::{ONE_PLACE_PX, ONE_TAP_MS, Tap};

/// Elements that react to taps.
const TAKES_TAPS: &str = "button, a, summary, [role=button]";
/// Elements that may be pressed repeatedly.
const AGAIN: &str = "[data-again]";

/// The browser sends the click a moment after the finger was lifted; so long the finger counts as down.
const AFTER_LIFT: Duration = Duration::from_millis(100);
/// A finger that stays down longer than this is scrolling or holding, and nothing waits for it any longer.
const LONGEST: Duration = Duration::from_millis(1_000);

type Waiting = Box<dyn FnOnce()>;

thread_local! {
    static LAST: RefCell<Option<(Tap, Element)>> = const { RefCell::new(None) };
    /// How many writes are under way that were begun by a tap.
    static WRITES: Cell<u32> = const { Cell::new(0) };
    /// The number of the touch that is down; `None` between taps.
    static DOWN: Cell<Option<u32>> = const { Cell::new(None) };
    static FINGERS: Cell<u32> = const { Cell::new(0) };
    static WAITING: RefCell<Vec<Waiting>> = const { RefCell::new(Vec::new()) };
}

/// Installs the listeners. Called once, before anything is drawn.
pub fn watch() {
    on("click", |event| {
        let Some(click) = event.dyn_ref::<MouseEvent>() else {
            return;
        };
        tapped(click);
        if click.detail() > 0 {
            // The click belongs to the touch, which is over once all listeners have handled the click.
            set_timeout(lifted, Duration::ZERO);
        }
    });
    on("pointerdown", |_| put_down());
    for event in ["pointerup", "pointercancel"] {
        on(event, |_| lift_later(AFTER_LIFT));
    }
}

/// Runs `act` now, or once no finger is down, so that a person who is about to tap something still hits it.
pub fn when_lifted(act: impl FnOnce() + 'static) {
    if DOWN.get().is_some() {
        WAITING.with_borrow_mut(|all| all.push(Box::new(act)));
    } else {
        act();
    }
}

/// A write that was begun by a tap; it counts as under way until this is dropped.
#[must_use = "dropping it says that the write is over"]
pub struct Write(());

impl Write {
    /// A write begins.
    pub fn begin() -> Self {
        WRITES.set(WRITES.get() + 1);
        Self(())
    }
}

impl Drop for Write {
    fn drop(&mut self) {
        WRITES.set(WRITES.get() - 1);
    }
}

/// Listens on the window in the capture phase, before any listener of the page.
fn on(event: &str, act: impl FnMut(Event) + 'static) {
    let listener = Closure::<dyn FnMut(Event)>::new(act);
    let first = AddEventListenerOptions::new();
    first.set_capture(true);
    first.set_passive(false);
    // It can only fail for a target that is no event target.
    drop(
        window().add_event_listener_with_callback_and_add_event_listener_options(
            event,
            listener.as_ref().unchecked_ref(),
            &first,
        ),
    );
    listener.forget();
}

/// Suppresses a click that is the second half of a double tap; remembers any other.
fn tapped(click: &MouseEvent) {
    let target = click
        .target()
        .and_then(|target| target.dyn_into::<Element>().ok());
    let Some(pressed) = target.and_then(|target| target.closest(TAKES_TAPS).ok().flatten()) else {
        return;
    };
    let Some(tap) = place(click, &pressed) else { return };
    let again = pressed.matches(AGAIN) == Ok(true);
    let echo = LAST.with_borrow(|last| {
        last.as_ref().is_some_and(|(before, element)| {
            let same = *element == pressed;
            !(again && same) && tap.echoes(before, same, WRITES.get() > 0)
        })
    });
    if echo {
        click.prevent_default();
        click.stop_immediate_propagation();
        return;
    }
    if !again {
        shield(&tap, &pressed);
    }
    LAST.set(Some((tap, pressed)));
}

/// Where and when it was. A click by a key, a screen reader or a script is placed at the middle of the element; `None`
/// for a script's click on an element that is not displayed, which no person has made.
fn place(click: &MouseEvent, pressed: &Element) -> Option<Tap> {
    let at_ms = click.time_stamp();
    if click.detail() > 0 {
        return Some(Tap {
            at_ms,
            x: f64::from(click.client_x()),
            y: f64::from(click.client_y()),
        });
    }
    let seen = pressed.get_bounding_client_rect();
    (seen.width() > 0.0 && seen.height() > 0.0).then(|| Tap {
        at_ms,
        x: seen.x() + seen.width() / 2.0,
        y: seen.y() + seen.height() / 2.0,
    })
}

/// Covers the place of a tap with an invisible element for as long as no other tap is allowed there, so that the
/// browser's own hit testing finds nothing, whatever has been drawn meanwhile.
fn shield(tap: &Tap, pressed: &Element) {
    let Ok(shield) = document()
        .create_element("div")
        .map(JsCast::unchecked_into::<HtmlElement>)
    else {
        return;
    };
    shield.set_class_name("shield");
    drop(shield.set_attribute("aria-hidden", "true"));
    let style = shield.style();
    for (name, pixels) in [
        ("left", tap.x - ONE_PLACE_PX),
        ("top", tap.y - ONE_PLACE_PX),
        ("width", 2.0 * ONE_PLACE_PX),
        ("height", 2.0 * ONE_PLACE_PX),
    ] {
        drop(style.set_property(name, &format!("{pixels}px")));
    }
    // An open modal dialog lies above everything that is not in it, so the cover must be put into it.
    let dialog = pressed.closest("dialog[open]").ok().flatten();
    let ground = dialog.or_else(|| document().body().map(Into::into));
    if let Some(ground) = ground
        && ground.append_child(&shield).is_ok()
    {
        unshield_later(shield);
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a constant of some hundred"
)]
fn unshield_later(shield: HtmlElement) {
    let away = move || {
        if WRITES.get() > 0 {
            unshield_later(shield);
        } else {
            shield.remove();
        }
    };
    set_timeout(away, Duration::from_millis(ONE_TAP_MS as u64));
}

fn put_down() {
    FINGERS.set(FINGERS.get().wrapping_add(1));
    DOWN.set(Some(FINGERS.get()));
    lift_later(LONGEST);
}

/// After this time, the touch that is down now counts as lifted.
fn lift_later(after: Duration) {
    let finger = DOWN.get();
    let lift = move || {
        // Unless another touch has begun.
        if finger.is_some() && DOWN.get() == finger {
            lifted();
        }
    };
    set_timeout(lift, after);
}

fn lifted() {
    DOWN.set(None);
    for act in WAITING.take() {
        act();
    }
}
