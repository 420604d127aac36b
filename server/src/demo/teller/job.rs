//! One pair's stay, entry by entry.

use serde_json::{Value, json};
use shared::log::body::{
    Agreed, Answer, CardPhoto, Checked, Choice, Complaint, Damage, Gift, HandedOver, Note, Photo, Published,
    PutBack, Question, Redo, Shows, Side, Step, TakenOut, Wait, WaitOver, field,
};
use shared::log::{Body, EntryId, SubjectId, SubjectKind, UnixMs};
use shared::trade::final_check::{Leaving, applies, usual_list};
use shared::trade::{CameWith, Goods};

use super::{AT_THE_COUNTER_MS, Teller};
use crate::demo::cast;
use crate::demo::section::{Done, section};
use crate::demo::story::{Does, Find, Job, Shot, Who};

/// What a complaint refers to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Past {
    job: SubjectId,
    step: Option<EntryId>,
}

/// What later entries of a job refer to.
struct Stay {
    told: &'static Job,
    job: SubjectId,
    pair: SubjectId,
    step: Option<(EntryId, &'static str)>,
    damage: Option<EntryId>,
    question: Option<EntryId>,
    wait: Option<EntryId>,
    out: Option<EntryId>,
    /// SHA-256 of the last picture.
    shown: Option<String>,
    photos: Vec<(Shows, CardPhoto)>,
    done: Done,
}

impl Teller<'_> {
    pub(super) fn job(&mut self, at: UnixMs, ticket: SubjectId, customer: SubjectId, told: &'static Job) {
        let pair = self.pair(at, customer, told.pair);
        let mut stay = Stay::new(told, self.pen.subject(at), pair);
        let about = (SubjectKind::Job, stay.job);
        self.opened(at, about.clone(), (Some(pair), Some(ticket), None));
        self.field(at, &stay, field::TAG, json!(told.tag));
        if !told.guessed.is_empty() {
            self.field(at, &stay, field::CONSTRUCTION_GUESSED, json!(told.guessed));
        }
        if !told.came_with.is_empty() {
            self.field(at, &stay, field::CAME_WITH, json!(told.came_with));
        }
        for (operation, price) in told.agreed {
            self.note_down(
                at,
                Who::Repairer,
                &stay,
                &Body::Agreed(Agreed::at(*operation, *price)),
            );
        }
        for (number, shot) in (1..).zip(told.brought) {
            let at = UnixMs(at.0 + number * AT_THE_COUNTER_MS / 4);
            self.photograph(at, Who::Repairer, &mut stay, &Shows::DropOff, *shot);
        }
        for (when, who, does) in told.then {
            self.does(when.at(self.pen.now), *who, &mut stay, does);
        }
        let past = Past {
            job: stay.job,
            step: stay.step.map(|(step, _)| step),
        };
        if let Some(known) = self.pairs.get_mut(&(told.pair.colour, told.pair.look)) {
            known.last = Some(past);
        }
    }

    /// Writes one thing; what happens only once a job ends is in [`Teller::ends`].
    fn does(&mut self, at: UnixMs, by: Who, stay: &mut Stay, does: &'static Does) {
        match does {
            Does::Step(operation, minutes, note) => {
                let step = self.note_down(at, by, stay, &step(operation, *minutes, note));
                stay.step = Some((step, operation));
                stay.done.steps.push((operation, at));
            }
            Does::Photo(shows, shot) => self.photograph(at, by, stay, shows, *shot),
            Does::Found(find) => {
                stay.damage = Some(self.note_down(at, by, stay, &found(find)));
                stay.done.found.push(find);
            }
            Does::Extra(operation, price) => {
                self.extra(at, by, stay, Agreed::at(*operation, *price));
            }
            Does::Gift(operation, why, worth_minor) => {
                let gift = Gift {
                    why: why.clone(),
                    worth_minor: *worth_minor,
                };
                let mut line = Agreed::at(*operation, 0);
                line.gift = Some(gift);
                self.extra(at, by, stay, line);
                stay.done.gifts.push(operation);
            }
            Does::Asks(text, choices) => {
                let question = question(stay, text, choices);
                stay.question = Some(self.note_down(at, by, stay, &question));
            }
            Does::Waits(what, minutes, note) => {
                let wait = Body::Wait(Wait {
                    what: what.clone(),
                    minutes: *minutes,
                    note: (*note).to_owned(),
                });
                stay.wait = Some(self.note_down(at, by, stay, &wait));
            }
            Does::Out(part) => {
                let out = Body::TakenOut(TakenOut {
                    part: (*part).to_owned(),
                    side: Side::Both,
                });
                stay.out = Some(self.note_down(at, by, stay, &out));
            }
            Does::IsBuilt(how) => self.field(at, stay, field::CONSTRUCTION_OPENED, json!(how)),
            Does::Left(how) => {
                stay.done.construction = Some(how);
                self.field(at, stay, field::CONSTRUCTION_LEFT, json!(how));
            }
            Does::Checked(shelf) => {
                let checked = Body::Checked(checked(stay));
                self.note_down(at, by, stay, &checked);
                self.field(at, stay, field::SHELF, json!(shelf));
            }
            Does::Publishes(before, after, next_check) => {
                let published = self.published(at, stay, [before, after], *next_check);
                self.note_down(at, by, stay, &Body::Published(published));
            }
            other => {
                if let Some(body) = self.answering(stay, other) {
                    self.note_down(at, by, stay, &body);
                }
            }
        }
    }

    /// What refers to something earlier. `None` if the story has nothing to refer to.
    fn answering(&self, stay: &Stay, does: &Does) -> Option<Body> {
        Some(match does {
            Does::Hears(outcome, choice) => Body::Answer(Answer {
                question: stay.question?,
                outcome: outcome.clone(),
                choice: *choice,
                call_at: String::new(),
            }),
            Does::WaitOver => Body::WaitOver(WaitOver { wait: stay.wait? }),
            Does::Back => Body::PutBack(PutBack { out: stay.out? }),
            Does::Redo(scrap) => Body::Redo(Redo {
                step: stay.step?.0,
                scrap: (*scrap).to_owned(),
            }),
            Does::Complains(operation, cause, note) => {
                let past = self
                    .pairs
                    .get(&(stay.told.pair.colour, stay.told.pair.look))?
                    .last?;
                Body::Complaint(Complaint {
                    job: past.job,
                    step: past.step,
                    operation: (*operation).to_owned(),
                    cause: Some(cause.clone()),
                    note: (*note).to_owned(),
                })
            }
            Does::Note(text) => Body::Note(Note {
                text: (*text).to_owned(),
                voice: None,
            }),
            Does::HandedOver => Body::HandedOver(HandedOver::default()),
            _ => return None,
        })
    }

    fn extra(&mut self, at: UnixMs, by: Who, stay: &Stay, line: Agreed) {
        let line = Agreed {
            damage: stay.damage,
            ..line
        };
        self.note_down(at, by, stay, &Body::Agreed(line));
    }

    fn photograph(&mut self, at: UnixMs, by: Who, stay: &mut Stay, shows: &Shows, shot: Shot) {
        let Some(named) = self.album.of(&shot.of(stay.told.pair)).cloned() else {
            return;
        };
        let mut photo = Photo::new(named.full.clone(), named.thumb, shows.clone());
        match shows {
            Shows::Step => photo.operation = stay.step.map(|(_, operation)| operation.to_owned()),
            Shows::Damage => photo.of = stay.damage,
            _ => {}
        }
        stay.shown = Some(named.full.sha256.clone());
        let (blob, caption) = (named.full, stay.done.caption(shows));
        stay.photos.push((shows.clone(), CardPhoto { blob, caption }));
        self.note_down(at, by, stay, &Body::Photo(photo));
    }

    fn published(&self, at: UnixMs, stay: &Stay, captions: [&str; 2], next_check: i64) -> Published {
        let chosen = |shows: Shows| stay.photos.iter().filter(move |(of, _)| *of == shows);
        let [before, after] = captions.map(str::to_owned);
        let named = |caption: String| {
            move |(_, photo): &(Shows, CardPhoto)| CardPhoto {
                caption: caption.clone(),
                ..photo.clone()
            }
        };
        let mut photos: Vec<CardPhoto> = chosen(Shows::DropOff).take(1).map(named(before)).collect();
        photos.extend(chosen(Shows::Finished).last().map(named(after)));
        photos.extend(chosen(Shows::Damage).take(1).map(|(_, photo)| photo.clone()));
        let mut section = section(stay.told.pair, &stay.done, photos);
        section.day = self.pen.day_after(at, 0);
        section.next_check = Some(self.pen.day_after(at, next_check));
        section.terms = cast::TERMS.to_owned();
        section.shop = cast::CONTACT.to_owned();
        Published {
            pair: stay.pair,
            section,
            seen: Vec::new(),
        }
    }

    fn field(&mut self, at: UnixMs, stay: &Stay, name: &str, value: Value) {
        self.detail(at, Who::Repairer, (SubjectKind::Job, stay.job), name, value);
    }

    fn note_down(&mut self, at: UnixMs, by: Who, stay: &Stay, body: &Body) -> EntryId {
        let by = self.who(by);
        self.pen.write(at, by, (SubjectKind::Job, stay.job), body)
    }
}

impl Stay {
    fn new(told: &'static Job, job: SubjectId, pair: SubjectId) -> Self {
        Self {
            told,
            job,
            pair,
            step: None,
            damage: None,
            question: None,
            wait: None,
            out: None,
            shown: None,
            photos: Vec::new(),
            done: Done::default(),
        }
    }
}

fn step(operation: &str, minutes: u32, note: &str) -> Body {
    Body::Step(Step {
        operation: operation.to_owned(),
        side: Side::Both,
        note: note.to_owned(),
        minutes: Some(minutes),
    })
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

fn question(stay: &Stay, text: &str, choices: &[(&str, &str, i64)]) -> Body {
    let choice = |(say, operation, price_minor): &(&str, &str, i64)| Choice {
        say: (*say).to_owned(),
        operation: (*operation).to_owned(),
        price_minor: *price_minor,
    };
    Body::Question(Question {
        text: text.to_owned(),
        choices: choices.iter().map(choice).collect(),
        photo: stay.shown.clone(),
        damage: stay.damage,
    })
}

/// Every line of the shop's list that applies is ticked.
fn checked(stay: &Stay) -> Checked {
    let goods = Goods::from(stay.told.pair.goods);
    let came_with: Vec<CameWith> = stay.told.came_with.iter().copied().map(CameWith::from).collect();
    let operations: Vec<&str> = stay.done.steps.iter().map(|(operation, _)| *operation).collect();
    let leaving = Leaving {
        goods: Some(&goods),
        operations: &operations,
        came_with: &came_with,
    };
    let list = usual_list().chain([cast::OWN_CHECK]);
    let ticked = list.filter(|line| applies(line, &leaving)).map(str::to_owned);
    Checked {
        ticked: ticked.collect(),
    }
}
