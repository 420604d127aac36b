//! The messages of the sync API.

use serde::Serialize;
use serde::de::DeserializeOwned;
use shared::log::{Erasures, ReceivedEntry};
use shared::sync::machine::Progress;
use shared::sync::messages::{
    Device, HistoryAnswer, Holding, InShopAnswer, JoinAnswer, JoinCode, JoinCodeRequest, JoinRequest,
    KeptAsideAnswer, KeptAsideDecided, KeptAsideDecision, MissingBlobs, MissingBlobsAnswer, MissingEntries,
    MissingEntriesAnswer, PullAnswer, PushAnswer, PushOutcome, PushRequest, ShutOutProof, ShutOutQuestion,
    Status,
};
use shared::sync::{Cursor, HistoryMark, Problem};

use crate::headed;

/// The input: the body of a push. Each entry is accepted or refused by itself, and the accepted ones follow the rules
/// for entries.
pub(crate) fn push(data: &[u8]) {
    let Ok(batch) = server_core::shop::read_push(data) else {
        return;
    };
    for entry in batch.entries {
        match entry {
            Ok(held) => {
                held.entry.check().unwrap();
                let again: ReceivedEntry =
                    serde_json::from_str(&serde_json::to_string(&held).unwrap()).unwrap();
                assert_eq!(again, held);
            }
            Err(problem) => assert!(problem.message.ends_with('.') && problem.message.len() > 15),
        }
    }
}

/// The input: the name of a message on the first line, then its JSON. A message that can be read is written and read
/// again.
pub(crate) fn message(data: &[u8]) {
    let Some((name, json)) = headed(data) else { return };
    let read = |(known, again): &(&str, fn(&str))| {
        if *known == name {
            again(json);
        }
    };
    MESSAGES.iter().for_each(read);
}

macro_rules! messages {
    ($($message:ty),+ $(,)?) => {
        /// Every message by name, with a function that reads it, writes it and reads it again.
        pub(crate) const MESSAGES: &[(&str, fn(&str))] = &[$((stringify!($message), again::<$message>)),+];
    };
}

messages!(
    JoinRequest,
    JoinAnswer,
    JoinCode,
    JoinCodeRequest,
    PushRequest,
    PushAnswer,
    PushOutcome,
    PullAnswer,
    InShopAnswer,
    HistoryAnswer,
    Holding,
    MissingEntries,
    MissingEntriesAnswer,
    KeptAsideAnswer,
    KeptAsideDecision,
    KeptAsideDecided,
    ShutOutQuestion,
    ShutOutProof,
    MissingBlobs,
    MissingBlobsAnswer,
    Status,
    Device,
    Cursor,
    HistoryMark,
    Problem,
    Progress,
    Erasures,
);

fn again<T: Serialize + DeserializeOwned + PartialEq + std::fmt::Debug>(json: &str) {
    let Ok(read) = serde_json::from_str::<T>(json) else {
        return;
    };
    let written = serde_json::to_string(&read).unwrap();
    assert_eq!(serde_json::from_str::<T>(&written).unwrap(), read, "{written}");
}
