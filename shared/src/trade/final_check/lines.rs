//! The lines of the final check as they are shown. What the log holds is the line as it was first written.

use super::usual_list;
use crate::trade::usage::in_usage;

/// Lines of the usual list that are shown in other words than the log's, and those words.
const REWORDED: &[(&str, &str)] = &[(
    "Laces, inserts and socks back",
    "Laces, inserts and sock linings back",
)];

/// A line of the final check in the usage of the shop's language; the shop's own lines unchanged.
pub fn shown(line: &str) -> &str {
    let reworded = REWORDED.iter().find(|(stored, _)| *stored == line);
    in_usage(reworded.map_or(line, |(_, text)| *text))
}

/// The line that is [`shown`] as `said`, as the log holds it; the shop's own lines unchanged.
pub fn line_of(said: &str) -> &str {
    usual_list().find(|line| shown(line) == said).unwrap_or(said)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use words::{Language, speaking};

    /// A shop writes its own list from what it is shown, and its usual lines must still be known afterwards.
    #[test]
    fn what_is_shown_leads_back_to_the_line() {
        for language in Language::ALL {
            speaking(language, || {
                let all: BTreeSet<_> = usual_list().map(shown).collect();
                assert_eq!(all.len(), usual_list().count(), "{language:?}");
                for line in usual_list() {
                    assert_eq!(line_of(shown(line)), line, "{language:?}");
                }
                assert_eq!(line_of(shown("Bell rung")), "Bell rung");
            });
        }
    }

    #[test]
    fn lines_are_shown_in_the_shops_usage() {
        let line = "Laces, inserts and socks back";
        assert_eq!(shown(line), "Laces, inserts and sock linings back");
        let american = speaking(Language::American, || (shown(line), shown("Heels level")));
        assert_eq!(american, ("Laces, inserts and sock liners back", "Heels level"));
        assert!(
            REWORDED
                .iter()
                .all(|(stored, _)| usual_list().any(|one| one == *stored))
        );
    }
}
