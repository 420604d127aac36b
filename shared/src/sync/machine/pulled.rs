//! What the device does with the answer to a pull.

use super::{Command, Machine, Progress};
use crate::sync::messages::PullAnswer;

impl Machine {
    /// Applies a page; after the last one, what the server needs of this device.
    pub(super) fn apply_pulled(&mut self, answer: PullAnswer) -> Command {
        let moved = self.progress.cursor != Some(answer.cursor);
        let known = self.progress.role.as_ref();
        let has_other_role = known.is_some_and(|role| *role != answer.role);
        if answer.more || moved || has_other_role {
            return self.apply_page(answer);
        }
        if self.progress.compare {
            return Command::LoadHoldings { after: None };
        }
        if !answer.due.is_empty() && !self.due_written {
            self.due_written = true;
            return Command::WriteDue(answer.due);
        }
        match answer.wanted {
            wanted if wanted.is_empty() => Command::LoadUnsentBlobs,
            wanted => Command::WantBlobs(wanted),
        }
    }

    fn apply_page(&self, answer: PullAnswer) -> Command {
        let pushed = self
            .progress
            .pushed
            .filter(|pushed| pushed.seq > answer.cursor.seq);
        let progress = Progress {
            cursor: Some(answer.cursor),
            pushed,
            role: Some(answer.role),
            ..self.progress.clone()
        };
        Command::Apply {
            entries: answer.entries,
            progress,
        }
    }
}
