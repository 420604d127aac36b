//! Erasures that were asked for. Once the server has held a request for two days and nobody has called it off, what it asks
//! for is erased whatever else was erased that day.

use std::collections::{BTreeSet, HashMap};

use shared::log::supersession::Supersession;
use shared::log::{Erasures, ReceivedEntry, SubjectId, SubjectKind, UnixMs};
use shared::sync::messages::{ERASURE_WAITS_MS, MAX_ERASED_SUBJECTS};

use crate::error::Error;
use crate::store::{ErasureRequest, LogTx, RightsTx};

/// The requests whose retractions are read at a time.
const SOME: usize = 100;

/// What may be erased now because it was asked for, as far as it is among `wanted`.
pub(super) async fn asked_for<T: RightsTx>(
    tx: &mut T,
    now: UnixMs,
    wanted: &Erasures,
) -> Result<Erasures, Error> {
    let mut requests = tx.erasure_requests(waited(now)).await?;
    requests.retain(|request| request.is_in(wanted));
    let mut found = Erasures::default();
    for request in standing(tx, &requests, usize::MAX).await? {
        match request.blob {
            Some(hash) => found.blobs.insert(hash),
            None => found.subjects.insert(request.subject.id),
        };
    }
    Ok(found)
}

/// The oldest requests that are due and not fulfilled: those that a repairer's device is to fulfil next.
pub(super) async fn due<T: RightsTx + LogTx>(
    tx: &mut T,
    now: UnixMs,
    erasures: &Erasures,
) -> Result<Vec<ReceivedEntry>, Error> {
    let mut requests = tx.erasure_requests(waited(now)).await?;
    // The shop itself cannot be erased.
    let erasable =
        |request: &ErasureRequest| request.blob.is_some() || request.subject.kind != SubjectKind::Shop;
    requests.retain(|request| !request.is_in(erasures) && erasable(request));
    let due = standing(tx, &requests, MAX_ERASED_SUBJECTS).await?;
    let ids: Vec<_> = due.iter().map(|request| request.id).collect();
    let mut held: HashMap<_, _> = tx
        .stored(&ids)
        .await?
        .into_iter()
        .map(|stored| (stored.held.entry.id, stored.held))
        .collect();
    Ok(ids.iter().filter_map(|id| held.remove(id)).collect())
}

/// The latest time of arrival of a request that is due.
fn waited(now: UnixMs) -> UnixMs {
    UnixMs(now.0.saturating_sub(ERASURE_WAITS_MS))
}

/// The first of these requests that nobody has called off, at most `most`.
async fn standing<T: RightsTx>(
    tx: &mut T,
    requests: &[ErasureRequest],
    most: usize,
) -> Result<Vec<ErasureRequest>, Error> {
    let mut found = Vec::new();
    for some in requests.chunks(SOME) {
        if found.len() >= most {
            break;
        }
        let subjects: BTreeSet<SubjectId> = some.iter().map(|request| request.subject.id).collect();
        let retractions = tx.retractions(&subjects.into_iter().collect::<Vec<_>>()).await?;
        let stands = |request: &&ErasureRequest| {
            let own = retractions
                .iter()
                .filter(|held| held.entry.subject.id == request.subject.id);
            !Supersession::of(own).is_retracted(request.id)
        };
        found.extend(some.iter().filter(stands).cloned());
    }
    found.truncate(most);
    Ok(found)
}
