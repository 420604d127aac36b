//! What one subject's entries say.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value};
use uuid::Uuid;

use crate::log::body::{
    Agreed, Answer, Body, BodyKind, CardLink, Checked, Complaint, Damage, HandedOver, Measured, Note, Opened,
    Order, Payment, Person, Photo, Published, PutBack, Question, Redo, Skipped, Spent, Step, TakenOut, Wait,
    WaitOver,
};
use crate::log::entry::{EntryId, MadeAt, PersonId, UnixMs};
use crate::log::inserted;
use crate::log::received::ReceivedEntry;
use crate::log::supersession::{ReadEntry, Supersession};

/// One standing entry, with what people want to know of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Item<T> {
    /// Which entry says so.
    pub entry: EntryId,
    /// When it was made, for people.
    pub at: MadeAt,
    /// Who was working.
    pub person: Option<PersonId>,
    /// What it says.
    pub body: T,
}

/// The current value of a plain field.
#[derive(Debug, Clone, PartialEq)]
pub struct Slot<T> {
    /// The greatest standing value: what is shown.
    pub current: Item<T>,
    /// Other standing values: written at the same time by a device that had not seen the current one.
    pub rivals: Vec<Item<T>>,
}

impl<T> Slot<T> {
    /// The entries a new value must name in `over`.
    pub fn entries(&self) -> Vec<EntryId> {
        self.rivals
            .iter()
            .chain([&self.current])
            .map(|item| item.entry)
            .collect()
    }
}

/// One line of agreed work. More than one version: agreed differently on two devices; show all and ask.
#[derive(Debug, Clone, PartialEq)]
pub struct AgreedLine {
    /// The standing versions, in order; never empty.
    pub versions: Vec<Item<Agreed>>,
}

/// Everything one subject's standing entries say. Which fields are used depends on the kind of subject.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct State {
    /// What it hangs on.
    pub opened: Option<Slot<Opened>>,
    /// Plain fields by name.
    pub details: BTreeMap<String, Slot<Value>>,
    /// Agreed work.
    pub agreed: Vec<AgreedLine>,
    /// Agreed work that will not be done.
    pub skipped: Vec<Item<Skipped>>,
    /// The order chosen for the remaining work.
    pub order: Option<Slot<Order>>,
    /// Photographs, but for those that were destroyed.
    pub photos: Vec<Item<Photo>>,
    /// Photographs whose picture was destroyed, in full or small: there is nothing left to show of them.
    pub destroyed_photos: Vec<Item<Photo>>,
    /// SHA-256 of the bytes that were destroyed here.
    pub destroyed: BTreeSet<String>,
    /// Work done.
    pub steps: Vec<Item<Step>>,
    /// Steps to be made again.
    pub redone: Vec<Item<Redo>>,
    /// What steps took, said afterwards.
    pub spent: Vec<Item<Spent>>,
    /// Waits, running and over.
    pub waits: Vec<Item<Wait>>,
    /// The waits that somebody has ended.
    pub waits_over: Vec<Item<WaitOver>>,
    /// Damage.
    pub damage: Vec<Item<Damage>>,
    /// Parts taken out, whether they are back or not.
    pub taken_out: Vec<Item<TakenOut>>,
    /// Parts that are back.
    pub put_back: Vec<Item<PutBack>>,
    /// Questions to the customer.
    pub questions: Vec<Item<Question>>,
    /// What they said.
    pub answers: Vec<Item<Answer>>,
    /// What was measured and reckoned.
    pub measured: Vec<Item<Measured>>,
    /// Remarks.
    pub notes: Vec<Item<Note>>,
    /// Money on a ticket.
    pub payments: Vec<Item<Payment>>,
    /// The earlier work that this job makes good.
    pub complaint: Option<Slot<Complaint>>,
    /// Set once the final check is finished.
    pub checked: Option<Slot<Checked>>,
    /// Set once the pair has left the shop.
    pub handed_over: Option<Slot<HandedOver>>,
    /// Those who work here.
    pub people: Vec<Item<Person>>,
    /// Secrets of card links.
    pub links: Vec<Item<CardLink>>,
    /// Standing publications, in order.
    pub published: Vec<Item<Published>>,
    /// Standing withdrawals.
    pub withdrawn: BTreeSet<EntryId>,
    /// Whether an erasure has blanked this subject.
    pub erased: bool,
    /// Entries made by a newer app, which this one keeps but cannot show.
    pub newer: Vec<EntryId>,
}

impl State {
    /// Folds the entries of one subject, or of several that are the same thing. Any order; no two of one id.
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> State {
        let standing = Supersession::of(entries);
        let destroyed = destroyed(&standing);
        let gone = |item: &Item<Photo>| {
            let Photo { full, thumb, .. } = &item.body;
            destroyed.contains(&full.sha256) || destroyed.contains(&thumb.sha256)
        };
        let (destroyed_photos, photos) = list(&standing).into_iter().partition(gone);
        State {
            opened: slot(list(&standing)),
            details: details(&standing),
            agreed: agreed(&standing),
            skipped: list(&standing),
            order: slot(list(&standing)),
            photos,
            destroyed_photos,
            destroyed,
            steps: list(&standing),
            redone: list(&standing),
            spent: list(&standing),
            waits: list(&standing),
            waits_over: list(&standing),
            damage: list(&standing),
            taken_out: list(&standing),
            put_back: list(&standing),
            questions: list(&standing),
            answers: list(&standing),
            measured: list(&standing),
            notes: list(&standing),
            payments: list(&standing),
            complaint: slot(list(&standing)),
            checked: slot(list(&standing)),
            handed_over: slot(list(&standing)),
            people: list(&standing),
            links: list(&standing),
            published: list(&standing),
            withdrawn: inserted(
                standing
                    .unretracted()
                    .filter(|read| matches!(read.body, Body::Withdrawn(_)))
                    .map(ReadEntry::id),
            ),
            erased: standing
                .history()
                .iter()
                .any(|read| matches!(&read.body, Body::Erased(erased) if erased.blob.is_none())),
            newer: standing
                .unretracted()
                .filter(|read| read.body == Body::Unknown && !read.held.entry.is_blank())
                .map(ReadEntry::id)
                .collect(),
        }
    }

    /// A state that says these plain fields and nothing else, by no entry.
    pub fn of_values(values: &Map<String, Value>) -> State {
        let nobody = |value: &Value| Item {
            entry: EntryId(Uuid::nil()),
            at: MadeAt {
                utc: UnixMs(0),
                offset_min: 0,
            },
            person: None,
            body: value.clone(),
        };
        let slots = values.iter().map(|(name, value)| {
            let current = nobody(value);
            (
                name.clone(),
                Slot {
                    current,
                    rivals: Vec::new(),
                },
            )
        });
        State {
            details: inserted(slots),
            ..State::default()
        }
    }

    /// The current value of a plain field.
    pub fn value(&self, field: &str) -> Option<&Value> {
        self.details.get(field).map(|slot| &slot.current.body)
    }

    /// Whether a plain field is set to `true`.
    pub fn is(&self, field: &str) -> bool {
        self.value(field).and_then(Value::as_bool).unwrap_or(false)
    }

    /// The words of a plain field that holds a list of them; empty if unset.
    pub fn words(&self, field: &str) -> impl Iterator<Item = &str> {
        let all = self.value(field).and_then(Value::as_array);
        all.into_iter().flatten().filter_map(Value::as_str)
    }

    /// The current text of a plain field; empty if unset or not text.
    pub fn text(&self, field: &str) -> &str {
        self.details
            .get(field)
            .and_then(|slot| slot.current.body.as_str())
            .unwrap_or("")
    }

    /// The entries a new value of `field` must name in `over`.
    pub fn over(&self, field: &str) -> Vec<EntryId> {
        self.details.get(field).map(Slot::entries).unwrap_or_default()
    }
}

fn item<T>(read: &ReadEntry<'_>, body: T) -> Item<T> {
    let entry = &read.held.entry;
    Item {
        entry: entry.id,
        at: entry.made_at,
        person: entry.person,
        body,
    }
}

/// The bytes that entries of this subject destroy. An erasure cannot be taken back.
fn destroyed(standing: &Supersession<'_>) -> BTreeSet<String> {
    let blob = |read: &ReadEntry<'_>| match &read.body {
        Body::Erased(erased) => erased.blob.clone(),
        _ => None,
    };
    inserted(standing.history().iter().filter_map(blob))
}

/// The standing entries of one kind, in order.
fn list<T: BodyKind>(standing: &Supersession<'_>) -> Vec<Item<T>> {
    let heads = standing.heads(&|read| T::of(&read.body).is_some());
    heads
        .into_iter()
        .filter_map(|read| Some(item(read, T::of(&read.body)?.clone())))
        .collect()
}

/// The current value among standing ones, in order.
fn slot<T>(mut standing: Vec<Item<T>>) -> Option<Slot<T>> {
    let current = standing.pop()?;
    Some(Slot {
        current,
        rivals: standing,
    })
}

/// The plain fields by name. Entries are sorted by field once: a shop has hundreds of prices.
fn details(standing: &Supersession<'_>) -> BTreeMap<String, Slot<Value>> {
    let detail = |read: &ReadEntry<'_>| match &read.body {
        Body::Detail(detail) => Some(detail.clone()),
        _ => None,
    };
    let mut by_field: BTreeMap<String, Vec<&ReadEntry<'_>>> = BTreeMap::new();
    for read in standing.history() {
        if let Body::Detail(detail) = &read.body {
            by_field.entry(detail.field.clone()).or_default().push(read);
        }
    }
    inserted(by_field.into_iter().filter_map(|(field, entries)| {
        let heads = standing.heads_of(entries).into_iter();
        let values = heads.filter_map(|read| Some(item(read, detail(read)?.value)));
        Some((field, slot(values.collect())?))
    }))
}

/// Groups the standing versions of agreed work into lines: versions that descend from one entry are one line.
fn agreed(standing: &Supersession<'_>) -> Vec<AgreedLine> {
    let versions = list(standing);
    let all = standing.history().iter();
    let parents: BTreeMap<EntryId, &[EntryId]> = inserted(
        all.filter(|read| matches!(read.body, Body::Agreed(_)))
            .map(|read| (read.id(), read.held.entry.over.as_slice())),
    );
    let mut lines: Vec<(BTreeSet<EntryId>, AgreedLine)> = Vec::new();
    for version in versions {
        let mut family = ancestors(version.entry, &parents);
        let mut line = AgreedLine {
            versions: vec![version],
        };
        let (related, apart): (Vec<_>, Vec<_>) = lines
            .into_iter()
            .partition(|(known, _)| !known.is_disjoint(&family));
        for (known, other) in related.into_iter().rev() {
            family.extend(known);
            line.versions.splice(0..0, other.versions);
        }
        lines = apart;
        lines.push((family, line));
    }
    lines.into_iter().map(|(_, line)| line).collect()
}

/// An entry and everything it replaces, however indirectly. Entries not held count too: a gap does not part rivals.
fn ancestors(id: EntryId, parents: &BTreeMap<EntryId, &[EntryId]>) -> BTreeSet<EntryId> {
    let mut all = BTreeSet::new();
    all.insert(id);
    let mut frontier = vec![id];
    while let Some(next) = frontier.pop() {
        frontier.extend(
            parents
                .get(&next)
                .into_iter()
                .copied()
                .flatten()
                .filter(|over| all.insert(**over)),
        );
    }
    all
}
