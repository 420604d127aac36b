//! Lower bounds of the cost of an instance.

pub(super) mod lagrangian;
