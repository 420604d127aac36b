//! `GET /card/{secret}/check.ics`: the next check as a calendar file (RFC 5545).

use std::net::SocketAddr;
use std::sync::Arc;

use app::card::in_words;
use axum::extract::{ConnectInfo, State};
use axum::http::HeaderValue;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::IntoResponse;
use chrono::NaiveDate;
use icalendar::{Calendar, Component, Event, EventLike};
use shared::log::body::Section;
use shared::log::fold::{Card, Shown};

use super::{AppState, find};
use crate::http::body::PathPart;
use crate::http::error::Refused;
use server_core::error::Error;

pub(super) async fn show(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    PathPart(secret): PathPart<String>,
) -> Result<impl IntoResponse, Refused> {
    let card = find(&app, peer.ip(), &secret).await?;
    let language = card.language();
    let Card::Sections(shown) = card else {
        return Err(Error::NotFound.into());
    };
    let (one, day) = next_check(&shown).ok_or(Error::NotFound)?;
    let headers = [
        (
            CONTENT_TYPE,
            HeaderValue::from_static("text/calendar; charset=utf-8"),
        ),
        (
            CONTENT_DISPOSITION,
            HeaderValue::from_static("attachment; filename=\"shoe-check.ics\""),
        ),
    ];
    let file = words::speaking(language, || calendar(one, day).to_string());
    Ok((headers, file))
}

/// The newest section and the date of its next check, if it has one.
pub(super) fn next_check(shown: &[Shown]) -> Option<(&Shown, NaiveDate)> {
    let one = shown.first()?;
    let day = one.section.next_check.as_deref()?.parse().ok()?;
    Some((one, day))
}

fn calendar(one: &Shown, day: NaiveDate) -> Calendar {
    let section = &one.section;
    let done = in_words(&section.day);
    let event = Event::new()
        // The id of the published entry: saving the file twice makes one event.
        .uid(&format!("{}@waxend", one.entry))
        .summary(&plain(&words::pages::shoe_check(&section.title)))
        .description(&plain(&described(section, &done)))
        // The end of an all-day event is the next day (RFC 5545 §3.6.1).
        .starts(day)
        .ends(day.succ_opt().unwrap_or(day))
        .done();
    Calendar::new()
        .name(words::pages::calendar_name())
        .push(event)
        .done()
}

/// The event's description: what was done when, the expected wear, and how to reach the shop.
fn described(section: &Section, done: &str) -> String {
    let mut lines = vec![words::pages::last_work_done(done)];
    if !section.next_check_words.is_empty() {
        lines.push(words::pages::to_be_looked_at(&section.next_check_words));
    }
    lines.push(section.shop.clone());
    lines.join("\n")
}

/// Text as a calendar file can hold it. Control characters other than line breaks and tabs are not allowed in it
/// (RFC 5545 §3.3.11), and are left out. Every kind of line break becomes `\n`, the only one that the `icalendar` crate
/// escapes: any other would end the line of the file (§3.1).
fn plain(text: &str) -> String {
    let text = text
        .replace("\r\n", "\n")
        .replace(['\r', '\u{85}', '\u{2028}', '\u{2029}'], "\n");
    text.replace(|c: char| c.is_control() && !matches!(c, '\n' | '\t'), "")
}
