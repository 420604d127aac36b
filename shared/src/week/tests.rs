//! The bench and the counter, on invented jobs.
