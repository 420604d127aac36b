//! The shop's server: brings the devices together, keeps what they record, and publishes a care card per pair.
//!
//! - [`store`]: the database, one trait, with [`store::sqlite`].
//! - [`photos`]: the bytes of photographs and voice notes.
//! - [`ledger`]: what was erased, kept outside both.
//! - [`shop`]: the rules, written once above those three.
//! - [`http`]: all of it over HTTP, with [`auth`] and [`limits`] before it, and [`connections`] below.
//! - [`cli`]: the commands, with their flags in [`config`] and the [`data`] folder they work on; [`backup`] and
//!   [`restoring`] are what two of them do to it, on a [`disk`] that may fail at any step.
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
