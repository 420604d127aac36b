//! Access to the device: storage, camera, network, screen.

pub mod analytics;
pub mod build_file;
pub mod camera;
mod digest;
pub mod drawings;
mod error;
pub mod install;
pub mod lazy;
mod listen;
mod maintenance;
mod media;
pub mod network;
mod opening;
mod phone;
pub mod picture;
pub mod pictures;
pub mod screen;
pub mod share;
pub mod storage;
pub mod voice;
pub mod worker;

pub use error::DeviceError;
pub use opening::open_phone;
pub use phone::{Phone, backup, has_read_everything, restore, take_out};
