//! The columns of the books.

use crate::analytics::shop::money;
use crate::log::body::Cause;
use crate::log::fold::ShopState;
use crate::price::books::Sums;
use crate::price::minor::Minor;

/// The value of a column in a row.
pub(super) enum Cell {
    /// Minor units of the shop's currency.
    Money(Minor),
    /// A text as it is shown.
    Plain(String),
    /// The value is not known.
    Unknown,
}

/// A heading, and the function that reads the value from a row.
type Column = (&'static str, fn(&Sums) -> Cell);

/// The columns. Those at the end are shown for months only.
pub(super) fn columns() -> [Column; 13] {
    [
        (words::analytics::head_jobs(), |sums| {
            Cell::Plain(sums.jobs.to_string())
        }),
        (words::analytics::head_charged(), |sums| Cell::Money(sums.revenue)),
        (words::analytics::head_tax(), |sums| Cell::Money(sums.tax)),
        (words::analytics::head_material(), |sums| {
            Cell::Money(sums.materials)
        }),
        (words::analytics::head_hours(), |sums| {
            Cell::Plain(hours(sums.minutes))
        }),
        (words::analytics::head_hour_earned(), |sums| {
            sums.earned_per_hour().map_or(Cell::Unknown, Cell::Money)
        }),
        (words::analytics::head_no_charge_needed(), |sums| {
            Cell::Money(sums.needed.worth)
        }),
        (words::analytics::head_no_charge_by_choice(), |sums| {
            Cell::Money(sums.choice.worth)
        }),
        (words::analytics::head_made_good(), |sums| {
            Cell::Plain(made_good(sums))
        }),
        (words::analytics::head_deposits(), |sums| {
            Cell::Money(sums.deposits)
        }),
        (words::analytics::head_paid_at_pickup(), |sums| {
            Cell::Money(sums.balances)
        }),
        (words::analytics::head_given_back(), |sums| {
            Cell::Money(sums.refunds)
        }),
        (words::analytics::head_still_owed(), |sums| {
            Cell::Money(sums.unpaid)
        }),
    ]
}
/// How many columns are shown for rows of anything but months.
pub(super) const WITHOUT_MONEY: usize = 9;

fn hours(minutes: f64) -> String {
    format!("{:.1}", minutes / 60.0)
}

/// How many jobs repeated earlier work because of a complaint, by cause.
fn made_good(sums: &Sums) -> String {
    let causes = sums
        .redone
        .iter()
        .map(|(cause, redone)| redone_for(cause.as_ref(), redone.jobs));
    let again = (sums.steps_again > 0).then(|| words::analytics::steps_done_again(sums.steps_again));
    causes.chain(again).collect::<Vec<_>>().join(", ")
}

/// The number of jobs that were repeated for a cause; `None` for a cause that is not known.
fn redone_for(cause: Option<&Cause>, jobs: u32) -> String {
    match cause {
        Some(Cause::OurWork) => words::analytics::redone_for_our_work(jobs),
        Some(Cause::Material) => words::analytics::redone_for_material(jobs),
        Some(Cause::Bond) => words::analytics::redone_for_cement(jobs),
        Some(Cause::Seam) => words::analytics::redone_for_seam(jobs),
        Some(Cause::Fit) => words::analytics::redone_for_fit(jobs),
        Some(Cause::Colour) => words::analytics::redone_for_colour(jobs),
        Some(Cause::NotAsAgreed) => words::analytics::redone_for_not_as_agreed(jobs),
        Some(Cause::HiddenDamage) => words::analytics::redone_for_hidden_damage(jobs),
        Some(Cause::Use) => words::analytics::redone_for_use(jobs),
        Some(Cause::Wear) => words::analytics::redone_for_wear(jobs),
        Some(Cause::Elsewhere) => words::analytics::redone_for_other_cause(jobs),
        Some(Cause::Other(word)) => words::analytics::redone_for_newer_cause(jobs, word),
        None => words::analytics::redone_for_unknown_cause(jobs),
    }
}

impl Cell {
    /// The cell as the table shows it: empty instead of zero, because that is easier to read.
    pub(super) fn words(self, shop: &ShopState) -> String {
        match self {
            Cell::Money(Minor::ZERO) => String::new(),
            Cell::Money(minor) => money(shop, minor),
            Cell::Plain(text) => text,
            Cell::Unknown => "\u{2013}".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::books::Redone;
    use std::collections::BTreeSet;

    /// Causes of which two had one name would be counted twice under it.
    #[test]
    fn every_cause_is_named_by_itself() {
        let known = Cause::KNOWN.iter().map(Some).chain([None]);
        let said: BTreeSet<String> = known.clone().map(|cause| redone_for(cause, 1)).collect();
        assert_eq!(said.len(), known.count(), "{said:?}");
        assert_eq!(redone_for(Some(&Cause::from("moonlight")), 2), "2 moonlight");
    }

    #[test]
    fn what_was_made_good_is_told_by_cause() {
        let jobs = |jobs| Redone {
            jobs,
            ..Redone::default()
        };
        let redone = [(Cause::Bond, 2), (Cause::Elsewhere, 1)].map(|(cause, many)| (Some(cause), jobs(many)));
        let sums = Sums {
            redone: redone.into_iter().collect(),
            steps_again: 1,
            ..Sums::default()
        };
        assert_eq!(made_good(&sums), "2 cement, 1 other, 1 steps again");
    }
}
