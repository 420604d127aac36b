//! How entries enter the store: merged with the stored copies, blanked if erased, counted, and filed in the tail or the
//! archive.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use shared::log::{EntryId, Erasures, Merged, ReceivedEntry, SubjectId, UnixMs, inserted, is_erasure};

use super::block;
use super::change::{RecordChange, Touched};
use super::erasing;
use super::error::StoreError;
use super::kv::KvTx;
use super::lookup::HeldCopy;
use super::meta::Meta;
use super::record::Record;
use super::tables::{TAIL, index};
use super::writing::Writing;

/// A batch with at least so many newly acknowledged entries is archived at once: writing a few full rows takes a
/// browser a small part of the time of as many single rows.
const BULK: usize = 64;

/// Adds entries that this device has just made, so that no copies of them exist.
pub(super) async fn add<T: KvTx>(
    writing: &mut Writing<T>,
    made: Vec<ReceivedEntry>,
) -> Result<Touched, StoreError> {
    let changes = made
        .into_iter()
        .map(|received| made_here(&writing.meta, received));
    let changes = changes.collect();
    apply(writing, changes).await
}

/// An entry that this device has just made.
pub(super) fn made_here(meta: &Meta, received: ReceivedEntry) -> RecordChange {
    let mut now = Record::unsent(received);
    now.left_out = erasing::waits(meta, &now);
    RecordChange { before: None, now }
}

/// Adds records from elsewhere (a server or a backup), each merged with the stored copy.
pub(super) async fn take<T: KvTx>(
    writing: &mut Writing<T>,
    batch: Vec<Record>,
) -> Result<Touched, StoreError> {
    let mut arrived: BTreeMap<EntryId, Record> = BTreeMap::new();
    let mut order = Vec::new();
    let mut conflicts = Vec::new();
    for mut record in batch {
        writing.meta.erasures.blank(&mut record.received.entry);
        record.left_out |= erasing::waits(&writing.meta, &record);
        let id = record.received.entry.id;
        match arrived.get_mut(&id) {
            None => {
                order.push(id);
                arrived.insert(id, record);
            }
            Some(first) => {
                if merge(first, &record, &writing.meta.erasures) == Merged::Conflict {
                    conflicts.push(id);
                }
            }
        }
    }
    let wanted = arrived
        .iter()
        .map(|(id, record)| (*id, record.received.entry.subject.id))
        .collect();
    let mut known = writing.lookup.known(&wanted).await?;
    let erasures = with_those_of(&writing.meta.erasures, &arrived, &known);
    let mut changes = Vec::new();
    // In the order of arrival, which groups what belongs together.
    for id in order {
        let Some(record) = arrived.remove(&id) else {
            continue;
        };
        match change(known.remove(&id), record, &erasures) {
            Ok(Some(change)) => changes.push(change),
            Ok(None) => {}
            Err(conflict) => conflicts.push(conflict),
        }
    }
    drop(erasures);
    let changes = compare_first(&mut writing.meta, changes);
    let mut touched = apply(writing, changes).await?;
    touched.conflicts = conflicts;
    Ok(touched)
}

/// The known erasures and those among the received records: an erasure explains every blank copy in its batch, whatever
/// the order. An erasure that has the id of another entry does not count, nor one that has no effect yet.
fn with_those_of<'a>(
    erasures: &'a Erasures,
    arrived: &BTreeMap<EntryId, Record>,
    known: &BTreeMap<EntryId, HeldCopy>,
) -> Cow<'a, Erasures> {
    let mut all = Cow::Borrowed(erasures);
    for (id, record) in arrived
        .iter()
        .filter(|(_, record)| is_erasure(&record.received.entry.kind) && !record.left_out)
    {
        let entry = &record.received.entry;
        if known
            .get(id)
            .is_none_or(|known| known.received().entry.same_envelope(entry))
        {
            all.to_mut().note(entry);
        }
    }
    all
}

/// The change that a received record makes to the stored one; `Err` with its id if they are different entries.
fn change(
    before: Option<HeldCopy>,
    arrived: Record,
    erasures: &Erasures,
) -> Result<Option<RecordChange>, EntryId> {
    let Some(known) = &before else {
        let mut now = arrived;
        now.aside = erasures.leaves_unexplained(&now.received.entry);
        return Ok(Some(RecordChange { before: None, now }));
    };
    let unchanged = match known {
        HeldCopy::Live(record) => record.clone(),
        HeldCopy::Archived(received) => Record::acknowledged(received.clone()),
    };
    let mut now = unchanged.clone();
    if now.aside {
        // An unexplained blank copy is not trusted, so its time of receipt is not used either.
        now.received.received = None;
    }
    if merge(&mut now, &arrived, erasures) == Merged::Conflict {
        return Err(arrived.received.entry.id);
    }
    now.aside &= erasures.leaves_unexplained(&now.received.entry);
    Ok((now != unchanged).then_some(RecordChange { before, now }))
}

/// What a helper's device sends again without having been asked for it changes nothing on the server. Instead of sending it,
/// the device compares what it has with what the server has, so that the server asks for it.
fn compare_first(meta: &mut Meta, mut changes: Vec<RecordChange>) -> Vec<RecordChange> {
    if meta.membership.is_helper() {
        for change in changes.iter_mut().filter(|change| change.sends_again()) {
            change.now.unsent = false;
            meta.progress.compare = true;
        }
        changes.retain(RecordChange::changes_anything);
    }
    changes
}

/// Merges two records of one entry. If a server has it, it is acknowledged, and neither refused nor left out any more. If
/// the server knows less than the device, the entry is sent again: a server that has only a blank copy that no erasure
/// explains is sent the full one; a server that was set back and has received the entry again later is sent the copy with
/// the earlier `received`.
fn merge(record: &mut Record, other: &Record, erasures: &Erasures) -> Merged {
    let known = record.received.received;
    let full = !record.received.entry.is_blank();
    let merged = record.received.merge(&other.received, erasures);
    if merged == Merged::Conflict {
        return merged;
    }
    let lacks_content = full && erasures.leaves_unexplained(&other.received.entry);
    if other.is_acknowledged() && other.received.received.is_some() {
        let is_later = known.is_some() && other.received.received > known;
        record.note_taken();
        record.unsent = lacks_content || (is_later && !erasures.leaves_unexplained(&record.received.entry));
    } else if lacks_content {
        record.unsent |= record.is_acknowledged();
    }
    merged
}

/// Writes changes of records and everything that follows from them, except the summaries.
pub(super) async fn apply<T: KvTx>(
    writing: &mut Writing<T>,
    mut changes: Vec<RecordChange>,
) -> Result<Touched, StoreError> {
    let mut touched = Touched::default();
    let erased = erasing::apply(writing, &mut changes, &mut touched).await?;
    write(writing, &changes, &mut touched).await?;
    explain(writing, &erased, &mut touched).await?;
    Ok(touched)
}

/// Adds erasures that were learnt without their entries.
pub(super) async fn take_erasures<T: KvTx>(
    writing: &mut Writing<T>,
    more: Erasures,
    touched: &mut Touched,
) -> Result<(), StoreError> {
    let erased = erasing::extend(writing, more, touched).await?;
    explain(writing, &erased, touched).await
}

/// After the erasure of these subjects has become known on this device or on the server: reads the copies that were set
/// aside without it, and sends them, because a server that was set back may have lost them meanwhile; sends again what the
/// server refused without it.
async fn explain<T: KvTx>(
    writing: &mut Writing<T>,
    erased: &BTreeSet<SubjectId>,
    touched: &mut Touched,
) -> Result<(), StoreError> {
    if erased.is_empty() {
        return Ok(());
    }
    let values: Vec<_> = erased.iter().map(SubjectId::to_string).collect();
    let rows = writing.tx().by_index(TAIL, index::ABOUT, &values).await?;
    let records: BTreeMap<_, _> = inserted(
        rows.iter()
            .flatten()
            .filter_map(Record::read)
            .map(|record| (record.received.entry.id, record)),
    );
    let mut changes = Vec::new();
    for before in records.into_values() {
        let mut now = before.clone();
        now.aside &= writing.meta.erasures.leaves_unexplained(&now.received.entry);
        let explained = before.aside && !now.aside;
        if explained {
            // An unexplained copy is neither compared with the server nor trusted in when it was received.
            now.received.received = None;
        }
        if explained || before.waits_for_erasure() {
            now.refused = None;
            now.unsent = true;
        }
        if now != before {
            changes.push(RecordChange::of_live(before, now));
        }
    }
    write(writing, &changes, touched).await
}

/// Makes those refused entries that `which` chooses to be sent again.
pub(super) async fn send_refused_again<T: KvTx>(
    writing: &mut Writing<T>,
    which: impl Fn(&Record) -> bool,
) -> Result<(), StoreError> {
    let rows = writing.tx().in_index(TAIL, index::REFUSED, "", u32::MAX).await?;
    let again = |before: Record| {
        let now = Record {
            unsent: true,
            refused: None,
            ..before.clone()
        };
        RecordChange::of_live(before, now)
    };
    let refused = rows.iter().filter_map(Record::read).filter(which);
    let changes = refused.map(again).collect();
    apply(writing, changes).await.map(drop)
}

/// Writes changes of records unchanged, counts them, and notes which subjects they affect.
async fn write<T: KvTx>(
    writing: &mut Writing<T>,
    changes: &[RecordChange],
    touched: &mut Touched,
) -> Result<(), StoreError> {
    for change in changes.iter().filter(|change| change.tells()) {
        change
            .received_before()
            .into_iter()
            .for_each(|received| touched.note(received));
        touched.note(&change.now.received);
    }
    let greatest_may_fall = count(writing, changes);
    file(writing, changes).await?;
    if greatest_may_fall {
        writing.meta.state.unsent = greatest_unacknowledged(writing).await?;
    }
    Ok(())
}

/// Counts the changes and advances the clock. Returns whether the greatest unacknowledged time may have become smaller.
fn count<T: KvTx>(writing: &mut Writing<T>, changes: &[RecordChange]) -> bool {
    let state = &mut writing.meta.state;
    let mut may_fall = false;
    for change in changes {
        let (was_unsent, was_refused) = change.status_before();
        let (unsent, refused) = (change.now.unsent, change.now.refused.is_some());
        state.counts.entries =
            (state.counts.entries + u64::from(change.is_read())).saturating_sub(u64::from(change.was_read()));
        state.counts.unsent = (state.counts.unsent + u64::from(unsent)).saturating_sub(u64::from(was_unsent));
        state.counts.refused =
            (state.counts.refused + u64::from(refused)).saturating_sub(u64::from(was_refused));
        let effective = Some(change.now.received.effective());
        if change.now.aside {
            continue;
        }
        if unsent || refused {
            state.unsent = state.unsent.max(effective);
        } else if change.now.is_acknowledged() {
            state.acked = state.acked.max(effective);
        }
        let before = change.received_before().map(ReceivedEntry::effective);
        may_fall |= (was_unsent || was_refused) && before >= state.unsent;
    }
    may_fall
}

/// The greatest effective time among the unacknowledged entries of the tail.
async fn greatest_unacknowledged<T: KvTx>(writing: &Writing<T>) -> Result<Option<UnixMs>, StoreError> {
    let mut greatest = None;
    for name in [index::UNSENT, index::REFUSED] {
        let rows = writing.tx().in_index(TAIL, name, "", u32::MAX).await?;
        let times = rows
            .iter()
            .filter_map(Record::read)
            .map(|record| record.received.effective());
        greatest = greatest.max(times.max());
    }
    Ok(greatest)
}

/// Writes the records: a large batch of newly acknowledged ones into the archive, all others into the tail.
async fn file<T: KvTx>(writing: &mut Writing<T>, changes: &[RecordChange]) -> Result<(), StoreError> {
    let bulk = changes.iter().filter(|change| change.is_settled()).count() >= BULK;
    let (archive, tail): (Vec<_>, Vec<_>) = changes.iter().partition(|change| bulk && change.is_settled());
    for change in tail {
        writing.tx().put(TAIL, change.now.row());
    }
    let (new, live): (Vec<_>, Vec<_>) = archive.into_iter().partition(|change| change.before.is_none());
    archive_all(writing, new.into_iter().map(RecordChange::received));
    if live.is_empty() {
        return Ok(());
    }
    // Only an entry that a server has received before can already be in the archive.
    let had = |change: &&&RecordChange| {
        change
            .received_before()
            .is_some_and(|received| received.received.is_some())
    };
    let wanted = wanted(live.iter().filter(had).map(|change| change.received()));
    let copies = writing.lookup.archived(&wanted).await?;
    let live: Vec<_> = live.into_iter().map(RecordChange::received).collect();
    move_to_archive(writing, &live, &copies).await
}

/// Entries with their subjects, for a look-up.
pub(super) fn wanted<'a>(entries: impl Iterator<Item = &'a ReceivedEntry>) -> BTreeMap<EntryId, SubjectId> {
    entries
        .map(|received| (received.entry.id, received.entry.subject.id))
        .collect()
}

/// Moves entries of the tail into the archive. `copies` are their copies that are already in the archive.
pub(super) async fn move_to_archive<T: KvTx>(
    writing: &mut Writing<T>,
    entries: &[&ReceivedEntry],
    copies: &BTreeMap<EntryId, ReceivedEntry>,
) -> Result<(), StoreError> {
    let news = entries.iter().filter(|received| {
        let copy = copies.get(&received.entry.id);
        copy.is_none_or(|copy| copy.clone().merge(received, &Erasures::default()) != Merged::Unchanged)
    });
    archive_all(writing, news.copied());
    let ids: BTreeSet<_> = inserted(entries.iter().map(|received| received.entry.id));
    let keys: Vec<_> = ids.iter().map(EntryId::to_string).collect();
    Ok(writing.lookup.drop_from_tail(&keys).await?)
}

/// Writes entries into new rows of the archive.
fn archive_all<'a, T: KvTx>(writing: &mut Writing<T>, entries: impl IntoIterator<Item = &'a ReceivedEntry>) {
    for packed in block::pack(entries) {
        writing.meta.state.block += 1;
        writing
            .lookup
            .put_block(&block::key(writing.meta.state.block), packed);
    }
}

/// The stored copy of an entry as a record.
pub(super) fn as_record(known: HeldCopy) -> Record {
    match known {
        HeldCopy::Live(record) => record,
        HeldCopy::Archived(received) => Record::acknowledged(received),
    }
}
