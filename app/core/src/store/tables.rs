//! The tables of the store. A change of the schema only ever adds a table, an index or a field.

use super::kv::Table;

/// Singletons: the device's identity, its progress in sync, its counters. See [`super::meta`].
pub const META: Table = Table {
    name: "meta",
    indexes: &[],
};

/// The tail: live entries, one in each row, by id: all that are unsent or refused, and those that arrived recently. See
/// [`super::record`].
pub const TAIL: Table = Table {
    name: "tail",
    indexes: &[index::ABOUT, index::UNSENT, index::REFUSED],
};

/// The archive: acknowledged entries, many in each row. See [`super::block`].
pub const BLOCKS: Table = Table {
    name: "blocks",
    indexes: &[index::ABOUT],
};

/// One summary for each pair, by the pair's canonical id. See [`super::summaries`].
pub const PAIRS: Table = Table {
    name: "pairs",
    indexes: &[index::OPEN, index::REFS, index::MONTH, index::DUE],
};

/// The facts of each ticket on which goods were sold over the counter, by the ticket's id. See [`super::sales`].
pub const SALES: Table = Table {
    name: "sales",
    indexes: &[index::MONTH, index::REFS],
};

/// Search lines, many in each row. See [`super::search`].
pub const SEARCH: Table = Table {
    name: "search",
    indexes: &[],
};

/// The state of each photograph and voice note, by hash. See [`super::blobs`].
pub const BLOB_INFO: Table = Table {
    name: "blob_info",
    indexes: &[index::UNSENT, index::PARKED, index::EVICTABLE],
};

/// Bytes of full photographs and voice notes, by hash.
pub const BLOBS: Table = Table {
    name: "blobs",
    indexes: &[],
};

/// Bytes of thumbnails, by hash: in a table of their own, so that a list never loads a full photograph.
pub const THUMBS: Table = Table {
    name: "thumbs",
    indexes: &[],
};

/// Every table.
pub const ALL: &[Table] = &[META, TAIL, BLOCKS, PAIRS, SALES, SEARCH, BLOB_INFO, BLOBS, THUMBS];

/// The names of the indexes.
pub mod index {
    /// Entries and archive rows by the subjects they are about.
    pub const ABOUT: &str = "about";
    /// Entries and blobs that no server has acknowledged, in the order in which they are sent.
    pub const UNSENT: &str = "unsent";
    /// Entries the server refused, by id.
    pub const REFUSED: &str = "refused";
    /// Pairs that are in the shop, by id.
    pub const OPEN: &str = "open";
    /// Pairs by every subject their summary was folded from, and tickets with goods by their customer.
    pub const REFS: &str = "refs";
    /// Pairs by every month in which work was done on them, and tickets with goods by every month in which something was
    /// sold or paid on them, as `YYYY-MM`.
    pub const MONTH: &str = "month";
    /// Pairs that are not in the shop, by the day of their next check, `YYYY-MM-DD`.
    pub const DUE: &str = "due";
    /// Blobs the server refused, by hash.
    pub const PARKED: &str = "parked";
    /// Full photographs that are on the server, by job.
    pub const EVICTABLE: &str = "evictable";
}
