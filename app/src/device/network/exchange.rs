//! One request and its answer, as bytes.

use std::time::Duration;

use js_sys::{ArrayBuffer, Uint8Array};
use leptos::leptos_dom::helpers::{TimeoutHandle, set_timeout_with_handle};
use leptos::prelude::window;
use serde::de::DeserializeOwned;
use shared::sync::Problem;
use wasm_bindgen::JsValue;
use web_sys::{AbortController, Headers, RequestCache, RequestInit, RequestRedirect, Response};

use super::Failure;
use app_core::browser::js::settled;

/// The time that a server has for a whole answer besides the time for transfer, in ms.
const PATIENCE_MS: u32 = 15_000;
/// The slowest connection that is waited for, in bytes a millisecond (20 kB/s). On a slower one the request is aborted
/// and the next round asks for less. Without a limit, a browser would wait for ever on a dead connection.
const SLOWEST: u32 = 20;

/// A request.
pub(super) struct Ask<'a> {
    pub(super) method: &'static str,
    pub(super) url: String,
    pub(super) token: Option<&'a str>,
    /// Media type and bytes.
    pub(super) body: Option<(&'a str, &'a [u8])>,
    /// The most bytes that can be expected back.
    pub(super) expected: usize,
}

/// Sends a request and reads the whole answer. An answer that is neither a success nor a [`Problem`] comes from
/// something between here and the server (a hotel's login page, a proxy) and counts as none.
pub(super) async fn exchange(ask: Ask<'_>) -> Result<Vec<u8>, Failure> {
    let (ok, bytes) = send(ask).await.map_err(|_| Failure::NoAnswer)?;
    if ok {
        return Ok(bytes);
    }
    let problem: Problem = parse(&bytes)?;
    Err(Failure::Refused(problem))
}

/// Parses an answer's JSON. Anything else than the expected JSON did not come from the shop's server and counts as no
/// answer.
///
/// It parses a string rather than bytes: a second input type would put every message's parser into the wasm twice.
pub(super) fn parse<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, Failure> {
    let text = std::str::from_utf8(bytes).map_err(|_| Failure::NoAnswer)?;
    serde_json::from_str(text).map_err(|_| Failure::NoAnswer)
}

async fn send(ask: Ask<'_>) -> Result<(bool, Vec<u8>), JsValue> {
    let sent = ask.body.map_or(0, |(_, bytes)| bytes.len());
    let deadline = Deadline::in_ms(patience_ms(sent.saturating_add(ask.expected)))?;
    let options = RequestInit::new();
    options.set_method(ask.method);
    options.set_signal(Some(&deadline.controller.signal()));
    // The API never redirects; whoever does so is not the shop's server.
    options.set_redirect(RequestRedirect::Error);
    // Answers are kept in the device's own store only: an erasure must reach all copies, and cannot reach the browser's
    // cache.
    options.set_cache(RequestCache::NoStore);
    options.set_headers_headers(&headers(&ask)?);
    if let Some((_, bytes)) = ask.body {
        options.set_body_opt_u8_array(Some(&Uint8Array::from(bytes)));
    }
    let response: Response = settled(window().fetch_with_str_and_init(&ask.url, &options)).await?;
    let buffer: ArrayBuffer = settled(response.array_buffer()?).await?;
    Ok((response.ok(), Uint8Array::new(&buffer).to_vec()))
}

fn headers(ask: &Ask<'_>) -> Result<Headers, JsValue> {
    let headers = Headers::new()?;
    if let Some(token) = ask.token {
        headers.set("authorization", &format!("Bearer {token}"))?;
    }
    if let Some((media_type, _)) = ask.body {
        headers.set("content-type", media_type)?;
    }
    Ok(headers)
}

/// How long an exchange of so many bytes may take.
fn patience_ms(bytes: usize) -> u32 {
    PATIENCE_MS.saturating_add(u32::try_from(bytes).unwrap_or(u32::MAX) / SLOWEST)
}

/// A timer that aborts the request when its time is up. Dropping it stops the timer.
struct Deadline {
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
