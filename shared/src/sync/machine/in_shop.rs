//! What a new device does with what is in the shop.

use super::{Command, History, Machine, Progress};
use crate::sync::messages::InShopAnswer;

impl Machine {
    /// Applies a page, after which the next one is asked for; after the last one, what the server has numbered since the
    /// first. A server of before 0.2.0 sends everything as the last page, whatever was asked for.
    ///
    /// Entries that were acknowledged before the device first read anything may have been lost by a rollback that no
    /// cursor can show: they are compared once, while there are few to compare.
    pub(super) fn apply_in_shop(&self, asked: Option<History>, answer: InShopAnswer) -> Command {
        let start = asked.map_or(answer.start, |asked| asked.start);
        let at = |read| Some(History { start, read });
        let progress = match answer.next {
            Some(read) => Progress {
                in_shop: at(Some(read)),
                ..self.progress.clone()
            },
            None => Progress {
                cursor: Some(start),
                // What was pushed between two pages has a later number than the first of them.
                pushed: asked
                    .and(self.progress.pushed)
                    .filter(|pushed| pushed.seq > start.seq),
                in_shop: None,
                history: at(None),
                filled: true,
                compare: true,
                role: self.progress.role.clone(),
            },
        };
        Command::Apply {
            entries: answer.entries,
            progress,
        }
    }
}
