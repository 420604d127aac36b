//! Thread for a seam, by the stitch types of ISO 4915.
//!
//! Published formulas, in inches of thread to an inch of seam, with the thickness T in inches and S stitches to the
//! inch: 101 is 3 + 2 T S, 301 is 2 + 2 T S, 401 is 4 + 2 T S. That of 301 is also plain geometry: two threads, each
//! going a pitch p along and half of T down and up at every stitch, are (2 p + 2 T) / p. A hand saddle stitch with two
//! ends lies the same way. What hand sewing leaves at its ends, an arm's length a thread, is not in it.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::{Allowed, AnswerField, Calculation, Field, InvalidField, MM_PER_INCH};

const STITCH: Field = Field::new(
    "stitch",
    "ISO 4915, or a hand saddle stitch",
    Allowed::Word(&["101", "301", "401", "saddle"]),
);
const SEAM: Field = Field::number("seam_mm", "mm", 1.0, 100_000.0);
const THICKNESS: Field = Field::number("thickness_mm", "mm, all that is sewn through", 0.05, 60.0);
const SPI: Field = Field::number("spi", "stitches to the inch", 1.0, 40.0);
const WASTE: Field = Field::number("waste", "fraction, usually 0.10 to 0.15", 0.0, 1.0);

/// The type of stitch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Stitch {
    /// One thread, chained: the usual through-stitch by machine.
    #[serde(rename = "101")]
    Chain,
    /// Two threads, locked: outsole to welt, and most uppers.
    #[serde(rename = "301")]
    Lock,
    /// Two threads, chained.
    #[serde(rename = "401")]
    DoubleChain,
    /// By hand, two ends through every hole.
    #[serde(rename = "saddle")]
    Saddle,
}

impl Stitch {
    /// The length of thread that lies along the seam, as a multiple of the length of the seam.
    fn along(self) -> f64 {
        match self {
            Stitch::Chain => 3.0,
            Stitch::Lock | Stitch::Saddle => 2.0,
            Stitch::DoubleChain => 4.0,
        }
    }
}

/// A seam to be sewn.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seam {
    /// The type of stitch.
    pub stitch: Stitch,
    /// The length of the seam, mm.
    pub seam_mm: f64,
    /// The thickness of all layers that are sewn, mm.
    pub thickness_mm: f64,
    /// Stitches per inch.
    pub spi: f64,
    /// The waste, as a fraction of the thread.
    pub waste: f64,
}

/// The thread of a seam.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Thread {
    /// The ratio of thread to seam length.
    pub ratio: f64,
    /// The length of thread in the seam, all threads together, mm.
    pub thread_mm: f64,
    /// That length with waste, mm.
    pub with_waste_mm: f64,
    /// The number of stitches, not rounded.
    pub stitches: f64,
    /// The length of one stitch, mm.
    pub pitch_mm: f64,
}

impl Calculation for Seam {
    const NAME: &'static str = "thread";
    const TAKES: &'static [Field] = &[STITCH, SEAM, THICKNESS, SPI, WASTE];
    const GIVES: &'static [AnswerField] = gives![
        "ratio" "thread to seam", "thread_mm" "mm, all threads together", "with_waste_mm" "mm",
        "stitches" "stitches, not rounded", "pitch_mm" "mm",
    ];
    type Answer = Thread;

    fn calculate(&self) -> Result<Thread, InvalidField> {
        let seam = SEAM.check(self.seam_mm)?;
        let pitch_mm = MM_PER_INCH / SPI.check(self.spi)?;
        let ratio = self.stitch.along() + 2.0 * THICKNESS.check(self.thickness_mm)? / pitch_mm;
        let thread_mm = ratio * seam;
        Ok(Thread {
            ratio,
            thread_mm,
            with_waste_mm: thread_mm * (1.0 + WASTE.check(self.waste)?),
            stitches: seam / pitch_mm,
            pitch_mm,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn thread(stitch: Stitch, seam_mm: f64, thickness_mm: f64, spi: f64) -> Thread {
        let seam = Seam {
            stitch,
            seam_mm,
            thickness_mm,
            spi,
            waste: 0.15,
        };
        seam.calculate().unwrap()
    }

    /// The first two with their results, and the inputs of the third, are the published examples of the formulas (two
    /// public pages on sewing thread consumption); its result is closed form.
    #[test]
    fn published_examples() {
        for (stitch, inches, spi, ratio) in [
            (Stitch::Lock, 0.01, 10.0, 2.2),
            (Stitch::Chain, 0.005, 9.0, 3.09),
            (Stitch::DoubleChain, 0.015, 15.0, 4.45),
        ] {
            let got = thread(stitch, 100.0, inches * MM_PER_INCH, spi).ratio;
            assert!((got - ratio).abs() < 1e-12, "{stitch:?} {got}");
        }
    }

    /// Closed form from the formulas above: a welt seam and a through-stitch.
    #[test]
    fn a_welt_seam_and_a_through_stitch() {
        let welt = thread(Stitch::Lock, 560.0, 10.0, 8.0);
        assert!((welt.ratio - 8.299_213).abs() < 5e-7);
        assert!((welt.thread_mm - 4647.56).abs() < 5e-3 && (welt.with_waste_mm - 5344.69).abs() < 5e-3);
        assert!((welt.stitches - 176.38).abs() < 5e-3 && (welt.pitch_mm - 3.175).abs() < 1e-12);
        let through = thread(Stitch::Chain, 520.0, 11.0, 5.0);
        assert!((through.ratio - 7.330_709).abs() < 5e-7);
        assert!((through.thread_mm - 3811.97).abs() < 5e-3 && (through.with_waste_mm - 4383.76).abs() < 5e-3);
    }

    proptest! {
        /// The geometry of a lockstitch, calculated from its parts.
        #[test]
        fn a_lockstitch_is_its_geometry(thick in 0.5..20.0f64, spi in 2.0..18.0f64, seam in 10.0..900.0f64) {
            let got = thread(Stitch::Lock, seam, thick, spi);
            let each_stitch = 2.0 * (got.pitch_mm + thick);
            prop_assert!((got.thread_mm - got.stitches * each_stitch).abs() < 1e-8);
            prop_assert_eq!(thread(Stitch::Saddle, seam, thick, spi), got);
        }

        #[test]
        fn thicker_longer_and_closer_take_more(thick in 0.5..20.0f64, spi in 2.0..18.0f64, seam in 10.0..900.0f64) {
            let least = thread(Stitch::Chain, seam, thick, spi).thread_mm;
            prop_assert!(thread(Stitch::Chain, seam, thick + 0.1, spi).thread_mm > least);
            prop_assert!(thread(Stitch::Chain, seam, thick, spi + 0.1).thread_mm > least);
            prop_assert!(thread(Stitch::Chain, seam + 1.0, thick, spi).thread_mm > least);
        }
    }
}
