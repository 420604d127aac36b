//! Notes: adding one, typed or spoken, and showing those there are.

use leptos::html::Details;
use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Note;
use shared::log::fold::Item;

use super::{Typed, VoiceNote, VoiceRecorder, on_day};
use crate::selection::use_selection;
use crate::session::{use_kept, use_session};
use crate::shop::use_shop;
use app_core::commands::notes::{NoteTarget, typed};

/// Which note form of a screen is unfolded. It belongs to the screen and not to a list on it, because a list is drawn anew
/// after each save and each sync, and would fold the form in which somebody writes.
#[derive(Clone, Copy)]
pub struct UnfoldedNote(RwSignal<Option<NoteTarget>>);

impl UnfoldedNote {
    /// Provides it to everything a screen draws. Each screen with note forms calls it once, outside of what is drawn anew.
    pub fn provide() {
        provide_context(Self(RwSignal::new(None)));
    }

    /// That of the screen; one of its own for a form that is drawn once.
    fn of_screen() -> Self {
        use_context().unwrap_or_else(|| Self(RwSignal::new(None)))
    }
}

/// The form for a note, folded until it is wanted. It stays unfolded while its list is drawn anew, see [`UnfoldedNote`].
#[component]
pub fn AddNote(
    /// What the note is on.
    on: NoteTarget,
    /// What that is called.
    #[prop(into)]
    about: String,
) -> impl IntoView {
    let UnfoldedNote(unfolded) = UnfoldedNote::of_screen();
    let (this, node) = (StoredValue::new(on), NodeRef::<Details>::new());
    let is_open =
        Memo::new(move |_| this.with_value(|this| unfolded.with(|open| open.as_ref() == Some(this))));
    let toggled = move |_| {
        // The list may have been drawn anew since the tap.
        let Some(was_open) = is_open.try_get_untracked() else {
            return;
        };
        let opened = node.get_untracked().is_some_and(|node| node.open());
        match (opened, was_open) {
            (true, false) => unfolded.set(Some(this.get_value())),
            (false, true) => unfolded.set(None),
            _ => {}
        }
    };
    let name = words::parts::add_note_on(&about);
    let form = move || {
        let label = words::parts::note_on(&about);
        let keep = words::parts::save_note_on(&about);
        // A list has many of these: each form is made only when somebody wants it.
        is_open
            .get()
            .then(|| view! { <NoteForm on=this.get_value() label keep/> })
    };
    view! {
        <details class="note" node_ref=node open=move || is_open.get() on:toggle=toggled>
            <summary aria-label=name>{words::parts::add_note()}</summary>
            {form}
        </details>
    }
}

/// A field for the next note, a button that keeps it, and one to speak it. The text is stored as it is typed until the
/// note is kept, so that an interrupted person finds it again.
#[component]
pub fn NoteForm(
    /// What the note is on.
    on: NoteTarget,
    /// The label of the field.
    #[prop(into)]
    label: String,
    /// The accessible name of the button that keeps the note.
    #[prop(into)]
    keep: String,
) -> impl IntoView {
    let (bench, session) = (use_selection(), use_session());
    let text = use_kept::<String>(on.draft_name());
    let target = Signal::stored(Some(on.clone()));
    let kept = move |_| {
        let Some(draft) = typed(&on, &text.get_untracked()) else {
            return;
        };
        session.save_and(vec![draft], move |saved| {
            bench.remember(&saved, words::work::note_saved());
            text.try_set(String::new());
        });
    };
    view! {
        <Typed label value=text.into() typed=Callback::new(move |typed| text.set(typed))/>
        <div class="choices">
            <button class="bench quiet" aria-label=keep on:click=kept>{words::work::save_the_note()}</button>
            <VoiceRecorder on=target/>
        </div>
    }
}

/// Notes one below the other, each with its voice, its day and who wrote it; nothing if there are none.
pub fn note_list(
    notes: Vec<&Item<Note>>,
    // The subject whose entries they are.
    on: SubjectId,
    // The accessible name of the list.
    label: String,
) -> Option<AnyView> {
    if notes.is_empty() {
        return None;
    }
    let shop = use_shop();
    let lines = notes.into_iter().map(|note| {
        let spoken = note
            .body
            .voice
            .clone()
            .map(|sound| view! { <VoiceNote sound on/> });
        let who = note.person.and_then(|person| shop.name_of(person));
        let when = [Some(on_day(note.at.utc)), who].into_iter().flatten();
        let when = when.collect::<Vec<_>>().join(", ");
        view! { <li>{note.body.text.clone()}" "{spoken}" "<span class="quiet">{when}</span></li> }
    });
    let lines = lines.collect_view();
    Some(view! { <ul class="plain notes" aria-label=label>{lines}</ul> }.into_any())
}
