//! The device's side of sync as a state machine without I/O.
//!
//! A driver asks [`Machine::command`] what to do, does it (one request over the network, or one transaction in the
//! local store, never one inside the other), and reports the result with [`Machine::handle`]. The browser drives it
//! with `fetch` and IndexedDB, the simulation with lost answers and crashes. Everything that must be remembered across
//! a restart is in [`Progress`], which the driver stores in the same local transaction as the entries it refers to; the
//! machine itself may be dropped at any moment.
//!
//! One round: send what the server has not acknowledged, read what it has numbered since, write the erasures that it says
//! are due, send the blobs it lacks. A new device reads first what is in the shop, and history at the end of its rounds,
//! both page by page. If the server was restored from an older copy, so that it does not know the device's cursor, the device
//! reads everything from zero, asks which of its own entries and blobs the server lacks, and sends those.

mod command;
mod in_shop;
mod progress;
mod pulled;

use std::collections::VecDeque;

pub use command::{BlobSettled, Command, Event, RoundOutcome, Settled};
pub use progress::{History, Progress};

use super::code::{Code, Problem};
use super::messages::{HistoryAnswer, Holding, MissingBlobsAnswer, PushAnswer, PushOutcome};
use crate::log::{EntryId, ReceivedEntry};

/// After this many blobs in a row that could not be sent, the round stops sending blobs, because the network is down.
const BLOBS_IN_VAIN: u32 = 2;

/// So many entries or fewer are sent in one push: over a slow network a second request costs more than it saves.
const ONE_PUSH: usize = 500;

/// The state machine. A new one is made for each round from the stored [`Progress`].
#[derive(Debug)]
pub struct Machine {
    progress: Progress,
    next: Command,
    /// Batches of entries that were read and are still to be sent, including halves of batches that the server refused
    /// as a whole.
    split: VecDeque<Vec<ReceivedEntry>>,
    /// The last id whose presence on the server was compared.
    compared: Option<EntryId>,
    /// Whether the round has reached history, which goes on after the entries saved meanwhile are sent.
    in_history: bool,
    blobs: VecDeque<String>,
    /// How many blobs in a row could not be sent in this round.
    in_vain: u32,
    /// Whether the erasures that were due have been written in this round. Those that the server names afterwards wait
    /// for the next one.
    due_written: bool,
}

impl Machine {
    /// Begins a round.
    pub fn start(progress: Progress) -> Self {
        Self {
            progress,
            next: Command::UNSENT,
            split: VecDeque::new(),
            compared: None,
            in_history: false,
            blobs: VecDeque::new(),
            in_vain: 0,
            due_written: false,
        }
    }

    /// The current command. It stays the same until [`Machine::handle`] is called.
    pub fn command(&self) -> &Command {
        &self.next
    }

    /// The next request to the server, if the local transaction in progress commits and nothing is saved meanwhile. A
    /// driver may send it while the transaction is written, and report the answer when the machine comes to ask the
    /// same: like any answer, it may have been on its way for a while.
    pub fn prefetch(&self) -> Option<Command> {
        match &self.next {
            Command::Settle { progress, .. } => Some(Command::push(self.split.front()?.clone(), progress)),
            Command::Apply { progress, .. } if self.in_history => progress.history.map(Command::GetHistory),
            Command::Apply { progress, .. } => Some(Command::read_on(progress)),
            _ => None,
        }
    }

    /// The device's progress, for the screen.
    pub fn progress(&self) -> &Progress {
        &self.progress
    }

    /// Takes the result of the current command and decides on the next one.
    pub fn handle(&mut self, event: Event) {
        let done = std::mem::replace(&mut self.next, Command::Rest(RoundOutcome::UpToDate));
        self.next = match event {
            Event::NoAnswer => self.failed(done, None),
            Event::NotStored => Command::Rest(RoundOutcome::StoreFailed),
            Event::Refused(problem) => self.refused(done, problem),
            Event::Stored => self.stored(done),
            answer => self.answered(done, answer),
        };
    }

    /// The server or the store answered the command.
    fn answered(&mut self, asked: Command, answer: Event) -> Command {
        match (asked, answer) {
            (Command::LoadUnsent { .. }, Event::Unsent(entries)) => self.offer(entries),
            (Command::Push(sent), Event::Pushed(answer)) if sent.entries.len() == answer.results.len() => {
                self.settle(&sent.entries, answer)
            }
            (Command::GetInShop(asked), Event::InShop(answer)) => self.apply_in_shop(asked, answer),
            (Command::Pull { .. }, Event::Pulled(answer)) => self.apply_pulled(answer),
            (Command::GetHistory(asked), Event::History(answer)) => self.apply_history(asked, answer),
            (Command::LoadHoldings { .. }, Event::Holdings(held)) => self.compare(held),
            (Command::AskMissing(_), Event::Missing(answer)) => match answer.missing {
                missing if missing.is_empty() => Command::LoadHoldings { after: self.compared },
                missing => Command::MarkUnsent(missing),
            },
            (Command::LoadUnsentBlobs, Event::UnsentBlobs(hashes)) if hashes.is_empty() => {
                self.read_history()
            }
            (Command::LoadUnsentBlobs, Event::UnsentBlobs(hashes)) => Command::AskBlobs(hashes),
            (Command::AskBlobs(asked), Event::MissingBlobs(answer)) => self.send_blobs(asked, answer),
            (Command::PutBlob(hash), Event::BlobTaken) => {
                Command::SettleBlobs(vec![(hash, BlobSettled::Stored)])
            }
            // The answer does not belong to the command: end the round rather than guess.
            _ => Command::Rest(RoundOutcome::Again {
                after: None,
                problem: None,
            }),
        }
    }

    /// A local transaction has committed.
    fn stored(&mut self, done: Command) -> Command {
        match done {
            Command::Settle { progress, .. } => {
                self.progress = progress;
                match self.split.pop_front() {
                    Some(entries) => Command::push(entries, &self.progress),
                    None => Command::UNSENT,
                }
            }
            Command::Apply { progress, .. } => {
                self.progress = progress;
                if self.in_history {
                    Command::UNSENT
                } else {
                    Command::read_on(&self.progress)
                }
            }
            Command::MarkUnsent(_) => Command::LoadHoldings { after: self.compared },
            Command::UnconfirmBlobs(progress) => {
                self.progress = progress;
                Command::UNSENT
            }
            Command::WriteDue(_) => Command::UNSENT,
            Command::WantBlobs(_) => Command::LoadUnsentBlobs,
            Command::SettleBlobs(_) => self.next_blob(),
            other => other,
        }
    }

    /// The server refused the request.
    fn refused(&mut self, asked: Command, problem: Problem) -> Command {
        match (&problem.code, asked) {
            (Code::TokenMissing | Code::TokenUnknown | Code::TokenRevoked, _) => {
                Command::Rest(RoundOutcome::JoinAgain(problem))
            }
            // A pull from zero is also refused if it names a push that the server has lost.
            (
                Code::CursorLost,
                Command::Push(_)
                | Command::Pull { cursor: Some(_), .. }
                | Command::Pull { pushed: Some(_), .. }
                | Command::GetInShop(Some(_))
                | Command::GetHistory(_),
            ) => self.begin_again(),
            (Code::TooLarge | Code::Malformed, Command::Push(sent)) => self.halve(sent.entries, problem),
            (code, Command::PutBlob(hash)) if parks(code) => {
                Command::SettleBlobs(vec![(hash, BlobSettled::Parked(problem))])
            }
            (_, asked) => self.failed(asked, Some(problem)),
        }
    }

    /// The request failed this time. A blob that fails is put behind the others; anything else ends the round.
    fn failed(&mut self, asked: Command, problem: Option<Problem>) -> Command {
        match asked {
            Command::PutBlob(hash) if self.in_vain < BLOBS_IN_VAIN => {
                self.in_vain += 1;
                Command::SettleBlobs(vec![(hash, BlobSettled::Later)])
            }
            _ => Command::Rest(RoundOutcome::Again {
                after: problem.as_ref().and_then(|said| said.retry_after),
                problem,
            }),
        }
    }

    /// Sends what is unacknowledged; if there is nothing, continues the round where it was.
    fn offer(&mut self, mut entries: Vec<ReceivedEntry>) -> Command {
        match (entries.is_empty(), self.in_history) {
            (true, true) => self.read_history(),
            (true, false) => Command::read_on(&self.progress),
            (false, _) => {
                self.in_history = false;
                if entries.len() > ONE_PUSH {
                    self.split.push_back(entries.split_off(entries.len() / 2));
                }
                Command::push(entries, &self.progress)
            }
        }
    }

    /// An entry that the server cannot read must not block the others: it is found by halving the batch.
    fn halve(&mut self, mut entries: Vec<ReceivedEntry>, problem: Problem) -> Command {
        match entries.as_slice() {
            [] => Command::UNSENT,
            [only] => Command::Settle {
                settled: vec![Settled::Refused {
                    id: only.entry.id,
                    problem,
                }],
                progress: self.progress.clone(),
            },
            _ => {
                self.split.push_front(entries.split_off(entries.len() / 2));
                Command::push(entries, &self.progress)
            }
        }
    }

    fn settle(&self, entries: &[ReceivedEntry], answer: PushAnswer) -> Command {
        let settled = entries.iter().zip(answer.results).map(|(held, taken)| {
            let id = held.entry.id;
            match taken {
                PushOutcome::Accepted { received } => Settled::Accepted { id, received },
                PushOutcome::Refused(problem) => Settled::Refused { id, problem },
            }
        });
        let settled = settled.collect();
        // If no other device has written meanwhile, the numbers given since the cursor are those of the push: they need
        // not be read back.
        let (cursor, pushed) = match self.progress.cursor {
            Some(cursor) if answer.before == Some(cursor) => (Some(answer.at), None),
            cursor => (cursor, Some(answer.at)),
        };
        let progress = Progress {
            cursor,
            pushed,
            ..self.progress.clone()
        };
        Command::Settle { settled, progress }
    }

    /// The server does not know the cursor: reads from zero, and compares afterwards.
    fn begin_again(&mut self) -> Command {
        self.in_history = false;
        self.compared = None;
        self.split.clear();
        let progress = Progress {
            cursor: None,
            pushed: None,
            in_shop: None,
            history: None,
            compare: true,
            filled: true,
            role: self.progress.role.clone(),
        };
        Command::Apply {
            entries: Vec::new(),
            progress,
        }
    }

    fn compare(&mut self, held: Vec<Holding>) -> Command {
        match held.last() {
            Some(last) => {
                self.compared = Some(last.id);
                Command::AskMissing(held)
            }
            None => {
                self.compared = None;
                Command::UnconfirmBlobs(Progress {
                    compare: false,
                    ..self.progress.clone()
                })
            }
        }
    }

    fn send_blobs(&mut self, asked: Vec<String>, answer: MissingBlobsAnswer) -> Command {
        let there: Vec<_> = asked
            .into_iter()
            .filter(|hash| !answer.missing.contains(hash))
            .collect();
        self.blobs = answer.missing.into();
        if there.is_empty() {
            return self.next_blob();
        }
        Command::SettleBlobs(
            there
                .into_iter()
                .map(|hash| (hash, BlobSettled::Stored))
                .collect(),
        )
    }

    fn next_blob(&mut self) -> Command {
        match self.blobs.pop_front() {
            Some(hash) => Command::PutBlob(hash),
            None if self.in_vain > 0 => self.read_history(),
            None => Command::LoadUnsentBlobs,
        }
    }

    fn read_history(&mut self) -> Command {
        match self.progress.history {
            Some(history) => {
                self.in_history = true;
                Command::GetHistory(history)
            }
            None if self.in_vain > 0 => Command::Rest(RoundOutcome::Again {
                after: None,
                problem: None,
            }),
            None => Command::Rest(RoundOutcome::UpToDate),
        }
    }

    fn apply_history(&self, asked: History, answer: HistoryAnswer) -> Command {
        let history = answer.next.map(|read| History {
            read: Some(read),
            ..asked
        });
        Command::Apply {
            entries: answer.entries,
            progress: Progress {
                history,
                ..self.progress.clone()
            },
        }
    }
}

/// Whether a refusal will not change if the same bytes are sent again.
fn parks(code: &Code) -> bool {
    matches!(
        code,
        Code::TooLarge
            | Code::HashMismatch
            | Code::BadHash
            | Code::Empty
            | Code::MediaType
            | Code::HasExif
            | Code::Erased
            | Code::Malformed
            | Code::NotFound
    )
}
