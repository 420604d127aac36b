//! `/card/{secret}`: the page that a customer opens. It needs no token, has no script and loads nothing from other
//! servers. A guessed link cannot be told from one that never existed.

mod calendar;
mod page;
mod photo;

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use app::card::{CardView, drawing_of};
use axum::Router;
use axum::extract::{ConnectInfo, State};
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::http::{HeaderName, HeaderValue, StatusCode};
use axum::middleware::map_response;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use shared::log::fold::Card;
use tower_http::set_header::SetResponseHeaderLayer;

use super::AppState;
use super::body::PathPart;
use crate::http::error::{Refused, status_code};
use crate::http::security::AnswerKind;
use page::NoticePage;
use server_core::error::Error;

pub(super) fn router() -> Router<Arc<AppState>> {
    let header = |name: HeaderName, value| {
        SetResponseHeaderLayer::if_not_present(name, HeaderValue::from_static(value))
    };
    Router::new()
        .route("/card/{secret}", get(show))
        .route("/card/{secret}/photo/{sha256}", get(photo::show))
        .route("/card/{secret}/check.ics", get(calendar::show))
        .route("/card-style/{name}", get(style))
        .layer(header(
            HeaderName::from_static("x-robots-tag"),
            "noindex, nofollow",
        ))
        .layer(map_response(of_card))
        // A card can be withdrawn at any time, so a browser has to ask again.
        .layer(header(CACHE_CONTROL, "private, no-cache"))
}

/// Marks an answer as a care card or a part of one.
async fn of_card(answer: Response) -> Response {
    AnswerKind::Card.mark(answer)
}

async fn show(
    State(app): State<Arc<AppState>>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    secret: Result<PathPart<String>, Refused>,
) -> Response {
    // A link that is not UTF-8 counts as a guess like any other.
    let secret = secret.map_or_else(|_| String::new(), |PathPart(secret)| secret);
    match find(&app, peer.ip(), &secret).await {
        Ok(card) => words::speaking(card.language(), || page_of(&card, &secret)),
        Err(error) => refused(error),
    }
}

/// The page of a card, or the notice in its place.
fn page_of(card: &Card, secret: &str) -> Response {
    match card {
        Card::Sections(shown) => {
            let sections = shown.iter().map(|one| &one.section);
            let calendar = calendar::next_check(shown).map(|_| format!("/card/{secret}/check.ics"));
            let card = CardView::new(sections, |sha256| format!("/card/{secret}/photo/{sha256}"));
            let card = card
                .with_calendar(calendar)
                .with_drawing(|goods| drawing_of(goods).map(str::to_owned));
            page::card(card).into_response()
        }
        Card::NotYet => (StatusCode::NOT_FOUND, NoticePage::NotYet.render()).into_response(),
        Card::Withdrawn => (StatusCode::GONE, NoticePage::Withdrawn.render()).into_response(),
    }
}

/// The card behind a link. A link that leads nowhere counts towards the limit of guesses.
async fn find(app: &AppState, peer: IpAddr, secret: &str) -> Result<Card, Error> {
    let (shop, link) = (app.shop.clone(), secret.to_owned());
    let found = app.heavy.run(async move { shop.card(&link).await }).await;
    if matches!(found, Err(Error::NotFound)) {
        app.limits.guess(peer)?;
    }
    found
}

/// The page for an error.
fn refused(error: Error) -> Response {
    let status = status_code(&error);
    let notice = match &error {
        Error::NotFound => NoticePage::Unknown,
        Error::TooMany { .. } => NoticePage::TooMany,
        Error::Unavailable => NoticePage::Busy,
        _ => NoticePage::Failed,
    };
    // The ordinary response for the error is made as well, because that logs it and has the header to copy.
    let retry = Refused(error)
        .into_response()
        .headers()
        .get(axum::http::header::RETRY_AFTER)
        .cloned();
    let mut response = (status, notice.render()).into_response();
    if let Some(retry) = retry {
        response
            .headers_mut()
            .insert(axum::http::header::RETRY_AFTER, retry);
    }
    response
}

/// The style sheet. Its name changes with its content.
async fn style(PathPart(name): PathPart<String>) -> Result<impl IntoResponse, Refused> {
    if name != page::style_name() {
        return Err(Error::NotFound.into());
    }
    let headers = [
        (CONTENT_TYPE, HeaderValue::from_static("text/css; charset=utf-8")),
        (
            CACHE_CONTROL,
            HeaderValue::from_static("public, max-age=31536000, immutable"),
        ),
    ];
    Ok((headers, page::style()))
}
