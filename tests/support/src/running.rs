//! The real binary on a free port.
