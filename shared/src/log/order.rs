//! The total order in which entries are read.

use super::entry::{DeviceId, EntryId, UnixMs};
use super::received::ReceivedEntry;

/// The position of an entry in the total order: `(min(stamp.ms, received), stamp.ms, counter, device, id)`.
///
/// Until a server has received the entry, its own stamp counts; from then on it counts no later than the moment of
/// receipt. A clock that runs years ahead therefore wins only until its entries are received, and a clock that runs
/// behind only loses to later entries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    effective: UnixMs,
    stamp_ms: UnixMs,
    counter: u32,
    device: DeviceId,
    id: EntryId,
}

impl ReceivedEntry {
    /// The effective time, `min(stamp.ms, received)`: the time from which this entry counts.
    pub fn effective(&self) -> UnixMs {
        let stamp = self.entry.stamp.ms;
        self.received.map_or(stamp, |received| received.min(stamp))
    }

    /// The position of this entry in the total order.
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
