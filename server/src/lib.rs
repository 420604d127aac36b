//! The shop's server: it brings the devices together, stores what they record, and publishes one care card per pair.
//!
//! - [`store`]: the database, as one trait; its implementation on SQLite is [`store::sqlite`].
//! - [`photos`]: the bytes of photographs and voice notes.
//! - [`ledger`]: the record of erasures, outside both.
//! - [`shop`]: the rules, written once above those three.
//! - [`http`]: all of it over HTTP, with [`auth`] and [`limits`] before it, and [`connections`] below.
//! - [`cli`]: the commands, with their flags in [`config`] and the [`data`] folder they work on; [`backup`] and
//!   [`restoring`] write and restore backups, on a [`disk`] in which a test can make any step fail.
//!
#![doc = include_str!("../README.md")]

pub mod auth;
pub mod backup;
pub mod cli;
pub mod config;
pub mod connections;
pub mod data;
pub mod demo;
pub mod disk;
pub mod error;
pub mod http;
pub mod ledger;
pub mod limits;
pub mod photos;
pub mod restoring;
pub mod shop;
pub mod store;
pub mod world;
