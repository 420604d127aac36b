//! The trade's words by usage: the tables of the trade are in British English, and a shop that speaks American English
//! reads the American words. What the log holds are codes, so that a shop may change its language at any time.
//!
//! Common practice, no source.

mod table;

use table::AMERICAN;
use words::Language;

/// A text of the trade's tables in the usage of the language that this thread speaks: the text itself in British
/// English, and wherever both say the same.
pub fn in_usage(british: &str) -> &str {
    match words::current() {
        Language::British => british,
        Language::American => american(british).unwrap_or(british),
    }
}

/// The American text for a British one; `None` where both say the same.
fn american(british: &str) -> Option<&'static str> {
    let at = AMERICAN.binary_search_by(|(text, _)| (*text).cmp(british)).ok()?;
    AMERICAN.get(at).map(|(_, text)| *text)
}

#[cfg(test)]
mod tests;
