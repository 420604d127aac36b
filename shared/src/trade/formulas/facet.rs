//! The worn facet of a heel, as the plane through three points measured on it.
//!
//! Heels wear as a facet at the back corner, not as one plane over the whole heel. Heights are taken from the unworn
//! face: 0 where nothing is gone, −3 where 3 mm are.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::{Allowed, AnswerField, Calculation, Field, InvalidField, Point};

/// Three points that are nearer to one line than this share of their distance do not determine a plane.
const IN_LINE: f64 = 1e-3;

const POINTS: Field = Field::new(
    "points_mm",
    "mm, height from the unworn face; not in one line seen from above",
    Allowed::Points(3, 3, 3, 1_000.0),
);

/// A plane over the heel: height = `at_origin` + `slope_x` · x + `slope_y` · y, all in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facet {
    /// Height above the origin, mm.
    pub at_origin: f64,
    /// Slope along x, mm per mm.
    pub slope_x: f64,
    /// Slope along y, mm per mm.
    pub slope_y: f64,
}

impl Facet {
    /// The plane through three points `[x, y, height]` in mm; `None` if they lie in one line seen from above.
    pub fn through(points: &[[f64; 3]; 3]) -> Option<Self> {
        let [[x, y, height], b, c] = *points;
        let (b, c) = (
            [b[0] - x, b[1] - y, b[2] - height],
            [c[0] - x, c[1] - y, c[2] - height],
        );
        let twice_area = b[0] * c[1] - b[1] * c[0];
        let longest = [b, c, [b[0] - c[0], b[1] - c[1], 0.0]]
            .iter()
            .map(|side| side[0].hypot(side[1]))
            .fold(0.0, f64::max);
        if twice_area.abs() <= IN_LINE * longest * longest {
            return None;
        }
        let slope_x = (b[2] * c[1] - b[1] * c[2]) / twice_area;
        let slope_y = (b[0] * c[2] - b[2] * c[0]) / twice_area;
        Some(Self {
            at_origin: height - slope_x * x - slope_y * y,
            slope_x,
            slope_y,
        })
    }

    /// Its height at a point, in mm from the unworn face.
    pub fn height(&self, [x, y]: Point) -> f64 {
        self.at_origin + self.slope_x * x + self.slope_y * y
    }
}

/// Reads the facet of a field of three points.
pub(super) fn facet(field: &Field, points: &[[f64; 3]]) -> Result<Facet, InvalidField> {
    let points = field.check_points(points)?;
    <&[[f64; 3]; 3]>::try_from(points)
        .ok()
        .and_then(Facet::through)
        .ok_or_else(|| field.refused())
}

/// Three points on a worn facet.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WearPlane {
    /// Three points `[x, y, height]`, mm.
    pub points_mm: Vec<[f64; 3]>,
}

/// The tilt of a facet.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Tilt {
    /// The angle between the facet and the unworn face, degrees, 0 to 90.
    pub tilt_deg: f64,
    /// Slope along x, mm per mm.
    pub slope_x: f64,
    /// Slope along y, mm per mm.
    pub slope_y: f64,
    /// The direction in which it rises most, in degrees from x towards y, −180 to 180; the wear is in the opposite
    /// direction. 0 for a level facet.
    pub steepest_deg: f64,
}

impl Calculation for WearPlane {
    const NAME: &'static str = "wear_plane";
    const TAKES: &'static [Field] = &[POINTS];
    const GIVES: &'static [AnswerField] = gives![
        "tilt_deg" "degrees from the unworn face", "slope_x" "mm a mm", "slope_y" "mm a mm",
        "steepest_deg" "degrees from x towards y, the direction of steepest rise",
    ];
    type Answer = Tilt;

    fn calculate(&self) -> Result<Tilt, InvalidField> {
        let Facet { slope_x, slope_y, .. } = facet(&POINTS, &self.points_mm)?;
        Ok(Tilt {
            tilt_deg: slope_x.hypot(slope_y).atan().to_degrees(),
            slope_x,
            slope_y,
            steepest_deg: slope_y.atan2(slope_x).to_degrees(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn tilt(points_mm: [[f64; 3]; 3]) -> Tilt {
        WearPlane {
            points_mm: points_mm.to_vec(),
        }
        .calculate()
        .unwrap()
    }

    /// Closed form, atan of the slope: worn 3 over 60, 5 over 60, 2 over 45, 8 over 70, all along y.
    #[test]
    fn wear_along_the_heel() {
        for (worn, over, degrees, slope) in [
            (3.0, 60.0, 2.8624, 0.05),
            (5.0, 60.0, 4.7636, 0.0833),
            (2.0, 45.0, 2.5448, 0.0444),
            (8.0, 70.0, 6.5198, 0.1143),
        ] {
            let got = tilt([[0.0, 0.0, -worn], [50.0, 0.0, -worn], [10.0, over, 0.0]]);
            assert!(
                (got.tilt_deg - degrees).abs() < 5e-5,
                "{worn} over {over}: {got:?}"
            );
            assert!((got.slope_y - slope).abs() < 5e-5 && got.slope_x.abs() < 1e-15);
            assert!((got.steepest_deg - 90.0).abs() < 1e-9, "it rises to the front");
        }
    }

    #[test]
    fn three_points_in_a_line_are_no_facet() {
        for points_mm in [
            [[0.0, 0.0, -3.0], [10.0, 10.0, -2.0], [20.0, 20.0, 0.0]],
            [[5.0, 5.0, -3.0], [5.0, 5.0, -2.0], [20.0, 0.0, 0.0]],
            [[5.0, 5.0, 0.0]; 3],
        ] {
            let wrong = WearPlane {
                points_mm: points_mm.to_vec(),
            };
            assert_eq!(wrong.calculate().unwrap_err().field, "points_mm");
        }
    }

    proptest! {
        #[test]
        fn the_plane_of_three_of_its_points_is_itself(
            at_origin in -5.0..0.0f64, slope_x in -0.3..0.3f64, slope_y in -0.3..0.3f64,
            (x, y) in (-40.0..40.0f64, -40.0..40.0f64),
        ) {
            let plane = Facet { at_origin, slope_x, slope_y };
            let on = |x: f64, y: f64| [x, y, plane.height([x, y])];
            let points = [on(x, y), on(x + 20.0, y + 3.0), on(x - 4.0, y + 25.0)];
            let again = Facet::through(&points).unwrap();
            prop_assert!((again.slope_x - slope_x).abs() < 1e-12 && (again.slope_y - slope_y).abs() < 1e-12);
            prop_assert!((again.height([7.0, -9.0]) - plane.height([7.0, -9.0])).abs() < 1e-9);
            let mirrored = tilt(points.map(|[x, y, height]| [-x, y, height]));
            let straight = tilt(points);
            prop_assert!((mirrored.tilt_deg - straight.tilt_deg).abs() < 1e-9);
            prop_assert!((mirrored.slope_x + straight.slope_x).abs() < 1e-12);
        }
    }
}
