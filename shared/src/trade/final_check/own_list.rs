//! The final check of a shop that has a list of its own.

use super::lines::line_of;
use super::{Leaving, USUAL, applies, to_tick};

/// The lines that must be ticked for these goods in a shop whose own list this is; without one, those of the usual list.
/// What certified and prescribed footwear asks for is on every list: a shop that wrote its own before it took such goods
/// in did not think of it.
pub fn list_for<'a>(own: &[&'a str], leaving: &Leaving<'_>) -> Vec<&'a str> {
    if own.is_empty() {
        return to_tick(leaving).collect();
    }
    let has = |line: &str| own.iter().any(|one| line_of(one) == line);
    let missing = USUAL
        .iter()
        .filter(|(line, when)| when.is_of_goods() && when.to(leaving) && !has(line))
        .map(|(line, _)| *line);
    let kept = own.iter().copied().filter(|line| applies(line, leaving));
    kept.chain(missing).collect()
}
