//! What is left to do: the next operation, and the others, which can be moved, skipped or done out of order.
//!
//! The next one is noted as done on the dock; what is rarer unfolds at each of them.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Skipped;
use shared::log::fold::{AgreedLine, Item, JobState, bench};
use shared::log::{Subject, SubjectKind};
use shared::trade::operations::{self, Touch};
use shared::trade::{Material, line_name};

use super::cement::CementGuide;
use super::{WorkJob, state_of};
use crate::parts::{Cautions, Drawing, kept_fold, pair_materials};
use crate::screens::job::JobLife;
use crate::selection::{Selection, use_selection};
use app_core::calc::helpers_for;
use app_core::commands;

/// The operations left, next first, and what was skipped.
#[component]
pub fn Remaining(known: WorkJob) -> impl IntoView {
    let bench_top = use_selection();
    let asking = MaterialsAsked::new();
    move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        let left = bench::remaining(state);
        let pair = &known.life.pair;
        let (goods, made_of) = (pair.goods(), pair.materials().collect::<Vec<Material>>());
        let rows = left.iter().enumerate().map(|(at, code)| {
            let asked = (at == 0).then(|| asking.materials(&known, code)).flatten();
            let caution = (at == 0).then(|| {
                view! { <Cautions operation=code goods=goods.as_ref() materials=&made_of/> }
            });
            let guide = (at == 0).then(|| {
                view! { <div class="folds">{helpers(job, code)} <CementGuide operation=code materials=&made_of/></div> }
            });
            let row = left_row(bench_top, job, state, at, code);
            view! { <li class="left-row" class:next={at == 0}>{row} {asked} {guide} {caution}</li> }
        });
        let rows = rows.collect_view();
        let nothing = left.is_empty().then(|| match state.checked {
            Some(_) => view! { <p>{words::work::checked_and_ready()}</p> },
            None => view! { <p>{words::work::only_final_check_left()}</p> },
        });
        let skipped = state
            .skipped
            .iter()
            .map(|skip| skipped_row(bench_top, job, state, skip));
        // Once nothing is left, the dock leads there.
        let last = (!left.is_empty()).then(|| {
            view! { <li class="after"><a href=format!("/pickup/{job}")>{words::work::pickup()}</a></li> }
        });
        Some(view! {
            <section class="still-to-do" aria-label=words::work::still_to_do()>
                {nothing}
                <ol class="plain">{rows}</ol>
                <ul class="plain">{skipped.collect_view()} {last}</ul>
            </section>
        })
    }
}

/// What the next step asks about the pair, and what it has asked since the screen was opened.
#[derive(Clone, Copy)]
struct MaterialsAsked {
    /// The job whose materials were asked for: the row stays while more than one is tapped.
    job: StoredValue<Option<SubjectId>>,
    /// Whether all materials are shown.
    more: RwSignal<bool>,
}

impl MaterialsAsked {
    fn new() -> Self {
        Self {
            job: StoredValue::new(None),
            more: RwSignal::new(false),
        }
    }

    /// Asks what the pair is made of, and says why, before a step that wets, heats or coats it; nothing if that is
    /// known. The step can be done all the same.
    fn materials(self, known: &JobLife, code: &str) -> Option<impl IntoView + use<>> {
        let why = why_asked(operations::operation(code)?.touch.first()?);
        let pair = &known.life.pair;
        if pair.knows_materials() && self.job.get_value() != Some(known.job) {
            return None;
        }
        self.job.set_value(Some(known.job));
        let row = pair_materials(known.life.id, pair, self.more);
        Some(view! { <div class="stack"><p class="quiet">{why}</p>{row}</div> })
    }
}

fn why_asked(touch: &Touch) -> &'static str {
    match touch {
        Touch::Wet => words::work::water_marks_some_materials(),
        Touch::Heat => words::work::heat_harms_some_materials(),
        Touch::Cream => words::work::cream_marks_some_materials(),
        Touch::Solvent => words::work::solvent_harms_some_materials(),
    }
}

/// The name of the line that is done next of an operation. Of two lines of one operation, each has buttons of its own name
/// when it is next.
pub(super) fn name_of(state: &JobState, code: &str) -> String {
    bench::line_of(state, code)
        .map_or_else(|| operations::name(code).to_owned(), |line| line_name(&line.body))
}

/// A button that notes an operation as done.
pub(super) fn done_button(
    bench: Selection,
    job: SubjectId,
    state: &JobState,
    code: &str,
    label: String,
) -> AnyView {
    let name = name_of(state, code);
    let step = commands::step_done(job, state, code);
    let noted = words::work::operation_noted(&name);
    let go = move |_| bench.act(vec![step.clone()], noted.clone());
    view! { <button class="bench" aria-label=words::work::operation_done(&name) on:click=go>{label}</button> }
        .into_any()
}

/// One operation, and what unfolds at it: sooner, later, skip; for those after the next one also done, which the dock has for
/// that one, and their calculations.
fn left_row(
    bench: Selection,
    job: SubjectId,
    state: &JobState,
    at: usize,
    code: &str,
) -> impl IntoView + use<> {
    let name = name_of(state, code);
    let skip = commands::skip(job, state, code);
    // Moving one later is moving the one after it sooner.
    let moves = [
        (
            words::work::sooner(),
            words::work::operation_sooner(&name),
            commands::sooner(job, state, at),
        ),
        (
            words::work::later(),
            words::work::operation_later(&name),
            commands::sooner(job, state, at + 1),
        ),
    ];
    let (moved, skipped) = (
        words::work::operation_moved(&name),
        words::work::operation_skipped(&name),
    );
    let moves = moves.map(|(label, spoken, draft)| {
        let (off, moved) = (draft.is_none(), moved.clone());
        let go = move |_| bench.act(draft.clone().into_iter().collect(), moved.clone());
        view! {
            <button class="bench quiet" disabled=off aria-label=spoken on:click=go>{label}</button>
        }
    });
    let done = (at > 0).then(|| done_button(bench, job, state, code, words::work::done().to_owned()));
    let more = view! {
        <summary aria-label=words::work::more_about(&name)><Drawing name="more"/></summary>
    };
    let unfolded = view! {
        <div class="choices">
            {done}
            {moves.into_iter().collect_view()}
            <button class="bench quiet" aria-label=words::work::skip_operation(&name) on:click=move |_| bench.act(vec![skip.clone()], skipped.clone())>{words::work::skip()}</button>
        </div>
        {(at > 0).then(|| helpers(job, code))}
    };
    let more = kept_fold(
        format!("{job}/{code}"),
        "step-more",
        more.into_any(),
        unfolded.into_any(),
    );
    view! { <strong>{name}</strong> {more} }
}

/// Links to the calculations that help with an operation, folded until wanted.
fn helpers(job: SubjectId, code: &str) -> impl IntoView + use<> {
    let links = helpers_for(code).into_iter().map(|(what, called)| {
        view! { <a class="button quiet" href=format!("/reckon/{job}/{what}?operation={code}")>{called}</a> }
    });
    let links: Vec<_> = links.collect();
    let label = words::work::work_out_for(operations::name(code));
    (!links.is_empty()).then(|| {
        view! { <details class="helpers"><summary aria-label=label>{words::work::work_out()}</summary><div class="choices">{links}</div></details> }
    })
}

fn skipped_row(
    bench: Selection,
    job: SubjectId,
    state: &JobState,
    skip: &Item<Skipped>,
) -> impl IntoView + use<> {
    let of_skip = |line: &&AgreedLine| skip.body.line.is_some_and(|named| line.is_named(named));
    let line = state.agreed.iter().find(of_skip).and_then(AgreedLine::last);
    let name = line.map_or_else(
        || operations::name(&skip.body.operation).to_owned(),
        |line| line_name(&line.body),
    );
    let back = commands::undo(Subject::new(SubjectKind::Job, job), skip.entry);
    let said = words::work::operation_is_to_be_done(&name);
    view! {
        <li class="row between">
            <span class="quiet">{words::work::skipped(&name)}</span>
            <button class="bench quiet" on:click=move |_| bench.act(vec![back.clone()], said.clone())>{words::work::do_it_after_all()}</button>
        </li>
    }
}
