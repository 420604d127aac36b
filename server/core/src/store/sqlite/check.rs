//! SQLite's own checks, and reading all entries and what is derived from them for `waxend check`.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use shared::log::SubjectId;
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row, SqlitePool};

use super::error::is_damage;
use super::page::{Filling, KeptRow, limit};
use super::{SqliteTx, digest, layout, row_digest, rows, to_i64, to_u64};
use crate::store::{Budget, CheckTx, CheckedEntry, DatabaseError, DerivedRows, Page};

impl CheckTx for SqliteTx {
    async fn entries_after(&mut self, seq: u64, budget: Budget) -> Result<Page<CheckedEntry>, DatabaseError> {
        let sql = format!("{} WHERE e.seq > $1 ORDER BY e.seq LIMIT $2", digest::selecting());
        let query = sqlx::query(AssertSqlSafe(sql))
            .bind(to_i64(seq))
            .bind(limit(budget));
        let mut page = Filling::new(budget);
        page.fill(query.fetch(&mut *self.tx), checked).await?;
        Ok(page.done())
    }

    async fn derived(&mut self, seqs: RangeInclusive<u64>) -> Result<DerivedRows, DatabaseError> {
        let subjects = "SELECT first_seq, id, kind FROM subjects WHERE first_seq BETWEEN $1 AND $2";
        let about = "SELECT entry, subject_id FROM about WHERE entry BETWEEN $1 AND $2";
        let named = "SELECT entry, sha256 FROM named WHERE entry BETWEEN $1 AND $2";
        let feed = "SELECT seq, entry FROM feed WHERE seq BETWEEN $1 AND $2";
        let mut derived = DerivedRows::default();
        for row in self.between(subjects, &seqs).await? {
            let subject = rows::subject(row.try_get(2)?, row.try_get(1)?);
            derived.subjects.push((subject, to_u64(row.try_get(0)?)?));
        }
        for row in self.between(about, &seqs).await? {
            let subject = SubjectId(row.try_get(1)?);
            derived.about.insert((to_u64(row.try_get(0)?)?, subject));
        }
        for row in self.between(named, &seqs).await? {
            let blob = rows::hash(row.try_get(1)?)?;
            derived.named.insert((to_u64(row.try_get(0)?)?, blob));
        }
        for row in self.between(feed, &seqs).await? {
            let entry = to_u64(row.try_get(1)?)?;
            derived.feed.insert((to_u64(row.try_get(0)?)?, entry));
        }
        Ok(derived)
    }
}

impl SqliteTx {
    /// The rows of a query between the two ends of a range, `$1` and `$2`.
    async fn between(
        &mut self,
        sql: &'static str,
        seqs: &RangeInclusive<u64>,
    ) -> Result<Vec<SqliteRow>, DatabaseError> {
        let query = sqlx::query(sql)
            .bind(to_i64(*seqs.start()))
            .bind(to_i64(*seqs.end()));
        Ok(query.fetch_all(&mut *self.tx).await?)
    }
}

/// The entry in a row of [`digest::selecting`] and the length of its body, for [`Filling::fill`].
fn checked(row: &SqliteRow) -> KeptRow<CheckedEntry> {
    let checked = CheckedEntry {
        seq: to_u64(row.try_get(0)?)?,
        intact: digest::intact(row),
    };
    let body = checked.intact.as_ref().map(|stored| stored.held.entry.body.len());
    Ok(Some((checked, body.unwrap_or_default())))
}

/// What SQLite's own checks find (<https://sqlite.org/pragma.html#pragma_integrity_check>), and what is not as this
/// program has written it. Damage that stops them is a finding too.
pub(super) async fn faults(pool: &SqlitePool) -> Result<Vec<String>, DatabaseError> {
    let mut faults = match own_checks(pool).await {
        Err(error) if is_damage(&error) => {
            return Ok(vec![format!("the database file cannot be read: {error}")]);
        }
        done => done?,
    };
    faults.extend(found(layout::faults(pool).await)?);
    faults.extend(found(row_digest::faults(pool).await)?);
    Ok(faults)
}

/// What was found; where the database cannot be read, that.
fn found(read: Result<Vec<String>, DatabaseError>) -> Result<Vec<String>, DatabaseError> {
    match read {
        Err(DatabaseError::Damaged(_) | DatabaseError::Other(_)) => {
            Ok(vec!["parts of the database cannot be read".to_owned()])
        }
        read => read,
    }
}

async fn own_checks(pool: &SqlitePool) -> Result<Vec<String>, sqlx::Error> {
    let found: Vec<String> = sqlx::query_scalar("PRAGMA integrity_check(1000)")
        .fetch_all(pool)
        .await?;
    let mut faults: Vec<_> = integrity(&found).into_iter().collect();
    let strays = sqlx::query("PRAGMA foreign_key_check").fetch_all(pool).await?;
    let mut counts: BTreeMap<(String, String), usize> = BTreeMap::new();
    for row in &strays {
        // The table, and the table to which its row refers in vain.
        *counts.entry((row.try_get(0)?, row.try_get(2)?)).or_default() += 1;
    }
    let stray = |((table, parent), rows): ((String, String), usize)| {
        format!("rows of {table} that refer to no row of {parent}: {rows}")
    };
    faults.extend(counts.into_iter().map(stray));
    Ok(faults)
}

/// The lines of `integrity_check` as one finding; `None` if all is well. A row can have several lines, and a heading.
fn integrity(found: &[String]) -> Option<String> {
    let mut lines = found
        .iter()
        .flat_map(|row| row.lines())
        .filter(|line| *line != "ok" && !line.starts_with("***"));
    let first = lines.next()?;
    Some(format!(
        "faults of the database file: {}, the first is \"{first}\"",
        1 + lines.count()
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lines_of_the_integrity_check_are_one_finding() {
        let told = |rows: &[&str]| integrity(&rows.iter().map(|row| (*row).to_owned()).collect::<Vec<_>>());
        assert_eq!(told(&["ok"]), None);
        assert_eq!(
            told(&[
                "*** in database main ***\nTree 4 page 9: btreeInitPage() returns error code 11\nPage 3 is never used",
                "row 7 missing from index about_entry"
            ]),
            Some(
                "faults of the database file: 3, the first is \"Tree 4 page 9: btreeInitPage() returns error code \
                 11\""
                    .to_owned()
            )
        );
    }
}
