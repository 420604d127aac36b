//! The jobs that wait for a material of the shelf, and that go on when some of it arrives.

use std::collections::BTreeSet;

use shared::log::fold::PairHistory;
use shared::log::{Draft, EntryId, SubjectId};
use shared::price::minor::Minor;
use shared::shelf::{KeptMaterial, Materials, is_over_by_arrival, open_waits_for};

use super::arrived;
use crate::commands::wait_over;
use crate::stations::StationRow;

/// A wait for a material of the shelf that nobody has ended, of a job in the shop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WaitingJob {
    /// The material, by its canonical id.
    pub material: SubjectId,
    /// The job.
    pub job: SubjectId,
    /// What the Bench calls the job.
    pub name: String,
    /// The wait.
    pub wait: EntryId,
    /// Whether some of the material has arrived since the wait began, so that the job could go on: the device on which
    /// the arrival was noted did not know of the wait, or its end was lost.
    pub come: bool,
}

/// The pairs whose histories [`waiting_jobs`] needs: those with a job that waits for something that was ordered. A list
/// shows one such wait of a job; its history has all of them.
pub fn pairs_that_wait(in_shop: &[StationRow]) -> Vec<SubjectId> {
    let waiting = in_shop.iter().filter(|row| row.job.material.is_some());
    let mut pairs = BTreeSet::new();
    pairs.extend(waiting.map(|row| row.pair));
    pairs.into_iter().collect()
}

/// The jobs that wait for one of these materials, by material and then in the order of `in_shop`.
pub fn waiting_jobs(
    materials: &Materials,
    in_shop: &[StationRow],
    histories: &[PairHistory],
) -> Vec<WaitingJob> {
    let mut all = Vec::new();
    for material in materials.iter() {
        for row in in_shop {
            let of_pair = histories.iter().find(|history| history.same.contains(&row.pair));
            let history = of_pair.and_then(|history| history.jobs.get(&row.job.id));
            let waits = history.into_iter().flat_map(|job| open_waits_for(job, material));
            all.extend(waits.map(|wait| WaitingJob {
                material: material.id,
                job: row.job.id,
                name: row.name().to_owned(),
                wait: wait.entry,
                come: is_over_by_arrival(wait, material),
            }));
        }
    }
    all
}

/// Ends these waits.
pub fn go_on<'a>(waiting: impl IntoIterator<Item = &'a WaitingJob>) -> Vec<Draft> {
    let ended = waiting.into_iter();
    ended.map(|one| wait_over(one.job, one.wait)).collect()
}

/// Records that so much has arrived, see [`arrived`], and ends every wait for the material: all of it is one save.
pub fn arrived_and_on(
    material: &KeptMaterial,
    order: Option<EntryId>,
    thousandths: u32,
    cost_minor: Option<Minor>,
    waiting: &[WaitingJob],
) -> Vec<Draft> {
    let come = arrived(material.id, order, thousandths, cost_minor);
    let for_it = waiting.iter().filter(|one| one.material == material.id);
    let on = go_on(for_it);
    std::iter::once(come).chain(on).collect()
}

#[cfg(test)]
mod tests {
    use serde_json::json;
    use shared::log::body::{Body, Wait};
    use shared::log::fold::{Entries, JobState, PairState, TicketState};
    use shared::log::{ReceivedEntry, SubjectKind};
    use support::sample::Pen;

    use super::*;
    use crate::commands::scene::{JOB, PAIR, entry, history, said, subject};
    use crate::commands::shelf::{MaterialForm, add, waiting_for};

    const RUBBER: u128 = 0x5e;
    const FELT: u128 = 0x5f;

    fn materials(arrivals: Vec<Draft>) -> Materials {
        let mut pen = Pen::new(1);
        let form = |name: &str| MaterialForm {
            name: name.to_owned(),
            ..MaterialForm::default()
        };
        let drafts = [
            add(subject(RUBBER), &form("Rubber")),
            add(subject(FELT), &form("Felt")),
            arrivals,
        ];
        let mut entries = Entries::default();
        for draft in drafts.into_iter().flatten() {
            let entry = pen.entry(SubjectKind::Material, draft.subject.id, &draft.body);
            entries.take(ReceivedEntry::unsent(entry));
        }
        Materials::of(&entries)
    }

    /// The line of the job on the Bench, which names what it waits for first.
    fn row(material: Option<&str>) -> StationRow {
        let job =
            json!({ "id": subject(JOB), "opened_at": 0, "open": true, "tag": "A1", "material": material });
        StationRow {
            pair: subject(PAIR),
            title: "boot".to_owned(),
            customer: String::new(),
            face: None,
            goods: String::new(),
            materials: Vec::new(),
            job: serde_json::from_value(job).unwrap(),
        }
    }

    /// A job with waits that began at the given times.
    fn waits(waits: Vec<(i64, Wait)>) -> Vec<PairHistory> {
        let numbered = (1..).zip(waits);
        let job = JobState {
            waits: numbered.map(|(n, (at, wait))| said(n, at, wait)).collect(),
            ..JobState::default()
        };
        vec![history(PairState::default(), job, TicketState::default())]
    }

    #[test]
    fn every_wait_for_the_material_ends_with_its_arrival_and_no_other() {
        let histories = waits(vec![
            (0, waiting_for(subject(FELT), "Felt")),
            (0, waiting_for(subject(RUBBER), "Rubber")),
            (0, Wait::ordered("Rubber")),
            (0, Wait::ordered("Soles")),
        ]);
        let materials = materials(Vec::new());
        let in_shop = [row(Some("Felt"))];
        assert_eq!(pairs_that_wait(&in_shop), [subject(PAIR)]);
        assert_eq!(pairs_that_wait(&[row(None)]), []);
        let waiting = waiting_jobs(&materials, &in_shop, &histories);
        assert_eq!(waiting.len(), 3);
        assert!(waiting.iter().all(|one| one.name == "A1" && !one.come));

        let rubber = materials.get(subject(RUBBER)).unwrap();
        let drafts = arrived_and_on(rubber, None, 2_000, None, &waiting);
        assert!(matches!(&drafts[0].body, Body::Delivery(came) if came.thousandths == 2_000));
        let ended = drafts[1..].iter().map(|draft| match &draft.body {
            Body::WaitOver(over) => (draft.subject.id, over.wait),
            other => panic!("{other:?}"),
        });
        let wanted = [2, 3].map(|wait| (subject(JOB), entry(wait)));
        assert_eq!(ended.collect::<Vec<_>>(), wanted);
    }

    /// Two phones without a network: one notes the arrival, the other one the wait, before it.
    #[test]
    fn a_wait_that_the_arrival_did_not_know_is_shown_as_come() {
        let materials = materials(vec![arrived(subject(RUBBER), None, 1_000, None)]);
        let wait = || waiting_for(subject(RUBBER), "Rubber");
        let histories = waits(vec![(0, wait()), (i64::MAX, wait())]);
        let waiting = waiting_jobs(&materials, &[row(Some("Rubber"))], &histories);
        let come: Vec<_> = waiting.iter().map(|one| one.come).collect();
        assert_eq!(come, [true, false], "before and after the arrival");
        assert_eq!(go_on(waiting.iter().filter(|one| one.come)).len(), 1);
    }
}
