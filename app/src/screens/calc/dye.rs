//! The recipe of a mixed colour.

use leptos::prelude::*;
use shared::log::SubjectId;

use super::keep::{Keep, KeptCalculation};
use super::kept::{last, measured};
use super::{CalcJob, state_of};
use crate::parts::Typed;
use crate::screens::job::pair_head;
use app_core::calc::{DYE, MixturePart, called, number, recipe};

/// How many rows are shown at first.
const ROWS: usize = 3;

/// The form: which ingredients in how many parts, kept with a photograph of the sample.
#[component]
pub(super) fn Dye(known: CalcJob, job: SubjectId, operation: Memo<String>) -> impl IntoView {
    let rows = RwSignal::new(begin(known, &operation.get_untracked()));
    let said = Memo::new(move |_| rows.with(|rows| recipe(&read(rows))));
    let keep = Callback::new(move |()| {
        let (say, given) = said.get_untracked()?;
        Some(KeptCalculation {
            what: DYE,
            say,
            given,
        })
    });
    let words = move || match said.get() {
        Some((words, _)) => words,
        None => words::calc_screens::ask_for_parts().to_owned(),
    };
    let fields = move || (0..rows.with(Vec::len)).map(|at| row(rows, at)).collect_view();
    let before = move || known.get().map(|known| measured(job, &state_of(&known).measured));
    view! {
        {move || known.get().map(|found| pair_head(called(DYE), &found))}
        <section class="card answer" aria-label=words::calc_screens::result() aria-live="polite"><p><strong>{words}</strong></p></section>
        <p class="caution">{words::calc_screens::try_dye_first()}</p>
        <Keep known job operation keep offered=Signal::derive(move || said.with(Option::is_some))/>
        <section class="card stack" aria-label=words::calc_screens::inputs()>
            {fields}
            <button class="quiet" on:click=move |_| rows.update(|rows| rows.push(Default::default()))>{words::calc_screens::another_ingredient()}</button>
        </section>
        {before}
    }
}

/// What is typed in one row: the ingredient, and how many parts.
type DyeRow = (String, String);

fn begin(known: CalcJob, operation: &str) -> Vec<DyeRow> {
    let kept = known.with_untracked(|known| known.as_ref().and_then(|known| last(known, DYE, operation)));
    let parts = kept.as_ref().and_then(|kept| kept.given.get("parts")?.as_array());
    let one = |part: &serde_json::Value| {
        Some((
            part.get(0)?.as_str()?.to_owned(),
            part.get(1)?.as_f64()?.to_string(),
        ))
    };
    let mut rows: Vec<DyeRow> = parts.into_iter().flatten().filter_map(one).collect();
    rows.resize(rows.len().max(ROWS), DyeRow::default());
    rows
}

fn read(rows: &[DyeRow]) -> Vec<MixturePart> {
    let one = |(of, parts): &DyeRow| MixturePart {
        of: of.clone(),
        parts: number(parts).unwrap_or(0.0),
    };
    rows.iter().map(one).collect()
}

fn row(rows: RwSignal<Vec<DyeRow>>, at: usize) -> AnyView {
    let of =
        Signal::derive(move || rows.with(|rows| rows.get(at).map(|row| row.0.clone()).unwrap_or_default()));
    let parts =
        Signal::derive(move || rows.with(|rows| rows.get(at).map(|row| row.1.clone()).unwrap_or_default()));
    let change = move |write: fn(&mut DyeRow) -> &mut String, text: String| {
        rows.update(|rows| {
            if let Some(row) = rows.get_mut(at) {
                *write(row) = text;
            }
        });
    };
    view! {
        <div class="row">
            <Typed label=words::calc_screens::parts_of_ingredient(at + 1) value=parts inputmode="decimal" typed=Callback::new(move |text| change(|row| &mut row.1, text))/>
            <Typed label=words::calc_screens::ingredient(at + 1) value=of typed=Callback::new(move |text| change(|row| &mut row.0, text))/>
        </div>
    }
    .into_any()
}
