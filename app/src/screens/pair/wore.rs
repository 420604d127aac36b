//! How the pair wore: several measurements of a thing as a line over the years, a single one as a sentence.

use leptos::prelude::*;

use super::fitted::the_day;
use crate::parts::kept_fold;
use app_core::calc::Lengths;
use app_core::pair_history::{Plot, Reading, Series, day_of, span};

/// The section; nothing if nothing of the pair was measured.
pub(super) fn wore(all: Vec<Series>, lengths: Lengths) -> AnyView {
    if all.is_empty() {
        return ().into_any();
    }
    let each = all.into_iter().map(|one| match Plot::of(&one.readings) {
        // A plot of equal values shows no more than the sentence.
        Some(plot) if plot.rises() => drawn(&one, &plot, lengths),
        _ => view! { <p>{said(&one, lengths)}</p> }.into_any(),
    });
    let name = words::pair::how_it_wore();
    let summary = view! { <summary>{name}</summary> };
    let each = each.collect_view();
    let fold = kept_fold(name.to_owned(), "unfolds", summary.into_any(), each.into_any());
    view! { <section class="wore" aria-label=name>{fold}</section> }.into_any()
}

/// The readings in words, one after another.
fn said(series: &Series, lengths: Lengths) -> String {
    let one = |reading: &Reading| words::pair::measured_on(&lengths.say(reading.mm), &the_day(reading.at));
    let all: Vec<_> = series.readings.iter().map(one).collect();
    words::pair::readings_of(&series.called, &all.join(", "))
}

fn drawn(series: &Series, plot: &Plot, lengths: Lengths) -> AnyView {
    let last = plot.points.len().saturating_sub(1);
    let marks = plot.points.iter().zip(&series.readings).enumerate();
    let marks = marks.map(|(n, ([x, y], reading))| {
        // Values are written at both ends only, so that they do not overlap.
        let anchor = if n == 0 { "start" } else { "end" };
        let beside = plot.points.get(if n == 0 { 1 } else { n.saturating_sub(1) });
        // Above or below the point, on the side away from the line.
        let down = if beside.is_some_and(|beside| beside[1] < *y) {
            20.0
        } else {
            -10.0
        };
        let value = (n == 0 || n == last).then(|| {
            let (at, value) = (if n == 0 { x - 8.0 } else { x + 8.0 }, lengths.say(reading.mm));
            view! { <text x=at.to_string() y=(y + down).to_string() text-anchor=anchor>{value}</text> }
        });
        view! { <circle cx=x.to_string() cy=y.to_string() r="4"></circle> {value} }
    });
    let ends = series.readings.first().zip(series.readings.last());
    let change = ends.map(|(first, last)| changed(first, last, lengths));
    let view_box = format!("0 0 {} {}", Plot::WIDTH, Plot::HEIGHT);
    view! {
        <figure>
            <figcaption><strong>{series.called.clone()}</strong>" "{change}</figcaption>
            <svg class="wear-line" role="img" aria-label=said(series, lengths) viewBox=view_box>
                <path d=plot.path()></path>
                {marks.collect_view()}
            </svg>
            {ends.map(|(first, last)| view! {
                <p class="row between quiet"><span>{the_day(first.at)}</span><span>{the_day(last.at)}</span></p>
            })}
        </figure>
    }
    .into_any()
}

/// The change between two readings, in words.
fn changed(first: &Reading, last: &Reading, lengths: Lengths) -> String {
    let time = day_of(first.at)
        .zip(day_of(last.at))
        .map(|(from, to)| span(from, to));
    let by = last.mm - first.mm;
    let much = lengths.say(by.abs());
    // Compared as they are displayed, so that a change that rounds to nothing is called none.
    let none = much == lengths.say(0.0);
    match time {
        Some(time) if none => words::pair::no_change_in(&time),
        Some(time) if by < 0.0 => words::pair::less_in(&much, &time),
        Some(time) => words::pair::more_in(&much, &time),
        None if none => words::pair::no_change().to_owned(),
        None if by < 0.0 => words::pair::less(&much),
        None => words::pair::more(&much),
    }
}
