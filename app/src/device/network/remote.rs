//! The shop's server, as this device reaches it.

use js_sys::{ArrayBuffer, Uint8Array};
use leptos::prelude::*;
use shared::sync::messages::{JoinAnswer, JoinCode, JoinRequest, MAX_BLOB, Status};
use wasm_bindgen::JsValue;
use web_sys::Response;

use super::Failure;
use super::contact::Contact;
use super::request::{Request, parse};
use app_core::browser::js::settled;
use app_core::store::Membership;

/// The most bytes expected of an answer that is usually a few hundred bytes long.
const SMALL: usize = 10_000;

/// A server's address, and the token that opens it. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Remote {
    base: String,
    token: Option<String>,
    contact: Option<Contact>,
}

impl Remote {
    /// The server at `address`, for example `https://waxend.example:8443`; empty for where the app came from.
    #[must_use]
    pub fn new(address: &str, token: Option<String>) -> Self {
        let base = format!("{}/api/v1", address.trim_end_matches('/'));
        Self {
            base,
            token,
            contact: None,
        }
    }

    /// The server that this device has joined, or was told to move to.
    #[must_use]
    pub fn of(membership: &Membership) -> Self {
        let address = membership.url.as_deref().unwrap_or_default();
        Self::new(address, membership.token.clone())
    }

    /// The same server, with the time of each of its answers noted in `contact`.
    pub(super) fn noting(self, contact: Contact) -> Self {
        Self {
            contact: Some(contact),
            ..self
        }
    }

    /// Joins the shop. A token, if there is one, shows that the device which joins again has access already.
    ///
    /// # Errors
    /// [`Failure::Refused`] if something is wrong with the code, or [`Failure::NoAnswer`].
    pub async fn join(&self, request: &JoinRequest) -> Result<JoinAnswer, Failure> {
        parse(&self.exchange(&Request::post("join", request, SMALL)).await?)
    }

    /// Asks for a code with which another device can join.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn join_code(&self) -> Result<JoinCode, Failure> {
        let request = Request {
            method: "POST",
            expected: SMALL,
            ..Request::get("join-codes")
        };
        parse(&self.exchange(&request).await?)
    }

    /// What the server holds.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn status(&self) -> Result<Status, Failure> {
        parse(&self.exchange(&Request::get("status")).await?)
    }

    /// A blob's bytes. The caller must check their SHA-256 before storing them.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn get_blob(&self, sha256: &str) -> Result<Vec<u8>, Failure> {
        let request = Request {
            expected: MAX_BLOB,
            ..Request::get(format!("blobs/{sha256}"))
        };
        self.exchange(&request).await
    }

    /// Sends a blob; on success it is on the server's disk.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn put_blob(&self, sha256: &str, media_type: &str, bytes: &[u8]) -> Result<(), Failure> {
        let request = Request {
            method: "PUT",
            path: format!("blobs/{sha256}").into(),
            body: Some((media_type, bytes.into())),
            expected: SMALL,
        };
        let answer = self.exchange(&request).await?;
        // The server answers with an empty body. Any other body comes from something on the way, which stored nothing.
        if answer.is_empty() {
            Ok(())
        } else {
            Err(Failure::NoAnswer)
        }
    }

    /// Sends a request and reads the whole answer. An answer that is neither a success nor a
    /// [`Problem`](shared::sync::Problem) comes from something between here and the server (a hotel's login page, a
    /// proxy) and counts as none.
    pub(super) async fn exchange(&self, request: &Request<'_>) -> Result<Vec<u8>, Failure> {
        let url = format!("{}/{}", self.base, request.path);
        let fetched = async {
            let deadline = request.deadline()?;
            let init = request.init(self.token.as_deref(), &deadline)?;
            let response: Response = settled(window().fetch_with_str_and_init(&url, &init)).await?;
            let buffer: ArrayBuffer = settled(response.array_buffer()?).await?;
            Ok::<_, JsValue>((response.ok(), Uint8Array::new(&buffer).to_vec()))
        };
        let (ok, bytes) = fetched.await.map_err(|_| Failure::NoAnswer)?;
        let refused = if ok { None } else { Some(parse(&bytes)?) };
        if let Some(contact) = self.contact {
            contact.note();
        }
        refused.map_or(Ok(bytes), |problem| Err(Failure::Refused(problem)))
    }
}

/// The public address of the server: `address`, or the origin that the app was loaded from if there is none. Without a
/// slash at the end.
#[must_use]
pub fn public_url(address: Option<&str>) -> String {
    let own = || window().location().origin().unwrap_or_default();
    let address = address
        .filter(|address| !address.is_empty())
        .map_or_else(own, str::to_owned);
    address.trim_end_matches('/').to_owned()
}
