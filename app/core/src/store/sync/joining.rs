//! Joining a shop, and losing access to it. The stored entries are not affected by either.

use shared::log::body::{Body, SameAs};
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::sync::Problem;
use shared::sync::messages::JoinAnswer;

use crate::store::KvStore;
use crate::store::error::StoreError;
use crate::store::ingest;
use crate::store::kv::{Kv, KvTx, Mode};
use crate::store::summaries;
use crate::store::surroundings::Surroundings;
use crate::store::writing::Writing;
use shared::log::Draft;

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Notes that the device has joined the shop at `url`, which knows it by this name. Joining again keeps the
    /// device's id and everything stored.
    ///
    /// # Errors
    /// [`StoreError::OtherShop`] if the records belong to another shop; otherwise as for every write.
    pub async fn set_join(&self, answer: &JoinAnswer, url: &str, name: &str) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::WriteStrict).await?;
        name.clone_into(&mut writing.meta.device.name);
        let membership = &mut writing.meta.membership;
        if membership.shop.is_some_and(|shop| shop != answer.shop) {
            return Err(StoreError::OtherShop);
        }
        let first = membership.shop.is_none();
        membership.shop = Some(answer.shop);
        membership.url = Some(url.to_owned());
        membership.token = Some(answer.token.clone());
        membership.letters = Some(answer.letters.clone());
        membership.role = answer.role.clone();
        membership.shut_out = None;
        let (own, shop) = (writing.meta.device.own_shop, SubjectId(answer.shop));
        if first && writes_of(&writing, own).await? {
            // The entries that were made about the shop before it was joined are about the joined shop.
            self.say_same_shop(&mut writing, shop, own).await?;
        }
        self.finish(writing).await
    }

    /// Records that two ids are the same shop.
    pub(in crate::store) async fn say_same_shop(
        &self,
        writing: &mut Writing<K::Tx>,
        shop: SubjectId,
        other: SubjectId,
    ) -> Result<(), StoreError> {
        let same = Body::SameAs(SameAs { other });
        let drafts = vec![Draft::new(Subject::new(SubjectKind::Shop, shop), same)];
        let saved = self.stamp(&mut writing.meta, drafts)?;
        let touched = ingest::add(writing, saved.entries).await?;
        summaries::refresh(writing, touched).await
    }

    /// Notes that the server has a new address.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn move_server(&self, url: &str) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        writing.meta.membership.url = Some(url.to_owned());
        self.finish(writing).await
    }

    /// Notes that the server has revoked the device's access: everything stays, and a person must join it again.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn shut_out(&self, problem: Problem) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        writing.meta.membership.token = None;
        writing.meta.membership.shut_out = Some(problem);
        self.finish(writing).await
    }

    /// Takes the device out of the shop: everything stays on it.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn leave(&self) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        writing.meta.membership.token = None;
        writing.meta.membership.shut_out = None;
        self.finish(writing).await
    }
}

/// Whether there are entries about a subject.
pub(in crate::store) async fn writes_of<T: KvTx>(
    writing: &Writing<T>,
    subject: SubjectId,
) -> Result<bool, StoreError> {
    let about = writing.lookup.about(&[subject]).await?;
    Ok(about.iter().any(|entries| !entries.is_empty()))
}
