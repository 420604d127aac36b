//! The pairs by station: one grid of those at work, and below it a line for each place where pairs wait or are ready.

use leptos::prelude::*;
use shared::trade::Station;

use super::fold::fold;
use super::row::{TileSignals, bench_row};
use crate::parts::Drawing;
use app_core::stations::{JobPlace, StationRow, StationSection};

/// A line with no more pairs than this is unfolded until somebody folds it.
const FEW: usize = 4;

/// The pairs that can be worked on, in one grid without rows of headings: the first tile of each station bears its name.
/// Those in a run to do now stand first, by their style; on the page each pair is in the section of its station, so that
/// it is not drawn again when the plan changes, and a person who is about to tap it still hits it.
#[component]
pub(super) fn WorkGrid(
    signals: TileSignals,
    /// Those that are drawn so far; `None` until they are read.
    drawn: Memo<Option<Vec<StationSection>>>,
) -> impl IntoView {
    view! {
        <div class="bench-grid">
            <For each=move || places_of_kind(drawn, true) key=|place| place.words().to_owned() let:place>{station(signals, place, drawn)}</For>
        </div>
    }
}

/// The pairs that wait, and those that are ready.
#[component]
pub(super) fn WaitingLines(
    signals: TileSignals,
    /// All pairs; `None` until they are read.
    shop: Memo<Option<Vec<StationSection>>>,
    /// Those that are drawn so far.
    drawn: Memo<Option<Vec<StationSection>>>,
) -> impl IntoView {
    view! {
        <For each=move || places_of_kind(shop, false) key=|place| place.words().to_owned() let:place>{waiting(signals, place, shop, drawn)}</For>
    }
}

/// The section of one station, whose first tile bears its name; and also the first one below the run, if the run has
/// the first one.
fn station(
    signals: TileSignals,
    place: JobPlace,
    drawn: Memo<Option<Vec<StationSection>>>,
) -> impl IntoView + use<> {
    let words = place.words().to_owned();
    let id = anchor(&words);
    let named = StoredValue::new((id.clone(), words, drawing_of(&place)));
    let here = place.clone();
    let rows = Memo::new(move |_| drawn.with(|drawn| rows_at(drawn.as_deref(), &here).to_vec()));
    let first = Memo::new(move |_| rows.with(|rows| rows.first().map(|row| row.job.id)));
    let below_run = Memo::new(move |_| {
        let running = signals.running.get();
        let jobs = rows.with(|rows| rows.iter().map(|row| row.job.id).collect::<Vec<_>>());
        jobs.into_iter().find(|job| !running.contains(job))
    });
    let tile = move |row: StationRow| {
        let job = Some(row.job.id);
        let heading = move || {
            let (id, words, drawing) = named.get_value();
            if first.get() == job {
                Some(view! { <h2 class="station-name" id=id>{words}<Drawing name=drawing/></h2> }.into_any())
            } else if below_run.get() == job {
                Some(view! { <span class="station-name" aria-hidden="true">{words}<Drawing name=drawing/></span> }.into_any())
            } else {
                None
            }
        };
        bench_row(signals, &row, &place, heading)
    };
    view! {
        <section class="station" aria-labelledby=id>
            <ul class="pairs"><For each=move || rows.get() key=|row| format!("{row:?}") children=tile/></ul>
        </section>
    }
}

/// A line with the number of pairs at a place where they wait or are ready, which unfolds to their tiles.
fn waiting(
    signals: TileSignals,
    place: JobPlace,
    shop: Memo<Option<Vec<StationSection>>>,
    drawn: Memo<Option<Vec<StationSection>>>,
) -> impl IntoView + use<> {
    let words = place.words().to_owned();
    let id = anchor(&words);
    let few = shop.with_untracked(|shop| rows_at(shop.as_deref(), &place).len() <= FEW);
    let (here, counted) = (place.clone(), place.clone());
    let rows = Memo::new(move |_| drawn.with(|drawn| rows_at(drawn.as_deref(), &here).to_vec()));
    let count = move || shop.with(|shop| rows_at(shop.as_deref(), &counted).len());
    let drawing = drawing_of(&place);
    let tile = move |row: StationRow| bench_row(signals, &row, &place, || None);
    let name = words.clone();
    let line =
        view! { <h2 id=id.clone()>{words}" "<span class="count">{count}</span></h2><Drawing name=drawing/> };
    let unfolded = view! { <ul class="pairs"><For each=move || rows.get() key=|row| format!("{row:?}") children=tile/></ul> };
    view! { <section class="station waiting" aria-labelledby=id>{fold(name, few, line.into_any(), unfolded.into_any())}</section> }
}

/// The stations that have pairs, in their order.
pub(super) fn places(shop: Memo<Option<Vec<StationSection>>>) -> Vec<JobPlace> {
    shop.with(|shop| {
        let sections = shop.iter().flatten();
        sections.map(|section| section.place.clone()).collect()
    })
}

/// Those of them where work is done, or the others.
fn places_of_kind(shop: Memo<Option<Vec<StationSection>>>, work: bool) -> Vec<JobPlace> {
    let mut places = places(shop);
    places.retain(|place| place.is_work() == work);
    places
}

/// The rows of a station; none if it has no section.
pub(super) fn rows_at<'a>(shop: Option<&'a [StationSection]>, place: &JobPlace) -> &'a [StationRow] {
    let section = shop
        .unwrap_or_default()
        .iter()
        .find(|section| section.place == *place);
    section.map_or(&[], |section| &section.rows)
}

/// The id of a station's heading on the page.
pub(super) fn anchor(words: &str) -> String {
    words.to_lowercase().replace(' ', "-")
}

/// The name of a place's drawing.
pub(super) fn drawing_of(place: &JobPlace) -> String {
    let name = match place {
        JobPlace::At(station) if Station::KNOWN.contains(station) => {
            return format!("station_{}", station.as_str());
        }
        JobPlace::At(_) | JobPlace::OwnWork => "station_other",
        JobPlace::FinalCheck => "search",
        JobPlace::Drying => "timer",
        JobPlace::Customer | JobPlace::Material => "knot",
        JobPlace::Ready => "tag",
    };
    name.to_owned()
}
