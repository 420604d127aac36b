//! The drawings of a shoe. Every part that can be tapped is a simple shape, large enough for a thumb.

use leptos::prelude::*;
use shared::trade::component::{Component, Drawing as Which};

/// A part on a drawing: its outline, and the middle of its label, in the drawing's units.
struct Shape {
    part: Component,
    outline: &'static str,
    at: (u16, u16),
    /// How many of the label's last words stand on a second line, because one line is too short for all.
    second: usize,
}

const fn shape(part: Component, outline: &'static str, at: (u16, u16)) -> Shape {
    two_lines(part, outline, at, 0)
}

const fn two_lines(part: Component, outline: &'static str, at: (u16, u16), second: usize) -> Shape {
    Shape {
        part,
        outline,
        at,
        second,
    }
}

/// One drawing.
pub(in crate::screens) struct Drawing {
    which: Which,
    view_box: &'static str,
    /// What is drawn but cannot be tapped.
    ground: &'static str,
    shapes: &'static [Shape],
}

/// An ankle boot from the side, the toe to the left. 400 units wide: 1 unit is about a CSS pixel on a phone.
pub(in crate::screens) static SIDE: Drawing = Drawing {
    which: Which::Side,
    view_box: "0 0 400 346",
    ground: "M14 288H390V306H306L300 336H22Q8 336 8 318Q8 296 14 288Z M312 306H390V336H308Z",
    shapes: &[
        shape(Component::Puff, "M16 284C12 242 38 214 88 206L98 284Z", (60, 256)),
        shape(
            Component::Vamp,
            "M92 206C132 200 156 184 172 162L222 216V284H102Z",
            (160, 246),
        ),
        shape(
            Component::Tongue,
            "M172 158L164 66Q190 46 220 52V152L198 184Z",
            (193, 116),
        ),
        shape(
            Component::Facing,
            "M224 52L274 56V212H228L202 188L224 154Z",
            (249, 186),
        ),
        shape(
            Component::Eyelet,
            "M223 108A26 26 0 1 1 275 108A26 26 0 1 1 223 108Z",
            (249, 112),
        ),
        shape(Component::Topline, "M278 56L328 58V108H278Z", (303, 86)),
        two_lines(Component::HeelGrip, "M332 58L384 62V108H332Z", (358, 80), 1),
        shape(Component::Quarter, "M278 112H318V284H226V216H278Z", (274, 252)),
        shape(Component::Backseam, "M322 112H390L392 192H322Z", (357, 156)),
        shape(
            Component::Counter,
            "M322 196H386C394 230 392 262 390 284H322Z",
            (356, 246),
        ),
    ],
};

/// Sole and heel taken apart, from the foot at the top to the ground.
pub(in crate::screens) static BELOW: Drawing = Drawing {
    which: Which::HeelAndSole,
    view_box: "0 0 400 452",
    ground: "M150 30V440M338 30V440",
    shapes: &[
        two_lines(
            Component::LastingMargin,
            "M44 8H130V58H44Q12 58 12 33Q12 8 44 8Z",
            (76, 28),
            1,
        ),
        shape(
            Component::Insole,
            "M136 8H360Q390 8 390 33Q390 58 360 58H136Z",
            (262, 38),
        ),
        two_lines(
            Component::Rib,
            "M44 64H130V114H44Q12 114 12 89Q12 64 44 64Z",
            (76, 84),
            2,
        ),
        shape(Component::Filler, "M136 64H222V114H136Z", (179, 94)),
        shape(
            Component::Shank,
            "M228 64H360Q390 64 390 89Q390 114 360 114H228Z",
            (306, 94),
        ),
        shape(
            Component::Welt,
            "M44 120H130V170H44Q12 170 12 145Q12 120 44 120Z",
            (76, 150),
        ),
        shape(Component::Rand, "M136 120H222V170H136Z", (179, 150)),
        shape(
            Component::HeelSeat,
            "M228 120H360Q390 120 390 145Q390 170 360 170H228Z",
            (306, 150),
        ),
        shape(
            Component::Midsole,
            "M44 176H222V226H44Q12 226 12 201Q12 176 44 176Z",
            (120, 206),
        ),
        shape(
            Component::Outsole,
            "M44 232H222V282H44Q12 282 12 257Q12 232 44 232Z",
            (120, 262),
        ),
        shape(Component::Channel, "M12 288H84V338H12Z", (48, 318)),
        shape(Component::Waist, "M90 288H152V338H90Z", (121, 318)),
        shape(Component::Edge, "M158 288H222V338H158Z", (190, 318)),
        shape(
            Component::SoleGuard,
            "M12 344H222V394H44Q12 394 12 369Z",
            (120, 374),
        ),
        two_lines(
            Component::HeelBase,
            "M252 176H372Q390 176 390 201V226H258Z",
            (322, 196),
            2,
        ),
        shape(Component::HeelCover, "M258 232H390V282H264Z", (326, 262)),
        two_lines(Component::Breast, "M234 288H300V338H240Z", (268, 308), 1),
        shape(Component::Lift, "M306 288H390V338H306Z", (348, 318)),
        shape(Component::TopPiece, "M248 344H390V394H254Z", (322, 374)),
        shape(
            Component::QuarterTip,
            "M268 400H390Q390 446 340 446H272Z",
            (330, 428),
        ),
    ],
};

/// A drawing whose parts can be tapped. Those in `noted` are marked, and their accessible names say so.
#[component]
pub(in crate::screens) fn Drawn(
    /// Which one.
    drawing: &'static Drawing,
    /// The part that is being asked about.
    chosen: RwSignal<Option<Component>>,
    /// The parts about which something is noted.
    noted: Signal<Vec<Component>>,
    /// The suffix of the accessible name of a noted part.
    mark: &'static str,
) -> impl IntoView {
    let parts = drawing
        .shapes
        .iter()
        .map(|shape| view! { <Part shape chosen noted mark/> });
    let name = match drawing.which {
        Which::Side => words::open_up::shoe_from_the_side(),
        Which::HeelAndSole => words::open_up::sole_and_heel_taken_apart(),
    };
    view! {
        <svg class="drawing" viewBox=drawing.view_box role="group" aria-label=name>
            <path class="ground" d=drawing.ground></path>
            {parts.collect_view()}
        </svg>
    }
}

#[component]
fn Part(
    shape: &'static Shape,
    chosen: RwSignal<Option<Component>>,
    noted: Signal<Vec<Component>>,
    mark: &'static str,
) -> impl IntoView {
    let part = &shape.part;
    let pressed = move || {
        if chosen.with(|chosen| chosen.as_ref() == Some(part)) {
            "true"
        } else {
            "false"
        }
    };
    let known = move || noted.with(|noted| noted.contains(part));
    let label = move || {
        if known() {
            words::open_up::marked_part(part.words(), mark)
        } else {
            part.words().to_owned()
        }
    };
    let choose = move || chosen.set(Some(part.clone()));
    let key = move |event: leptos::ev::KeyboardEvent| {
        if matches!(event.key().as_str(), "Enter" | " ") {
            event.prevent_default();
            choose();
        }
    };
    let (x, y) = shape.at;
    let (first, second) = lines(part.words(), shape.second);
    let second = second.map(|second| view! { <tspan x=x dy="16">{second}</tspan> });
    view! {
        <g class="part" class:noted=known role="button" tabindex="0" aria-label=label aria-pressed=pressed
            on:click=move |_| choose() on:keydown=key>
            <path d=shape.outline></path>
            <text x=x y=y aria-hidden="true">{first}" "{second}</text>
            <Show when=known><circle class="mark" cx=x cy=y.saturating_sub(22) r="5"></circle></Show>
        </g>
    }
}

/// The two lines of a label; its last `second` words are the second line, which is missing if there are none.
fn lines(label: &'static str, second: usize) -> (&'static str, Option<&'static str>) {
    let space = second
        .checked_sub(1)
        .and_then(|others| label.rmatch_indices(' ').nth(others));
    match space {
        Some((at, _)) => (&label[..at], Some(&label[at + 1..])),
        None => (label, None),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn a_part_is_drawn_once_and_on_the_drawing_that_shows_it() {
        let shown = SIDE.shapes.iter().chain(BELOW.shapes);
        let parts: Vec<_> = shown.map(|shape| shape.part.clone()).collect();
        let once: BTreeSet<_> = parts.iter().collect();
        assert_eq!(once.len(), parts.len());
        for part in parts {
            assert!(part.drawing().is_some(), "{part}");
        }
    }
}
