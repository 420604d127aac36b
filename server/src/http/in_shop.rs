//! `GET /api/v1/in-shop`: what is in the shop now, in pages, or for apps of before 0.2.0 all of it as one stream.

use std::sync::Arc;

use axum::body::{Body, Bytes};
use axum::extract::State;
use axum::http::HeaderValue;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Json, Router};
use futures_util::stream;
use serde::Deserialize;
use shared::sync::HistoryMark;

use super::AppState;
use super::body::QueryString;
use super::entries::CursorQuery;
use super::error::{Refused, note};
use super::history::MarkQuery;
use crate::auth::Joined;
use server_core::error::Error;
use server_core::shop::InShop;
use server_core::store::Budget;

pub(super) fn router() -> Router<Arc<AppState>> {
    Router::new().route("/in-shop", get(in_shop))
}

/// Whether the app reads page by page. Apps that do not know pages do not send it.
#[derive(Debug, Deserialize)]
struct PagedQuery {
    #[serde(default)]
    paged: bool,
}

async fn in_shop(
    State(app): State<Arc<AppState>>,
    _: Joined,
    QueryString(PagedQuery { paged }): QueryString<PagedQuery>,
    QueryString(start): QueryString<CursorQuery>,
    QueryString(from): QueryString<MarkQuery>,
) -> Result<Response, Refused> {
    if !paged {
        return whole(app).await;
    }
    let after = match (start.cursor()?, from.mark()?) {
        (Some(start), Some(mark)) => Some((start, mark)),
        (None, None) => None,
        _ => return Err(Error::Malformed.into()),
    };
    let shop = app.shop.clone();
    let page = app.heavy.run(async move { shop.in_shop_page(after).await });
    Ok(Json(page.await?).into_response())
}

/// All of it. It is read and sent a little at a time, so that it takes little memory however much it is.
async fn whole(app: Arc<AppState>) -> Result<Response, Refused> {
    let shop = app.shop.clone();
    let found = app.heavy.run(async move { shop.in_shop().await }).await?;
    let begun = WholeAnswer {
        app,
        found,
        from: None,
        ended: false,
    };
    let parts = stream::try_unfold(begun, WholeAnswer::next);
    let json = HeaderValue::from_static("application/json");
    Ok(([(CONTENT_TYPE, json)], Body::from_stream(parts)).into_response())
}

/// How much of an answer's entries is read at once.
const PART: Budget = Budget {
    rows: 200,
    bytes: 64_000,
};

/// An answer that is written part by part, as JSON of [`InShopAnswer`](shared::sync::messages::InShopAnswer).
struct WholeAnswer {
    app: Arc<AppState>,
    found: Arc<InShop>,
    /// The last entry that was written; `None` before the first part.
    from: Option<HistoryMark>,
    ended: bool,
}

impl WholeAnswer {
    /// The next part; `None` at the end. If it fails, the client sees that the answer is not whole.
    async fn next(self) -> Result<Option<(Bytes, Self)>, Error> {
        if self.ended {
            return Ok(None);
        }
        let part = self.part().await.inspect_err(note)?;
        Ok(Some(part))
    }

    async fn part(mut self) -> Result<(Bytes, Self), Error> {
        let (entries, next) = self.app.shop.in_shop_part(&self.found, self.from, PART).await?;
        let mut text = Vec::new();
        if self.from.is_none() {
            text.extend(br#"{"entries":["#);
        }
        for (number, held) in entries.iter().enumerate() {
            if self.from.is_some() || number > 0 {
                text.push(b',');
            }
            serde_json::to_writer(&mut text, held).map_err(|_| Error::Fault)?;
        }
        if next.is_none() {
            text.extend(br#"],"start":"#);
            serde_json::to_writer(&mut text, &self.found.start()).map_err(|_| Error::Fault)?;
            text.push(b'}');
        }
        self.ended = next.is_none();
        self.from = next;
        Ok((Bytes::from(text), self))
    }
}
