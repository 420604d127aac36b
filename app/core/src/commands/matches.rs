//! What is not quite a match: laces, a colour, thread or leather that differ from the old. It is said, photographed and
//! measured as far as possible, and told to the customer.

use serde_json::{Map, Value, json};
use shared::log::body::Measured;
use shared::log::fold::{Item, JobState};
use shared::log::{Body, Draft, SubjectId};

use super::work::on_job;
use crate::calc::{COMPARE, difference_stored, difference_words, number};

/// The word of such a statement in the log: the value of [`Measured::what`].
pub const MATCH: &str = "match";
/// In what is given with it, what does not match: a word of [`MatchOf`].
const OF: &str = "of";
/// In what is given with it, the difference of the colours by CIEDE2000.
const DELTA_E: &str = "delta_e";
/// The greatest difference that can be typed.
const MOST: f64 = 100.0;

/// What is not quite a match.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MatchOf {
    /// Laces.
    Laces,
    /// A dye or a finish.
    Colour,
    /// The thread of a seam.
    Thread,
    /// A patch or another new piece.
    Leather,
}

impl MatchOf {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Laces, Self::Colour, Self::Thread, Self::Leather];

    /// Its word in the log. It never changes.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Laces => "laces",
            Self::Colour => "colour",
            Self::Thread => "thread",
            Self::Leather => "leather",
        }
    }

    /// Its name on the screen.
    pub fn words(self) -> &'static str {
        match self {
            Self::Laces => words::work::match_of_laces(),
            Self::Colour => words::work::match_of_colour(),
            Self::Thread => words::work::match_of_thread(),
            Self::Leather => words::work::match_of_leather(),
        }
    }

    /// What is usually said about it to the customer.
    pub fn usual_words(self) -> &'static str {
        match self {
            Self::Laces => words::commands::laces_not_a_match(),
            Self::Colour => words::commands::colour_not_a_match(),
            Self::Thread => words::commands::thread_not_a_match(),
            Self::Leather => words::commands::leather_not_a_match(),
        }
    }
}

/// The statement as it is typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypedMatch {
    /// What is not quite a match.
    pub of: MatchOf,
    /// What the customer reads.
    pub say: String,
    /// The difference of the colours; empty if it was not measured.
    pub difference: String,
}

impl TypedMatch {
    /// The usual words, with the difference of the colours that were compared last on this job.
    pub fn usual(of: MatchOf, job: &JobState) -> Self {
        let compared = job.measured.iter().rev().find(|item| item.body.what == COMPARE);
        let difference = compared.and_then(|item| difference_stored(&item.body.given));
        Self {
            of,
            say: of.usual_words().to_owned(),
            difference: difference.map(difference_words).unwrap_or_default(),
        }
    }
}

/// Says that something is not quite a match.
///
/// # Errors
/// What is missing or cannot be read, in words.
pub fn match_of(job: SubjectId, typed: &TypedMatch) -> Result<Draft, &'static str> {
    let say = typed.say.trim();
    if say.is_empty() {
        return Err(words::work::say_what_differs());
    }
    let mut given = Map::new();
    given.insert(OF.to_owned(), typed.of.as_str().into());
    if !typed.difference.trim().is_empty() {
        let delta_e = number(&typed.difference).filter(|delta_e| (0.0..=MOST).contains(delta_e));
        let delta_e = delta_e.ok_or_else(words::work::not_a_difference)?;
        given.insert(DELTA_E.to_owned(), json!(delta_e));
    }
    let body = Body::Measured(Measured {
        what: MATCH.to_owned(),
        operation: None,
        say: say.to_owned(),
        given,
    });
    Ok(on_job(job, body))
}

/// What was said on a job to be not quite a match.
pub fn matches(job: &JobState) -> impl Iterator<Item = &Item<Measured>> {
    job.measured.iter().filter(|item| item.body.what == MATCH)
}

/// Such a statement as the customer reads it, with the difference if it was measured.
pub fn match_line(said: &Measured) -> String {
    match said.given.get(DELTA_E).and_then(Value::as_f64) {
        Some(delta_e) => words::commands::match_with_difference(&said.say, &difference_words(delta_e)),
        None => said.say.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::compared;
    use crate::commands::scene::{JOB, job, said, subject};

    fn measured(what: &str, given: Map<String, Value>) -> Measured {
        Measured {
            what: what.to_owned(),
            operation: None,
            say: String::new(),
            given,
        }
    }

    fn typed(say: &str, difference: &str) -> TypedMatch {
        TypedMatch {
            of: MatchOf::Laces,
            say: say.to_owned(),
            difference: difference.to_owned(),
        }
    }

    #[test]
    fn the_difference_is_that_of_the_colours_compared_last() {
        let mut state = job(&[]);
        assert_eq!(TypedMatch::usual(MatchOf::Laces, &state).difference, "");
        let same = compared(&[[90.0; 3], [90.0; 3]], 90.0, None);
        let (saddle, dark) = ([139.0, 69.0, 19.0], [92.0, 51.0, 23.0]);
        state.measured = vec![
            said(50, 0, measured(COMPARE, same)),
            said(51, 1, measured(COMPARE, compared(&[saddle, dark], 90.0, None))),
            said(52, 2, measured("wear", Map::new())),
        ];
        let usual = TypedMatch::usual(MatchOf::Colour, &state);
        assert_eq!(usual.say, "The colour is not quite the one it had.");
        // scikit-image has L 37.47, a 26.44, b 40.98 and L 25.88, a 15.80, b 25.18 for them: far apart.
        assert!(number(&usual.difference).unwrap() > 5.0, "{}", usual.difference);
    }

    #[test]
    fn it_is_said_with_or_without_a_difference_and_never_without_words() {
        let draft = match_of(subject(JOB), &typed(" Too dark. ", "2,34")).unwrap();
        let Body::Measured(dark) = draft.body else {
            panic!("a statement");
        };
        assert_eq!((dark.what.as_str(), dark.say.as_str()), (MATCH, "Too dark."));
        assert_eq!(
            Value::Object(dark.given.clone()),
            json!({"of": "laces", "delta_e": 2.34})
        );
        assert_eq!(
            match_line(&dark),
            "Too dark. Colour difference, as measured: 2.3."
        );
        let plain = match_of(subject(JOB), &typed("Too dark.", " ")).unwrap();
        let Body::Measured(plain) = plain.body else {
            panic!("a statement");
        };
        assert_eq!(match_line(&plain), "Too dark.");
        assert!(match_of(subject(JOB), &typed(" ", "")).is_err());
        for wrong in ["a lot", "-1", "101", "NaN"] {
            assert!(
                match_of(subject(JOB), &typed("Too dark.", wrong)).is_err(),
                "{wrong}"
            );
        }
    }

    #[test]
    fn matches_are_told_from_measurements() {
        let mut state = job(&[]);
        state.measured = vec![
            said(50, 0, measured(COMPARE, Map::new())),
            said(51, 0, measured(MATCH, Map::new())),
        ];
        let found: Vec<_> = matches(&state).map(|item| item.entry).collect();
        assert_eq!(found, [crate::commands::scene::entry(51)]);
    }
}
