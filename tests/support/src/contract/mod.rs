//! What every store must do.
