//! `waxend check --repair`: makes anew what the entries tell.

use std::collections::{BTreeSet, HashMap};
use std::io;

use shared::log::body::Role;
use shared::log::{SubjectId, UnixMs, about};

use super::compare::{self, DAMAGED, ENVELOPES};
use super::pages::CheckedPages;
use crate::error::Error;
use crate::shop::ingest::{blobs, secret};
use crate::shop::joining::letters;
use crate::store::{
    CheckTx, DamagedDevice, DatabaseError, DeviceRow, NewEntry, Numbered, RepairTx, Store, StoreTx,
    StoredEntry, TxMode,
};
use crate::world::World;

/// What mending a database has come to.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Mended {
    /// What was wrong and no longer is, one sentence each.
    pub mended: Vec<String>,
    /// How many damaged entries were taken out.
    pub taken_out: usize,
    /// How many damaged entries were taken out that were kept aside.
    pub aside: usize,
    /// The devices that were shut out because what was noted of them was damaged.
    pub shut_out: Vec<DeviceRow>,
    /// How many damaged tokens were deleted.
    pub tokens: usize,
    /// How many damaged join codes were deleted.
    pub join_codes: usize,
    /// How many entries were gone, as far as that could be told.
    pub gone: usize,
}

/// Where what is stored of the entries does not agree with itself, one sentence each.
///
/// # Errors
/// [`Error::DiskFull`] or [`Error::Unavailable`]; that the database cannot be read is a finding.
pub async fn disagreements<S: Store>(store: &S) -> Result<Vec<String>, Error> {
    let mut tx = store.begin(TxMode::Read).await?;
    match compare::read(&mut tx).await.map_err(Error::from) {
        Ok(comparison) => Ok(comparison.told()),
        Err(Error::Store(error)) => Ok(vec![format!("the database cannot be read to its end: {error}")]),
        Err(error) => Err(error),
    }
}

/// Mends a database. It can be done before the shop is opened, which damage may prevent.
///
/// What is derived from the entries is made anew. Damaged entries are taken out, so that devices are asked for them;
/// `keep` is called with all that was stored of them before that is committed. Where entries or their numbers change,
/// all are numbered anew under a new epoch: devices then read everything again, and offer what the server lacks. Damaged
/// devices are shut out, and damaged tokens and join codes deleted.
///
/// # Errors
/// A failure of the database, or of `keep`; nothing was changed then.
pub async fn mend_database<S: Store>(
    store: &S,
    world: &dyn World,
    keep: impl FnOnce(&[String]) -> io::Result<()> + Send,
) -> Result<Mended, Error>
where
    S::Tx: RepairTx,
{
    let before = wrong(store).await?;
    let mut tx = store.begin(TxMode::Write).await?;
    tx.rebuild_indexes().await?;
    let damaged = tx.mend_rows().await?;
    let shut_out = shut_out(&mut tx, damaged.devices, world.now()).await?;
    let (numbers_are_wrong, gone) = match compare::read(&mut tx).await {
        Ok(read) => (read.numbers_are_wrong(), read.gone()),
        // Where what is derived cannot even be read, the numbers are taken to be wrong too.
        Err(_) => (true, 0),
    };
    let unsound = unsound(&mut tx).await?;
    let taken_out = tx.take_out(&unsound).await?;
    let kept = [damaged.aside.as_slice(), &taken_out].concat();
    if !kept.is_empty() {
        keep(&kept)?;
    }
    let seqs = derive_again(&mut tx).await?;
    if damaged.numbers || numbers_are_wrong || !unsound.is_empty() {
        number_again(&mut tx, &seqs, world).await?;
    }
    tx.commit().await?;
    store.scrub().await?;
    Ok(Mended {
        mended: no_longer(before, &wrong(store).await?),
        taken_out: taken_out.len(),
        aside: damaged.aside.len(),
        shut_out,
        tokens: damaged.tokens,
        join_codes: damaged.join_codes,
        gone,
    })
}

/// Shuts out devices of which what is noted is damaged: it is not certain as what they may come in. Each joins again with
/// a new code. Their letters cannot be trusted either, so they get new ones, and no tag number is given twice.
async fn shut_out<T: StoreTx>(
    tx: &mut T,
    damaged: Vec<DamagedDevice>,
    now: UnixMs,
) -> Result<Vec<DeviceRow>, DatabaseError> {
    let mut shut_out = Vec::new();
    for DamagedDevice { id, name } in damaged {
        let mut counter = tx.counter().await?;
        counter.letters_given += 1;
        tx.set_counter(&counter).await?;
        let row = DeviceRow {
            id,
            name,
            letters: letters(counter.letters_given),
            joined: now,
            revoked: Some(now),
            seen: now,
            seq: 0,
            app: None,
            role: Role::Helper,
        };
        tx.put_device(&row).await?;
        shut_out.push(row);
    }
    Ok(shut_out)
}

/// All that can be found wrong in a database without knowing what was erased.
async fn wrong<S: Store>(store: &S) -> Result<Vec<String>, Error> {
    let mut wrong = store.faults().await?;
    wrong.extend(disagreements(store).await?);
    Ok(wrong)
}

/// What was wrong before and is not afterwards, without damaged entries: of these it is told that they were taken out.
fn no_longer(before: Vec<String>, after: &[String]) -> Vec<String> {
    let of_entries = |line: &String| [DAMAGED, ENVELOPES].iter().any(|begins| line.starts_with(begins));
    let gone = before.into_iter().filter(|line| !after.contains(line));
    gone.filter(|line| !of_entries(line)).collect()
}

/// The numbers of the entries that are damaged, or have a field that no entry can have.
async fn unsound<T: CheckTx>(tx: &mut T) -> Result<Vec<u64>, DatabaseError> {
    let mut unsound = Vec::new();
    let mut pages = CheckedPages::new();
    while let Some(page) = pages.next(tx).await? {
        let found = page.rows.iter().filter(|row| compare::is_unsound(row));
        unsound.extend(found.map(|row| row.seq));
    }
    Ok(unsound)
}

/// Makes anew all that is derived from the entries, except their numbering. Returns the entries' own numbers, in order.
async fn derive_again<T: StoreTx + RepairTx>(tx: &mut T) -> Result<Vec<u64>, DatabaseError> {
    tx.forget_derived().await?;
    let mut known = Known::default();
    let mut pages = CheckedPages::new();
    while let Some(page) = pages.next(tx).await? {
        let mut entries = Vec::with_capacity(page.rows.len());
        for stored in page.rows.into_iter().filter_map(|row| row.intact) {
            entries.push(known.take(tx, stored).await?);
        }
        tx.derive(&entries).await?;
    }
    Ok(known.seqs)
}

/// What the entries so far have told.
#[derive(Debug, Default)]
struct Known {
    /// The entries' numbers.
    seqs: Vec<u64>,
    /// The number of the first entry of each subject.
    firsts: HashMap<SubjectId, u64>,
    /// The card links that were given to a pair.
    links: BTreeSet<String>,
}

impl Known {
    /// Takes the next entry. Its subject and its card link are those of the first entry that has them.
    async fn take<T: StoreTx + RepairTx>(
        &mut self,
        tx: &mut T,
        mut stored: StoredEntry,
    ) -> Result<NewEntry, DatabaseError> {
        let subject = stored.subject().id;
        self.seqs.push(stored.seq);
        let first = *self.firsts.entry(subject).or_insert(stored.seq);
        if stored.subject_seq != first {
            tx.set_subject_seq(stored.seq, first).await?;
            stored.subject_seq = first;
        }
        if let Some(secret) = secret(&stored.held.entry)
            && self.links.insert(secret.clone())
        {
            tx.relink(&secret, subject).await?;
        }
        Ok(NewEntry {
            about: about(&stored.held.entry),
            named: blobs(&stored.held.entry),
            stored,
        })
    }
}

/// Numbers all entries anew, under a new epoch. Each keeps its own number; a number between them, which was given to an
/// entry that changed later or is gone, leads to the entry before it.
async fn number_again<T: StoreTx + RepairTx>(
    tx: &mut T,
    seqs: &[u64],
    world: &dyn World,
) -> Result<(), DatabaseError> {
    let mut rows = Vec::with_capacity(seqs.len());
    let mut own = seqs.iter().copied().peekable();
    let mut entry = seqs.first().copied().unwrap_or_default();
    let last = seqs.last().copied().unwrap_or_default();
    for seq in 1..=last {
        entry = own.next_if_eq(&seq).unwrap_or(entry);
        rows.push(Numbered {
            seq,
            mark: world.uuid(),
            entry,
        });
    }
    tx.forget_numbers().await?;
    tx.number(&rows).await?;
    let mut counter = tx.counter().await?;
    counter.seq = last;
    counter.epoch = world.uuid();
    tx.set_counter(&counter).await
}
