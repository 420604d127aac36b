//! Recording a voice note.

use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::device::voice::Recording;
use crate::selection::{Selection, use_selection};
use crate::session::{Session, use_session};
use app_core::commands::notes::{NoteTarget, spoken};

/// The state of the recorder.
#[derive(Debug, Clone, PartialEq, Eq)]
enum RecordingStage {
    /// Not recording.
    Silent,
    /// The microphone was asked for, to record a note on this; nothing is recorded yet.
    Opening(NoteTarget),
    /// Recording.
    Recording,
}

/// A recording and what it is a note on.
type Under = Option<(NoteTarget, Recording)>;

/// Records a note until the button is pressed again or the screen is left; the recording is kept in both
/// cases.
#[component]
pub fn VoiceRecorder(
    /// What the next note is on. A recording belongs to what that was when it began.
    on: Signal<Option<NoteTarget>>,
) -> impl IntoView {
    let (session, bench) = (use_session(), use_selection());
    let under_way = StoredValue::<Under, LocalStorage>::new_local(None);
    let stage = RwSignal::new(RecordingStage::Silent);
    let begin = move |target| {
        stage.set(RecordingStage::Opening(target));
        spawn_local(async move {
            let opened = Recording::start().await;
            // Cancelled meanwhile, or the screen was left: dropping the recording releases the microphone.
            let Some(RecordingStage::Opening(target)) = stage.try_get_untracked() else {
                return;
            };
            match opened {
                Ok(sound) => {
                    under_way.set_value(Some((target, sound)));
                    stage.set(RecordingStage::Recording);
                }
                Err(error) => {
                    stage.set(RecordingStage::Silent);
                    session.complain(error);
                }
            }
        });
    };
    let finish = move || {
        stage.try_set(RecordingStage::Silent);
        if let Some((target, sound)) = under_way.try_update_value(Option::take).flatten() {
            spawn_local(keep(session, bench, target, sound));
        }
    };
    let press = move |_| match (stage.get_untracked(), on.get_untracked()) {
        (RecordingStage::Silent, Some(target)) => begin(target),
        (RecordingStage::Silent, None) => {}
        (RecordingStage::Opening(_) | RecordingStage::Recording, _) => finish(),
    };
    let words = move || match stage.get() {
        RecordingStage::Silent => words::parts::voice_note(),
        RecordingStage::Opening(_) => words::parts::stop_opening_microphone(),
        RecordingStage::Recording => words::parts::stop_recording(),
    };
    on_cleanup(finish);
    view! {
        <button class="bench quiet" on:click=press
            aria-pressed=move || (stage.get() != RecordingStage::Silent).to_string()>
            {words}
        </button>
    }
}

async fn keep(session: Session, bench: Selection, target: NoteTarget, sound: Recording) {
    let kept = async {
        let blob = sound.finish().await.map_err(|error| error.to_string())?;
        let note = spoken(&target, blob.about.clone());
        let saved = session.save(vec![note], vec![blob]).await;
        saved.map_err(|error| error.to_string())
    };
    match kept.await {
        Ok(saved) => bench.remember(&saved, words::parts::voice_note_saved()),
        Err(why) => session.complain(words::parts::voice_note_not_saved(&why)),
    }
}
