//! What can go wrong on the device.

use app_core::store::StoreError;
use wasm_split_helpers::SplitLoaderError;

/// Why something could not be done on the device. Nothing of it was done.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DeviceError {
    /// The store could not.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The part of the app that does it is not on this device, and cannot be fetched now.
    #[error("a part of the app is not on this device yet; it comes with the network, then try again")]
    NotLoaded,
    /// What was asked of the records could not be reckoned.
    #[error("it could not be reckoned: {0}")]
    Worker(String),
}

impl From<SplitLoaderError> for DeviceError {
    fn from(_: SplitLoaderError) -> Self {
        Self::NotLoaded
    }
}
