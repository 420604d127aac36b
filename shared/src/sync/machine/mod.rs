//! The device's side of sync as a state machine without I/O.
//!
//! A driver asks [`Machine::command`] what to do, does it (one request over the network, or one transaction in
//! the local store, never one inside the other), and reports with [`Machine::handle`]. The browser drives it
//! with `fetch` and IndexedDB, the simulation with lost answers and crashes. Everything the machine must
//! remember across a restart is in [`Progress`], which the driver stores in the same local transaction as the
//! entries it speaks of; the machine itself may be thrown away at any moment.
//!
//! One round: offer what the server has not acknowledged, take what it has numbered since, send blobs it lacks.
//! A new device takes what is in the shop first, and history page by page at the end of its rounds. A device
//! whose cursor no longer stands (the server was restored from an older copy) reads everything from zero, asks
//! which of its own entries and blobs the server lacks, and offers those.

mod command;
mod progress;

use std::collections::VecDeque;

pub use command::{BlobSettled, Command, Event, RoundOutcome, Settled};
pub use progress::{History, Progress};

use super::code::{Code, Problem};
use super::messages::{
    HistoryAnswer, Holding, InShopAnswer, MissingBlobsAnswer, PullAnswer, PushAnswer, PushOutcome,
};
use crate::log::{EntryId, ReceivedEntry};

/// After this many blobs in a row that could not be sent, the round stops trying: the network is gone.
const BLOBS_IN_VAIN: u32 = 2;

/// So many entries or fewer are one push: over a slow network a second one costs more than it saves.
const ONE_PUSH: usize = 500;

/// The machine. Made anew for each round from the stored [`Progress`].
#[derive(Debug)]
pub struct Machine {
    progress: Progress,
    next: Command,
    /// Entries that have been read and are still to be offered, in batches; some because the server refused them as a whole.
    split: VecDeque<Vec<ReceivedEntry>>,
    /// The last id compared with the server.
    compared: Option<EntryId>,
    /// Whether the round has come as far as history, which goes on after a look at what was saved meanwhile.
    in_history: bool,
    blobs: VecDeque<String>,
    /// Blobs that could not be sent in this round.
    in_vain: u32,
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
        }
    }

    /// What to do now. The same command until [`Machine::handle`] is called.
    pub fn command(&self) -> &Command {
        &self.next
    }

    /// What will be asked of the server if the local transaction under way commits and nothing is saved meanwhile.
    /// A driver may ask it while that is written, and report the answer when the machine comes to ask the same:
    /// it is then an answer that was long under way.
    pub fn prefetch(&self) -> Option<Command> {
        match &self.next {
            Command::Settle { progress, .. } => Some(Command::push(self.split.front()?.clone(), progress)),
            Command::Apply { progress, .. } if self.in_history => progress.history.map(Command::GetHistory),
            Command::Apply { progress, .. } => Some(Command::read_on(progress)),
            _ => None,
        }
    }

    /// Where the device stands, for the screen.
    pub fn progress(&self) -> &Progress {
        &self.progress
    }

    /// Takes in what happened and decides what to do next.
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

    /// The server or the store answered what was asked.
    fn answered(&mut self, asked: Command, answer: Event) -> Command {
        match (asked, answer) {
            (Command::LoadUnsent { .. }, Event::Unsent(entries)) => self.offer(entries),
            (Command::Push(sent), Event::Pushed(answer)) if sent.entries.len() == answer.results.len() => {
                self.settle(&sent.entries, answer)
            }
            (Command::GetInShop, Event::InShop(answer)) => self.absorb_in_shop(answer),
            (Command::Pull { .. }, Event::Pulled(answer)) => self.absorb_pulled(answer),
            (Command::GetHistory(asked), Event::History(answer)) => self.absorb_history(asked, answer),
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
            // An answer to something that was not asked: start over rather than guess.
            _ => Command::Rest(RoundOutcome::Again {
                after: None,
                problem: None,
            }),
        }
    }

    /// A local transaction committed.
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
            Command::WantBlobs(_) => Command::LoadUnsentBlobs,
            Command::SettleBlobs(_) => self.next_blob(),
            other => other,
        }
    }

    /// The server refused what was asked.
    fn refused(&mut self, asked: Command, problem: Problem) -> Command {
        match (&problem.code, asked) {
            (Code::TokenMissing | Code::TokenUnknown | Code::TokenRevoked, _) => {
                Command::Rest(RoundOutcome::JoinAgain(problem))
            }
            // A pull from zero is lost too, if it names a push that no longer stands.
            (
                Code::CursorLost,
                Command::Push(_)
                | Command::Pull { cursor: Some(_), .. }
                | Command::Pull { pushed: Some(_), .. }
                | Command::GetHistory(_),
            ) => self.begin_again(),
            (Code::TooLarge | Code::Malformed, Command::Push(sent)) => self.halve(sent.entries, problem),
            (code, Command::PutBlob(hash)) if parks(code) => {
                Command::SettleBlobs(vec![(hash, BlobSettled::Parked(problem))])
            }
            (_, asked) => self.failed(asked, Some(problem)),
        }
    }

    /// It did not work this time. One blob that fails is set behind the others; anything else ends the round.
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

    /// Offers what is unacknowledged; when there is nothing, goes on where the round had come to.
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

    /// One entry the server cannot even read must not hold up the others: find it by halving.
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
        // When nobody has written in between, what the server has numbered since is what was pushed: it need not
        // be read back.
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

    /// What was acknowledged before the device was first filled may have been lost by a rollback that no cursor
    /// can show: it is compared once, while there is little to compare.
    fn absorb_in_shop(&self, answer: InShopAnswer) -> Command {
        let history = Some(History {
            start: answer.start,
            read: None,
        });
        let progress = Progress {
            cursor: Some(answer.start),
            pushed: None,
            history,
            filled: true,
            compare: true,
        };
        Command::Apply {
            entries: answer.entries,
            progress,
        }
    }

    fn absorb_pulled(&mut self, answer: PullAnswer) -> Command {
        let moved = self.progress.cursor != Some(answer.cursor);
        if answer.more || moved {
            let pushed = self
                .progress
                .pushed
                .filter(|pushed| pushed.seq > answer.cursor.seq);
            let progress = Progress {
                cursor: Some(answer.cursor),
                pushed,
                ..self.progress.clone()
            };
            return Command::Apply {
                entries: answer.entries,
                progress,
            };
        }
        match (self.progress.compare, answer.wanted) {
            (true, _) => Command::LoadHoldings { after: None },
            (false, wanted) if wanted.is_empty() => Command::LoadUnsentBlobs,
            (false, wanted) => Command::WantBlobs(wanted),
        }
    }

    /// The cursor has lost its footing: read from zero, and afterwards compare.
    fn begin_again(&mut self) -> Command {
        self.in_history = false;
        self.compared = None;
        self.split.clear();
        let progress = Progress {
            cursor: None,
            pushed: None,
            history: None,
            compare: true,
            filled: true,
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

    fn absorb_history(&self, asked: History, answer: HistoryAnswer) -> Command {
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

/// Refusals that sending the same bytes again cannot change.
fn parks(code: &Code) -> bool {
    matches!(
        code,
        Code::TooLarge
            | Code::HashMismatch
            | Code::BadHash
            | Code::Empty
            | Code::MediaType
            | Code::Erased
            | Code::Malformed
            | Code::NotFound
    )
}
