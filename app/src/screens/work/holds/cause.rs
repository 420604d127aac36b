//! Why earlier work did not hold, for a job that makes it good.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Cause;
use shared::log::fold::JobState;

use crate::parts::Toggle;
use crate::selection::Selection;
use app_core::commands::{cause_words, set_cause};

/// Buttons for the causes of a complaint: a tap sets the cause, another tap on it opens it again. Nothing for a job
/// that makes nothing good.
pub(super) fn cause(top: Selection, job: SubjectId, state: &JobState) -> Option<impl IntoView + use<>> {
    let now = state.complaint.as_ref()?.current.body.cause.clone();
    // A cause of a newer app is shown, because it is chosen.
    let newer = now.clone().filter(|cause| !Cause::KNOWN.contains(cause));
    let all = Cause::KNOWN.iter().cloned().chain(newer);
    let chips = all.map(|cause| {
        let chosen = now.as_ref() == Some(&cause);
        let next = (!chosen).then(|| cause.clone());
        let said = match &next {
            Some(next) => words::complaint::cause_is(cause_words(next)),
            None => words::complaint::cause_is_open().to_owned(),
        };
        let draft = set_cause(job, state, next);
        let press = Callback::new(move |()| {
            if let Some(draft) = draft.clone() {
                top.act(vec![draft], said.clone());
            }
        });
        view! { <Toggle label=cause_words(&cause) on=Signal::stored(chosen) press/> }
    });
    let chips = chips.collect_view();
    Some(view! {
        <section class="card" aria-label=words::complaint::why_it_did_not_hold()>
            <h2>{words::complaint::why_it_did_not_hold()}</h2>
            <div class="chips" role="group" aria-label=words::complaint::why_it_did_not_hold()>{chips}</div>
        </section>
    })
}
