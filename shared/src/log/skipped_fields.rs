//! Which fields are left out when they are serialized.

/// Whether a count is 0, as serde's `skip_serializing_if` asks it.
pub(crate) fn is_zero(count: &u32) -> bool {
    *count == 0
}
