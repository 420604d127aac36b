//! How certain it is that a promise is kept, in one of four words.

/// How certain it is that a promise is kept. The bounds are common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Certainty {
    /// It is kept in fewer than four of ten cases.
    Late,
    /// It is kept in at least four of ten cases, and in fewer than seven.
    Tight,
    /// It is kept in at least seven of ten cases, and in fewer than nine.
    Likely,
    /// It is kept in at least nine of ten cases.
    Safe,
}

/// From this probability on, a promise is tight.
const TIGHT: f64 = 0.4;
/// From this probability on, it is likely to be kept.
const LIKELY: f64 = 0.7;
/// From this probability on, it is safe.
const SAFE: f64 = 0.9;

impl Certainty {
    /// The certainty of a promise that is kept with a probability from 0 to 1.
    pub fn of(probability: f64) -> Self {
        if probability >= SAFE {
            Self::Safe
        } else if probability >= LIKELY {
            Self::Likely
        } else if probability >= TIGHT {
            Self::Tight
        } else {
            Self::Late
        }
    }

    /// Its word.
    pub fn words(self) -> &'static str {
        match self {
            Self::Safe => words::plan::safe(),
            Self::Likely => words::plan::likely(),
            Self::Tight => words::plan::tight(),
            Self::Late => words::plan::late(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_word_has_its_bounds() {
        let told = [1.0, 0.9, 0.899, 0.7, 0.699, 0.4, 0.399, 0.0, f64::NAN]
            .map(|share| Certainty::of(share).words());
        assert_eq!(
            told,
            [
                "safe", "safe", "likely", "likely", "tight", "tight", "late", "late", "late"
            ]
        );
        assert!(Certainty::Late < Certainty::Tight && Certainty::Likely < Certainty::Safe);
    }
}
