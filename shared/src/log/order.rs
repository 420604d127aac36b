//! The one order in which entries are read.

use super::entry::{DeviceId, EntryId, UnixMs};
use super::received::ReceivedEntry;

/// Where an entry stands among all others: `(min(stamp.ms, received), stamp.ms, counter, device, id)`.
///
/// Until a server has taken the entry its own stamp counts; from then on it counts no later than the moment it
/// was taken. So a clock that runs years ahead wins only until its entries are taken, and a clock that runs
/// behind merely loses to what came later.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    effective: UnixMs,
    stamp_ms: UnixMs,
    counter: u32,
    device: DeviceId,
    id: EntryId,
}

impl ReceivedEntry {
    /// `min(stamp.ms, received)`: the time this entry counts from.
    pub fn effective(&self) -> UnixMs {
        let stamp = self.entry.stamp.ms;
        self.received.map_or(stamp, |received| received.min(stamp))
    }

    /// Where this entry stands in the order.
    pub fn position(&self) -> Position {
        Position {
            effective: self.effective(),
            stamp_ms: self.entry.stamp.ms,
            counter: self.entry.stamp.counter,
            device: self.entry.device,
            id: self.entry.id,
        }
    }
}
