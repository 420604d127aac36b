//! A bar chart of the months: charged, and beside it given away.

use leptos::prelude::*;
use shared::price::minor::Minor;

use shared::analytics::BooksTable;

/// The size of the drawing, in its own units.
const WIDE: f64 = 360.0;
const HIGH: f64 = 140.0;
/// The space below the bars for the months' names.
const FOOT: f64 = 18.0;

/// A group of three bars for each month: charged, needed work at no charge, and gifts by choice.
pub(super) fn months_plot(told: &BooksTable) -> Option<AnyView> {
    let rows = &told.rows;
    let most = rows.iter().flat_map(|row| row.bars).fold(Minor::ZERO, Minor::max);
    if !most.is_positive() {
        return None;
    }
    let step = WIDE / rows.len().max(1) as f64;
    let groups = rows.iter().enumerate().map(|(at, row)| {
        let left = at as f64 * step;
        let drawn = row.bars.into_iter().enumerate().map(|(n, minor)| {
            let high = (minor.max(Minor::ZERO).as_f64() / most.as_f64()) * HIGH;
            let wide = step / 4.0;
            view! {
                <rect class=["bar bar-", &n.to_string()].concat() x=left + step / 8.0 + n as f64 * wide y=HIGH - high width=wide * 0.9 height=high></rect>
            }
        });
        let month: String = row.name.chars().take(3).collect();
        view! { {drawn.collect_view()} <text x=left + step / 2.0 y=HIGH + 13.0>{month}</text> }
    });
    let groups = groups.collect_view();
    let words = words::books::plot_in_words(&told.most);
    let view_box = format!("0 0 {WIDE} {}", HIGH + FOOT);
    Some(view! {
        <figure class="plot">
            <svg viewBox=view_box role="img" aria-label=words>{groups}</svg>
            <figcaption>
                <span class="key bar-0">{words::books::charged()}</span> <span class="key bar-1">{words::books::needed_at_no_charge()}</span>
                <span class="key bar-2">{words::books::given_by_choice()}</span> <span class="quiet">{words::books::most_a_month(&told.most)}</span>
            </figcaption>
        </figure>
    }
    .into_any())
}
