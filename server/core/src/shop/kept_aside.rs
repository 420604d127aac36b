//! Entries that are kept aside until a repairer takes them into the shop's records or drops them.

use shared::log::body::Role;
use shared::log::{EntryId, ReceivedEntry};
use shared::sync::messages::{KeptAsideAnswer, KeptAsideDecided, KeptAsideDecision, MAX_ASKED, PushOutcome};

use super::members::Member;
use super::{Shop, page};
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{AsideRow, AsideTx, Store, StoreTx, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// What waits for a repairer, the oldest first, as much as fits into one answer.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn kept_aside(&self) -> Result<KeptAsideAnswer, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let read = tx.kept_aside(page::READ).await?;
        let mut entries = read.rows;
        let fit = page::fitting(entries.iter());
        let more = read.more || fit < entries.len();
        entries.truncate(fit);
        Ok(KeptAsideAnswer { entries, more })
    }

    /// Carries out a repairer's decision. What is taken is accepted as if this repairer's device had pushed it now. What is
    /// dropped is deleted; the device that made it is told so if it sends it again.
    ///
    /// # Errors
    /// [`Error::ForRepairer`] for another device, [`Error::TooLarge`] for more than [`MAX_ASKED`] entries, and the errors
    /// of [`Shop::push`].
    pub async fn decide_kept_aside(
        &self,
        member: &Member,
        decision: &KeptAsideDecision,
    ) -> Result<KeptAsideDecided, Error> {
        if member.role != Role::Repairer {
            return Err(Error::ForRepairer);
        }
        if decision.take.len() + decision.drop.len() > MAX_ASKED {
            return Err(Error::TooLarge);
        }
        let taken = self.take_kept_aside(member, &decision.take).await?;
        let refused =
            |(id, taken): &(EntryId, PushOutcome)| matches!(taken, PushOutcome::Refused(_)).then_some(*id);
        let refused: Vec<_> = taken.iter().filter_map(refused).collect();
        let mut tx = self.begin(TxMode::Write).await?;
        tx.forget_aside(&refused).await?;
        tx.drop_aside(&decision.drop).await?;
        tx.commit().await?;
        self.store.scrub().await?;
        Ok(KeptAsideDecided { taken })
    }

    /// Takes those of these entries that are kept aside.
    async fn take_kept_aside(
        &self,
        member: &Member,
        ids: &[EntryId],
    ) -> Result<Vec<(EntryId, PushOutcome)>, Error> {
        let mut kept = self.begin(TxMode::Read).await?.aside(ids).await?;
        let entries: Vec<ReceivedEntry> = ids
            .iter()
            .filter_map(|id| match kept.remove(id)? {
                AsideRow::Kept(kept) => Some(ReceivedEntry::unsent(kept.entry.entry)),
                AsideRow::Dropped => None,
            })
            .collect();
        let ids: Vec<_> = entries.iter().map(|held| held.entry.id).collect();
        let results = self.push(member, entries.into()).await?.results;
        Ok(ids.into_iter().zip(results).collect())
    }
}
