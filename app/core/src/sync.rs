//! One round of sync: executes the machine's commands on the store and the server, one after another. The next page is
//! requested while one is written.
//!
//! The same loop runs in the browser and in the simulation of many devices. Between two steps nothing is kept open:
//! other code may save, read and search meanwhile.

use std::future::Future;

use futures_util::future::{OptionFuture, join};
use shared::sync::machine::{Command, Event, Machine, RoundOutcome};
use shared::sync::messages::{ShutOutProof, ShutOutQuestion};
use shared::sync::{Code, Problem};

use super::store::kv::Kv;
use super::store::{Access, KvStore, Outgoing, Sha256Digest, StoreError, Surroundings};

/// The server, as it is reached over the network; with SHA-256, by which its proof of a shutting out is checked.
pub trait Server: Sha256Digest {
    /// Asks a [question](Command::is_question). Returns [`Event::NoAnswer`] if no answer came.
    fn ask(&self, question: &Command) -> impl Future<Output = Event>;

    /// Sends a blob: [`Event::BlobTaken`], [`Event::Refused`] or [`Event::NoAnswer`].
    fn put_blob(&self, blob: Outgoing) -> impl Future<Output = Event>;

    /// Asks for the proof that the shop has shut the device out: `POST shut-out`, without a token. A refusal is an answer
    /// without proofs. Returns `None` if no answer came.
    fn ask_shut_out(&self, question: &ShutOutQuestion) -> impl Future<Output = Option<ShutOutProof>>;
}

/// Runs one round to its end. `watch` is called with every command before it is executed.
pub async fn run_round<K: Kv, S: Surroundings>(
    store: &KvStore<K, S>,
    server: &impl Server,
    watch: &mut dyn FnMut(&Command),
) -> RoundOutcome {
    let Ok(progress) = store.progress().await else {
        return RoundOutcome::StoreFailed;
    };
    let mut machine = Machine::start(progress);
    let mut early: Option<(Command, Event)> = None;
    loop {
        let command = machine.command().clone();
        watch(&command);
        if let Command::Rest(rest) = command {
            if let RoundOutcome::JoinAgain(problem) = &rest {
                // If this cannot be stored, the next round finds out again.
                drop(shut_out(store, server, problem.clone()).await);
            }
            return rest;
        }
        if let Some((_, answer)) = early.take_if(|(asked, _)| *asked == command) {
            machine.handle(answer);
            continue;
        }
        let ahead = machine.prefetch();
        let asking = OptionFuture::from(ahead.as_ref().map(|question| server.ask(question)));
        let work = async {
            match command.is_question() {
                true => server.ask(&command).await,
                false => carry_out(store, server, command).await,
            }
        };
        let (event, answer) = join(work, asking).await;
        early = ahead.zip(answer).or(early);
        machine.handle(event);
    }
}

/// Executes a command that needs the store.
async fn carry_out<K: Kv, S: Surroundings>(
    store: &KvStore<K, S>,
    server: &impl Server,
    command: Command,
) -> Event {
    match command {
        Command::LoadUnsent { most } => read_event(store.load_unsent(most).await, Event::Unsent),
        Command::Settle { settled, progress } => stored(store.settle(&settled, progress).await),
        Command::WantBlobs(hashes) => stored(store.want_blobs(&hashes).await),
        Command::Apply { entries, progress } => stored(store.apply(entries, progress).await.map(drop)),
        Command::WriteDue(requests) => stored(store.write_due(&requests).await),
        Command::LoadHoldings { after } => read_event(store.load_holdings(after).await, Event::Holdings),
        Command::MarkUnsent(ids) => stored(store.mark_unsent(&ids).await),
        Command::UnconfirmBlobs(progress) => stored(store.doubt_blobs(progress).await),
        Command::LoadUnsentBlobs => read_event(store.load_unsent_blobs().await, Event::UnsentBlobs),
        Command::SettleBlobs(settled) => stored(store.settle_blobs(&settled).await),
        Command::PutBlob(hash) => match store.outgoing_blob(&hash).await {
            Ok(Some(blob)) => server.put_blob(blob).await,
            Ok(None) => Event::Refused(bytes_gone()),
            Err(_) => Event::NotStored,
        },
        // The loop ends at a rest, and asks the questions itself.
        _ => Event::NoAnswer,
    }
}

/// Stores that the server refuses the device. If the server proves that the shop itself has shut the device out, what
/// the server has is deleted from the device. If nobody answers the question for the proof, nothing is stored, so that the
/// next round asks again.
async fn shut_out<K: Kv, S: Surroundings>(
    store: &KvStore<K, S>,
    server: &impl Server,
    problem: Problem,
) -> Result<(), StoreError> {
    let access = match problem.code {
        Code::TokenRevoked => store.access().await?,
        _ => None,
    };
    let Some(access) = access else {
        return store.shut_out(problem).await;
    };
    match is_proven(&access, server).await {
        Some(true) => store.wipe_confirmed(&access, problem).await,
        Some(false) => store.shut_out(problem).await,
        None => Ok(()),
    }
}

/// Whether the server proves that the shop has ended this access; `None` if no answer came.
async fn is_proven(access: &Access, server: &impl Server) -> Option<bool> {
    let answer = server.ask_shut_out(access.question()).await?;
    let proof = access.proof(server).await;
    Some(proof.is_ok_and(|proof| answer.proofs.contains(&proof)))
}

fn read_event<T>(read: Result<T, StoreError>, event: impl FnOnce(T) -> Event) -> Event {
    read.map_or(Event::NotStored, event)
}

fn stored(written: Result<(), StoreError>) -> Event {
    written.map_or(Event::NotStored, |()| Event::Stored)
}

/// Why a blob whose bytes are missing cannot be sent: it was erased meanwhile, or damaged by the browser.
fn bytes_gone() -> Problem {
    Problem {
        code: Code::NotFound,
        message: words::store::picture_not_on_device().to_owned(),
        retry_after: None,
    }
}
