//! The names of the plain fields of a material. Its name and colour are [`NAME`](super::field::NAME) and
//! [`COLOUR`](super::field::COLOUR), as those of other subjects.

/// What kind of material it is: `sheet`, `piece`, `tin`, `metre`, or the shop's own word.
pub const KIND: &str = "kind";
/// The unit it is counted in: pair, sheet, m, g.
pub const UNIT: &str = "unit";
/// Its size, in the shop's words.
pub const SIZE: &str = "size";
/// Its thickness, a number of millimetres.
pub const THICKNESS_MM: &str = "thickness_mm";
/// Who supplies it.
pub const SUPPLIER: &str = "supplier";
/// The cost of one unit, without tax, in minor units.
pub const COST_MINOR: &str = "cost_minor";
/// The least that should be there, in thousandths of the unit; absent or 0 if it need not be watched.
pub const LEAST: &str = "least";
/// Whether the shop no longer keeps it; `true` or absent.
pub const RETIRED: &str = "retired";

/// The beginning of the names of the fields that [`takes`] makes.
const TAKES: &str = "takes/";
/// The beginning of the names of the shop's fields that [`stock`](super::field::stock) makes.
const STOCK: &str = "stock/";

/// The field that holds how much of it a pair usually takes in an operation, in thousandths of the unit, what is wasted
/// included; 0 if the operation no longer uses it.
pub fn takes(operation: &str) -> String {
    [TAKES, operation].concat()
}

/// The operation that a [`takes`] field names; `None` for any other field.
pub fn taking_operation(field: &str) -> Option<&str> {
    field.strip_prefix(TAKES)
}

/// The operation whose materials the shop's older list has in this field of the shop; `None` for any other field.
pub fn stocked_operation(field: &str) -> Option<&str> {
    field.strip_prefix(STOCK)
}
