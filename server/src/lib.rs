//! The shop's server: it brings the devices together, stores what they record, and publishes one care card per pair.
//!
//! - [`server_core`]: the rules and the database, without HTTP and pages.
//! - [`http`]: all of it over HTTP, with [`auth`], [`limits`] and [`quota`] before it, and [`connections`] below;
//!   [`refusal_log`] writes down what is refused.
//! - [`cli`]: the commands, with their flags in [`config`] and the [`data`] folder they work on; [`backup`] and
//!   [`restoring`] write and restore backups, on a [`disk`] in which a test can make any step fail; [`put_aside`] has what
//!   that leaves in the data folder.
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
pub mod http;
pub mod limits;
pub mod put_aside;
pub mod quota;
pub mod refusal_log;
pub mod restoring;
