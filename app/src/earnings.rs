//! What the books say, from what the phone keeps of every pair.

use shared::log::body::field;
use shared::log::fold::State;
use shared::price::books::Books;
use shared::price::experience::Experience;
use shared::price::facts::{At, JobFacts, PairFacts, Stamp, TicketFacts, month_word};
use shared::price::materials::{Stock, stock};
use shared::price::minutes::{Attended, Rules, attended};
use shared::price::tax;
use shared::price::truth::Setting;
use shared::trade::reckon::day::Day;
use shared::trade::{Component, Construction};

/// As many pairs as the truth of a price rests on at most: older ones tell less of today.
pub const ENOUGH: usize = 2_000;
/// As many months as are gone back for them.
pub const MONTHS_BACK: usize = 36;

/// The jobs and tickets of some months, and the minutes that were attended to them.
#[derive(Debug, Default)]
pub struct Ledger {
    /// Every job of the pairs read.
    pub jobs: Vec<JobFacts>,
    /// Their tickets, each once.
    pub tickets: Vec<TicketFacts>,
    /// Attended minutes, by job and operation.
    pub attended: Vec<Attended>,
}

impl Ledger {
    /// Reckons the minutes from everybody's stamps.
    pub fn of(pairs: Vec<PairFacts>) -> Self {
        let stamps: Vec<Stamp> = pairs.iter().flat_map(PairFacts::stamps).collect();
        let waits: Vec<_> = pairs.iter().flat_map(PairFacts::waits).collect();
        let mut all = Self {
            attended: attended(&stamps, &waits, &Rules::default()),
            ..Self::default()
        };
        let mut known = std::collections::BTreeSet::new();
        for pair in pairs {
            all.jobs.extend(pair.jobs);
            let fresh = pair
                .tickets
                .into_iter()
                .filter(|ticket| known.insert(ticket.ticket));
            all.tickets.extend(fresh);
        }
        all
    }

    /// What was earned, given away and made good, month by month: only months whose neighbours were read as well are whole.
    pub fn books(&self, shop: &State) -> Books {
        Books::of(&self.jobs, &self.tickets, &self.attended, &|code| {
            stock(shop, code)
        })
    }

    /// The same of the jobs alone that left the shop in these months, without what changed hands.
    pub fn books_of(&self, shop: &State, months: &[String]) -> Books {
        let left = |job: &&JobFacts| {
            let month = job.handed_over_at.and_then(At::month).map(month_word);
            month.is_some_and(|month| months.contains(&month))
        };
        let jobs: Vec<JobFacts> = self.jobs.iter().filter(left).cloned().collect();
        Books::of(&jobs, &[], &self.attended, &|code| stock(shop, code))
    }

    /// What the finished jobs teach.
    pub fn experience(&self, shop: &State) -> Experience {
        Experience::of(&self.jobs, &self.attended, &|code| stock(shop, code))
    }
}

/// What the shop has set for the truth of its prices, handed to `ask`.
pub fn with_setting<T>(shop: &State, ask: impl FnOnce(&Setting<'_>) -> T) -> T {
    let stock = |code: &str| -> Vec<Stock> { stock(shop, code) };
    let said =
        |code: &str, guessed: Option<&Construction>, part: &Component| of_ten(shop, code, guessed, part);
    ask(&Setting {
        target_minor: hourly_target(shop),
        tax: tax::rate(shop.value(field::TAX)),
        stock: &stock,
        said: &said,
    })
}

/// What an hour should earn, in minor units; `None` where the shop did not say.
pub fn hourly_target(shop: &State) -> Option<i64> {
    shop.value(field::HOURLY_TARGET)?
        .as_i64()
        .filter(|minor| *minor > 0)
}

/// The repairer's own answer: of ten such pairs, how many have this part damaged?
pub fn of_ten(shop: &State, code: &str, guessed: Option<&Construction>, part: &Component) -> Option<f64> {
    let guessed = guessed.map_or("", Construction::as_str);
    let said = shop
        .value(&field::of_ten(code, guessed, part.as_str()))?
        .as_f64()?;
    (0.0..=10.0).contains(&said).then_some(said)
}

/// So many months back from a day `YYYY-MM-DD`, its own first, as `YYYY-MM`; none for what is no day.
pub fn months_back(today: &str, count: usize) -> Vec<String> {
    let Some(day) = Day::parse(today) else {
        return Vec::new();
    };
    let (year, month, _) = day.date();
    let first = year * 12 + month - 1;
    let back = (0..).take(count).map(|back: i64| first - back);
    back.map(|all| month_word((all.div_euclid(12), all.rem_euclid(12) + 1)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn months_go_back_over_new_year() {
        assert_eq!(
            months_back("2026-02-28", 4),
            ["2026-02", "2026-01", "2025-12", "2025-11"]
        );
        assert!(months_back("soon", 4).is_empty());
    }

    #[test]
    fn a_ticket_of_two_pairs_is_counted_once() {
        let ticket = |id: u128| TicketFacts {
            ticket: shared::log::SubjectId(uuid::Uuid::from_u128(id)),
            money: Vec::new(),
            tax: None,
        };
        let pair = || {
            let mut pair = PairFacts::default();
            pair.tickets.extend([ticket(1), ticket(2)]);
            pair
        };
        assert_eq!(Ledger::of(vec![pair(), pair()]).tickets.len(), 2);
    }
}
