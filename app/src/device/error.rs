//! What can go wrong on the device.

use app_core::store::StoreError;
use wasm_split_helpers::SplitLoaderError;

/// Why something could not be done on the device. In that case nothing of it was done.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DeviceError {
    /// The store failed.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A lazily loaded part of the app that is needed is not on this device, and cannot be fetched now.
    #[error("{}", words::device::part_missing())]
    NotLoaded,
    /// The analytics worker could not answer.
    #[error("{}", words::device::calculation_failed(.0))]
    Worker(String),
}

impl From<SplitLoaderError> for DeviceError {
    fn from(_: SplitLoaderError) -> Self {
        Self::NotLoaded
    }
}
