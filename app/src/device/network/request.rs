//! A request to the shop's server, as the browser is told it, and the JSON of its answer.

use std::borrow::Cow;
use std::time::Duration;

use js_sys::Uint8Array;
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use serde::Serialize;
use serde::de::DeserializeOwned;
use shared::sync::messages::BATCH_BYTES;
use wasm_bindgen::JsValue;
use web_sys::{AbortController, Headers, RequestCache, RequestInit, RequestRedirect};

use super::Failure;

/// The time that a server has for a whole answer besides the time for transfer, in ms.
const PATIENCE_MS: u32 = 15_000;
/// The slowest connection that is waited for, in bytes a millisecond (20 kB/s). On a slower one the request is aborted
/// and the next round asks for less. Without a limit, a browser would wait for ever on a dead connection.
const SLOWEST: u32 = 20;

/// A request.
pub(super) struct Request<'a> {
    pub(super) method: &'static str,
    /// Below the address of the API, without a slash in front.
    pub(super) path: Cow<'static, str>,
    /// Media type and bytes.
    pub(super) body: Option<(&'a str, Cow<'a, [u8]>)>,
    /// The most bytes that can be expected back.
    pub(super) expected: usize,
}

impl Request<'static> {
    /// Asks for entries or for anything that is not longer than a page of them.
    pub(super) fn get(path: impl Into<Cow<'static, str>>) -> Self {
        Self {
            method: "GET",
            path: path.into(),
            body: None,
            expected: BATCH_BYTES,
        }
    }

    /// Sends a message as JSON.
    pub(super) fn post(path: &'static str, message: &impl Serialize, expected: usize) -> Self {
        // Our own messages can always be serialised; an empty body would be refused by the server.
        let body = serde_json::to_vec(message).unwrap_or_default();
        Self {
            method: "POST",
            path: path.into(),
            body: Some(("application/json", body.into())),
            expected,
        }
    }
}

impl Request<'_> {
    /// The request as `fetch` takes it, aborted when `deadline` is over.
    pub(super) fn init(&self, token: Option<&str>, deadline: &Deadline) -> Result<RequestInit, JsValue> {
        let options = RequestInit::new();
        options.set_method(self.method);
        options.set_signal(Some(&deadline.controller.signal()));
        // The API never redirects; whoever does so is not the shop's server.
        options.set_redirect(RequestRedirect::Error);
        // Answers are kept in the device's own store only: an erasure must reach all copies, and cannot reach the
        // browser's cache.
        options.set_cache(RequestCache::NoStore);
        options.set_headers_headers(&self.headers(token)?);
        if let Some((_, bytes)) = &self.body {
            options.set_body_opt_u8_array(Some(&Uint8Array::from(&**bytes)));
        }
        Ok(options)
    }

    fn headers(&self, token: Option<&str>) -> Result<Headers, JsValue> {
        let headers = Headers::new()?;
        if let Some(token) = token {
            headers.set("authorization", &format!("Bearer {token}"))?;
        }
        if let Some((media_type, _)) = self.body {
            headers.set("content-type", media_type)?;
        }
        Ok(headers)
    }

    /// How long the exchange may take.
    pub(super) fn deadline(&self) -> Result<Deadline, JsValue> {
        let sent = self.body.as_ref().map_or(0, |(_, bytes)| bytes.len());
        let bytes = u32::try_from(sent.saturating_add(self.expected)).unwrap_or(u32::MAX);
        Deadline::in_ms(PATIENCE_MS.saturating_add(bytes / SLOWEST))
    }
}

/// Parses an answer's JSON. Anything else than the expected JSON did not come from the shop's server and counts as no
/// answer.
///
/// It parses a string rather than bytes: a second input type would put every message's parser into the wasm twice.
pub(super) fn parse<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, Failure> {
    let text = std::str::from_utf8(bytes).map_err(|_| Failure::NoAnswer)?;
    serde_json::from_str(text).map_err(|_| Failure::NoAnswer)
}

/// A timer that aborts the request when its time is up. Dropping it stops the timer.
pub(super) struct Deadline {
    controller: AbortController,
    timer: TimeoutHandle,
}

impl Deadline {
    fn in_ms(ms: u32) -> Result<Self, JsValue> {
        let controller = AbortController::new()?;
        let at_end = controller.clone();
        let timer = set_timeout_with_handle(move || at_end.abort(), Duration::from_millis(ms.into()))?;
        Ok(Self { controller, timer })
    }
}

impl Drop for Deadline {
    fn drop(&mut self) {
        self.timer.clear();
    }
}
