//! What an entry says and what it is about, in words, where entries stand in a list.

use serde_json::Value;
use shared::log::body::Body;
use shared::log::{Entry, Subject, SubjectId, SubjectKind};

use super::people::said_of;
use crate::device::{DeviceError, Phone};
use crate::shop::ShopContext;
use app_core::field_words::field_words;

/// The most characters that are shown of a text.
const SHOWN: usize = 200;

/// What an entry says.
pub(in crate::screens) fn said_by(entry: &Entry, shop: ShopContext) -> String {
    match Body::of(entry) {
        Body::Person(person) => said_of(&person),
        Body::Detail(detail) => set(&detail.field, &detail.value, shop),
        Body::Erased(erased) => erases(erased.blob.as_deref()),
        Body::ErasureAsked(asked) => erases(asked.blob.as_deref()),
        _ => kind(&entry.kind),
    }
}

/// A plain field and its value.
fn set(name: &str, value: &Value, shop: ShopContext) -> String {
    if let Some(said) = field_words(name, value, &shop.state()) {
        return shortened(&said);
    }
    let value = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    words::shop::kept_aside::field(&name.replace(['_', '/'], " "), &shortened(&value))
}

/// As much of a text as is shown in a list.
pub(in crate::screens) fn shortened(text: &str) -> String {
    text.chars().take(SHOWN).collect()
}

/// An erasure, or a request for one.
fn erases(blob: Option<&str>) -> String {
    let said = match blob {
        Some(_) => words::shop::kept_aside::destroying(),
        None => words::shop::kept_aside::erasing(),
    };
    said.to_owned()
}

/// The kind of an entry.
fn kind(kind: &str) -> String {
    let known = match kind {
        "opened" => words::shop::kept_aside::new_record(),
        "agreed" | "skipped" | "order" => words::shop::kept_aside::agreed_work(),
        "photo" => words::shop::kept_aside::photograph(),
        "step" | "redo" | "spent" => words::shop::kept_aside::work_done(),
        "wait" | "wait_over" => words::shop::kept_aside::wait(),
        "damage" | "taken_out" | "put_back" => words::shop::kept_aside::found_inside(),
        "question" | "answer" => words::shop::kept_aside::question(),
        "measured" => words::shop::kept_aside::measurement(),
        "note" => words::shop::kept_aside::note(),
        "payment" => words::shop::kept_aside::payment(),
        "sold" => words::shop::kept_aside::sold(),
        "counted" => words::shop::kept_aside::counted(),
        "ordered" => words::shop::kept_aside::ordered(),
        "arrived" => words::shop::kept_aside::arrived(),
        "complaint" => words::shop::kept_aside::complaint(),
        "checked" => words::shop::kept_aside::final_check(),
        "handed_over" => words::shop::kept_aside::hand_over(),
        "card_link" | "published" | "withdrawn" => words::shop::kept_aside::care_card(),
        "retracted" => words::shop::kept_aside::withdrawing(),
        "same_as" => words::shop::kept_aside::joining(),
        other => return words::shop::kept_aside::of_a_newer_app(other),
    };
    known.to_owned()
}

/// What an entry is about, as far as this device knows it.
pub(in crate::screens) async fn about(phone: &Phone, subject: &Subject) -> Result<String, DeviceError> {
    if subject.kind == SubjectKind::Shop {
        return Ok(words::shop::kept_aside::the_shop().to_owned());
    }
    if subject.kind == SubjectKind::Material {
        let materials = phone.materials().await?;
        let name = materials.get(subject.id).and_then(|one| one.state.name());
        let unknown = words::shop::kept_aside::not_known_here();
        return Ok(name.map_or_else(|| unknown.to_owned(), words::shop::kept_aside::material));
    }
    let held = phone.entries_about(subject.id).await?;
    let summary = match held.iter().find_map(|held| pair_of(&held.entry)) {
        Some(pair) => phone.summaries(&[pair]).await?.pop(),
        None => None,
    };
    let Some(summary) = summary else {
        return Ok(words::shop::kept_aside::not_known_here().to_owned());
    };
    if subject.kind == SubjectKind::Customer && !summary.customer.is_empty() {
        return Ok(words::shop::kept_aside::customer(&summary.customer));
    }
    let own = summary.jobs.iter().find(|job| job.id == subject.id);
    let number = own.or(summary.jobs.first()).map_or("", |job| job.tag.as_str());
    Ok(match number {
        "" => summary.name().to_owned(),
        number => words::shop::kept_aside::pair_with_number(number, summary.name()),
    })
}

/// The pair that an entry is about, or for which it opens a job.
fn pair_of(entry: &Entry) -> Option<SubjectId> {
    match (&entry.subject.kind, Body::of(entry)) {
        (SubjectKind::Pair, _) => Some(entry.subject.id),
        (_, Body::Opened(opened)) => opened.pair,
        _ => None,
    }
}
