//! Maps SQLite's errors to what the caller can do about them.

use crate::store::DatabaseError;

/// Result codes, <https://sqlite.org/rescode.html>.
const SQLITE_BUSY: i32 = 5;
const SQLITE_LOCKED: i32 = 6;
const SQLITE_FULL: i32 = 13;
/// The index of the write-ahead log could not grow.
const SQLITE_IOERR_SHMSIZE: i32 = 10 | 19 << 8;

impl From<sqlx::Error> for DatabaseError {
    fn from(error: sqlx::Error) -> Self {
        if matches!(error, sqlx::Error::PoolTimedOut) {
            return Self::Busy;
        }
        // The low byte of an extended code is its primary code.
        let code = error
            .as_database_error()
            .and_then(|e| e.code())
            .and_then(|code| code.parse::<i32>().ok());
        if code == Some(SQLITE_IOERR_SHMSIZE) {
            return Self::Full;
        }
        match code.map(|code| code & 0xff) {
            Some(SQLITE_FULL) => Self::Full,
            Some(SQLITE_BUSY | SQLITE_LOCKED) => Self::Busy,
            _ => Self::Other(Box::new(error)),
        }
    }
}
