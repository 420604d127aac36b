//! Operations with which `waxend check --repair` mends what is stored.

use std::future::Future;

use shared::log::{DeviceId, SubjectId};

use super::{DatabaseError, NewEntry};

/// A device of which what is noted is damaged. Its row has to be put anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DamagedDevice {
    /// Its id.
    pub id: DeviceId,
    /// Its name, as far as that can be read, so that people know which device it is.
    pub name: String,
}

/// What was found of damaged rows, other than entries and what is derived from them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct DamagedRows {
    /// Whether the counter or numbers were among them. All entries have to be numbered anew then.
    pub numbers: bool,
    /// Devices. They have no valid token any more; a device whose id cannot be read is forgotten.
    pub devices: Vec<DamagedDevice>,
    /// How many tokens were deleted.
    pub tokens: usize,
    /// How many join codes were deleted.
    pub join_codes: usize,
    /// The entries that were kept aside, as [`RepairTx::take_out`] returns entries. One that was dropped is not among them.
    pub aside: Vec<String>,
}

/// Operations of `waxend check --repair`. Only stores whose files can be damaged have them.
pub trait RepairTx {
    /// Makes the database's own indexes anew.
    fn rebuild_indexes(&mut self) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Mends the counter if it is damaged, but for its epoch and its last number, and takes out other damaged rows that no
    /// entry tells about.
    fn mend_rows(&mut self) -> impl Future<Output = Result<DamagedRows, DatabaseError>> + Send;

    /// Takes out the entries with these numbers. Returns all that was stored of them, each as one line of JSON: its id,
    /// if that can be read, and its columns as SQL writes their values.
    fn take_out(&mut self, seqs: &[u64]) -> impl Future<Output = Result<Vec<String>, DatabaseError>> + Send;

    /// Changes the number at which the subject of a stored entry was first seen.
    fn set_subject_seq(
        &mut self,
        seq: u64,
        subject_seq: u64,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Forgets which subjects there are, what entries concern and name, and which blobs are awaited.
    fn forget_derived(&mut self) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Stores again what was forgotten, of these entries.
    fn derive(&mut self, entries: &[NewEntry]) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Stores that a card link belongs to a pair, whichever it has belonged to before.
    fn relink(
        &mut self,
        secret: &str,
        pair: SubjectId,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Takes all numbers back, so that they can be given anew.
    fn forget_numbers(&mut self) -> impl Future<Output = Result<(), DatabaseError>> + Send;
}
