//! What waits for a material, and when it goes on.
//!
//! Whoever notes that a material has arrived ends the waits for it in the same save, so that every app shows that the
//! jobs go on, and taking the arrival back brings the waits back. A wait that the device did not know then, or whose
//! end was lost, is over by the arrival all the same, see [`is_over_by_arrival`]; the shelf offers to end it.

use super::materials::KeptMaterial;
use crate::log::body::{Wait, WaitFor};
use crate::log::entry::UnixMs;
use crate::log::fold::{Item, JobState, MaterialState, bench};

/// Whether a wait is for this material: it has its id or, as one of an older app, its name in the note.
pub fn is_for(wait: &Wait, material: &KeptMaterial) -> bool {
    if wait.what != WaitFor::Material {
        return false;
    }
    match wait.material {
        Some(id) => material.same.contains(&id),
        None => material.state.name() == Some(wait.note.trim()),
    }
}

/// The waits of a job for this material that nobody has ended.
pub fn open_waits_for<'a>(
    job: &'a JobState,
    material: &'a KeptMaterial,
) -> impl Iterator<Item = &'a Item<Wait>> {
    bench::open_waits(job).filter(move |wait| is_for(&wait.body, material))
}

/// Of these, the waits that are not over by an arrival either.
pub fn waits_for<'a>(job: &'a JobState, material: &'a KeptMaterial) -> impl Iterator<Item = &'a Item<Wait>> {
    open_waits_for(job, material).filter(move |wait| !is_over_by_arrival(wait, material))
}

/// Whether a wait for this material is over because some of it has arrived since the wait began. How much arrived
/// does not matter, and neither how many jobs wait: nobody but the repairer knows which of them goes on first.
pub fn is_over_by_arrival(wait: &Item<Wait>, material: &KeptMaterial) -> bool {
    is_for(&wait.body, material) && has_come(&material.state, wait.at.utc)
}

/// Whether some of a material has arrived after a moment, by the clocks of the devices that noted both.
pub fn has_come(material: &MaterialState, since: UnixMs) -> bool {
    let mut arrived = material.arrivals.iter();
    arrived.any(|arrival| arrival.body.thousandths > 0 && arrival.at.utc > since)
}
