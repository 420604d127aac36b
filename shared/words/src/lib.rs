#![doc = include_str!("../README.md")]

mod language;
mod sentence;

pub mod analytics;
pub mod ask;
pub mod bench;
pub mod books;
pub mod calc;
pub mod calc_screens;
pub mod camera;
pub mod card;
pub mod cement;
pub mod collect;
pub mod commands;
pub mod compare;
pub mod complaint;
pub mod device;
pub mod drop_off;
pub mod export;
pub mod history;
pub mod join;
pub mod lists;
pub mod open_up;
pub mod pages;
pub mod pair;
pub mod parts;
pub mod pickup;
pub mod plan;
pub mod print;
pub mod records;
pub mod refusals;
pub mod session;
pub mod shelf;
pub mod shop;
pub mod stations;
pub mod store;
pub mod time;
pub mod wear;
pub mod work;

pub use language::{Language, current, speaking, use_language};
