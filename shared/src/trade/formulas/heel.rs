//! The heel's wedge, and the pitch of the shoe.
//!
//! Height is measured upright from the top back edge of the heel to the plane of its tread (ASTM F2232-14, 3.1.4), and
//! also at the breast, its front face (3.1.3). "Pitch" has several living meanings: here the wedge of a heel is
//! atan((back − breast) / length) and the pitch of a shoe atan((seat − tread) / run), both in degrees.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::{AnswerField, Calculation, Field, InvalidField};

const BACK: Field = Field::number("back_mm", "mm, height at the back", 0.5, 300.0);
const BREAST: Field = Field::number("breast_mm", "mm, height at the breast", 0.0, 300.0);
const LENGTH: Field = Field::number("length_mm", "mm, back to breast", 5.0, 250.0);

const SEAT: Field = Field::number("seat_mm", "mm, height of the heel seat", 0.0, 300.0);
const TREAD: Field = Field::number("tread_mm", "mm, height at the tread line", 0.0, 150.0);
const RUN: Field = Field::number("run_mm", "mm, level from seat to tread line", 20.0, 400.0);
const SEAT_CHANGE: Field =
    Field::number("seat_change_mm", "mm, more under the seat", -150.0, 150.0).or_none();
const TREAD_CHANGE: Field =
    Field::number("tread_change_mm", "mm, more under the tread", -150.0, 150.0).or_none();

/// A heel from the side.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Heel {
    /// The height at the back, 0.5 to 300 mm.
    pub back_mm: f64,
    /// The height at the breast, 0 to 300 mm.
    pub breast_mm: f64,
    /// The length from back to breast, 5 to 250 mm.
    pub length_mm: f64,
}

/// The wedge of a heel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Wedge {
    /// The angle of the wedge in degrees; negative if the back is lower than the breast.
    pub wedge_deg: f64,
}

impl Heel {
    /// The input fields of a heel, for groups that contain one.
    pub const FIELDS: &'static [Field] = &[BACK, BREAST, LENGTH];
}

impl Calculation for Heel {
    const NAME: &'static str = "heel";
    const TAKES: &'static [Field] = Self::FIELDS;
    const GIVES: &'static [AnswerField] = gives!["wedge_deg" "degrees"];
    type Answer = Wedge;

    fn calculate(&self) -> Result<Wedge, InvalidField> {
        let rise = BACK.check(self.back_mm)? - BREAST.check(self.breast_mm)?;
        Ok(Wedge {
            wedge_deg: rise.atan2(LENGTH.check(self.length_mm)?).to_degrees(),
        })
    }
}

/// A shoe from the side, and what is put under it.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pitch {
    /// The height of the heel seat, mm.
    pub seat_mm: f64,
    /// The height of the foot at the tread line, mm: the thickness of the sole there.
    pub tread_mm: f64,
    /// The horizontal distance from the seat to the tread line, mm.
    pub run_mm: f64,
    /// The change of height under the seat, mm; negative to lower it.
    pub seat_change_mm: Option<f64>,
    /// The change of height under the tread, mm; negative to lower it. A guard of 2 mm is 2.
    pub tread_change_mm: Option<f64>,
}

/// The pitch of a shoe.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Pitched {
    /// The pitch without the changes, degrees.
    pub pitch_deg: f64,
    /// How much the changes add to it, degrees; 0 without changes.
    pub change_deg: f64,
}

impl Calculation for Pitch {
    const NAME: &'static str = "pitch";
    const TAKES: &'static [Field] = &[SEAT, TREAD, RUN, SEAT_CHANGE, TREAD_CHANGE];
    const GIVES: &'static [AnswerField] =
        gives!["pitch_deg" "degrees, before the changes", "change_deg" "degrees, by the changes"];
    type Answer = Pitched;

    fn calculate(&self) -> Result<Pitched, InvalidField> {
        let (seat, tread) = (SEAT.check(self.seat_mm)?, TREAD.check(self.tread_mm)?);
        let run = RUN.check(self.run_mm)?;
        let more = SEAT_CHANGE.check(self.seat_change_mm.unwrap_or(0.0))?;
        let under = TREAD_CHANGE.check(self.tread_change_mm.unwrap_or(0.0))?;
        for (height, change, field) in [(seat, more, SEAT_CHANGE), (tread, under, TREAD_CHANGE)] {
            if height + change < 0.0 {
                return Err(field.refused_as("no more taken off than there is"));
            }
        }
        let degrees = |rise: f64| rise.atan2(run).to_degrees();
        let pitch_deg = degrees(seat - tread);
        Ok(Pitched {
            pitch_deg,
            change_deg: degrees(seat + more - tread - under) - pitch_deg,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn wedge(back_mm: f64, breast_mm: f64, length_mm: f64) -> f64 {
        let heel = Heel {
            back_mm,
            breast_mm,
            length_mm,
        };
        heel.calculate().unwrap().wedge_deg
    }

    fn pitched(seat_mm: f64, tread_mm: f64, run_mm: f64, seat_change_mm: f64) -> Pitched {
        let shoe = Pitch {
            seat_mm,
            tread_mm,
            run_mm,
            seat_change_mm: Some(seat_change_mm),
            tread_change_mm: None,
        };
        shoe.calculate().unwrap()
    }

    /// Closed form, atan of the ratio, calculated twice. The last four are given as a height of wear over a length.
    #[test]
    fn wedges() {
        for (back, breast, length, expected) in [
            (30.0, 26.0, 60.0, 3.8141),
            (25.4, 22.2, 58.0, 3.1579),
            (80.0, 62.0, 55.0, 18.1219),
            (23.0, 20.0, 60.0, 2.8624),
            (25.0, 20.0, 60.0, 4.7636),
            (22.0, 20.0, 45.0, 2.5448),
            (28.0, 20.0, 70.0, 6.5198),
        ] {
            assert!(
                (wedge(back, breast, length) - expected).abs() < 5e-5,
                "{back} {breast} {length}"
            );
        }
    }

    /// Closed form, as above.
    #[test]
    fn pitches_and_their_change() {
        for (seat, tread, run, expected) in [
            (30.0, 6.0, 165.0, 8.2759),
            (25.0, 5.0, 160.0, 7.1250),
            (85.0, 3.0, 140.0, 30.3581),
        ] {
            assert!(
                (pitched(seat, tread, run, 0.0).pitch_deg - expected).abs() < 5e-5,
                "{seat}"
            );
        }
        assert!((pitched(30.0, 6.0, 165.0, 4.0).change_deg - 1.3553).abs() < 5e-5);
    }

    #[test]
    fn no_more_is_taken_off_than_there_is() {
        let shoe = Pitch {
            seat_mm: 30.0,
            tread_mm: 6.0,
            run_mm: 165.0,
            seat_change_mm: None,
            tread_change_mm: Some(-7.0),
        };
        assert_eq!(shoe.calculate().unwrap_err().field, "tread_change_mm");
    }

    proptest! {
        #[test]
        fn a_higher_back_is_a_steeper_wedge(
            back in 1.0..290.0f64, breast in 0.0..300.0f64, length in 5.0..250.0f64, more in 0.01..10.0f64,
        ) {
            prop_assert!(wedge(back + more, breast, length) > wedge(back, breast, length));
        }

        /// A guard under the tread and the same under the heel cancel out.
        #[test]
        fn the_same_under_both_changes_nothing(
            seat in 0.0..100.0f64, tread in 0.0..20.0f64, run in 50.0..250.0f64, both in 0.0..10.0f64,
        ) {
            let shoe = Pitch {
                seat_mm: seat, tread_mm: tread, run_mm: run, seat_change_mm: Some(both), tread_change_mm: Some(both),
            };
            prop_assert!(shoe.calculate().unwrap().change_deg.abs() < 1e-9);
        }
    }
}
