//! Collecting everything of a customer from the device.

use shared::log::{Subject, SubjectId};

use crate::device::{DeviceError, Phone};
use app_core::commands::export::{CustomerLoader, CustomerRecords};

/// Everything of the customer who has this id.
pub(super) async fn records_of(phone: &Phone, customer: SubjectId) -> Result<CustomerRecords, DeviceError> {
    let mut loader = CustomerLoader::new(customer);
    loop {
        let wanted = loader.wanted();
        if wanted.is_empty() {
            return Ok(loader.finish());
        }
        for id in wanted {
            loader.give(id, phone.entries_about(id).await?);
        }
    }
}

/// Everything of these customers together, each subject and each entry once.
pub(super) async fn records_of_all(
    phone: &Phone,
    customers: &[Subject],
) -> Result<CustomerRecords, DeviceError> {
    let mut all = CustomerRecords::default();
    for customer in customers {
        // The same customer under another id.
        if all.subjects.contains(customer) {
            continue;
        }
        let CustomerRecords {
            mut subjects,
            mut entries,
        } = records_of(phone, customer.id).await?;
        // Records have every entry about each of their subjects, so a known subject brings nothing new.
        subjects.retain(|subject| !all.subjects.contains(subject));
        entries.retain(|held| subjects.iter().any(|subject| subject.id == held.entry.subject.id));
        all.subjects.append(&mut subjects);
        all.entries.append(&mut entries);
    }
    Ok(all)
}
