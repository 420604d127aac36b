//! Notes about a job, written or spoken, and what is not quite a match.

mod not_quite;

use leptos::prelude::*;
use leptos::task::spawn_local;

use super::{WorkJob, state_of};
use crate::parts::{NoteForm, note_list};
use crate::session::use_session;
use app_core::commands::notes::{NoteTarget, on_job_alone};

pub(super) use not_quite::NotQuite;

/// The notes on the job so far, and a field for the next one, which is shown while it is wanted. Notes on a step or a finding
/// are shown there.
#[component]
pub fn Notes(
    known: WorkJob,
    /// Whether the field is shown.
    wanted: RwSignal<bool>,
) -> impl IntoView {
    let session = use_session();
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    // A note that was begun and not kept is in sight again.
    Effect::new(move |_| {
        let Some((job, phone)) = job.get().zip(session.phone()) else {
            return;
        };
        spawn_local(async move {
            let begun = phone.draft(&NoteTarget::job(job).draft_name()).await;
            if begun.is_ok_and(|begun| begun.is_some()) {
                wanted.try_set(true);
            }
        });
    });
    let so_far = move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        note_list(
            on_job_alone(state).collect(),
            job,
            words::work::notes().to_owned(),
        )
    };
    // Another job in the address gets a new form: what is not finished belongs to one job.
    let form = move || {
        job.get().map(|job| {
            view! { <NoteForm on=NoteTarget::job(job) label=words::work::a_word_about_it() keep=words::work::save_the_note()/> }
        })
    };
    view! {
        <section class="job-notes" aria-label=words::work::notes()>
            <div hidden=move || !wanted.get()>{form}</div>
            {so_far}
        </section>
    }
}
