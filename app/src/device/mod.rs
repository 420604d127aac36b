//! Everything that touches the device: storage, camera, network, screen.

pub mod store;
#[cfg(feature = "csr")]
pub mod worker;
