//! Notes, typed or spoken, on a subject or on one of its entries: what they are on, writing them, and which can stand
//! on the care card.

use shared::log::body::{Blob, Note};
use shared::log::fold::{Item, JobState, PairHistory, TicketState};
use shared::log::{Body, Draft, EntryId, Subject, SubjectId, SubjectKind};

/// What a note is on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoteTarget {
    /// The subject.
    pub subject: Subject,
    /// The entry of the subject that it is a remark on: a step, a finding; `None` for the subject as a whole.
    pub of: Option<EntryId>,
}

impl NoteTarget {
    /// A job as a whole.
    pub fn job(job: SubjectId) -> Self {
        Self {
            subject: Subject::new(SubjectKind::Job, job),
            of: None,
        }
    }

    /// A ticket as a whole.
    pub fn ticket(ticket: SubjectId) -> Self {
        Self {
            subject: Subject::new(SubjectKind::Ticket, ticket),
            of: None,
        }
    }

    /// An entry of the same subject.
    #[must_use]
    pub fn entry(self, of: EntryId) -> Self {
        Self { of: Some(of), ..self }
    }

    /// The name under which a text that is not finished is stored.
    pub fn draft_name(&self) -> String {
        let subject = self.subject.id;
        match self.of {
            Some(of) => format!("note/{subject}/{of}"),
            None => format!("note/{subject}"),
        }
    }
}

/// A typed note; `None` for a blank text.
pub fn typed(on: &NoteTarget, text: &str) -> Option<Draft> {
    let text = text.trim();
    (!text.is_empty()).then(|| note(on, text.to_owned(), None))
}

/// A spoken note.
pub fn spoken(on: &NoteTarget, voice: Blob) -> Draft {
    note(on, String::new(), Some(voice))
}

/// A wish of the customer, as it is written down at drop-off: a note on the job; `None` for a blank text.
pub fn wish(job: SubjectId, text: &str) -> Option<Draft> {
    typed(&NoteTarget::job(job), text)
}

fn note(on: &NoteTarget, text: String, voice: Option<Blob>) -> Draft {
    let body = Body::Note(Note {
        text,
        voice,
        of: on.of,
    });
    Draft::new(on.subject.clone(), body)
}

/// The notes on one entry of a job.
pub fn on_entry(job: &JobState, entry: EntryId) -> impl Iterator<Item = &Item<Note>> {
    job.notes.iter().filter(move |note| note.body.of == Some(entry))
}

/// The notes on a job that stand under none of its steps and findings: those on the job as a whole, and those on an
/// entry that is no longer shown.
pub fn on_job_alone(job: &JobState) -> impl Iterator<Item = &Item<Note>> {
    let shown = |entry: EntryId| {
        let mut steps = job.steps.iter().map(|step| step.entry);
        let mut findings = job.damage.iter().map(|finding| finding.entry);
        steps.any(|one| one == entry) || findings.any(|one| one == entry)
    };
    job.notes
        .iter()
        .filter(move |note| !note.body.of.is_some_and(shown))
}

/// A written note that can be put on the care card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrittenNote {
    /// The entry with the text.
    pub entry: EntryId,
    /// The text.
    pub text: String,
}

/// Everything that was written about a job: the remarks on its steps and findings, its notes, and those of its ticket.
/// Spoken notes are not among them.
pub fn written(history: &PairHistory, job: &JobState) -> Vec<WrittenNote> {
    let steps = job.steps.iter().map(|step| (step.entry, &step.body.note));
    let findings = job
        .damage
        .iter()
        .map(|finding| (finding.entry, &finding.body.note));
    let ticket = history.ticket_of(job).map(|ticket: &TicketState| &ticket.notes);
    let notes = job.notes.iter().chain(ticket.into_iter().flatten());
    let notes = notes.map(|note| (note.entry, &note.body.text));
    let all = steps.chain(findings).chain(notes);
    let said = all.filter(|(_, text)| !text.trim().is_empty());
    said.map(|(entry, text)| WrittenNote {
        entry,
        text: text.trim().to_owned(),
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::scene::{JOB, TICKET, entry, history, job, said, step, subject};
    use shared::log::body::{Damage, Seen, Side};
    use shared::log::fold::PairState;

    fn remark(n: u128, text: &str, of: Option<u128>) -> Item<Note> {
        let note = Note {
            text: text.to_owned(),
            voice: None,
            of: of.map(entry),
        };
        said(n, 0, note)
    }

    fn sound() -> Blob {
        Blob {
            sha256: "0".repeat(64),
            media_type: "audio/webm".to_owned(),
            bytes: 9,
            width: 0,
            height: 0,
        }
    }

    /// A job with a step, a finding, and a note on each and on neither.
    fn remarked() -> JobState {
        let mut state = job(&[]);
        state.steps = vec![step(20, "half_sole", 0)];
        state.steps[0].body.note = " Roughed twice ".to_owned();
        let finding = Damage {
            part: "shank".to_owned(),
            condition: "loose".to_owned(),
            side: Side::Both,
            seen: Seen::Inside,
            decision: None,
            pays: None,
            note: "Rusted".to_owned(),
        };
        state.damage = vec![said(30, 0, finding)];
        state.notes = vec![
            remark(40, "A thin skin of cement", Some(20)),
            remark(41, "Rivet gone", Some(30)),
            remark(42, "Wants them dark", None),
            remark(43, "On a step that was taken back", Some(21)),
            remark(44, "", Some(20)),
        ];
        state
    }

    #[test]
    fn a_note_is_on_what_it_is_said_to_be_on() {
        let on = NoteTarget::job(subject(JOB)).entry(entry(20));
        let draft = typed(&on, " A thin skin of cement ").unwrap();
        assert_eq!(draft.subject, Subject::new(SubjectKind::Job, subject(JOB)));
        let Body::Note(note) = draft.body else {
            panic!("a note");
        };
        assert_eq!(
            (note.text.as_str(), note.voice, note.of),
            ("A thin skin of cement", None, Some(entry(20)))
        );
        let Body::Note(note) = spoken(&NoteTarget::ticket(subject(TICKET)), sound()).body else {
            panic!("a note");
        };
        assert_eq!((note.voice, note.of), (Some(sound()), None));
        assert_eq!(typed(&on, "  \n"), None, "nothing was said");
        assert_eq!(wish(subject(JOB), ""), None);
    }

    #[test]
    fn every_place_for_a_note_keeps_its_own_unfinished_text() {
        let job = NoteTarget::job(subject(JOB));
        let places = [
            job.clone(),
            job.clone().entry(entry(20)),
            job.entry(entry(21)),
            NoteTarget::ticket(subject(TICKET)),
        ];
        let names: std::collections::BTreeSet<_> = places.iter().map(NoteTarget::draft_name).collect();
        assert_eq!(names.len(), places.len());
    }

    #[test]
    fn notes_stand_under_what_they_are_on_and_none_is_lost() {
        let state = remarked();
        let ids = |notes: Vec<&Item<Note>>| notes.iter().map(|note| note.entry).collect::<Vec<_>>();
        assert_eq!(ids(on_entry(&state, entry(20)).collect()), [entry(40), entry(44)]);
        assert_eq!(ids(on_entry(&state, entry(30)).collect()), [entry(41)]);
        assert_eq!(ids(on_job_alone(&state).collect()), [entry(42), entry(43)]);
    }

    #[test]
    fn what_was_written_can_stand_on_the_card_and_what_was_spoken_cannot() {
        let state = remarked();
        let ticket = TicketState {
            notes: vec![remark(50, "Comes on Friday", None)],
            ..TicketState::default()
        };
        let pair = history(PairState::default(), state.clone(), ticket);
        let texts: Vec<String> = written(&pair, &state).into_iter().map(|one| one.text).collect();
        assert_eq!(
            texts,
            [
                "Roughed twice",
                "Rusted",
                "A thin skin of cement",
                "Rivet gone",
                "Wants them dark",
                "On a step that was taken back",
                "Comes on Friday",
            ]
        );
    }
}
