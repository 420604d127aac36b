//! With which cement a step was done: named or corrected on the list of steps, where nobody named it with the step.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Step;
use shared::log::fold::{Item, JobState, bench};
use shared::trade::CementKind;
use shared::trade::cement_guide::{OwnCements, uses_cement};

use super::material::{Fold, UnfoldedStep};
use crate::selection::use_selection;
use app_core::commands::name_cement;

/// The cement of a step, and a button for each one to name it, folded until wanted; a second tap on the one that is named
/// takes its name back. `None` for an operation without cement.
pub(super) fn named(
    job: SubjectId,
    state: &JobState,
    step: &Item<Step>,
    own: &OwnCements,
    unfolded: UnfoldedStep,
) -> Option<AnyView> {
    let now = bench::cement_of(state, step);
    if now.is_none() && !uses_cement(&step.body.operation) {
        return None;
    }
    let top = use_selection();
    let step_is = bench::name_of_step(state, &step.body);
    let kind_now = now.and_then(|cement| own.kind_of(cement));
    let chips = CementKind::ALL.into_iter().map(|kind| {
        let on = kind_now == Some(kind);
        let name = own.name_of(kind.as_str());
        let (cement, said) = if on {
            ("", words::work::no_cement_noted(&step_is))
        } else {
            (kind.as_str(), words::work::cement_noted(&step_is, &name))
        };
        let draft = name_cement(job, state, step, cement);
        let go = move |_| top.act(draft.clone().into_iter().collect(), said.clone());
        view! { <button class="chip" aria-pressed=on.to_string() on:click=go>{name}</button> }
    });
    let chips = chips.collect_view();
    let label = now.map_or_else(
        || words::work::cement_not_named().to_owned(),
        |cement| words::work::cement_named(&own.name_of(cement)),
    );
    let shown = view! {
        <div class="took">
            <span>{label}</span>
            <Fold step=step.entry label=words::work::name_the_cement() unfolded>
                <div class="chips" role="group" aria-label=words::work::name_the_cement()>{chips}</div>
            </Fold>
        </div>
    };
    Some(shown.into_any())
}
