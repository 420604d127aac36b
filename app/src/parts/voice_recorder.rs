//! A word spoken instead of typed.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::SubjectId;
use shared::log::body::Note;

use crate::acts;
use crate::device::voice::Recording;
use crate::workbench::{Workbench, use_workbench};
use crate::workshop::{Workshop, use_workshop};

/// A recording and the job it is about.
type Under = Option<(SubjectId, Recording)>;

/// Records a note on a job, until it is pressed again or the screen is left: what was said is kept either way.
#[component]
pub fn VoiceRecorder(
    /// The job that is spoken of. A recording stays with the job it was begun on.
    job: Signal<Option<SubjectId>>,
) -> impl IntoView {
    let (workshop, bench) = (use_workshop(), use_workbench());
    let under_way = StoredValue::<Under, LocalStorage>::new_local(None);
    let recording = RwSignal::new(false);
    let finish = move || {
        recording.try_set(false);
        if let Some((job, sound)) = under_way.try_update_value(Option::take).flatten() {
            spawn_local(keep(workshop, bench, job, sound));
        }
    };
    let press = move |_| {
        if recording.get_untracked() {
            return finish();
        }
        let Some(job) = job.get_untracked() else { return };
        recording.set(true);
        spawn_local(async move {
            match Recording::start().await {
                // The screen may have been left before the person let us listen.
                Ok(sound) => drop(under_way.try_set_value(Some((job, sound)))),
                Err(error) => {
                    recording.try_set(false);
                    workshop.complain(error);
                }
            }
        });
    };
    on_cleanup(finish);
    view! {
        <button class="bench quiet" on:click=press
            aria-pressed=move || recording.get().to_string()>
            {move || if recording.get() { "Recording: stop" } else { "Voice note" }}
        </button>
    }
}

async fn keep(workshop: Workshop, bench: Workbench, job: SubjectId, sound: Recording) {
    let kept = async {
        let blob = sound.finish().await.map_err(|error| error.to_string())?;
        let note = Note {
            text: String::new(),
            voice: Some(blob.about.clone()),
        };
        let saved = workshop.save(vec![acts::note(job, note)], vec![blob]).await;
        saved.map_err(|error| error.to_string())
    };
    match kept.await {
        Ok(saved) => bench.remember(&saved, "Voice note saved."),
        Err(why) => workshop.complain(format!("The voice note was not saved: {why}.")),
    }
}
