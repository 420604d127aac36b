//! What the rules on the rights of devices ask of SQLite.

use std::collections::HashMap;

use futures_util::TryStreamExt;
use shared::log::body::{ErasureAsked, Retracted};
use shared::log::{EntryId, ReceivedEntry, SubjectId, UnixMs};
use sqlx::{QueryBuilder, Row};
use uuid::Uuid;

use super::bulk::listing;
use super::log::IDS;
use super::{SqliteTx, ms, rows};
use crate::store::{CountedErasure, DatabaseError, ErasedThing, ErasureRequest, NamedEntry, RightsTx};

impl RightsTx for SqliteTx {
    async fn named_entries(
        &mut self,
        ids: &[EntryId],
    ) -> Result<HashMap<EntryId, NamedEntry>, DatabaseError> {
        let mut found = HashMap::with_capacity(ids.len());
        for some in ids.chunks(IDS) {
            let mut query = listing(
                "SELECT id, subject_kind, subject_id, kind, CASE kind WHEN 'retracted' THEN body ELSE '' END \
                 FROM entries WHERE id IN",
                some.iter().map(|id| id.0),
            );
            let mut rows = query.build().persistent(false).fetch(&mut *self.tx);
            while let Some(row) = rows.try_next().await? {
                let body: &str = row.try_get(4)?;
                let retraction: Option<Retracted> = serde_json::from_str(body).ok();
                let named = NamedEntry {
                    subject: rows::subject(row.try_get(1)?, row.try_get(2)?),
                    kind: row.try_get(3)?,
                    retracts: retraction.map(|retraction| retraction.entry),
                };
                found.insert(EntryId(row.try_get(0)?), named);
            }
        }
        Ok(found)
    }

    async fn retractions(&mut self, subjects: &[SubjectId]) -> Result<Vec<ReceivedEntry>, DatabaseError> {
        let ids: Vec<Uuid> = subjects.iter().map(|id| id.0).collect();
        let from = "FROM entries e WHERE e.kind = 'retracted' AND e.subject_id IN";
        let found = self.entries_where(from, &ids).await?;
        Ok(found.into_iter().map(|stored| stored.held).collect())
    }

    async fn erasure_requests(&mut self, until: UnixMs) -> Result<Vec<ErasureRequest>, DatabaseError> {
        let query = sqlx::query(
            "SELECT id, subject_kind, subject_id, body FROM entries WHERE kind = 'erasure_asked' AND body <> '' \
             AND coalesce(arrived, received) <= $1 ORDER BY coalesce(arrived, received), seq",
        )
        .bind(until.0);
        let mut found = Vec::new();
        let mut rows = query.fetch(&mut *self.tx);
        while let Some(row) = rows.try_next().await? {
            // What this version cannot read asks for nothing.
            if let Ok(asked) = serde_json::from_str::<ErasureAsked>(row.try_get(3)?) {
                found.push(ErasureRequest {
                    id: EntryId(row.try_get(0)?),
                    subject: rows::subject(row.try_get(1)?, row.try_get(2)?),
                    blob: asked.blob,
                });
            }
        }
        Ok(found)
    }

    async fn counted_erasures(&mut self) -> Result<Vec<CountedErasure>, DatabaseError> {
        let found = sqlx::query("SELECT at, of_blob FROM counted_erasures")
            .fetch_all(&mut *self.tx)
            .await?;
        let counted = found.iter().map(|row| {
            Ok(CountedErasure {
                at: ms(row.try_get(0)?),
                what: erased_thing(row.try_get(1)?),
            })
        });
        counted.collect()
    }

    async fn set_counted_erasures(&mut self, counted: &[CountedErasure]) -> Result<(), DatabaseError> {
        sqlx::query("DELETE FROM counted_erasures")
            .execute(&mut *self.tx)
            .await?;
        if counted.is_empty() {
            return Ok(());
        }
        let mut query = QueryBuilder::new("INSERT INTO counted_erasures (at, of_blob) ");
        query.push_values(counted, |mut row, counted| {
            row.push_bind(counted.at.0).push_bind(number_of(counted.what));
        });
        query.build().persistent(false).execute(&mut *self.tx).await?;
        Ok(())
    }
}

/// The number in the column `of_blob`, which at first told blobs from subjects alone.
fn number_of(what: ErasedThing) -> i64 {
    match what {
        ErasedThing::Subject => 0,
        ErasedThing::Blob => 1,
        ErasedThing::Mention => 2,
    }
}

fn erased_thing(number: i64) -> ErasedThing {
    match number {
        0 => ErasedThing::Subject,
        2 => ErasedThing::Mention,
        _ => ErasedThing::Blob,
    }
}
