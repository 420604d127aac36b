//! Lists of things in a sentence.

/// Things after each other: `a`, `a and b`, `a, b and c`; empty for no things.
#[must_use]
pub fn and(things: &[&str]) -> String {
    match things {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => [&first.join(", "), " and ", last].concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::and;

    #[test]
    fn the_last_thing_follows_and() {
        for (things, words) in [
            (&[][..], ""),
            (&["laces"], "laces"),
            (&["laces", "trees"], "laces and trees"),
            (&["laces", "trees", "horn"], "laces, trees and horn"),
        ] {
            assert_eq!(and(things), words);
        }
    }
}
