//! The drawings of a shoe taken apart. Every part has an area of its own for a thumb.

use leptos::ev::KeyboardEvent;
use leptos::html::Div;
use leptos::prelude::*;
use shared::trade::component::{Component, PartView};
use wasm_bindgen::JsCast;
use web_sys::{Element, EventTarget};

use crate::device::drawings::Drawings;

/// The name of a view's drawing, which is 358 units wide so that a unit is about a pixel on a phone; and what it shows, for
/// screen readers.
fn drawing_of(view: PartView) -> (&'static str, &'static str) {
    match view {
        PartView::Side => ("apart_side", words::open_up::shoe_from_the_side()),
        PartView::Below => ("apart_below", words::open_up::sole_and_heel_from_below()),
        PartView::Between => ("apart_between", words::open_up::layers_of_the_sole()),
        PartView::Inside => ("apart_inside", words::open_up::shoe_inside_and_fastenings()),
    }
}

/// What is shown of the parts. Cheap to copy.
#[derive(Clone, Copy)]
struct Shown {
    /// The part that is being asked about.
    chosen: RwSignal<Option<Component>>,
    /// The parts about which something is noted.
    noted: Signal<Vec<Component>>,
    /// The suffix of the accessible name of a noted part.
    mark: &'static str,
}

/// The views of a shoe, beside each other; on a phone they are swiped. Parts in `noted` are marked, and their accessible
/// names say so.
#[component]
pub(in crate::screens) fn ShoeTakenApart(
    /// The part that is being asked about.
    chosen: RwSignal<Option<Component>>,
    /// The parts about which something is noted.
    noted: Signal<Vec<Component>>,
    /// The suffix of the accessible name of a noted part.
    mark: &'static str,
) -> impl IntoView {
    let shown = Shown { chosen, noted, mark };
    let views = PartView::ALL.map(|view| view! { <View view shown/> });
    view! { <div class="drawings">{views}</div> }
}

#[component]
fn View(view: PartView, shown: Shown) -> impl IntoView {
    let drawings: Drawings = expect_context();
    let (name, says) = drawing_of(view);
    let svg = Memo::new(move |_| drawings.named(name));
    let place = NodeRef::<Div>::new();
    Effect::new(move |_| {
        if let Some(place) = place.get().filter(|_| svg.with(Option::is_some)) {
            mark_parts(&place, view, shown);
        }
    });
    let choose = move |target: Option<EventTarget>| {
        let part = target.and_then(tapped_part);
        let known = part.is_some();
        if known {
            shown.chosen.set(part);
        }
        known
    };
    let key = move |event: KeyboardEvent| {
        if matches!(event.key().as_str(), "Enter" | " ") && choose(event.target()) {
            event.prevent_default();
        }
    };
    let tap = move |event: leptos::ev::MouseEvent| {
        choose(event.target());
    };
    view! {
        <div class="drawing parts" role="group" aria-label=says node_ref=place on:click=tap on:keydown=key
            inner_html=move || svg.get().unwrap_or_default()></div>
    }
}

/// The part whose area holds this element.
fn tapped_part(target: EventTarget) -> Option<Component> {
    let area = target.dyn_into::<Element>().ok()?.closest("[data-part]").ok()??;
    area.get_attribute("data-part")
        .map(|code| Component::from(code.as_str()))
}

/// Writes into a drawing which parts are chosen and noted, and makes the parts of its view buttons: others are drawn in it
/// too, and a tap finds them, but each name stands on the page once.
fn mark_parts(drawing: &Element, view: PartView, shown: Shown) {
    let noted = shown.noted.get();
    let chosen = shown.chosen.get();
    for part in Component::KNOWN {
        let (is_noted, is_chosen) = (noted.contains(part), chosen.as_ref() == Some(part));
        let shape_of = format!(".p[data-part={}]", part.as_str());
        let found = |selector: &str| drawing.query_selector(selector).ok().flatten();
        let shape = found(&shape_of);
        // Where the shape is too small for a thumb, a larger invisible area lies over it. One that lies below it takes taps
        // too, but then the shape is the button.
        let area = found(&format!("{shape_of} ~ .t[data-part={}]", part.as_str()));
        if let Some(shape) = &shape {
            let classes = shape.class_list();
            drop(classes.toggle_with_force("noted", is_noted));
            drop(classes.toggle_with_force("chosen", is_chosen));
        }
        if let Some(button) = area.or(shape).filter(|_| part.view() == Some(view)) {
            let label = match is_noted {
                true => words::open_up::marked_part(part.words(), shown.mark),
                false => part.words().to_owned(),
            };
            for (name, value) in [
                ("role", "button"),
                ("tabindex", "0"),
                ("aria-label", &label),
                ("aria-pressed", if is_chosen { "true" } else { "false" }),
            ] {
                drop(button.set_attribute(name, value));
            }
        }
    }
}
