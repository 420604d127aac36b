//! What one subject's entries say.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use crate::log::body::{Agreed, Body, CardLink, Note, Opened, Photo, Plain, Published, Step};
use crate::log::entry::{EntryId, MadeAt, PersonId};
use crate::log::held::Held;
use crate::log::standing::{Read, Standing};

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
pub struct Line {
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
    pub agreed: Vec<Line>,
    /// Photographs.
    pub photos: Vec<Item<Photo>>,
    /// Work done.
    pub steps: Vec<Item<Step>>,
    /// Remarks.
    pub notes: Vec<Item<Note>>,
    /// Set once the pair has left the shop.
    pub handed_over: Option<Slot<Plain>>,
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
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a Held>) -> State {
        let standing = Standing::of(entries);
        State {
            opened: slot(
                &standing,
                |_| true,
                |body| match body {
                    Body::Opened(opened) => Some(opened.clone()),
                    _ => None,
                },
            ),
            details: details(&standing),
            agreed: agreed(&standing),
            photos: list(&standing, |body| match body {
                Body::Photo(photo) => Some(photo.clone()),
                _ => None,
            }),
            steps: list(&standing, |body| match body {
                Body::Step(step) => Some(step.clone()),
                _ => None,
            }),
            notes: list(&standing, |body| match body {
                Body::Note(note) => Some(note.clone()),
                _ => None,
            }),
            handed_over: slot(
                &standing,
                |_| true,
                |body| match body {
                    Body::HandedOver(plain) => Some(plain.clone()),
                    _ => None,
                },
            ),
            links: list(&standing, |body| match body {
                Body::CardLink(link) => Some(link.clone()),
                _ => None,
            }),
            published: list(&standing, |body| match body {
                Body::Published(published) => Some(published.clone()),
                _ => None,
            }),
            withdrawn: standing
                .unretracted()
                .filter(|read| matches!(read.body, Body::Withdrawn(_)))
                .map(Read::id)
                .collect(),
            erased: standing
                .history()
                .iter()
                .any(|read| matches!(&read.body, Body::Erased(erased) if erased.blob.is_none())),
            newer: standing
                .unretracted()
                .filter(|read| read.body == Body::Unknown && !read.held.entry.is_blank())
                .map(Read::id)
                .collect(),
        }
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

fn item<T>(read: &Read<'_>, body: T) -> Item<T> {
    let entry = &read.held.entry;
    Item {
        entry: entry.id,
        at: entry.made_at,
        person: entry.person,
        body,
    }
}

/// The standing entries that `pick` reads, in order.
fn list<T>(standing: &Standing<'_>, pick: impl Fn(&Body) -> Option<T>) -> Vec<Item<T>> {
    let heads = standing.heads(|read| pick(&read.body).is_some());
    heads
        .into_iter()
        .filter_map(|read| pick(&read.body).map(|body| item(read, body)))
        .collect()
}

/// The current value among the entries that pass `of_slot` and that `pick` reads.
fn slot<T>(
    standing: &Standing<'_>,
    of_slot: impl Fn(&Body) -> bool,
    pick: impl Fn(&Body) -> Option<T>,
) -> Option<Slot<T>> {
    let mut items = list(standing, |body| if of_slot(body) { pick(body) } else { None });
    let current = items.pop()?;
    Some(Slot {
        current,
        rivals: items,
    })
}

fn details(standing: &Standing<'_>) -> BTreeMap<String, Slot<Value>> {
    let fields: BTreeSet<&str> = standing
        .history()
        .iter()
        .filter_map(|read| match &read.body {
            Body::Detail(detail) => Some(detail.field.as_str()),
            _ => None,
        })
        .collect();
    let of_field = |body: &Body, field: &str| matches!(body, Body::Detail(detail) if detail.field == field);
    let value = |body: &Body| match body {
        Body::Detail(detail) => Some(detail.value.clone()),
        _ => None,
    };
    fields
        .into_iter()
        .filter_map(|field| {
            Some((
                field.to_owned(),
                slot(standing, |body| of_field(body, field), value)?,
            ))
        })
        .collect()
}

/// Groups the standing versions of agreed work into lines: versions that descend from one entry are one line.
fn agreed(standing: &Standing<'_>) -> Vec<Line> {
    let versions = list(standing, |body| match body {
        Body::Agreed(agreed) => Some(agreed.clone()),
        _ => None,
    });
    let parents: BTreeMap<EntryId, &[EntryId]> = standing
        .history()
        .iter()
        .filter(|read| matches!(read.body, Body::Agreed(_)))
        .map(|read| (read.id(), read.held.entry.over.as_slice()))
        .collect();
    let mut lines: Vec<(BTreeSet<EntryId>, Line)> = Vec::new();
    for version in versions {
        let mut family = ancestors(version.entry, &parents);
        let mut line = Line {
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
    let mut all = BTreeSet::from([id]);
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
