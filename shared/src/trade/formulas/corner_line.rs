//! The slanted line of a combination top piece: rubber at the worn corner, leather in the rest.
//!
//! Rubber outlasts leather at the corner, since it takes up no water. The facet is a plane, so all spots worn equally
//! deep lie on a straight line: the line asked for is where the wear is exactly `keep_mm` deep.
//!
//! Heights are taken from the unworn face, so worn is negative. Heights of which none is negative and some are not 0
//! were typed as depths, and are refused.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::facet::facet;
use super::outline::{Outline, between};
use super::{Allowed, AnswerField, Calculation, Field, InvalidField, Point};

const OUTLINE: Field = Field::new(
    "outline_mm",
    "mm, convex, x along the breast",
    Allowed::Points(3, 2_000, 2, 1_000.0),
);
const FACET: Field = Field::new(
    "facet_mm",
    "mm, height from the unworn face; not in one line seen from above",
    Allowed::Points(3, 3, 3, 1_000.0),
);
const KEEP: Field = Field::number("keep_mm", "mm of wear that leather may keep", 0.0, 50.0);

/// A worn heel that is given a combination top piece.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CornerLine {
    /// Outline of the heel, convex, mm; x along the breast.
    pub outline_mm: Vec<Point>,
    /// Three points `[x, y, height]` on the worn facet, mm, height from the unworn face.
    pub facet_mm: Vec<[f64; 3]>,
    /// The depth of wear that leather may take, mm.
    pub keep_mm: f64,
}

/// Where rubber and leather meet, and their areas.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Parted {
    /// Both ends of the line on the outline, mm, from left to right; `None` when the heel is all rubber or all leather.
    pub ends_mm: Option<[Point; 2]>,
    /// The area of rubber, mm².
    pub rubber_mm2: f64,
    /// The area of leather, mm².
    pub leather_mm2: f64,
    /// The angle between the line and the breast, degrees, 0 to 90; `None` without a line.
    pub angle_deg: Option<f64>,
}

impl Calculation for CornerLine {
    const NAME: &'static str = "corner_line";
    const TAKES: &'static [Field] = &[OUTLINE, FACET, KEEP];
    const GIVES: &'static [AnswerField] = gives![
        "ends_mm" "two points [x, y] in mm, or null when it is all rubber or all leather", "rubber_mm2" "mm2",
        "leather_mm2" "mm2", "angle_deg" "degrees to the breast (x), 0 to 90, or null",
    ];
    type Answer = Parted;

    fn calculate(&self) -> Result<Parted, InvalidField> {
        let outline = Outline::convex(&OUTLINE, &self.outline_mm)?;
        let facet = facet(&FACET, &self.facet_mm)?;
        refuse_depths(&self.facet_mm)?;
        let keep = KEEP.check(self.keep_mm)?;
        let too_deep = |point: Point| -facet.height(point) - keep;
        let rubber_mm2 = outline.clipped(too_deep).area();
        let ends_mm = ends(&outline, too_deep);
        Ok(Parted {
            ends_mm,
            rubber_mm2,
            leather_mm2: outline.area() - rubber_mm2,
            angle_deg: ends_mm.map(|_| facet.slope_x.abs().atan2(facet.slope_y.abs()).to_degrees()),
        })
    }
}

/// Refuses points that all lie on the unworn face or above it, as no worn spot does: their depths were typed.
fn refuse_depths(points: &[[f64; 3]]) -> Result<(), InvalidField> {
    let highest = points.iter().map(|[_, _, height]| *height).fold(0.0, f64::max);
    if highest > 0.0 && points.iter().all(|[_, _, height]| *height >= 0.0) {
        return Err(FACET.refused_as(format!(
            "worn is below the unworn face, so its height is negative: \
             type -{highest}, not {highest}, where {highest} mm are worn away"
        )));
    }
    Ok(())
}

/// Where the line `value` = 0 enters and leaves a convex outline; `None` if it only touches or misses it.
fn ends(outline: &Outline, value: impl Fn(Point) -> f64) -> Option<[Point; 2]> {
    let crossings: Vec<_> = outline
        .edges()
        .filter_map(|(a, b)| {
            let (at_a, at_b) = (value(a), value(b));
            ((at_a > 0.0) != (at_b > 0.0)).then(|| between(a, b, at_a / (at_a - at_b)))
        })
        .collect();
    let [one, other] = *<&[Point; 2]>::try_from(crossings.as_slice()).ok()?;
    Some(if one <= other { [one, other] } else { [other, one] })
}

#[cfg(test)]
mod tests {
    use super::super::outline::tests::{FIELD, heel};
    use super::*;
    use proptest::prelude::*;

    fn parted(outline_mm: Vec<Point>, facet_mm: [[f64; 3]; 3], keep_mm: f64) -> Parted {
        let asked = CornerLine {
            outline_mm,
            facet_mm: facet_mm.to_vec(),
            keep_mm,
        };
        asked.calculate().unwrap()
    }

    /// Closed form: a square heel of 60, worn 6 mm at one back corner and nothing 60 mm along either side. At 3 mm the
    /// line runs through both sides' middles and cuts off half of 30 · 30.
    #[test]
    fn a_square_heel() {
        let square = vec![[0.0, 0.0], [60.0, 0.0], [60.0, 60.0], [0.0, 60.0]];
        let facet = [[0.0, 0.0, -6.0], [60.0, 0.0, 0.0], [0.0, 60.0, 0.0]];
        let got = parted(square.clone(), facet, 3.0);
        assert_eq!(got.ends_mm, Some([[0.0, 30.0], [30.0, 0.0]]));
        assert!((got.rubber_mm2 - 450.0).abs() < 1e-9 && (got.leather_mm2 - 3150.0).abs() < 1e-9);
        assert!((got.angle_deg.unwrap() - 45.0).abs() < 1e-9);
        let all_leather = parted(square, facet, 7.0);
        assert_eq!(
            (all_leather.ends_mm, all_leather.rubber_mm2, all_leather.angle_deg),
            (None, 0.0, None)
        );
    }

    #[test]
    fn depths_in_place_of_heights_are_refused_with_what_to_type() {
        let wrong = CornerLine {
            outline_mm: vec![[0.0, 0.0], [60.0, 0.0], [60.0, 60.0], [0.0, 60.0]],
            facet_mm: vec![[0.0, 0.0, 6.0], [60.0, 0.0, 0.0], [0.0, 60.0, 0.0]],
            keep_mm: 3.0,
        };
        let refused = wrong.calculate().unwrap_err();
        assert_eq!(refused.field, "facet_mm");
        assert!(refused.allowed.contains("type -6, not 6"), "{refused}");
        let unworn = CornerLine {
            facet_mm: vec![[0.0, 0.0, 0.0], [60.0, 0.0, 0.0], [0.0, 60.0, 0.0]],
            ..wrong
        };
        assert_eq!(
            unworn.calculate().unwrap().rubber_mm2,
            0.0,
            "nothing worn is all leather"
        );
    }

    prop_compose! {
        /// A facet that slopes down to one of the back corners.
        fn worn()(deep in 2.0..12.0f64, across in 0.02..0.2f64, along in 0.02..0.2f64) -> [[f64; 3]; 3] {
            [[0.0, 0.0, -deep], [10.0, 0.0, 10.0 * across - deep], [0.0, 10.0, 10.0 * along - deep]]
        }
    }

    proptest! {
        /// Every point that is worn deeper is on the rubber side, and no other point is.
        #[test]
        fn it_covers_what_it_must_and_nothing_it_need_not(
            wide in 45.0..75.0f64, long in 76.0..90.0f64, facet_mm in worn(), keep in 0.0..6.0f64,
            spots in prop::collection::vec([0.0..1.0f64, 0.0..1.0], 40),
        ) {
            let points = heel(wide, long);
            let outline = Outline::convex(&FIELD, &points).unwrap();
            let got = parted(points, facet_mm, keep);
            let plane = super::super::facet::Facet::through(&facet_mm).unwrap();
            prop_assert!((got.rubber_mm2 + got.leather_mm2 - outline.area()).abs() < 1e-9);
            let Some([one, other]) = got.ends_mm else {
                let deep = outline.points().iter().filter(|p| -plane.height(**p) > keep + 1e-9).count();
                prop_assert!(deep == 0 || deep == outline.points().len());
                return Ok(());
            };
            let side = |p: Point| (other[0] - one[0]) * (p[1] - one[1]) - (other[1] - one[1]) * (p[0] - one[0]);
            let rubber = side([-1e4, -1e4]).signum();
            for [x, y] in spots {
                let spot = [x * wide, y * long];
                let too_deep = -plane.height(spot) - keep;
                if too_deep.abs() > 1e-6 {
                    prop_assert_eq!(too_deep > 0.0, side(spot) * rubber > 0.0);
                }
            }
        }

        #[test]
        fn the_other_shoe_gets_the_mirrored_line(facet_mm in worn(), keep in 0.0..6.0f64) {
            let points = heel(60.0, 80.0);
            let one = parted(points.clone(), facet_mm, keep);
            let mirrored = points.iter().map(|p| [-p[0], p[1]]).collect();
            let other = parted(mirrored, facet_mm.map(|[x, y, height]| [-x, y, height]), keep);
            prop_assert!((one.rubber_mm2 - other.rubber_mm2).abs() < 1e-8);
            prop_assert_eq!(one.ends_mm.is_some(), other.ends_mm.is_some());
            if let (Some(here), Some(there)) = (one.ends_mm, other.ends_mm) {
                prop_assert!((here[0][0] + there[1][0]).abs() < 1e-9 && (here[0][1] - there[1][1]).abs() < 1e-9);
            }
        }

        #[test]
        fn keeping_more_never_takes_more_rubber(facet_mm in worn(), keep in 0.0..6.0f64, more in 0.0..3.0f64) {
            let area = |keep| parted(heel(60.0, 80.0), facet_mm, keep).rubber_mm2;
            prop_assert!(area(keep + more) <= area(keep) + 1e-9);
        }
    }
}
