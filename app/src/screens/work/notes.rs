//! Words about a job, written or spoken.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::SubjectId;
use shared::log::body::Note;
use shared::log::fold::Item;

use super::{Known, state_of};
use crate::acts;
use crate::parts::{Field, VoiceNote, VoiceRecorder, on_day};
use crate::workbench::use_workbench;
use crate::workshop::use_workshop;

/// The notes so far, and a place for the next one.
#[component]
pub fn Notes(known: Known) -> impl IntoView {
    let (bench, workshop) = (use_workbench(), use_workshop());
    let text = RwSignal::new(String::new());
    keep_half_written(known, text);
    let job = Signal::derive(move || known.with(|known| known.as_ref().map(|known| known.job)));
    let keep = move |_| {
        let written = text.get_untracked().trim().to_owned();
        let Some(job) = job.get_untracked().filter(|_| !written.is_empty()) else {
            return;
        };
        let note = Note {
            text: written,
            voice: None,
        };
        workshop.save_and(vec![acts::note(job, note)], move |saved| {
            bench.remember(&saved, "Note kept.");
            text.try_set(String::new());
        });
    };
    let so_far = move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        Some(state.notes.iter().map(|note| one(job, note)).collect_view())
    };
    view! {
        <section class="card" aria-label="Notes">
            <h2>"Notes"</h2>
            <ul class="plain">{so_far}</ul>
            <Field label="A word about it" value=text/>
            <div class="choices">
                <button class="bench quiet" on:click=keep>"Keep the note"</button>
                <VoiceRecorder job/>
            </div>
        </section>
    }
}

/// What is being written stays with its job until it is kept: who is called away finds it again.
fn keep_half_written(known: Known, text: RwSignal<String>) {
    let workshop = use_workshop();
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    Effect::new(move |_| {
        let Some((job, phone)) = job.get().zip(workshop.phone()) else {
            return;
        };
        spawn_local(async move {
            match phone.draft(&name(job)).await {
                Ok(Some(kept)) => {
                    // Unless somebody has begun to write before it was read.
                    if text.try_with_untracked(String::is_empty) == Some(true) {
                        text.set(kept);
                    }
                }
                Ok(None) => {}
                Err(error) => workshop.complain(error),
            }
        });
    });
    Effect::new(move |before: Option<String>| {
        let written = text.get();
        if let Some(job) = job
            .get_untracked()
            .filter(|_| before.is_some_and(|before| before != written))
        {
            let kept = Some(written.clone()).filter(|written| !written.is_empty());
            let Some(phone) = workshop.phone() else {
                return written;
            };
            spawn_local(async move {
                if let Err(error) = phone.keep_draft(&name(job), kept).await {
                    workshop.complain(error);
                }
            });
        }
        written
    });
}

/// Under which the half-written note of a job is kept.
fn name(job: SubjectId) -> String {
    format!("note/{job}")
}

fn one(job: SubjectId, note: &Item<Note>) -> impl IntoView + use<> {
    let spoken = note
        .body
        .voice
        .clone()
        .map(|sound| view! { <VoiceNote sound on=job/> });
    view! { <li>{note.body.text.clone()}" "{spoken}" "<span class="quiet">{on_day(note.at.utc)}</span></li> }
}
