//! The sync machine's questions as HTTP requests, and one round against the server that this device has joined.

use shared::sync::Cursor;
use shared::sync::machine::{Command, Event, History, RoundOutcome};
use shared::sync::messages::{
    BATCH_BYTES, MAX_ASKED, MissingBlobs, MissingEntries, ShutOutProof, ShutOutQuestion,
};
use shared::sync::version::APP_VERSION;

use super::backoff::Outcome;
use super::contact::Contact;
use super::remote::SMALL;
use super::request::{Request, parse};
use super::{Failure, Remote};
use crate::device::Phone;
use crate::device::lazy::lazy;
use crate::device::phone::Browser;
use app_core::store::{Outgoing, Sha256Digest};
use app_core::sync::{Server, run_round};

/// Called with every command before it is carried out.
pub(super) type Watch = Box<dyn FnMut(&Command)>;

/// The size of a UUID in JSON, with its quotes and comma: the most that the server answers for each entry asked about.
const ID_BYTES: usize = 39;
/// The size of a SHA-256 in JSON, likewise.
const HASH_BYTES: usize = 67;

lazy! {
    /// One round of sync against the server that this device has joined.
    pub(super) fn round(phone: Phone, contact: Contact, watch: Watch) -> Outcome {
        let mut watch = watch;
        Ok(match phone.membership().await {
            Err(_) => Outcome::Ended(RoundOutcome::StoreFailed),
            Ok(membership) if !membership.joined() => Outcome::NotJoined,
            Ok(membership) => {
                let remote = Remote::of(&membership).noting(contact);
                Outcome::Ended(run_round(&phone, &remote, &mut *watch).await)
            }
        })
    }
}

impl Server for Remote {
    async fn ask(&self, question: &Command) -> Event {
        // All other commands concern the store, and the driver does not send them here.
        let Some(request) = request(question) else {
            return Event::NoAnswer;
        };
        let answer = self.exchange(&request).await;
        answer
            .and_then(|bytes| read(question, &bytes))
            .unwrap_or_else(failed)
    }

    async fn put_blob(&self, blob: Outgoing) -> Event {
        let Outgoing {
            sha256,
            media_type,
            bytes,
        } = blob;
        let taken = Remote::put_blob(self, &sha256, &media_type, &bytes).await;
        taken.map_or_else(failed, |()| Event::BlobTaken)
    }

    async fn ask_shut_out(&self, question: &ShutOutQuestion) -> Option<ShutOutProof> {
        let request = Request::post("shut-out", question, SMALL);
        match self.without_token().exchange(&request).await {
            Ok(bytes) => parse(&bytes).ok(),
            Err(Failure::Refused(_)) => Some(ShutOutProof { proofs: Vec::new() }),
            Err(_) => None,
        }
    }
}

impl Sha256Digest for Remote {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        Browser.sha256(bytes).await
    }
}

/// The request that asks the server a question.
fn request(question: &Command) -> Option<Request<'static>> {
    Some(match question {
        Command::Push(batch) => Request::post("entries", batch, BATCH_BYTES),
        Command::GetInShop(from) => Request::get(in_shop(from.as_ref())),
        Command::Pull { cursor, pushed } => Request::get(pull(cursor.as_ref(), pushed.as_ref())),
        Command::GetHistory(from) => Request::get(history(from)),
        Command::AskMissing(held) => {
            let asked = MissingEntries { held: held.clone() };
            Request::post("entries/missing", &asked, MAX_ASKED * ID_BYTES)
        }
        Command::AskBlobs(hashes) => {
            let asked = MissingBlobs {
                hashes: hashes.clone(),
            };
            Request::post("blobs/missing", &asked, MAX_ASKED * HASH_BYTES)
        }
        _ => return None,
    })
}

/// Reads the server's answer to a question.
fn read(question: &Command, answer: &[u8]) -> Result<Event, Failure> {
    Ok(match question {
        Command::Push(_) => Event::Pushed(parse(answer)?),
        Command::GetInShop(_) => Event::InShop(parse(answer)?),
        Command::Pull { .. } => Event::Pulled(parse(answer)?),
        Command::GetHistory(_) => Event::History(parse(answer)?),
        Command::AskMissing(_) => Event::Missing(parse(answer)?),
        Command::AskBlobs(_) => Event::MissingBlobs(parse(answer)?),
        _ => Event::NoAnswer,
    })
}

fn failed(failure: Failure) -> Event {
    match failure {
        Failure::NoAnswer => Event::NoAnswer,
        Failure::Refused(problem) => Event::Refused(problem),
    }
}

fn pull(cursor: Option<&Cursor>, pushed: Option<&Cursor>) -> String {
    let Some(cursor) = cursor else {
        return format!("entries?app={APP_VERSION}");
    };
    let from = standing(cursor);
    match pushed {
        None => format!("entries?{from}&app={APP_VERSION}"),
        Some(at) => format!(
            "entries?{from}&pushed_epoch={}&pushed_seq={}&pushed_mark={}&app={APP_VERSION}",
            at.epoch, at.seq, at.mark
        ),
    }
}

fn in_shop(from: Option<&History>) -> String {
    let from = from.map(|from| format!("&{}", after(from)));
    format!("in-shop?paged=true{}", from.unwrap_or_default())
}

fn history(from: &History) -> String {
    format!("history?{}", after(from))
}

/// Where the next page begins.
fn after(from: &History) -> String {
    let start = standing(&from.start);
    match from.read {
        None => start,
        Some(read) => {
            format!(
                "{start}&before_subject={}&before_seq={}",
                read.subject_seq, read.seq
            )
        }
    }
}

fn standing(cursor: &Cursor) -> String {
    format!("epoch={}&seq={}&mark={}", cursor.epoch, cursor.seq, cursor.mark)
}
