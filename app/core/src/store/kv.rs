//! The key-value database under the store: IndexedDB in the browser, memory in tests.
//!
//! The rules are IndexedDB's, and the version in memory is as strict: a transaction covers the tables named when it
//! begins; inside it only its own requests may be awaited (anything else lets the browser commit it); and others see
//! none of its writes until it commits, and then all of them.

use std::future::Future;

/// A table: its name, and the names of its indexes. An index may hold several values for one row (IndexedDB's
/// `multiEntry`) or none; a row without a value is not in the index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Table {
    /// The name of the object store.
    pub name: &'static str,
    /// The names of the indexes.
    pub indexes: &'static [&'static str],
}

/// One row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// The primary key.
    pub key: String,
    /// `(index, value)` pairs.
    pub indexed: Vec<(&'static str, String)>,
    /// The content.
    pub value: RowValue,
}

/// The content of a row: text for records, bytes for photographs (never a Blob, which WebKit cannot store safely).
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RowValue {
    /// JSON or plain text.
    Text(String),
    /// Raw bytes.
    Bytes(Vec<u8>),
}

/// A range of keys, or of values in an index, including both ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyRange<'a> {
    /// The first key.
    pub first: &'a str,
    /// The last key; not before the first.
    pub last: &'a str,
}

/// What a transaction may do, and how durable it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// Read only.
    Read,
    /// Read and write; the operating system decides when it is flushed to disk.
    Write,
    /// Read and write; on disk before `commit` returns. For photographs and the entries that name them.
    WriteStrict,
}

/// The errors of the database.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum KvError {
    /// The disk or the browser's quota is full. Nothing of the transaction was written.
    #[error("{}", words::store::no_room_left())]
    Full,
    /// The connection was lost and could not be reopened. Nothing of the transaction was written.
    #[error("{}", words::store::storage_did_not_answer())]
    Lost,
    /// Another tab still has the database open with an older version of the tables.
    #[error("{}", words::store::other_tab_is_in_the_way())]
    Blocked,
    /// The database was written by an app that is too new for this one to read.
    #[error("{}", words::store::written_by_newer_app())]
    TooNew,
    /// Any other error, with the browser's message.
    #[error("{}", words::store::storage_failed(.0))]
    Other(String),
}

/// A database that can begin transactions. Its futures are not `Send`, because a browser has one thread.
pub trait Kv: Clone + 'static {
    /// The transaction type.
    type Tx: KvTx;

    /// Begins a transaction over these tables.
    fn begin(&self, tables: &[Table], mode: Mode) -> impl Future<Output = Result<Self::Tx, KvError>>;
}

/// A transaction. Dropping it without [`KvTx::commit`] aborts it.
///
/// The look-ups take many keys at once, because a browser answers a hundred requests made together in little more time
/// than one. The answers are in the order of the keys.
pub trait KvTx {
    /// The rows with these keys.
    fn get_many(
        &self,
        table: Table,
        keys: &[String],
    ) -> impl Future<Output = Result<Vec<Option<Row>>, KvError>>;

    /// For each value, every row that has it in `index`, in key order. The rows come without their index values, which
    /// would take a browser as long to read as the rest.
    fn by_index(
        &self,
        table: Table,
        index: &'static str,
        values: &[String],
    ) -> impl Future<Output = Result<Vec<Vec<Row>>, KvError>>;

    /// Like [`KvTx::by_index`], but only the keys of the rows.
    fn keys_by_index(
        &self,
        table: Table,
        index: &'static str,
        values: &[String],
    ) -> impl Future<Output = Result<Vec<Vec<String>>, KvError>>;

    /// The keys of at most `limit` rows with a value of this range in `index`, ordered by that value, then by key. A
    /// key occurs once for each of its row's values in the range.
    fn keys_in_stretch(
        &self,
        table: Table,
        index: &'static str,
        span: KeyRange<'_>,
        limit: u32,
    ) -> impl Future<Output = Result<Vec<String>, KvError>>;

    /// At most `limit` rows whose keys are greater than `after`, in key order.
    fn after(&self, table: Table, after: &str, limit: u32)
    -> impl Future<Output = Result<Vec<Row>, KvError>>;

    /// Every row of a range, in key order, without index values.
    fn within(&self, table: Table, span: KeyRange<'_>) -> impl Future<Output = Result<Vec<Row>, KvError>>;

    /// At most `limit` rows with a value greater than `after` in `index`, ordered by that value, then by key. Of their
    /// index values they contain those in `index`.
    fn in_index(
        &self,
        table: Table,
        index: &'static str,
        after: &str,
        limit: u32,
    ) -> impl Future<Output = Result<Vec<Row>, KvError>>;

    /// The number of rows in the table.
    fn count(&self, table: Table) -> impl Future<Output = Result<u64, KvError>>;

    /// The number of rows in a range.
    fn count_within(&self, table: Table, span: KeyRange<'_>) -> impl Future<Output = Result<u64, KvError>>;

    /// Writes a row, replacing one with the same key. A failure is reported by [`KvTx::commit`].
    fn put(&self, table: Table, row: Row);

    /// Deletes a row if it exists. A failure is reported by [`KvTx::commit`].
    fn delete(&self, table: Table, key: &str);

    /// Deletes every row of a range. A failure is reported by [`KvTx::commit`].
    fn delete_within(&self, table: Table, span: KeyRange<'_>);

    /// Commits, and waits until the database confirms it.
    fn commit(self) -> impl Future<Output = Result<(), KvError>>;

    /// The row with this key.
    fn get(&self, table: Table, key: &str) -> impl Future<Output = Result<Option<Row>, KvError>> {
        let keys = [key.to_owned()];
        async move { Ok(self.get_many(table, &keys).await?.pop().flatten()) }
    }
}

impl<'a> KeyRange<'a> {
    /// The range of one key.
    pub fn only(key: &'a str) -> Self {
        Self {
            first: key,
            last: key,
        }
    }

    /// The range from the first to the last of these keys, which must be in order; `None` if there are none.
    pub fn over(keys: &'a [String]) -> Option<Self> {
        Some(Self {
            first: keys.first()?,
            last: keys.last()?,
        })
    }
}

impl Row {
    /// A row of text without index values.
    pub fn text(key: impl Into<String>, text: impl Into<String>) -> Row {
        Row {
            key: key.into(),
            indexed: Vec::new(),
            value: RowValue::Text(text.into()),
        }
    }

    /// The text of the row; `None` for bytes.
    pub fn as_text(&self) -> Option<&str> {
        match &self.value {
            RowValue::Text(text) => Some(text),
            RowValue::Bytes(_) => None,
        }
    }

    /// The row's first value in an index.
    pub fn index_value(&self, index: &str) -> Option<&str> {
        self.indexed
            .iter()
            .find(|(name, _)| *name == index)
            .map(|(_, value)| value.as_str())
    }
}
