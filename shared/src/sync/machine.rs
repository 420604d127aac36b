//! The device's side of sync as a state machine.
