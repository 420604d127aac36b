//! How much of a material an operation takes, from what steps have taken of it.

use std::collections::BTreeSet;

use super::uses::MaterialUse;
use crate::log::body::OperationCode;
use crate::log::entry::SubjectId;

/// So many of the last uses count.
const LAST: usize = 5;

/// What a pair takes of a material in an operation or, of work that is priced for each piece, what a piece takes: the
/// median of the last five uses, in thousandths of the unit, what was wasted included. `None` if no step has taken any.
pub fn derived_takes(material: SubjectId, operation: &str, usage: &[MaterialUse]) -> Option<i64> {
    let taken = usage
        .iter()
        .filter(|one| one.material == material && one.operation == operation && one.for_a_pair > 0);
    let mut uses: Vec<&MaterialUse> = taken.collect();
    uses.sort_by_key(|one| (one.at, one.job));
    let last = &uses[uses.len().saturating_sub(LAST)..];
    let mut amounts: Vec<i64> = last.iter().map(|one| one.for_a_pair).collect();
    amounts.sort_unstable();
    let middle = amounts.len() / 2;
    let upper = *amounts.get(middle)?;
    if amounts.len().is_multiple_of(2) {
        return Some(upper.midpoint(amounts[middle - 1]));
    }
    Some(upper)
}

/// The same for every operation that has taken the material.
pub fn all_derived_takes(material: SubjectId, usage: &[MaterialUse]) -> Vec<(OperationCode, i64)> {
    let mut operations = BTreeSet::new();
    let of_it = usage.iter().filter(|one| one.material == material);
    operations.extend(of_it.map(|one| &one.operation));
    let derived = operations.into_iter();
    derived
        .filter_map(|operation| Some((operation.clone(), derived_takes(material, operation, usage)?)))
        .collect()
}

#[cfg(test)]
mod tests {
    use uuid::Uuid;

    use super::*;
    use crate::log::entry::UnixMs;

    const RUBBER: u128 = 7;

    fn used(at: i64, for_a_pair: i64) -> MaterialUse {
        MaterialUse {
            material: SubjectId(Uuid::from_u128(RUBBER)),
            thousandths: for_a_pair / 2,
            at: UnixMs(at),
            job: SubjectId(Uuid::from_u128(1)),
            operation: "half_sole".into(),
            for_a_pair,
        }
    }

    fn derived(usage: &[MaterialUse]) -> Option<i64> {
        derived_takes(SubjectId(Uuid::from_u128(RUBBER)), "half_sole", usage)
    }

    #[test]
    fn the_median_of_the_last_five_uses_is_what_a_pair_takes() {
        assert_eq!(derived(&[]), None);
        assert_eq!(derived(&[used(1, 200)]), Some(200));
        assert_eq!(
            derived(&[used(1, 200), used(2, 100)]),
            Some(150),
            "between the two"
        );
        // By hand: of 150, 120, 900, 130 and 140 the median is 140; the 5,000 before them no longer count.
        let six = [(6, 140), (1, 5_000), (2, 150), (3, 120), (4, 900), (5, 130)];
        assert_eq!(derived(&six.map(|(at, amount)| used(at, amount))), Some(140));
    }

    #[test]
    fn each_operation_takes_its_own_amount_and_a_step_that_took_none_tells_nothing() {
        assert_eq!(derived(&[used(1, 0)]), None);
        let other = MaterialUse {
            operation: "heel_block".into(),
            ..used(2, 400)
        };
        let usage = [used(1, 100), other];
        assert_eq!(derived(&usage), Some(100));
        let all = all_derived_takes(SubjectId(Uuid::from_u128(RUBBER)), &usage);
        assert_eq!(all, [("half_sole".into(), 100), ("heel_block".into(), 400)]);
    }
}
