//! The state of one job while its story is written, and the entries that refer to earlier ones.

use shared::log::body::{
    Answer, CardPhoto, Checked, Choice, Complaint, Damage, HandedOver, KeptFor, Note, OperationCode, PutBack,
    Question, Redo, Shows, Side, Step, TakenOut, Wait, WaitOver,
};
use shared::log::{Body, EntryId, SubjectId, UnixMs};
use shared::price::minor::Minor;
use shared::trade::final_check::{Leaving, applies, usual_list};
use shared::trade::{CameWith, Goods, usual_life};

use crate::demo::cast;
use crate::demo::section::SectionProgress;
use crate::demo::story::{Does, Find, StoryJob};

/// What a complaint refers to: a job, and its last step.
#[derive(Debug, Clone, Copy)]
pub(super) struct Past {
    pub(super) job: SubjectId,
    pub(super) step: Option<EntryId>,
}

/// A pair's stay in the shop, as far as it has been written.
pub(super) struct Stay {
    pub(super) told: &'static StoryJob,
    pub(super) job: SubjectId,
    pub(super) pair: SubjectId,
    /// The pair's job before this one.
    pub(super) before: Option<Past>,
    pub(super) step: Option<(EntryId, &'static str)>,
    pub(super) damage: Option<EntryId>,
    /// SHA-256 of the last picture.
    pub(super) shown: Option<String>,
    pub(super) photos: Vec<(Shows, CardPhoto)>,
    pub(super) done: SectionProgress,
    question: Option<EntryId>,
    wait: Option<EntryId>,
    out: Option<EntryId>,
    kept_for_customer: bool,
}

impl Stay {
    /// A stay without events.
    pub(super) fn new(
        told: &'static StoryJob,
        job: SubjectId,
        pair: SubjectId,
        before: Option<Past>,
    ) -> Self {
        Self {
            told,
            job,
            pair,
            before,
            step: None,
            damage: None,
            shown: None,
            photos: Vec::new(),
            done: SectionProgress::default(),
            question: None,
            wait: None,
            out: None,
            kept_for_customer: false,
        }
    }

    /// The body of the entry that this event makes. `None` if the event makes more than one entry, or refers to
    /// something that the story does not have.
    pub(super) fn body(&self, does: &Does) -> Option<Body> {
        Some(match does {
            Does::Step(operation, minutes, note) => Body::Step(Step {
                cement: None,
                line: None,
                operation: (*operation).into(),
                side: Side::Both,
                note: (*note).to_owned(),
                minutes: Some(*minutes),
                used: Vec::new(),
            }),
            Does::Found(find) => found(find),
            Does::Asks(text, choices) => self.question(text, choices),
            Does::Waits(what, minutes, note) => Body::Wait(Wait {
                dries: None,
                what: what.clone(),
                minutes: *minutes,
                note: (*note).to_owned(),
                material: None,
            }),
            Does::Out(part, kept_for) => Body::TakenOut(TakenOut {
                kept_for: Some(kept_for.clone()),
                part: (*part).to_owned(),
                side: Side::Both,
            }),
            Does::Note(text) => Body::Note(Note {
                of: None,
                text: (*text).to_owned(),
                voice: None,
            }),
            Does::Remark(text) => Body::Note(Note {
                of: Some(self.step?.0),
                text: (*text).to_owned(),
                voice: None,
            }),
            Does::HandedOver => Body::HandedOver(HandedOver::default()),
            referring => return self.reference(referring),
        })
    }

    /// The body of an event that refers to an earlier one.
    fn reference(&self, does: &Does) -> Option<Body> {
        Some(match does {
            Does::Hears(outcome, choice) => Body::Answer(Answer {
                question: self.question?,
                outcome: outcome.clone(),
                choice: *choice,
                call_at: String::new(),
            }),
            Does::WaitOver => Body::WaitOver(WaitOver { wait: self.wait? }),
            Does::Back => Body::PutBack(PutBack { out: self.out? }),
            Does::Redo(scrap) => Body::Redo(Redo {
                step: self.step?.0,
                scrap: (*scrap).to_owned(),
            }),
            Does::Complains(operation, cause, note) => Body::Complaint(Complaint {
                job: self.before?.job,
                step: self.before?.step,
                operation: (*operation).into(),
                cause: Some(cause.clone()),
                note: (*note).to_owned(),
            }),
            _ => return None,
        })
    }

    /// Remembers an event to which later entries refer.
    pub(super) fn remember(&mut self, does: &'static Does, entry: EntryId, at: UnixMs) {
        match does {
            Does::Step(operation, ..) => {
                self.step = Some((entry, operation));
                self.done.steps.push((operation, at));
            }
            Does::Found(find) => {
                self.damage = Some(entry);
                self.done.found.push(find);
            }
            Does::Asks(..) => self.question = Some(entry),
            Does::Waits(..) => self.wait = Some(entry),
            Does::Out(_, KeptFor::Customer) => self.kept_for_customer = true,
            Does::Out(..) => self.out = Some(entry),
            Does::Remark(text) => self.done.notes.push(text),
            _ => {}
        }
    }

    /// The final check, with every line ticked that applies to this job.
    pub(super) fn checked(&self) -> Checked {
        let goods = Goods::from(self.told.pair.goods);
        let came_with: Vec<CameWith> = self.told.came_with.iter().copied().map(CameWith::from).collect();
        let operations: Vec<&str> = self.done.steps.iter().map(|(operation, _)| *operation).collect();
        let leaving = Leaving {
            goods: Some(&goods),
            operations: &operations,
            came_with: &came_with,
            parts_kept: self.kept_for_customer,
        };
        let list = usual_list().chain([cast::OWN_CHECK]);
        let ticked = list.filter(|line| applies(line, &leaving)).map(str::to_owned);
        Checked {
            ticked: ticked.collect(),
            vouched: false,
        }
    }

    fn question(&self, text: &str, choices: &[(&str, &str, i64)]) -> Body {
        let choice = |(say, operation, price): &(&str, &str, i64)| Choice {
            say: (*say).to_owned(),
            operation: OperationCode::if_any(operation),
            price_minor: Minor(*price),
            life_months: usual_life(operation),
        };
        Body::Question(Question {
            text: text.to_owned(),
            choices: choices.iter().map(choice).collect(),
            photo: self.shown.clone(),
            damage: self.damage,
        })
    }
}

fn found(find: &Find) -> Body {
    let (decision, pays) = find.decided.clone().unzip();
    Body::Damage(Damage {
        part: find.part.to_owned(),
        condition: find.condition.to_owned(),
        side: find.side.clone(),
        seen: find.seen.clone(),
        decision,
        pays,
        note: find.note.to_owned(),
    })
}
