//! Writes the entries of one job.

use serde_json::{Value, json};
use shared::log::body::{Agreed, CardPhoto, Gift, Photo, Published, Shows, field};
use shared::log::{Body, EntryId, SubjectId, SubjectKind, UnixMs};
use shared::price::minor::Minor;
use shared::text::unless_empty;

use super::stay::{Past, Stay};
use super::{AT_THE_COUNTER_MS, Teller};
use crate::demo::cast;
use crate::demo::picture::Shot;
use crate::demo::section::section;
use crate::demo::story::{Does, StoryJob, Who};

impl Teller<'_> {
    /// Writes a job from the drop-off to its last event.
    pub(super) fn job(
        &mut self,
        at: UnixMs,
        ticket: SubjectId,
        customer: SubjectId,
        told: &'static StoryJob,
    ) {
        let pair = self.pair(at, customer, told.pair);
        let key = (told.pair.colour, told.pair.look);
        let before = self.pairs.get(&key).and_then(|known| known.last);
        let mut stay = Stay::new(told, self.pen.subject(at), pair, before);
        self.drop_off(at, ticket, &mut stay);
        for (when, who, does) in told.then {
            self.does(when.at(self.pen.now), *who, &mut stay, does);
        }
        if let Some(known) = self.pairs.get_mut(&key) {
            known.last = Some(Past {
                job: stay.job,
                step: stay.step.map(|(step, _)| step),
            });
        }
    }

    fn drop_off(&mut self, at: UnixMs, ticket: SubjectId, stay: &mut Stay) {
        let told = stay.told;
        let about = (SubjectKind::Job, stay.job);
        self.opened(at, about, (Some(stay.pair), Some(ticket), None));
        self.field(at, stay, field::TAG, json!(told.tag));
        if !told.guessed.is_empty() {
            self.field(at, stay, field::CONSTRUCTION_GUESSED, json!(told.guessed));
        }
        if !told.came_with.is_empty() {
            self.field(at, stay, field::CAME_WITH, json!(told.came_with));
        }
        for line in told.agreed {
            let agreed = Agreed {
                variant: unless_empty(line.variant).map(str::to_owned),
                count: (line.pieces > 1).then_some(line.pieces),
                ..Agreed::at(line.operation, Minor(line.price))
            };
            self.note_down(at, Who::Repairer, stay, &Body::Agreed(agreed));
        }
        for (number, shot) in (1..).zip(told.brought) {
            let at = UnixMs(at.0 + number * AT_THE_COUNTER_MS / 4);
            self.photograph(at, Who::Repairer, stay, &Shows::DropOff, *shot);
        }
    }

    fn does(&mut self, at: UnixMs, by: Who, stay: &mut Stay, does: &'static Does) {
        match does {
            Does::Photo(shows, shot) => self.photograph(at, by, stay, shows, *shot),
            Does::Extra(operation, price) => self.extra(at, by, stay, Agreed::at(*operation, Minor(*price))),
            Does::Gift(operation, why, worth) => {
                let gift = Gift {
                    why: why.clone(),
                    worth_minor: Minor(*worth),
                };
                let line = Agreed {
                    gift: Some(gift),
                    ..Agreed::at(*operation, Minor(0))
                };
                self.extra(at, by, stay, line);
                stay.done.gifts.push(operation);
            }
            Does::IsBuilt(how) => self.field(at, stay, field::CONSTRUCTION_OPENED, json!(how)),
            Does::Left(how) => {
                stay.done.construction = Some(how);
                self.field(at, stay, field::CONSTRUCTION_LEFT, json!(how));
            }
            Does::Checked(shelf) => {
                let checked = Body::Checked(stay.checked());
                self.note_down(at, by, stay, &checked);
                self.field(at, stay, field::SHELF, json!(shelf));
            }
            Does::Publishes(before, after, next_check) => {
                let published = self.published(at, stay, [before, after], *next_check);
                self.note_down(at, by, stay, &Body::Published(published));
            }
            single => {
                if let Some(body) = stay.body(single) {
                    let entry = self.note_down(at, by, stay, &body);
                    stay.remember(single, entry, at);
                }
            }
        }
    }

    fn extra(&mut self, at: UnixMs, by: Who, stay: &Stay, line: Agreed) {
        let line = Agreed {
            damage: stay.damage,
            ..line
        };
        self.note_down(at, by, stay, &Body::Agreed(line));
    }

    fn photograph(&mut self, at: UnixMs, by: Who, stay: &mut Stay, shows: &Shows, shot: Shot) {
        let Some(named) = self.album.named(&shot.of(stay.told.pair.look)).cloned() else {
            return;
        };
        let mut photo = Photo::new(named.full.clone(), named.thumb, shows.clone());
        match shows {
            Shows::Step => photo.operation = stay.step.map(|(_, operation)| operation.into()),
            Shows::Damage => photo.of = stay.damage,
            _ => {}
        }
        stay.shown = Some(named.full.sha256.clone());
        let (blob, caption) = (named.full, stay.done.caption(shows));
        stay.photos.push((
            shows.clone(),
            CardPhoto {
                blob,
                caption,
                shows: Some(shows.clone()),
            },
        ));
        self.note_down(at, by, stay, &Body::Photo(photo));
    }

    fn published(&self, at: UnixMs, stay: &Stay, captions: [&'static str; 2], next_check: i64) -> Published {
        let chosen = |shows: Shows| stay.photos.iter().filter(move |(of, _)| *of == shows);
        let [before, after] = captions;
        let named = |caption: &'static str| {
            move |(_, photo): &(Shows, CardPhoto)| CardPhoto {
                caption: caption.to_owned(),
                ..photo.clone()
            }
        };
        let mut photos: Vec<CardPhoto> = chosen(Shows::DropOff).take(1).map(named(before)).collect();
        photos.extend(chosen(Shows::Finished).next_back().map(named(after)));
        photos.extend(chosen(Shows::Damage).take(1).map(|(_, photo)| photo.clone()));
        let mut section = section(stay.told.pair, &stay.done, photos);
        section.day = self.pen.day_after(at, 0);
        section.next_check = Some(self.pen.day_after(at, next_check));
        section.terms = cast::TERMS.to_owned();
        section.shop = cast::CONTACT.to_owned();
        section.shop_name = cast::SHOP.to_owned();
        Published {
            pair: stay.pair,
            section: Box::new(section),
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
