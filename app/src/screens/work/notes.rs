//! Notes about a job, written or spoken.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Note;
use shared::log::fold::Item;

use super::{WorkJob, state_of};
use crate::parts::{Field, VoiceNote, VoiceRecorder, on_day};
use crate::selection::use_selection;
use crate::session::{use_kept, use_session};
use app_core::commands;

/// The notes so far, and a field for the next one.
#[component]
pub fn Notes(known: WorkJob) -> impl IntoView {
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    let so_far = move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        Some(state.notes.iter().map(|note| one(job, note)).collect_view())
    };
    view! {
        <section class="card" aria-label=words::work::notes()>
            <h2>{words::work::notes()}</h2>
            <ul class="plain">{so_far}</ul>
            // Another job in the address gets a new field: an unfinished note belongs to one job.
            {move || job.get().map(|job| view! { <Next job/> })}
        </section>
    }
}

/// The field for the next note. Its text is stored as it is typed until the note is saved, so that an interrupted
/// person finds it again.
#[component]
fn Next(job: SubjectId) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let text = use_kept::<String>(format!("note/{job}"));
    let keep = move |_| {
        let written = text.get_untracked().trim().to_owned();
        if written.is_empty() {
            return;
        }
        let note = Note {
            text: written,
            voice: None,
        };
        session.save_and(vec![commands::note(job, note)], move |saved| {
            bench.remember(&saved, words::work::note_kept());
            text.try_set(String::new());
        });
    };
    view! {
        <Field label=words::work::a_word_about_it() value=text/>
        <div class="choices">
            <button class="bench quiet" on:click=keep>{words::work::keep_the_note()}</button>
            <VoiceRecorder job=Signal::stored(Some(job))/>
        </div>
    }
}

fn one(job: SubjectId, note: &Item<Note>) -> impl IntoView + use<> {
    let spoken = note
        .body
        .voice
        .clone()
        .map(|sound| view! { <VoiceNote sound on=job/> });
    view! { <li>{note.body.text.clone()}" "{spoken}" "<span class="quiet">{on_day(note.at.utc)}</span></li> }
}
