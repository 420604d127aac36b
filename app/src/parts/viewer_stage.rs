//! The photograph in the dialog: enlarged with two fingers or a button, moved with one, and turned to its neighbors.

use leptos::html::Div;
use leptos::prelude::*;
use leptos::web_sys::PointerEvent;

use super::viewer::Viewer;
use crate::zoom::{CLOSEST, CloseLook, Extent, FramePoint, Onward, STEP, TAP_PX, WHOLE};

/// The share of the frame by which an arrow key moves an enlarged picture.
const KEY_SHARE: f64 = 0.25;

/// A finger on the picture, or the pressed button of a mouse.
struct Finger {
    /// Its number, from the browser.
    id: i32,
    /// Where it was put down.
    begun: FramePoint,
    /// Where it is now.
    at: FramePoint,
}

/// What the fingers do.
#[derive(Default)]
struct Fingers {
    down: Vec<Finger>,
    /// Whether two were down since there was none: lifting them then turns to no other photograph.
    pinched: bool,
}

/// How the photograph is seen now. Cheap to copy; ends with the reactive owner that made it.
#[derive(Clone, Copy)]
pub struct PhotographStage {
    viewer: Viewer,
    frame: NodeRef<Div>,
    look: RwSignal<CloseLook>,
    /// How far a finger has drawn a picture that is seen whole to the right.
    drawn: RwSignal<f64>,
    /// Whether a finger is down.
    held: RwSignal<bool>,
    fingers: StoredValue<Fingers>,
}

impl PhotographStage {
    /// Each photograph is seen whole at first.
    pub fn new(viewer: Viewer) -> Self {
        let stage = Self {
            viewer,
            frame: NodeRef::new(),
            look: RwSignal::new(WHOLE),
            drawn: RwSignal::new(0.0),
            held: RwSignal::new(false),
            fingers: StoredValue::new(Fingers::default()),
        };
        Effect::new(move |_| {
            drop(viewer.looked());
            stage.look.set(WHOLE);
            stage.rest();
        });
        stage
    }

    /// Whether the photograph is seen whole.
    pub fn is_whole(self) -> bool {
        self.look.with(|look| look.is_whole())
    }

    /// Whether it cannot be looked at closer.
    pub fn is_closest(self) -> bool {
        self.look.with(|look| look.zoom >= CLOSEST)
    }

    /// Looks one step closer, at the middle.
    pub fn closer(self) {
        self.zoom(STEP);
    }

    /// Looks from one step farther.
    pub fn farther(self) {
        self.zoom(1.0 / STEP);
    }

    /// What an arrow key does: turns to a neighbor, or moves an enlarged picture so that more of that side is seen.
    /// `right` and `down` are -1, 0 or 1.
    pub fn arrow(self, right: f64, down: f64) {
        if !self.look.get_untracked().is_whole() {
            let frame = self.sizes().map(|(_, frame)| frame).unwrap_or_default();
            self.pan(FramePoint {
                x: -right * KEY_SHARE * frame.width,
                y: -down * KEY_SHARE * frame.height,
            });
        } else if right < 0.0 {
            self.viewer.turn(Onward::Previous);
        } else if right > 0.0 {
            self.viewer.turn(Onward::Next);
        }
    }

    fn zoom(self, factor: f64) {
        if let Some((picture, frame)) = self.sizes() {
            let about = FramePoint::default();
            self.look
                .update(|look| *look = look.zoomed(factor, about, picture, frame));
        }
    }

    fn pan(self, way: FramePoint) {
        if let Some((picture, frame)) = self.sizes() {
            self.look.update(|look| *look = look.moved(way, picture, frame));
        }
    }

    /// The size of the picture when it is seen whole, and that of its frame.
    fn sizes(self) -> Option<(Extent, Extent)> {
        let frame = self.frame.get_untracked()?;
        let looked = untrack(|| self.viewer.looked())?;
        let frame = Extent {
            width: f64::from(frame.client_width()),
            height: f64::from(frame.client_height()),
        };
        let picture = Extent {
            width: f64::from(looked.full.width),
            height: f64::from(looked.full.height),
        };
        Some((picture.fitted(frame), frame))
    }

    /// Where a finger is.
    fn place(self, event: &PointerEvent) -> Option<FramePoint> {
        let frame = self.frame.get_untracked()?.get_bounding_client_rect();
        Some(FramePoint {
            x: f64::from(event.client_x()) - frame.x() - frame.width() / 2.0,
            y: f64::from(event.client_y()) - frame.y() - frame.height() / 2.0,
        })
    }

    fn press(self, event: &PointerEvent) {
        let (Some(at), Some(frame)) = (self.place(event), self.frame.get_untracked()) else {
            return;
        };
        if event.button() != 0 {
            return;
        }
        let id = event.pointer_id();
        // So that it is followed beyond the edge. A browser that refuses loses it there.
        drop(frame.set_pointer_capture(id));
        self.fingers.update_value(|fingers| {
            fingers.down.push(Finger { id, begun: at, at });
            fingers.pinched |= fingers.down.len() > 1;
        });
        self.drawn.set(0.0);
        self.held.set(true);
    }

    fn follow(self, event: &PointerEvent) {
        let (Some(at), id) = (self.place(event), event.pointer_id()) else {
            return;
        };
        let moved = self.fingers.try_update_value(|fingers| {
            let other = fingers.down.iter().find(|one| one.id != id).map(|one| one.at);
            let pinched = fingers.pinched;
            let finger = fingers.down.iter_mut().find(|one| one.id == id)?;
            let before = std::mem::replace(&mut finger.at, at);
            Some((before, finger.begun, other, pinched))
        });
        let Some((before, begun, other, pinched)) = moved.flatten() else {
            return;
        };
        if let Some(other) = other {
            self.pinch(before, at, other);
        } else if !self.look.get_untracked().is_whole() {
            self.pan(between(before, at));
        } else if !pinched {
            self.drawn.set(at.x - begun.x);
        }
    }

    /// One finger moved and the other did not: what was between them stays between them.
    fn pinch(self, before: FramePoint, at: FramePoint, other: FramePoint) {
        let Some((picture, frame)) = self.sizes() else {
            return;
        };
        let factor = at.distance(other) / before.distance(other).max(1.0);
        let (from, to) = (before.halfway(other), at.halfway(other));
        self.look.update(|look| {
            let closer = look.zoomed(factor, from, picture, frame);
            *look = closer.moved(between(from, to), picture, frame);
        });
    }

    fn lift(self, event: &PointerEvent) {
        let id = event.pointer_id();
        let lifted = self.fingers.try_update_value(|fingers| {
            let at = fingers.down.iter().position(|one| one.id == id)?;
            let finger = fingers.down.remove(at);
            fingers.down.is_empty().then_some((finger, fingers.pinched))
        });
        let Some((finger, pinched)) = lifted.flatten() else {
            return;
        };
        self.rest();
        if pinched {
            return;
        }
        let way = between(finger.begun, finger.at);
        if self.look.get_untracked().is_whole() {
            if let Some(onward) = Onward::swiped(way) {
                self.viewer.turn(onward);
            }
        } else if finger.begun.distance(finger.at) < TAP_PX {
            // A tap does what drawing does: the place tapped comes to the middle.
            self.pan(between(finger.at, FramePoint::default()));
        }
    }

    /// No finger is down, or none counts any more.
    fn rest(self) {
        self.fingers.set_value(Fingers::default());
        self.drawn.set(0.0);
        self.held.set(false);
    }

    fn transform(self) -> String {
        let CloseLook { zoom, middle } = self.look.get();
        let (x, y) = (middle.x + self.drawn.get(), middle.y);
        format!("translate({x}px, {y}px) scale({zoom})")
    }

    /// The frame, with what is shown in it.
    pub fn view(self, shown: impl IntoView + 'static) -> impl IntoView {
        view! {
            <div class="stage" class:held=move || self.held.get() node_ref=self.frame
                on:pointerdown=move |event| self.press(&event) on:pointermove=move |event| self.follow(&event)
                on:pointerup=move |event| self.lift(&event) on:pointercancel=move |_| self.rest()>
                <div class="close-look" style=("transform", move || self.transform())>{shown}</div>
            </div>
        }
    }
}

/// The way from one place to another.
fn between(from: FramePoint, to: FramePoint) -> FramePoint {
    FramePoint {
        x: to.x - from.x,
        y: to.y - from.y,
    }
}
