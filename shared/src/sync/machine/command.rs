//! What the machine asks of its driver, and what the driver tells it.

use super::progress::{History, Progress};
use crate::log::{EntryId, ReceivedEntry, UnixMs};
use crate::sync::code::Problem;
use crate::sync::cursor::Cursor;
use crate::sync::messages::{
    BATCH_BYTES, HistoryAnswer, Holding, InShopAnswer, MissingBlobsAnswer, MissingEntriesAnswer, PullAnswer,
    PushAnswer, PushRequest,
};

/// What became of an entry the device offered, to be stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Settled {
    /// Acknowledged: durable on the server since `received`.
    Accepted {
        /// Which entry.
        id: EntryId,
        /// When the server first took it.
        received: UnixMs,
    },
    /// Refused: kept on the device, shown with the reason, not offered again by itself.
    Refused {
        /// Which entry.
        id: EntryId,
        /// Why.
        problem: Problem,
    },
}

/// What became of a blob the device offered, to be stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BlobSettled {
    /// On the server's disk.
    Stored,
    /// Could not be sent this time: the others go first from now on.
    Later,
    /// Refused: kept, shown with the reason, not offered again by itself.
    Parked(Problem),
}

/// What the driver should do next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Command {
    /// Read unacknowledged, unrefused entries in the order they were made: at most this many bytes of JSON, but
    /// at least one entry if there is any. Answer: [`Event::Unsent`].
    LoadUnsent {
        /// Bytes of JSON.
        most: usize,
    },
    /// `POST entries`. Answer: [`Event::Pushed`] or [`Event::Refused`].
    Push(PushRequest),
    /// Store what became of exactly these entries, and the progress, in one transaction. Answer: [`Event::Stored`].
    Settle {
        /// One for each entry offered.
        settled: Vec<Settled>,
        /// Where the device stands afterwards.
        progress: Progress,
    },
    /// `GET in-shop`. Answer: [`Event::InShop`].
    GetInShop,
    /// `GET entries` after the cursor. Answer: [`Event::Pulled`].
    Pull {
        /// Where to go on; `None` from zero.
        cursor: Option<Cursor>,
        /// What else must stand: see [`Progress::pushed`].
        pushed: Option<Cursor>,
    },
    /// `GET history`. Answer: [`Event::History`].
    GetHistory(History),
    /// Apply these entries and store the progress, in one transaction. Answer: [`Event::Stored`].
    Apply {
        /// What came.
        entries: Vec<ReceivedEntry>,
        /// Where the device stands afterwards.
        progress: Progress,
    },
    /// Read the next page of ids held, in key order, at most [`MAX_ASKED`](crate::sync::messages::MAX_ASKED).
    /// Answer: [`Event::Holdings`].
    LoadHoldings {
        /// Greater than this id; `None` from the first.
        after: Option<EntryId>,
    },
    /// `POST entries/missing`. Answer: [`Event::Missing`].
    AskMissing(Vec<Holding>),
    /// Mark these entries as unacknowledged again, keeping their `received`. Answer: [`Event::Stored`].
    MarkUnsent(Vec<EntryId>),
    /// Mark every blob held as not confirmed, and store the progress. Answer: [`Event::Stored`].
    UnconfirmBlobs(Progress),
    /// Mark those of these blobs that are held as not confirmed: the server lacks them. Answer: [`Event::Stored`].
    WantBlobs(Vec<String>),
    /// Read the hashes of unconfirmed, unparked blobs, at most [`MAX_ASKED`](crate::sync::messages::MAX_ASKED): those
    /// that failed least often first, then newest job first. Answer: [`Event::UnsentBlobs`].
    LoadUnsentBlobs,
    /// `POST blobs/missing`. Answer: [`Event::MissingBlobs`].
    AskBlobs(Vec<String>),
    /// `PUT blobs/{sha256}`. Answer: [`Event::BlobTaken`] or [`Event::Refused`].
    PutBlob(String),
    /// Store what became of these blobs. Answer: [`Event::Stored`].
    SettleBlobs(Vec<(String, BlobSettled)>),
    /// Nothing more to do in this round.
    Rest(RoundOutcome),
}

impl Command {
    /// Reads as much at once as two batches hold: one can be under way while what became of the other is written.
    pub(super) const UNSENT: Self = Self::LoadUnsent {
        most: 2 * BATCH_BYTES,
    };

    /// Offers these entries.
    pub(super) fn push(entries: Vec<ReceivedEntry>, progress: &Progress) -> Self {
        Self::Push(PushRequest {
            entries,
            pushed: progress.pushed,
        })
    }

    /// Everything is offered: reads what the server has.
    pub(super) fn read_on(progress: &Progress) -> Self {
        match *progress {
            Progress {
                cursor,
                pushed,
                filled: true,
                ..
            } => Self::Pull { cursor, pushed },
            _ => Self::GetInShop,
        }
    }
}

/// How a round ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RoundOutcome {
    /// Everything is sent and everything has been read.
    UpToDate,
    /// The server could not be reached or could not do it just now; begin a new round after a while.
    Again {
        /// Seconds the server asked to wait, if it did.
        after: Option<u64>,
        /// What it said, if it answered.
        problem: Option<Problem>,
    },
    /// The device is shut out or unknown: everything stays here, and a person must join it again.
    JoinAgain(Problem),
    /// The local store failed; the screen says so.
    StoreFailed,
}

/// What happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Event {
    /// Entries not yet acknowledged.
    Unsent(Vec<ReceivedEntry>),
    /// The answer to a push.
    Pushed(PushAnswer),
    /// What is in the shop.
    InShop(InShopAnswer),
    /// What follows the cursor.
    Pulled(PullAnswer),
    /// A page of history.
    History(HistoryAnswer),
    /// A page of what the device holds; empty at the end.
    Holdings(Vec<Holding>),
    /// What the server lacks of it.
    Missing(MissingEntriesAnswer),
    /// Blobs not yet confirmed.
    UnsentBlobs(Vec<String>),
    /// Blobs the server lacks.
    MissingBlobs(MissingBlobsAnswer),
    /// The server has the blob on disk.
    BlobTaken,
    /// The local transaction committed.
    Stored,
    /// The local transaction failed; nothing of it was written.
    NotStored,
    /// No answer came; the server may or may not have done it.
    NoAnswer,
    /// The server answered with a refusal.
    Refused(Problem),
}
