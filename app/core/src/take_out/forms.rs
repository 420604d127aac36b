//! The names and columns of the tables.

use shared::log::body::field;

/// A table: the name of its file, and its headings.
pub(super) struct TableForm {
    pub(super) file: &'static str,
    pub(super) columns: &'static [&'static str],
}

pub(super) static CUSTOMERS: TableForm = TableForm {
    file: "customers.csv",
    columns: &[
        "customer_id",
        field::NAME,
        field::PHONE,
        field::PHONE_SECOND,
        field::EMAIL,
        field::ADDRESS,
        field::NOTE,
    ],
};
pub(super) static PAIRS: TableForm = TableForm {
    file: "pairs.csv",
    columns: &[
        "pair_id",
        "customer_id",
        field::GOODS,
        "goods_name",
        field::LOOK,
        field::COLOUR,
        field::MAKER,
        field::MATERIALS,
        "folder",
    ],
};
pub(super) static TICKETS: TableForm = TableForm {
    file: "tickets.csv",
    columns: &[
        "ticket_id",
        "customer_id",
        "opened",
        field::DAY,
        field::READY_FROM,
        field::RUSH,
        "tax_percent",
        "tax_is_added",
    ],
};
pub(super) static JOBS: TableForm = TableForm {
    file: "jobs.csv",
    columns: &[
        "job_id",
        "pair_id",
        "ticket_id",
        "number",
        "opened",
        field::SHELF,
        field::CAME_WITH,
        field::CONSTRUCTION_GUESSED,
        field::CONSTRUCTION_OPENED,
        field::CONSTRUCTION_LEFT,
        "checked",
        "handed_over",
        "unrepaired",
    ],
};
pub(super) static WORK: TableForm = TableForm {
    file: "work.csv",
    columns: &[
        "job_id",
        "what",
        "at",
        "person",
        "work",
        "work_name",
        "side",
        "variant",
        "pieces",
        "price",
        "minutes",
        "cement",
        "note",
    ],
};
pub(super) static MONEY: TableForm = TableForm {
    file: "money.csv",
    columns: &["ticket_id", "what", "at", "goods", "pieces", "amount"],
};
pub(super) static NOTES: TableForm = TableForm {
    file: "notes.csv",
    columns: &["about", "id", "at", "person", "text", "file"],
};
pub(super) static PHOTOGRAPHS: TableForm = TableForm {
    file: "photographs.csv",
    columns: &[
        "pair_id", "job_id", "at", "shows", "work", "file", "stored", "sha256",
    ],
};
pub(super) static PRICES: TableForm = TableForm {
    file: "prices.csv",
    columns: &[
        "price_for",
        "code",
        "name",
        "variant",
        "goods",
        "goods_name",
        "price",
        "currency",
    ],
};
