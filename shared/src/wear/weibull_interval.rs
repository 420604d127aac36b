//! A Weibull distribution of the life, by maximum likelihood, from parts that are seen only at visits: a part was good
//! at one visit and had failed by the next, or has not failed yet.
//!
//! With z = shape · ln t − shape · ln scale, the logarithm of the likelihood is concave in those two numbers (as for
//! every location-scale distribution with a log-concave density), so Newton's method with halved steps finds its only
//! maximum.

use serde::Deserialize;

use super::weibull::{LAW, Law, SHAPES, no_best};
use super::{LONGEST, MOST, SHORTEST};
use crate::trade::formulas::{Allowed, AnswerField, Calculation, Field, InvalidField};

const STEPS: usize = 200;
/// If the expected gain of a step is less than this, the whole step is taken: the quadratic approximation is good, and
/// differences of the likelihood are lost in rounding.
const NEAR: f64 = 1e-6;
/// A step that is shorter than this relative to the position is negligible.
const ENOUGH: f64 = 1e-12;

const INTERVALS: Field = Field::new(
    "intervals",
    "[last seen good, first seen failed or null] in one unit, 0 <= the first < the second; at least one failed, and one last seen good after another was seen failed",
    Allowed::Described("a list of pairs"),
);

/// What was seen of each part.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Intervals {
    /// When it was last seen good, and when first seen failed; `None` if it has not failed.
    pub intervals: Vec<(f64, Option<f64>)>,
}

/// One part, in logarithms of time: the terms of its likelihood.
#[derive(Debug, Clone, Copy)]
struct PartLikelihood {
    good: Option<f64>,
    failed: Option<f64>,
}

/// The log-likelihood with its first and second derivatives along shape and position.
#[derive(Debug, Clone, Copy, Default)]
struct Hill {
    height: f64,
    slope: [f64; 2],
    bend: [f64; 3],
}

impl Hill {
    /// Adds the derivatives of a term in z = a · u + b, given its first and second derivative.
    fn add(&mut self, u: f64, first: f64, second: f64) {
        // A part that had long failed by then adds nothing; its second derivative would be 0 times infinity.
        if first == 0.0 {
            return;
        }
        self.slope[0] += first * u;
        self.slope[1] += first;
        self.bend[0] += second * u * u;
        self.bend[1] += second * u;
        self.bend[2] += second;
    }

    /// The Newton step, and the gain it promises; `None` where the approximation has no maximum.
    fn step(&self) -> Option<([f64; 2], f64)> {
        let [aa, ab, bb] = self.bend;
        let determinant = aa * bb - ab * ab;
        let [a, b] = self.slope;
        let step = [(ab * b - bb * a) / determinant, (ab * a - aa * b) / determinant];
        let promise = step[0] * a + step[1] * b;
        let climbs = determinant > 0.0 && aa < 0.0 && promise.is_finite();
        climbs.then_some((step, promise))
    }
}

impl PartLikelihood {
    /// Adds this part's term at shape `a` and position `b`.
    fn add(&self, hill: &mut Hill, [a, b]: [f64; 2]) {
        let gone = |u: f64| (a * u + b).exp();
        match (self.good, self.failed) {
            (Some(good), None) => {
                hill.height -= gone(good);
                hill.add(good, -gone(good), -gone(good));
            }
            (None, Some(failed)) => {
                let by = gone(failed);
                // ln(1 - e^-by) and its derivatives by z; the derivative of `by` is `by` itself.
                let odds = odds(by, by);
                hill.height += (-(-by).exp_m1()).ln();
                hill.add(failed, odds, odds * (1.0 - by - odds));
            }
            (Some(good), Some(failed)) => between(hill, (good, gone(good)), (failed, gone(failed))),
            // Nothing is known of this part.
            (None, None) => {}
        }
    }
}

/// `of` / (e^`by` − 1), which is 0 where the power overflows.
fn odds(of: f64, by: f64) -> f64 {
    let power = by.exp_m1();
    if power.is_finite() { of / power } else { 0.0 }
}

/// Adds a part that failed between two times: ln(e^-x − e^-y), with x and y the cumulative hazards at these times.
fn between(hill: &mut Hill, (good, x): (f64, f64), (failed, y): (f64, f64)) {
    let apart = y - x;
    let share = -(-apart).exp_m1();
    hill.height += share.ln() - x;
    let (of_good, of_failed) = (x / share, odds(y, apart));
    hill.add(good, -of_good, -of_good * (1.0 - x) - of_good * of_good);
    hill.add(failed, of_failed, of_failed * (1.0 - y) - of_failed * of_failed);
    let both = of_good * of_failed;
    hill.bend[0] += 2.0 * both * good * failed;
    hill.bend[1] += both * (good + failed);
    hill.bend[2] += 2.0 * both;
}

fn hill(seen: &[PartLikelihood], at: [f64; 2]) -> Hill {
    seen.iter().fold(Hill::default(), |mut hill, one| {
        one.add(&mut hill, at);
        hill
    })
}

/// Finds the maximum; `None` if there is none at a shape inside [`SHAPES`](super::weibull).
fn climb(seen: &[PartLikelihood]) -> Option<([f64; 2], f64)> {
    let mut at = [1.0, 0.0];
    for _ in 0..STEPS {
        let here = hill(seen, at);
        let (step, promise) = here.step()?;
        let there = |share: f64| [at[0] + share * step[0], at[1] + share * step[1]];
        let short = step[0].hypot(step[1]) <= ENOUGH * (1.0 + at[0].hypot(at[1]));
        if short {
            return Some((at, here.height));
        }
        let climbs = |place: &[f64; 2]| place[0] > 0.0 && hill(seen, *place).height > here.height;
        let shares = std::iter::successors(Some(1.0), |share| (*share > ENOUGH).then_some(share / 2.0));
        at = if promise < NEAR {
            there(1.0)
        } else {
            shares.map(there).find(climbs)?
        };
        if !(SHAPES.0..=SHAPES.1).contains(&at[0]) {
            return None;
        }
    }
    None
}

impl Intervals {
    /// Checks the pairs. Returns the unit in which times are counted from then on, which keeps logarithms near 0.
    fn unit(&self) -> Result<f64, InvalidField> {
        let pairs = &self.intervals;
        let sound = |(good, failed): &(f64, Option<f64>)| {
            let after = failed.is_none_or(|failed| failed > *good && (SHORTEST..=LONGEST).contains(&failed));
            (0.0..=LONGEST).contains(good) && after
        };
        let ends: Vec<f64> = pairs.iter().filter_map(|(_, failed)| *failed).collect();
        if !(1..=MOST).contains(&pairs.len()) || !pairs.iter().all(sound) || ends.is_empty() {
            return Err(INTERVALS.refused());
        }
        let first_end = ends.iter().copied().fold(f64::INFINITY, f64::min);
        let last_good = pairs.iter().fold(0.0, |most: f64, (good, _)| most.max(*good));
        if last_good <= first_end {
            return Err(no_best(&INTERVALS));
        }
        Ok((ends.iter().map(|end| end.ln()).sum::<f64>() / ends.len() as f64).exp())
    }
}

impl Calculation for Intervals {
    const NAME: &'static str = "weibull_interval";
    const TAKES: &'static [Field] = &[INTERVALS];
    const GIVES: &'static [AnswerField] = LAW;
    type Answer = Law;

    fn calculate(&self) -> Result<Law, InvalidField> {
        let unit = self.unit()?;
        let log = |time: f64| (time > 0.0).then(|| (time / unit).ln());
        let seen: Vec<_> = self
            .intervals
            .iter()
            .map(|(good, failed)| PartLikelihood {
                good: log(*good),
                failed: failed.and_then(log),
            })
            .collect();
        let ([shape, place], height) = climb(&seen).ok_or_else(|| no_best(&INTERVALS))?;
        let law = Law::new(unit * (-place / shape).exp(), shape, height);
        if law.mean.is_finite() && (SHAPES.0..=SHAPES.1).contains(&shape) {
            Ok(law)
        } else {
            Err(no_best(&INTERVALS))
        }
    }
}

#[cfg(test)]
mod tests;
