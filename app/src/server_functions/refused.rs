//! Why a question was not answered.

use leptos::prelude::{FromServerFnError, ServerFnErrorErr};
use leptos::server_fn::codec::JsonEncoding;
use serde::{Deserialize, Serialize};
use shared::sync::{Code, Problem};

/// A refusal, the same on the wire as every other refusal of the server.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[serde(transparent)]
#[error("{}", .0.message)]
pub struct Refusal(pub Problem);

impl FromServerFnError for Refusal {
    type Encoder = JsonEncoding;

    fn from_server_fn_error(error: ServerFnErrorErr) -> Self {
        let (code, message) = match error {
            ServerFnErrorErr::Args(_)
            | ServerFnErrorErr::MissingArg(_)
            | ServerFnErrorErr::Deserialization(_) => {
                (Code::Malformed, words::refusals::request_unreadable_here())
            }
            _ => (Code::Unavailable, words::refusals::server_did_not_answer()),
        };
        Self(Problem {
            code,
            message: message.to_owned(),
            retry_after: None,
        })
    }
}
