//! How fast one part wears, and the day on which it reaches its limit.
//!
//! A straight line through dated thicknesses by least squares. The interval of the rate is that of Student's t with
//! n − 2 degrees of freedom, 95 %; that of the day is Fieller's: all days on which the line could be at the limit. A
//! month is 365.2425 / 12 days.
//!
//! Within [`LEAST_SPAN_DAYS`] a part wears less than a rule reads, so measures that lie closer together forecast
//! nothing. A day before the first measure is never told: the part was worn already.

use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::trade::formulas::calculation::gives;
use crate::trade::formulas::day::Day;
use crate::trade::formulas::{Allowed, AnswerField, Calculation, Field, InvalidField};

/// Days in a month, on average.
pub const DAYS_PER_MONTH: f64 = 365.2425 / 12.0;
/// The least number of days between the first measure and the last. Common practice, no source.
pub const LEAST_SPAN_DAYS: i64 = 28;
/// The upper quantile of a two-sided 95 % interval.
const UPPER: f64 = 0.975;
/// The greatest number of measurements of one part.
const MOST: usize = 10_000;

const THICKNESS: Field = Field::number("thickness_mm", "mm", 0.0, 300.0);
const MEASUREMENTS: Field = Field::new(
    "measurements",
    "objects of date (YYYY-MM-DD) and thickness_mm (0 to 300), on at least two days",
    Allowed::Described("a list of 2 to 10000 measurements"),
);
const LIMIT: Field = Field::number("limit_mm", "mm", 0.0, 300.0);

/// One measurement of a part.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measurement {
    /// The day.
    pub date: Day,
    /// Its thickness then, mm.
    pub thickness_mm: f64,
}

/// The measurements of one part, and the thickness at which it should be replaced.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measurements {
    /// The measurements, on at least two days.
    pub measurements: Vec<Measurement>,
    /// The thickness at which it should be replaced, mm.
    pub limit_mm: f64,
}

/// The expected wear.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Forecast {
    /// Wear in mm a month; negative if the part became thicker. `None` if the measures lie too close together.
    pub rate_mm_per_month: Option<f64>,
    /// 95 % interval of the rate; `None` with two measurements.
    pub rate_interval: Option<[f64; 2]>,
    /// The day on which it reaches the limit; `None` if it does not wear, not before the year 10000, or if it had
    /// reached it before it was first measured.
    pub reaches_on: Option<Day>,
    /// 95 % interval of the day; `None` if it is unbounded.
    pub reaches_interval: Option<[Day; 2]>,
    /// Why a result is missing.
    pub reason: Option<String>,
}

/// The first day on which to measure again a part that was measured first and last on these days, so that its wear can
/// be forecast; `None` if the days lie far enough apart.
pub fn measure_again_on(first: Day, last: Day) -> Option<Day> {
    let close = last.count() - first.count() < LEAST_SPAN_DAYS;
    close.then(|| Day::counted(first.count() + LEAST_SPAN_DAYS).unwrap_or(last))
}

/// Why measures of which the first and the last were made on these days forecast nothing, in words; `None` if they lie
/// far enough apart.
pub fn too_close(first: Day, last: Day) -> Option<String> {
    let again = measure_again_on(first, last)?.words();
    Some(match last.count() - first.count() {
        ..=0 => words::wear::measured_on_one_day(&again),
        apart => words::wear::measures_too_close(apart, &again),
    })
}

/// A least-squares line through days counted from the mean of the measurements.
struct FittedLine {
    middle: f64,
    height: f64,
    slope: f64,
    spread: f64,
    count: f64,
    /// The variance of the residuals; `None` with two measurements.
    variance: Option<f64>,
}

impl Measurements {
    /// The days of the first measurement and of the last; `None` without measurements.
    fn days(&self) -> Option<(Day, Day)> {
        let days = || self.measurements.iter().map(|one| one.date);
        Some((days().min()?, days().max()?))
    }

    fn line(&self) -> Result<FittedLine, InvalidField> {
        if !(2..=MOST).contains(&self.measurements.len()) {
            return Err(MEASUREMENTS.refused());
        }
        for one in &self.measurements {
            THICKNESS
                .check(one.thickness_mm)
                .map_err(|refused| refused.within(MEASUREMENTS.name))?;
        }
        let count = self.measurements.len() as f64;
        let points = || {
            self.measurements
                .iter()
                .map(|one| (one.date.count() as f64, one.thickness_mm))
        };
        let middle = points().map(|(day, _)| day).sum::<f64>() / count;
        let height = points().map(|(_, thickness)| thickness).sum::<f64>() / count;
        let spread: f64 = points().map(|(day, _)| (day - middle).powi(2)).sum();
        if spread <= 0.0 {
            return Err(MEASUREMENTS.refused());
        }
        let slope = points()
            .map(|(day, thickness)| (day - middle) * (thickness - height))
            .sum::<f64>()
            / spread;
        let off = |(day, thickness): (f64, f64)| (thickness - height - slope * (day - middle)).powi(2);
        let variance = (count > 2.0).then(|| points().map(off).sum::<f64>() / (count - 2.0));
        Ok(FittedLine {
            middle,
            height,
            slope,
            spread,
            count,
            variance,
        })
    }
}

impl FittedLine {
    /// The square of the t quantile times the variance of the residuals: how far a 95 % interval reaches; `None`
    /// without a variance.
    fn reach(&self) -> Option<f64> {
        let student = StudentsT::new(0.0, 1.0, self.count - 2.0).ok()?;
        Some(student.inverse_cdf(UPPER).powi(2) * self.variance?)
    }

    fn rate_interval(&self) -> Option<[f64; 2]> {
        let half = (self.reach()? / self.spread).sqrt();
        Some([-self.slope - half, -self.slope + half].map(|rate| rate * DAYS_PER_MONTH))
    }

    fn day(&self, from_middle: f64) -> Option<Day> {
        let days = (self.middle + from_middle).floor();
        (days.abs() < 1e9).then(|| Day::counted(days as i64)).flatten()
    }

    /// Fieller's interval: the days on which the limit is no further from the line than the interval reaches.
    fn reaches_interval(&self, limit: f64) -> Option<[Day; 2]> {
        let (reach, above) = (self.reach()?, self.height - limit);
        let square = self.slope * self.slope - reach / self.spread;
        if square <= 0.0 {
            return None;
        }
        let half = self.slope * above;
        let rest = above * above - reach / self.count;
        let root = (half * half - square * rest).max(0.0).sqrt();
        Some([
            self.day((-half - root) / square)?,
            self.day((-half + root) / square)?,
        ])
    }
}

impl Calculation for Measurements {
    const NAME: &'static str = "wear_forecast";
    const TAKES: &'static [Field] = &[MEASUREMENTS, LIMIT];
    const GIVES: &'static [AnswerField] = gives![
        "rate_mm_per_month" "mm a month of 30.436875 days, or null if measured within 28 days",
        "rate_interval" "95 %, mm a month, or null",
        "reaches_on" "YYYY-MM-DD, not before the first measurement, or null",
        "reaches_interval" "95 %, two days, or null",
        "reason" "why something is null, or null",
    ];
    type Answer = Forecast;

    fn calculate(&self) -> Result<Forecast, InvalidField> {
        let limit = LIMIT.check(self.limit_mm)?;
        let line = self.line()?;
        let (first, last) = self.days().ok_or_else(|| MEASUREMENTS.refused())?;
        if let Some(again) = measure_again_on(first, last) {
            let apart = last.count() - first.count();
            return Ok(Forecast {
                reason: Some(format!(
                    "the measures lie only {apart} {} apart: measure again on {again} or later",
                    if apart == 1 { "day" } else { "days" }
                )),
                ..Forecast::default()
            });
        }
        let wears = line.slope < 0.0;
        let limit_on = wears
            .then(|| line.day((limit - line.height) / line.slope))
            .flatten();
        let reaches_on = limit_on.filter(|day| *day >= first);
        let reaches_interval = reaches_on.and_then(|_| line.reaches_interval(limit));
        let reason = match (wears, limit_on, line.variance, reaches_interval) {
            (false, ..) => Some("it has not worn"),
            (true, None, ..) => Some("it wears too slowly to name a day"),
            (true, Some(day), ..) if day < first => {
                Some("it was worn to the limit when it was first measured")
            }
            (true, Some(_), None, _) => Some("two measurements give no interval"),
            (true, Some(_), Some(_), None) => Some("the measurements scatter too much to bound the day"),
            (true, Some(_), Some(_), Some(_)) => None,
        };
        Ok(Forecast {
            rate_mm_per_month: Some(-line.slope * DAYS_PER_MONTH),
            rate_interval: line.rate_interval(),
            reaches_on,
            reaches_interval,
            reason: reason.map(str::to_owned),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn forecast(measured: &[(&str, f64)], limit_mm: f64) -> Forecast {
        let measurements = measured
            .iter()
            .map(|(date, thickness_mm)| Measurement {
                date: Day::parse(date).unwrap(),
                thickness_mm: *thickness_mm,
            })
            .collect();
        Measurements {
            measurements,
            limit_mm,
        }
        .calculate()
        .unwrap()
    }

    /// Closed form: 1 mm in 50 days, and 3 mm more to go.
    #[test]
    fn a_straight_line() {
        let got = forecast(&[("2025-01-01", 6.0), ("2025-02-20", 5.0)], 2.0);
        assert!((got.rate_mm_per_month.unwrap() - DAYS_PER_MONTH / 50.0).abs() < 1e-12);
        assert_eq!(got.reaches_on.unwrap().to_string(), "2025-07-20");
        assert_eq!((got.rate_interval, got.reaches_interval), (None, None));
        assert!(got.reason.unwrap().contains("two measurements"));
    }

    /// Worked by hand: days 0, 10, 20, 30 and 6.0, 5.7, 5.5, 5.0 mm. Slope −16/500 = −0.032; residuals −0.03, −0.01,
    /// 0.11, −0.07, so their variance is 0.018 / 2 and the slope's standard error √(0.009 / 500); t is 4.302653 (any
    /// table).
    #[test]
    fn with_scatter_there_is_an_interval() {
        let measured = [
            ("2025-01-01", 6.0),
            ("2025-01-11", 5.7),
            ("2025-01-21", 5.5),
            ("2025-01-31", 5.0),
        ];
        let got = forecast(&measured, 2.0);
        let half = 4.302_653 * f64::sqrt(0.009 / 500.0);
        let [low, high] = got.rate_interval.unwrap().map(|rate| rate / DAYS_PER_MONTH);
        assert!(
            (low - (0.032 - half)).abs() < 1e-8 && (high - (0.032 + half)).abs() < 1e-8,
            "{low} {high}"
        );
        let (on, [first, last]) = (got.reaches_on.unwrap(), got.reaches_interval.unwrap());
        assert!(first < on && on < last);
        assert_eq!(got.reason, None);
    }

    #[test]
    fn what_cannot_be_foretold_says_why() {
        let thicker = forecast(&[("2025-01-01", 5.0), ("2025-02-20", 6.0)], 2.0);
        assert_eq!(
            (thicker.reaches_on, thicker.reason.as_deref()),
            (None, Some("it has not worn"))
        );
        let wild = forecast(
            &[("2025-01-01", 6.0), ("2025-02-01", 3.0), ("2025-03-01", 5.9)],
            2.0,
        );
        assert!(wild.reaches_on.is_some() && wild.reaches_interval.is_none() && wild.reason.is_some());
        let slow = forecast(&[("2025-01-01", 6.0), ("2025-03-02", 6.0 - 1e-9)], 2.0);
        assert_eq!(slow.reason.as_deref(), Some("it wears too slowly to name a day"));
        let one_day = Measurement {
            date: Day::parse("2025-01-01").unwrap(),
            thickness_mm: 5.0,
        };
        let asked = Measurements {
            measurements: vec![one_day; 3],
            limit_mm: 2.0,
        };
        assert_eq!(asked.calculate().unwrap_err().field, "measurements");
    }

    /// A tenth of a millimetre in a day, which is the reading of the rule, would be 3 mm a month.
    #[test]
    fn measures_that_lie_close_together_forecast_nothing_and_say_when_to_measure_again() {
        let close = forecast(&[("2025-01-01", 6.0), ("2025-01-02", 5.9)], 2.0);
        assert_eq!((close.rate_mm_per_month, close.reaches_on), (None, None));
        assert_eq!(
            close.reason.as_deref(),
            Some("the measures lie only 1 day apart: measure again on 2025-01-29 or later")
        );
        assert!(
            forecast(&[("2025-01-29", 5.9), ("2025-01-01", 6.0)], 2.0)
                .reaches_on
                .is_some()
        );
        let day = |text| Day::parse(text).unwrap();
        let said = |first, last| too_close(day(first), day(last));
        assert_eq!(
            said("2026-03-01", "2026-03-02").as_deref(),
            Some("The measures lie only 1 day apart: measure again on 29 March 2026 or later.")
        );
        assert!(
            said("2026-03-01", "2026-03-01")
                .unwrap()
                .starts_with("It was measured on one day only")
        );
        assert_eq!(said("2026-03-01", "2026-03-29"), None);
    }

    /// Closed form: 1 mm in 50 days, and the limit is 1 mm above the first measure: it was reached 50 days before.
    #[test]
    fn a_day_before_the_first_measure_is_never_told() {
        let got = forecast(&[("2025-03-01", 2.0), ("2025-04-20", 1.0)], 3.0);
        assert_eq!((got.reaches_on, got.reaches_interval), (None, None));
        assert!(got.reason.unwrap().contains("worn to the limit"));
        assert!(got.rate_mm_per_month.is_some(), "how fast it wears is known");
    }

    proptest! {
        #[test]
        fn a_thinner_limit_is_reached_later(
            off in prop::collection::vec(-0.05..0.05f64, 4..12), limit in 1.0..4.0f64, less in 0.1..1.0f64,
        ) {
            let start = Day::parse("2025-01-01").unwrap().count();
            let measurements: Vec<_> = off.iter().zip(0i64..).map(|(off, at)| Measurement {
                date: Day::counted(start + 30 * at).unwrap(),
                thickness_mm: 8.0 - 0.5 * at as f64 + off,
            }).collect();
            let at = |limit_mm| Measurements { measurements: measurements.clone(), limit_mm }.calculate().unwrap();
            let (sooner, later) = (at(limit), at(limit - less));
            prop_assert!(sooner.reaches_on.unwrap() < later.reaches_on.unwrap());
            let ([first, last], on) = (sooner.reaches_interval.unwrap(), sooner.reaches_on.unwrap());
            prop_assert!(first <= on && on <= last);
        }
    }
}
