//! Everything that touches the device: storage, camera, network, screen.

#[cfg(feature = "csr")]
pub mod apart;
#[cfg(feature = "csr")]
pub mod camera;
#[cfg(feature = "csr")]
pub(crate) mod clock;
#[cfg(feature = "csr")]
mod digest;
#[cfg(feature = "csr")]
pub mod install;
#[cfg(feature = "csr")]
mod js;
#[cfg(feature = "csr")]
mod listen;
#[cfg(feature = "csr")]
mod media;
#[cfg(feature = "csr")]
pub mod network;
#[cfg(feature = "csr")]
mod phone;
#[cfg(feature = "csr")]
pub mod picture;
#[cfg(feature = "csr")]
pub mod pictures;
#[cfg(feature = "csr")]
pub mod reckoner;
#[cfg(feature = "csr")]
pub mod screen;
#[cfg(feature = "csr")]
pub mod share;
#[cfg(feature = "csr")]
pub mod storage;
pub mod store;
#[cfg(feature = "csr")]
pub mod surroundings;
pub mod sync;
#[cfg(feature = "csr")]
pub mod voice;
#[cfg(feature = "csr")]
pub mod worker;

#[cfg(feature = "csr")]
pub use phone::{Phone, open_phone};
