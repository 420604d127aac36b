//! The commands of the machine to its driver, and the events that the driver reports.

use super::progress::{History, Progress};
use crate::log::{EntryId, ReceivedEntry, UnixMs};
use crate::sync::code::Problem;
use crate::sync::cursor::Cursor;
use crate::sync::messages::{
    BATCH_BYTES, HistoryAnswer, Holding, InShopAnswer, MissingBlobsAnswer, MissingEntriesAnswer, PullAnswer,
    PushAnswer, PushRequest,
};

/// The outcome for an entry that the device sent, to be stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Settled {
    /// Acknowledged: durable on the server since `received`.
    Accepted {
        /// The entry.
        id: EntryId,
        /// When the server first took it.
        received: UnixMs,
    },
    /// Refused: it stays on the device, is shown with the reason, and is not sent again automatically.
    Refused {
        /// The entry.
        id: EntryId,
        /// Why.
        problem: Problem,
    },
}

/// The outcome for a blob that the device sent, to be stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BlobSettled {
    /// The server has stored it on disk.
    Stored,
    /// It could not be sent this time: other blobs are sent before it from now on.
    Later,
    /// Refused: it stays on the device, is shown with the reason, and is not sent again automatically.
    Parked(Problem),
}

/// What the driver should do next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Command {
    /// Read unacknowledged, unrefused entries in the order they were made: at most `most` bytes of JSON, but at least
    /// one entry if there is any. Answer: [`Event::Unsent`].
    LoadUnsent {
        /// The most bytes of JSON.
        most: usize,
    },
    /// `POST entries`. Answer: [`Event::Pushed`] or [`Event::Refused`].
    Push(PushRequest),
    /// Store the outcome for exactly these entries, and the progress, in one transaction. Answer: [`Event::Stored`].
    Settle {
        /// One for each entry sent.
        settled: Vec<Settled>,
        /// The device's progress afterwards.
        progress: Progress,
    },
    /// `GET in-shop`: the first page, or the one after what was read. Answer: [`Event::InShop`].
    GetInShop(Option<History>),
    /// `GET entries` after the cursor. Answer: [`Event::Pulled`].
    Pull {
        /// The cursor to read from; `None` for zero.
        cursor: Option<Cursor>,
        /// A second cursor that must still exist on the server: see [`Progress::pushed`].
        pushed: Option<Cursor>,
    },
    /// `GET history`. Answer: [`Event::History`].
    GetHistory(History),
    /// Apply these entries and store the progress, in one transaction. Answer: [`Event::Stored`].
    Apply {
        /// The entries received.
        entries: Vec<ReceivedEntry>,
        /// The device's progress afterwards.
        progress: Progress,
    },
    /// Write the erasures that these requests ask for, as far as the device knows none. Answer: [`Event::Stored`].
    WriteDue(Vec<ReceivedEntry>),
    /// Read the next page of the ids of stored entries, in key order, at most
    /// [`MAX_ASKED`](crate::sync::messages::MAX_ASKED). Answer: [`Event::Holdings`].
    LoadHoldings {
        /// The page begins after this id; `None` for the first page.
        after: Option<EntryId>,
    },
    /// `POST entries/missing`. Answer: [`Event::Missing`].
    AskMissing(Vec<Holding>),
    /// Mark these entries as unacknowledged again, keeping their `received`. Answer: [`Event::Stored`].
    MarkUnsent(Vec<EntryId>),
    /// Mark every stored blob as not confirmed, mark what the server keeps for a repairer as unacknowledged, and store the
    /// progress. Answer: [`Event::Stored`].
    UnconfirmBlobs(Progress),
    /// Mark those of these blobs that the device has as not confirmed: the server lacks them. Answer:
    /// [`Event::Stored`].
    WantBlobs(Vec<String>),
    /// Read the hashes of unconfirmed, unparked blobs, at most [`MAX_ASKED`](crate::sync::messages::MAX_ASKED): those
    /// that failed least often first, then those of the newest job first. Answer: [`Event::UnsentBlobs`].
    LoadUnsentBlobs,
    /// `POST blobs/missing`. Answer: [`Event::MissingBlobs`].
    AskBlobs(Vec<String>),
    /// `PUT blobs/{sha256}`. Answer: [`Event::BlobTaken`] or [`Event::Refused`].
    PutBlob(String),
    /// Store the outcome for these blobs. Answer: [`Event::Stored`].
    SettleBlobs(Vec<(String, BlobSettled)>),
    /// The round has ended.
    Rest(RoundOutcome),
}

impl Command {
    /// Reads as many entries as two batches contain: one can be sent while the outcome of the other is stored.
    pub(super) const UNSENT: Self = Self::LoadUnsent {
        most: 2 * BATCH_BYTES,
    };

    /// Whether it is a question to the server alone. All other commands need the store; [`Command::PutBlob`] needs both.
    pub fn is_question(&self) -> bool {
        matches!(
            self,
            Self::Push(_)
                | Self::GetInShop(_)
                | Self::Pull { .. }
                | Self::GetHistory(_)
                | Self::AskMissing(_)
                | Self::AskBlobs(_)
        )
    }

    /// Sends these entries.
    pub(super) fn push(entries: Vec<ReceivedEntry>, progress: &Progress) -> Self {
        Self::Push(PushRequest {
            entries,
            pushed: progress.pushed,
        })
    }

    /// Everything has been sent: reads what the server has.
    pub(super) fn read_on(progress: &Progress) -> Self {
        match *progress {
            Progress {
                cursor,
                pushed,
                filled: true,
                ..
            } => Self::Pull { cursor, pushed },
            _ => Self::GetInShop(progress.in_shop),
        }
    }
}

/// How a round ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RoundOutcome {
    /// Everything has been sent and read.
    UpToDate,
    /// The server could not be reached or could not answer just now; begin a new round after a while.
    Again {
        /// The seconds to wait that the server asked for, if it did.
        after: Option<u64>,
        /// The server's problem, if it answered.
        problem: Option<Problem>,
    },
    /// The server does not know the device or has revoked its access: its entries stay on it, and a person must join it
    /// again.
    JoinAgain(Problem),
    /// The local store failed; the screen shows it.
    StoreFailed,
}

/// The result of a command.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Event {
    /// Entries not yet acknowledged.
    Unsent(Vec<ReceivedEntry>),
    /// The answer to a push.
    Pushed(PushAnswer),
    /// A page of the entries of the jobs that are in the shop, or all of them.
    InShop(InShopAnswer),
    /// The entries after the cursor.
    Pulled(PullAnswer),
    /// A page of history.
    History(HistoryAnswer),
    /// A page of the entries that the device has; empty at the end.
    Holdings(Vec<Holding>),
    /// Which of those entries the server lacks.
    Missing(MissingEntriesAnswer),
    /// Blobs not yet confirmed.
    UnsentBlobs(Vec<String>),
    /// Blobs the server lacks.
    MissingBlobs(MissingBlobsAnswer),
    /// The server has stored the blob on disk.
    BlobTaken,
    /// The local transaction committed.
    Stored,
    /// The local transaction failed; nothing was written.
    NotStored,
    /// No answer came; the server may or may not have executed the request.
    NoAnswer,
    /// The server answered with a refusal.
    Refused(Problem),
}
