//! Maps SQLite's errors to what the caller can do about them.

use crate::store::DatabaseError;

/// Result codes, <https://sqlite.org/rescode.html>.
const SQLITE_BUSY: i32 = 5;
const SQLITE_LOCKED: i32 = 6;
const SQLITE_CORRUPT: i32 = 11;
const SQLITE_FULL: i32 = 13;
const SQLITE_NOTADB: i32 = 26;
/// The index of the write-ahead log could not grow.
const SQLITE_IOERR_SHMSIZE: i32 = 10 | 19 << 8;

impl From<sqlx::Error> for DatabaseError {
    fn from(error: sqlx::Error) -> Self {
        if matches!(error, sqlx::Error::PoolTimedOut) {
            return Self::Busy;
        }
        let code = code(&error);
        if code == Some(SQLITE_IOERR_SHMSIZE) {
            return Self::Full;
        }
        match code.map(primary) {
            Some(SQLITE_FULL) => Self::Full,
            Some(SQLITE_BUSY | SQLITE_LOCKED) => Self::Busy,
            _ => Self::Other(Box::new(error)),
        }
    }
}

/// Whether SQLite has found that its file is damaged, or no database at all.
pub(super) fn is_damage(error: &sqlx::Error) -> bool {
    matches!(code(error).map(primary), Some(SQLITE_CORRUPT | SQLITE_NOTADB))
}

/// The result code, if SQLite has given one.
fn code(error: &sqlx::Error) -> Option<i32> {
    error.as_database_error()?.code()?.parse().ok()
}

/// The low byte of an extended code is its primary code.
fn primary(code: i32) -> i32 {
    code & 0xff
}
