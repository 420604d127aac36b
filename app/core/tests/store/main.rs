//! Tests of the phone's store on a database in memory. They are one program, so that it is linked only once.

#![allow(clippy::unwrap_used, reason = "a helper that fails fails the test")]

mod backup;
mod blanks;
mod common;
mod comparing;
mod customers;
mod exchange;
mod landed;
mod logged;
mod mentions;
mod pair_logs;
mod properties;
mod roles;
mod sales;
mod saving;
mod second_mentions;
mod shelf;
mod taken_out;
mod versions;
mod wiped;
