//! Drawings to scale, in mm: on the screen as large as there is room, on paper at full size, with a bar to check the
//! scale.

use std::fmt::Write;

use leptos::prelude::*;
use shared::trade::formulas::Point;

use crate::parts::Field;
use app_core::calc::{BAR_MM, Lengths, Sketch, check_bar};

/// Margin around a drawing, in mm.
const MARGIN: f64 = 4.0;

/// A sketch with its check bar.
pub(super) fn sketch(sketch: &Sketch, lengths: Lengths) -> AnyView {
    match sketch {
        Sketch::Heel { outline, nails, line } => {
            let heels = [
                (words::calc_screens::left_from_below(), 1.0),
                (words::calc_screens::right_from_below(), -1.0),
            ];
            let heels = heels.map(|(words, mirror)| heel(words, mirror, outline, nails, *line));
            view! { <div class="row heels">{heels.into_iter().collect_view()}</div> <Bar lengths/> }
                .into_any()
        }
        Sketch::Side { before, after, run } => {
            view! { {side(*before, *after, *run)} <Bar lengths/> }.into_any()
        }
    }
}

/// One heel seen from below; the left shoe's outside is then on the right.
fn heel(
    words: &'static str,
    mirror: f64,
    outline: &[Point],
    nails: &[Point],
    line: Option<[Point; 2]>,
) -> AnyView {
    let length = outline.iter().fold(0.0_f64, |most, point| most.max(point[1]));
    let half = outline
        .iter()
        .fold(0.0_f64, |most, point| most.max(point[0].abs()));
    // The toe is at the top, so the heel's breast is above its back.
    let placed = |point: &Point| [half + MARGIN + mirror * point[0], length - point[1] + MARGIN];
    let (width, height) = (2.0 * (half + MARGIN), length + 2.0 * MARGIN);
    let nails = nails.iter().map(|nail| {
        let [x, y] = placed(nail);
        view! { <circle class="nail" cx=x.to_string() cy=y.to_string() r="1.2"/> }
    });
    let line = line.map(|ends| view! { <path class="cut" d=path(ends.iter().map(placed), "")/> });
    view! {
        <figure>
            <svg class="to-scale" role="img" aria-label=words viewBox=format!("0 0 {width} {height}")
                style=("--wide", format!("{width}mm"))>
                <path class="edge" d=path(outline.iter().map(placed), "Z")/>
                {nails.collect_view()}{line}
            </svg>
            <figcaption>{words}</figcaption>
        </figure>
    }
    .into_any()
}

/// A shoe from the side: seat and tread as they are, and dashed as they will be. Heights are measured from level
/// ground.
fn side(before: [f64; 2], after: [f64; 2], run: f64) -> AnyView {
    let most = before
        .iter()
        .chain(&after)
        .fold(1.0_f64, |most, height| most.max(*height));
    let (width, height) = (run + 2.0 * MARGIN, most + 2.0 * MARGIN);
    let ground = height - MARGIN;
    let top = |[seat, tread]: [f64; 2]| {
        path(
            [[MARGIN, ground - seat], [MARGIN + run, ground - tread]].into_iter(),
            "",
        )
    };
    let level = path([[MARGIN, ground], [MARGIN + run, ground]].into_iter(), "");
    view! {
        <figure>
            <svg class="to-scale" role="img" aria-label=words::calc_screens::side_view()
                viewBox=format!("0 0 {width} {height}") style=("--wide", format!("{width}mm"))>
                <path class="edge" d=level/>
                <path class="edge" d=top(before)/>
                <path class="cut" d=top(after)/>
            </svg>
            <figcaption>{words::calc_screens::side_view_explained()}</figcaption>
        </figure>
    }
    .into_any()
}

fn path(points: impl Iterator<Item = Point>, end: &str) -> String {
    let mut path = String::new();
    for (at, [x, y]) in points.enumerate() {
        let letter = if at == 0 { 'M' } else { 'L' };
        // Writing to a String cannot fail.
        let _ = write!(path, "{letter}{x:.2} {y:.2}");
    }
    path.push_str(end);
    path
}

/// The check bar, and what to do if it has the wrong length on paper.
#[component]
fn Bar(lengths: Lengths) -> impl IntoView {
    let measured = RwSignal::new(String::new());
    let verdict = move || check_bar(lengths, &measured.get());
    view! {
        <svg class="to-scale bar" role="img" aria-label=words::calc_screens::check_bar() viewBox="0 0 100 4" style=("--wide", "100mm")>
            <path class="edge" d="M0 0V4M100 0V4M0 2H100"/>
        </svg>
        <p class="quiet">{words::calc_screens::check_bar_on_paper(&lengths.say(BAR_MM))}</p>
        <div class="no-print"><Field label=words::calc_screens::ask_for_printed_bar() value=measured inputmode="decimal"/> <p role="status">{verdict}</p></div>
    }
}
