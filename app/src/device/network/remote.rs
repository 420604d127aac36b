//! The shop's server, as this device reaches it.

use leptos::prelude::*;
use serde::Serialize;
use serde::de::DeserializeOwned;
use shared::sync::messages::{BATCH_BYTES, JoinAnswer, JoinCode, JoinRequest, MAX_BLOB, Status};

use super::Failure;
use super::contact::Contact;
use super::exchange::{Ask, exchange, parse};
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

    /// Joins the shop. Sends no token.
    ///
    /// # Errors
    /// [`Failure::Refused`] if something is wrong with the code, or [`Failure::NoAnswer`].
    pub async fn join(&self, request: &JoinRequest) -> Result<JoinAnswer, Failure> {
        self.post("join", request, SMALL).await
    }

    /// Asks for a code with which another device can join.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn join_code(&self) -> Result<JoinCode, Failure> {
        parse(&self.ask("POST", "join-codes", None, SMALL).await?)
    }

    /// What the server holds.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn status(&self) -> Result<Status, Failure> {
        self.get("status").await
    }

    /// A blob's bytes. The caller must check their SHA-256 before storing them.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn get_blob(&self, sha256: &str) -> Result<Vec<u8>, Failure> {
        self.ask("GET", &format!("blobs/{sha256}"), None, MAX_BLOB).await
    }

    /// Sends a blob; on success it is on the server's disk.
    ///
    /// # Errors
    /// See [`Failure`].
    pub async fn put_blob(&self, sha256: &str, media_type: &str, bytes: &[u8]) -> Result<(), Failure> {
        let answer = self
            .ask(
                "PUT",
                &format!("blobs/{sha256}"),
                Some((media_type, bytes)),
                SMALL,
            )
            .await?;
        // The server answers with an empty body. Any other body comes from something on the way, which stored nothing.
        if answer.is_empty() {
            Ok(())
        } else {
            Err(Failure::NoAnswer)
        }
    }

    pub(super) async fn get<T: DeserializeOwned>(&self, path: &str) -> Result<T, Failure> {
        parse(&self.ask("GET", path, None, BATCH_BYTES).await?)
    }

    pub(super) async fn post<T: DeserializeOwned>(
        &self,
        path: &str,
        body: &impl Serialize,
        expected: usize,
    ) -> Result<T, Failure> {
        // Our own messages can always be serialised.
        let body = serde_json::to_vec(body).map_err(|_| Failure::NoAnswer)?;
        parse(
            &self
                .ask("POST", path, Some(("application/json", &body)), expected)
                .await?,
        )
    }

    async fn ask(
        &self,
        method: &'static str,
        path: &str,
        body: Option<(&str, &[u8])>,
        expected: usize,
    ) -> Result<Vec<u8>, Failure> {
        let answer = exchange(Ask {
            method,
            url: format!("{}/{path}", self.base),
            token: self.token.as_deref(),
            body,
            expected,
        })
        .await;
        if let Some(contact) = self.contact.filter(|_| answer != Err(Failure::NoAnswer)) {
            contact.note();
        }
        answer
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
