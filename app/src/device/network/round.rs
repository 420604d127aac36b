//! The sync machine's questions as HTTP requests, and one round against the server that this device has joined.

use shared::sync::Cursor;
use shared::sync::machine::{Command, Event, History, RoundOutcome};
use shared::sync::messages::{BATCH_BYTES, MAX_ASKED, MissingBlobs, MissingEntries};
use shared::sync::version::APP_VERSION;

use super::backoff::Outcome;
use super::contact::Contact;
use super::{Failure, Remote};
use crate::device::Phone;
use app_core::store::Outgoing;
use app_core::sync::{Server, run_round};

/// Called with every command before it is carried out.
pub(in crate::device) type Watch = Box<dyn FnMut(&Command)>;

/// The size of a UUID in JSON, with its quotes and comma: the most that the server answers for each entry asked about.
const ID_BYTES: usize = 39;
/// The size of a SHA-256 in JSON, likewise.
const HASH_BYTES: usize = 67;

/// One round of sync against the server that this device has joined.
pub(in crate::device) async fn round(store: &Phone, contact: Contact, mut watch: Watch) -> Outcome {
    match store.membership().await {
        Err(_) => Outcome::Ended(RoundOutcome::StoreFailed),
        Ok(membership) if !membership.joined() => Outcome::NotJoined,
        Ok(membership) => {
            let remote = Remote::of(&membership).noting(contact);
            Outcome::Ended(run_round(store, &remote, &mut *watch).await)
        }
    }
}

impl Server for Remote {
    async fn ask(&self, question: &Command) -> Event {
        let answer = match question {
            Command::Push(request) => self
                .post("entries", request, BATCH_BYTES)
                .await
                .map(Event::Pushed),
            Command::GetInShop => self.get("in-shop").await.map(Event::InShop),
            Command::Pull { cursor, pushed } => self
                .get(&pull(cursor.as_ref(), pushed.as_ref()))
                .await
                .map(Event::Pulled),
            Command::GetHistory(from) => self.get(&history(from)).await.map(Event::History),
            Command::AskMissing(held) => {
                let asked = MissingEntries { held: held.clone() };
                self.post("entries/missing", &asked, MAX_ASKED * ID_BYTES)
                    .await
                    .map(Event::Missing)
            }
            Command::AskBlobs(hashes) => {
                let asked = MissingBlobs {
                    hashes: hashes.clone(),
                };
                self.post("blobs/missing", &asked, MAX_ASKED * HASH_BYTES)
                    .await
                    .map(Event::MissingBlobs)
            }
            // All other commands concern the store, and the driver does not send them here.
            _ => Err(Failure::NoAnswer),
        };
        answer.unwrap_or_else(failed)
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

fn history(from: &History) -> String {
    let start = standing(&from.start);
    match from.read {
        None => format!("history?{start}"),
        Some(read) => {
            format!(
                "history?{start}&before_subject={}&before_seq={}",
                read.subject_seq, read.seq
            )
        }
    }
}

fn standing(cursor: &Cursor) -> String {
    format!("epoch={}&seq={}&mark={}", cursor.epoch, cursor.seq, cursor.mark)
}
