//! The rules of the shop's server, over any database, any folder of photographs and any clock.
//!
//! - [`store`]: the database, as one trait; its implementation on SQLite is [`store::sqlite`].
//! - [`photos`]: the bytes of photographs and voice notes.
//! - [`ledger`]: the record of erasures, outside both.
//! - [`shop`]: the rules, written once above those three.
//! - [`error`]: every refusal and failure; [`world`]: the clock and the random numbers.
//!
//! HTTP, the command line and the pages are in the `server` crate. So a test builds the rules without them.

pub mod error;
pub mod ledger;
pub mod photos;
pub mod shop;
pub mod store;
pub mod world;
