//! The shop's server, as this device reaches it.

use js_sys::{ArrayBuffer, Uint8Array};
use leptos::prelude::*;
use shared::log::body::Role;
use shared::sync::messages::{
    BATCH_BYTES, JoinAnswer, JoinCode, JoinCodeRequest, JoinRequest, KeptAsideAnswer, KeptAsideDecided,
    KeptAsideDecision, MAX_BLOB, Status,
};
use shared::text::unless_empty;
use wasm_bindgen::JsValue;
use web_sys::Response;

use super::Failure;
use super::contact::Contact;
use super::request::{Request, parse};
use app_core::browser::js::settled;
use app_core::store::Membership;

/// The most bytes expected of an answer that is usually a few hundred bytes long.
pub(super) const SMALL: usize = 10_000;

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

    /// The same server, asked without the token.
    pub(super) fn without_token(&self) -> Self {
        Self {
            token: None,
            ..self.clone()
        }
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

    /// Asks for a code with which another device can join as this role. The answer says which role it is: a server older
    /// than roles knows only repairers' devices.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn join_code(&self, role: Role) -> Result<JoinCode, Failure> {
        let request = Request::post("join-codes", &JoinCodeRequest { role }, SMALL);
        parse(&self.exchange(&request).await?)
    }

    /// What the server keeps aside until a repairer decides about it.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn kept_aside(&self) -> Result<KeptAsideAnswer, Failure> {
        parse(&self.exchange(&Request::get("kept-aside")).await?)
    }

    /// Takes and drops entries that the server keeps aside.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn decide_kept_aside(&self, decision: &KeptAsideDecision) -> Result<KeptAsideDecided, Failure> {
        parse(
            &self
                .exchange(&Request::post("kept-aside", decision, BATCH_BYTES))
                .await?,
        )
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
    let address = address.and_then(unless_empty).map_or_else(own, str::to_owned);
    address.trim_end_matches('/').to_owned()
}
