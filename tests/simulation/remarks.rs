//! Remarks that mention somebody, and erasing what an entry mentions: what is left of the entry stays.

use app_core::store::{NewBlob, StoreError};
use serde_json::Value;
use shared::log::body::{Detail, MentionErased, Note, field};
use shared::log::fold::{JobLine, PairHistory};
use shared::log::{Body, Draft, Entry, ReceivedEntry, Subject, SubjectKind};

use crate::blobs_of::blobs_of;
use crate::dice::Dice;
use crate::phone::Store;
use crate::repairers::begin;
use crate::saving::keep;
use crate::seen::{Erasable, Seen};

/// The plain fields of text in which somebody can be mentioned.
const FIELDS: [&str; 4] = [field::NAME, field::PHONE, field::LOOK, field::COLOUR];

/// A remark on the job, its ticket, the pair or a customer of it, written or spoken.
pub(crate) async fn remark(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
    job: &JobLine,
) -> Result<(), StoreError> {
    let mut subjects = vec![
        Subject::new(SubjectKind::Job, job.id),
        Subject::new(SubjectKind::Pair, life.id),
    ];
    let tickets = life
        .tickets
        .keys()
        .map(|id| Subject::new(SubjectKind::Ticket, *id));
    subjects.extend(tickets);
    let customers = life
        .customers
        .keys()
        .map(|id| Subject::new(SubjectKind::Customer, *id));
    subjects.extend(customers);
    let voice = dice.once_in(3).then(|| spoken(dice));
    let note = Note {
        of: None,
        text: format!("Quill-{:016x} asked for it", dice.seed()),
        voice: voice.as_ref().map(|voice| voice.about.clone()),
    };
    let subject = dice.pick(&subjects).expect("there is a job").clone();
    keep(
        store,
        seen,
        vec![Draft::new(subject, Body::Note(note))],
        voice.into_iter().collect(),
    )
    .await
}

/// Bytes that begin like a voice note.
fn spoken(dice: &Dice) -> NewBlob {
    let bytes = [b"\x1a\x45\xdf\xa3", dice.seed().to_be_bytes().as_slice()].concat();
    let about = support::sample::blob_of(&bytes, "audio/webm");
    NewBlob { about, bytes }
}

/// Somebody who was mentioned in an entry is erased, and the mention with them. Mostly something is left of the entry.
pub(crate) async fn erase_mention(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
) -> Result<(), StoreError> {
    let mut mentioning = store.history(life.id).await?;
    for customer in life.customers.keys() {
        mentioning.extend(store.entries_about(*customer).await?);
    }
    mentioning.retain(|held| mentions_somebody(&held.entry));
    if dice.once_in(3) && mentioning.iter().any(|held| held.received.is_none()) {
        mentioning.retain(|held| held.received.is_none());
    }
    let Some(held) = dice.pick(&mentioning) else {
        return Ok(());
    };
    let entry = held.entry.id;
    let left = left_of(&held.entry, dice);
    let joined = begin(store, seen, Erasable::Mention(held.entry.subject.id, entry)).await?;
    let before = Content::of(store, held).await?;
    let body = Body::MentionErased(MentionErased { entry, left });
    let draft = Draft::new(held.entry.subject.clone(), body);
    keep(store, seen, vec![draft], Vec::new()).await?;
    let after = Content::of(store, held).await?;
    assert_eq!(after.blobs, before.blobs, "bytes go with a mention in {held:?}");
    if joined {
        assert_eq!(after.body, before.body, "blanked before the server knows of it");
    } else {
        assert_eq!(after.body, "", "erased, and still there");
    }
    Ok(())
}

/// What a phone has of one entry.
struct Content {
    body: String,
    blobs: Vec<Option<Vec<u8>>>,
}

impl Content {
    async fn of(store: &Store, held: &ReceivedEntry) -> Result<Self, StoreError> {
        let about = store.entries_about(held.entry.subject.id).await?;
        let now = about.into_iter().find(|now| now.entry.id == held.entry.id);
        let mut blobs = Vec::new();
        for hash in blobs_of(&held.entry) {
            blobs.push(store.blob(&hash).await?);
        }
        let body = now.expect("the phone has it").entry.body;
        Ok(Self { body, blobs })
    }
}

/// Whether somebody can be mentioned in it: its words, a photograph, or what only a newer app can read. Also what was
/// left of an entry in which somebody else was mentioned, and at times an entry that is blank already.
fn mentions_somebody(entry: &Entry) -> bool {
    match Body::of(entry) {
        Body::Detail(detail) => FIELDS.contains(&detail.field.as_str()) && detail.value.is_string(),
        Body::MentionErased(erased) => erased.left.is_some(),
        Body::Note(_) | Body::Step(_) | Body::Photo(_) | Body::Published(_) => true,
        Body::Unknown => entry.kind == "note" || entry.kind == "soaked_overnight",
        _ => false,
    }
}

/// What is left of an entry without the words that mention somebody; at times nothing.
fn left_of(entry: &Entry, dice: &Dice) -> Option<Value> {
    match Body::of(entry) {
        // Otherwise nobody could tell any more which entry that one has erased.
        Body::MentionErased(_) => {}
        Body::Published(_) | Body::Unknown => return None,
        _ if dice.once_in(3) => return None,
        _ => {}
    }
    let mut left = serde_json::from_str(&entry.body).ok()?;
    without_words(&mut left, dice);
    Some(left)
}

fn without_words(left: &mut Value, dice: &Dice) {
    // The look and the colour of a pair also stand on its card.
    let is_on_card = [field::LOOK, field::COLOUR]
        .map(Value::from)
        .contains(&left["field"]);
    for name in ["text", "note", "value"] {
        if let Some(words) = left.get_mut(name) {
            *words = match is_on_card {
                true => "…".into(),
                false => format!("… asked for it, {:016x}", dice.seed()).into(),
            };
        }
    }
    if let Some(inner) = left.get_mut("left") {
        without_words(inner, dice);
    }
    if dice.once_in(4)
        && let Some(fields) = left.as_object_mut()
    {
        fields.remove("voice");
    }
}

/// The words of an entry that no other entry has: what must be nowhere any more once it is erased.
pub(crate) fn unique_words(entry: &Entry) -> Vec<String> {
    let Ok(body) = serde_json::from_str::<Value>(&entry.body) else {
        return Vec::new();
    };
    let mut words = Vec::new();
    match Body::of(entry) {
        Body::Detail(Detail { value, .. }) => words.extend(value.as_str().map(str::to_owned)),
        Body::Note(note) => words.push(note.text),
        Body::Step(step) => words.push(step.note),
        Body::MentionErased(_) => words_left(&body, &mut words),
        _ => {}
    }
    // A name, a number or a remark of the simulation has so many letters from the dice.
    words.retain(|words| words.len() > 20);
    words
}

fn words_left(body: &Value, words: &mut Vec<String>) {
    let Some(left) = body.get("left") else { return };
    let said = ["text", "note", "value"].map(|name| left.get(name).and_then(Value::as_str));
    words.extend(said.into_iter().flatten().map(str::to_owned));
    words_left(left, words);
}
