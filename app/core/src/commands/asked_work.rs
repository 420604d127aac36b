//! Work that has to be asked for with work that is added to a job at the bench: heels with a full sole.

use shared::log::body::Agreed;
use shared::log::fold::{JobState, ShopState, bench};
use shared::price::listed::listed;
use shared::trade::amount::LineSize;
use shared::trade::operation;

/// The operations that have to be asked for with an added one: that the shop has a price for on such goods, and that
/// nobody has decided about on this job, by itself or as part of other work. Goods that were not stated (empty) count
/// as a shoe.
#[must_use]
pub fn asked_with(added: &str, job: &JobState, goods: &str, shop: &ShopState) -> Vec<&'static str> {
    let asked = operation(added).map_or(&[][..], |known| known.asks_for);
    let is_open = |code: &&'static str| {
        let decided = bench::agreed(job).any(|line| covers(&line.body.operation, code));
        let size = LineSize::usual(code);
        !decided && listed(shop, goods, size).is_some()
    };
    asked.iter().copied().filter(is_open).collect()
}

/// Whether a line of an operation is another one too, or has it as a part.
fn covers(line: &str, code: &str) -> bool {
    line == code || operation(line).is_some_and(|known| known.includes.contains(&code))
}

/// The line of an operation that was asked for: on the same shoe as the added line, at its listed price, or at no charge for
/// the same reason. `None` if the shop has no price for it.
#[must_use]
pub fn asked_line(code: &str, added: &Agreed, goods: &str, shop: &ShopState) -> Option<Agreed> {
    let size = LineSize {
        side: &added.side,
        ..LineSize::usual(code)
    };
    let price = listed(shop, goods, size)?;
    let line = match &added.gift {
        Some(gift) => Agreed::given(code, gift.why.clone(), price),
        None => Agreed::at(code, price),
    };
    Some(Agreed {
        side: added.side.clone(),
        ..line
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::scene;
    use shared::log::body::{GiftWhy, Side};
    use shared::price::minor::Minor;

    const SOLE: &str = "resole_cemented";
    const HEELS: &str = "top_piece_replacement";

    #[test]
    fn a_full_sole_asks_for_heels_until_somebody_has_decided_about_them() {
        let shop = ShopState::default();
        let asked = |lines: &[&str], goods: &str| {
            let lines: Vec<Agreed> = lines.iter().map(|code| Agreed::at(*code, Minor(100))).collect();
            asked_with(SOLE, &scene::job(&lines), goods, &shop)
        };
        assert_eq!(asked(&["half_sole"], ""), [HEELS]);
        assert_eq!(asked(&[SOLE], "low_shoe"), [HEELS]);
        assert!(asked(&[SOLE, HEELS], "low_shoe").is_empty());
        assert!(asked(&[], "trainer").is_empty(), "it has no heels of its own");
        let none = asked_with("stretch", &scene::job(&[]), "low_shoe", &shop);
        assert!(none.is_empty());
    }

    #[test]
    fn what_was_asked_for_is_agreed_as_the_work_it_goes_with() {
        let shop = ShopState::default();
        let line = |added: &Agreed| asked_line(HEELS, added, "low_shoe", &shop).unwrap();
        let paid = line(&Agreed::at(SOLE, Minor(7_000)));
        assert_eq!((&paid.side, paid.price_minor), (&Side::Both, Minor(1_600)));
        let left = Agreed {
            side: Side::Left,
            ..Agreed::given(SOLE, GiftWhy::Needed, Minor(7_000))
        };
        let given = line(&left);
        assert_eq!((&given.side, given.price_minor), (&Side::Left, Minor::ZERO));
        let gift = given.gift.unwrap();
        assert_eq!(gift.why, GiftWhy::Needed);
        assert!(gift.worth_minor.is_positive() && gift.worth_minor < Minor(1_600));
        assert_eq!(asked_line("bell repair", &left, "low_shoe", &shop), None);
    }
}
