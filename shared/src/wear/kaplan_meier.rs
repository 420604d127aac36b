//! The share of parts that survive a time, by the product-limit estimate of Kaplan and Meier, with Greenwood's standard
//! error. A part that has not failed counts for as long as it was observed.

use serde::{Deserialize, Deserializer, Serialize};

use super::{LONGEST, MOST};
use crate::trade::formulas::calculation::gives;
use crate::trade::formulas::{Allowed, AnswerField, Calculation, Field, InvalidField};

/// A survival of one half is recognised in spite of rounding errors.
const HALF: f64 = 0.5 + 1e-12;

const TIMES: Field = Field::new(
    "times",
    "any unit, 0 or more",
    Allowed::Numbers(1, MOST, 0.0, LONGEST),
);
const OBSERVED: Field = Field::new(
    "observed",
    "true where it failed then, false where it still held; as many as times",
    Allowed::Described("a list of true and false (or 1 and 0)"),
);

/// How long each part was observed, and whether it failed then.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Observations {
    /// The times, 0 or more.
    pub times: Vec<f64>,
    /// Whether each part failed at its time; otherwise it had not failed by then.
    #[serde(deserialize_with = "yes_or_no")]
    pub observed: Vec<bool>,
}

fn yes_or_no<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<bool>, D::Error> {
    #[derive(Deserialize)]
    #[serde(untagged)]
    enum SurvivalAnswer {
        Word(bool),
        Digit(u8),
    }
    let answers = Vec::<SurvivalAnswer>::deserialize(from)?;
    let read = |answer| match answer {
        SurvivalAnswer::Word(word) => Ok(word),
        SurvivalAnswer::Digit(0) => Ok(false),
        SurvivalAnswer::Digit(1) => Ok(true),
        SurvivalAnswer::Digit(_) => Err(serde::de::Error::custom("true or false")),
    };
    answers.into_iter().map(read).collect()
}

/// The estimate after the failures at one time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SurvivalRow {
    /// The time.
    pub t: f64,
    /// How many parts were observed at least until then.
    pub at_risk: usize,
    /// How many failed then.
    pub events: usize,
    /// The share of parts that survive longer.
    pub survival: f64,
    /// Its standard error (Greenwood); 0 once no part survives.
    pub se: f64,
}

/// The estimated survival.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Survival {
    /// A row for every time at which a part failed.
    pub table: Vec<SurvivalRow>,
    /// The first time after which at most half of the parts survive; `None` if more than half survive to the end.
    pub median: Option<f64>,
}

impl Calculation for Observations {
    const NAME: &'static str = "kaplan_meier";
    const TAKES: &'static [Field] = &[TIMES, OBSERVED];
    const GIVES: &'static [AnswerField] = gives![
        "table" "list of t, at_risk, events, survival, se (Greenwood), a row a time of failure",
        "median" "in the unit of times, or null if more than half still hold",
    ];
    type Answer = Survival;

    fn calculate(&self) -> Result<Survival, InvalidField> {
        let times = TIMES.check_list(&self.times)?;
        if self.observed.len() != times.len() {
            return Err(OBSERVED.refused());
        }
        let mut lives: Vec<_> = times.iter().copied().zip(self.observed.iter().copied()).collect();
        lives.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (mut survival, mut greenwood, mut at_risk) = (1.0, 0.0, lives.len());
        let mut table = Vec::new();
        for same_time in lives.chunk_by(|a, b| a.0 == b.0) {
            let events = same_time.iter().filter(|(_, failed)| *failed).count();
            if events > 0 {
                let (failed, watched) = (events as f64, at_risk as f64);
                survival *= 1.0 - failed / watched;
                greenwood += failed / (watched * (watched - failed));
                table.push(SurvivalRow {
                    t: same_time[0].0,
                    at_risk,
                    events,
                    survival,
                    se: if survival > 0.0 {
                        survival * f64::sqrt(greenwood)
                    } else {
                        0.0
                    },
                });
            }
            at_risk -= same_time.len();
        }
        let median = table.iter().find(|row| row.survival <= HALF).map(|row| row.t);
        Ok(Survival { table, median })
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Freireich et al. (1963), Blood 21, 699: 6-MP and placebo, as lifelines' `load_leukemia` carries them.
    pub(in super::super) const SIX_MP: [f64; 9] = [6.0, 6.0, 6.0, 7.0, 10.0, 13.0, 16.0, 22.0, 23.0];
    pub(in super::super) const SIX_MP_LATER: [f64; 12] = [
        6.0, 9.0, 10.0, 11.0, 17.0, 19.0, 20.0, 25.0, 32.0, 32.0, 34.0, 35.0,
    ];
    pub(in super::super) const PLACEBO: [f64; 21] = [
        1.0, 1.0, 2.0, 2.0, 3.0, 4.0, 4.0, 5.0, 5.0, 8.0, 8.0, 8.0, 8.0, 11.0, 11.0, 12.0, 12.0, 15.0, 17.0,
        22.0, 23.0,
    ];

    fn lives(failed: &[f64], held: &[f64]) -> Observations {
        Observations {
            times: [failed, held].concat(),
            observed: [vec![true; failed.len()], vec![false; held.len()]].concat(),
        }
    }

    /// The trial above; values by lifelines 0.30 and scikit-survival 0.28.
    #[test]
    fn the_published_trial() {
        let got = lives(&SIX_MP, &SIX_MP_LATER).calculate().unwrap();
        let table = [
            (6.0, 21, 3, 0.857_143, 0.0764),
            (7.0, 17, 1, 0.806_723, 0.0869),
            (10.0, 15, 1, 0.752_941, 0.0963),
            (13.0, 12, 1, 0.690_196, 0.1068),
            (16.0, 11, 1, 0.627_451, 0.1141),
            (22.0, 7, 1, 0.537_815, 0.1282),
            (23.0, 6, 1, 0.448_179, 0.1346),
        ];
        assert_eq!(got.table.len(), table.len());
        for (row, (t, at_risk, events, survival, se)) in got.table.iter().zip(table) {
            assert_eq!((row.t, row.at_risk, row.events), (t, at_risk, events));
            assert!(
                (row.survival - survival).abs() < 5e-7 && (row.se - se).abs() < 5e-5,
                "{t}"
            );
        }
        assert_eq!(got.median, Some(23.0));
        let placebo = lives(&PLACEBO, &[]).calculate().unwrap();
        assert_eq!(placebo.median, Some(8.0));
        let last = placebo.table.last().unwrap();
        assert_eq!((last.survival, last.se), (0.0, 0.0));
    }

    #[test]
    fn lists_that_do_not_match_are_refused() {
        let uneven = Observations {
            times: vec![1.0, 2.0],
            observed: vec![true],
        };
        assert_eq!(uneven.calculate().unwrap_err().field, "observed");
        assert_eq!(lives(&[], &[]).calculate().unwrap_err().field, "times");
        assert_eq!(lives(&[-1.0], &[]).calculate().unwrap_err().field, "times");
    }

    proptest! {
        /// If all parts failed, it is the plain share of those that have not failed yet.
        #[test]
        fn with_all_failed_it_is_counting(times in prop::collection::vec(0u16..40, 1..40)) {
            let times: Vec<_> = times.into_iter().map(f64::from).collect();
            for row in lives(&times, &[]).calculate().unwrap().table {
                let left = times.iter().filter(|t| **t > row.t).count();
                prop_assert!((row.survival - left as f64 / times.len() as f64).abs() < 1e-12);
            }
        }

        #[test]
        fn it_never_rises(failed in prop::collection::vec(0.0..40.0f64, 0..30), held in prop::collection::vec(0.0..40.0f64, 1..30)) {
            let table = lives(&failed, &held).calculate().unwrap().table;
            prop_assert!(table.windows(2).all(|two| two[1].survival < two[0].survival && two[1].t > two[0].t));
            prop_assert!(table.iter().all(|row| (0.0..=1.0).contains(&row.survival) && row.se.is_finite()));
        }
    }
}
