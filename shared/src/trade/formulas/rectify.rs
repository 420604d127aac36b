//! Lengths from a photograph: the four corners of something of known size, such as a card of 85.60 × 53.98 mm (ISO/IEC
//! 7810, ID-1) or a sheet of 210 × 297 mm (ISO 216, A4), determine the plane they lie in.
//!
//! The result is the projective map (homography) with eight unknowns that takes the four corners in the image to those
//! in the plane. It is solved in coordinates scaled to about one, so that the system is well conditioned. A rounded
//! corner is where its edges would meet. Only what lies in that plane is measured correctly: what is `height` nearer to
//! the lens than the plane at `distance` is measured too long by height / (distance − height).

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::linear::solve;
use super::outline::{Outline, cross, length, minus};
use super::{Allowed, AnswerField, Calculation, Field, InvalidField, Point};

/// Corners nearer to one line than this share of their distance do not determine a plane.
const IN_LINE: f64 = 1e-3;
/// A point whose depth is below this share of the depth of the corners' centre is at the horizon.
const HORIZON: f64 = 1e-6;

const IMAGE: Field = Field::new(
    "image_px",
    "pixels, in order round it, no three in a line",
    Allowed::Points(4, 4, 2, 1e6),
);
const PLANE: Field = Field::new(
    "plane_mm",
    "mm, the same corners in the same order, no three in a line",
    Allowed::Points(4, 4, 2, 1e5),
);
const POINTS: Field = Field::new(
    "points_px",
    "pixels, on the near side of the horizon",
    Allowed::Points(1, 10_000, 2, 1e6),
);
const HEIGHT: Field = Field::number(
    "height_mm",
    "mm nearer to the lens than the plane, with distance_mm",
    -5_000.0,
    5_000.0,
)
.or_none();
const DISTANCE: Field = Field::number(
    "distance_mm",
    "mm from lens to plane, more than height_mm, with it",
    1.0,
    100_000.0,
)
.or_none();

/// A projective map of a plane, row by row.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Homography(pub [[f64; 3]; 3]);

impl Homography {
    /// The map that takes four points to four others; `None` if three points of either are on one line. The last number
    /// is scaled to 1, unless the origin is on the horizon.
    pub fn between(from: &[Point; 4], to: &[Point; 4]) -> Option<Self> {
        let (near, far) = (Scaling::of(from), Scaling::of(to));
        let (mut rows, mut right) = ([[0.0; 8]; 8], [0.0; 8]);
        for at in 0..4 {
            let ([x, y], [u, v]) = (near.there(from[at]), far.there(to[at]));
            rows[2 * at] = [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y];
            rows[2 * at + 1] = [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y];
            (right[2 * at], right[2 * at + 1]) = (u, v);
        }
        let [a, b, c, d, e, f, g, h] = solve(rows, right)?;
        let scaled = [[a, b, c], [d, e, f], [g, h, 1.0]];
        Some(Self(product(far.back(), product(scaled, near.matrix()))).with_last_one())
    }

    fn with_last_one(self) -> Self {
        let last = self.0[2][2];
        let largest = self.0[2].iter().fold(0.0, |most: f64, one| most.max(one.abs()));
        // Pixels are counted in thousands, so the other numbers of the third row are small if the last is not 0.
        if last.abs() <= f64::EPSILON * largest {
            return self;
        }
        Self(self.0.map(|row| row.map(|one| one / last)))
    }

    /// The depth of a point before the lens, up to one factor for all points.
    fn depth(&self, [x, y]: Point) -> f64 {
        let [g, h, i] = self.0[2];
        g * x + h * y + i
    }

    /// The image of a point.
    pub fn map(&self, point: Point) -> Point {
        let [x, y] = point;
        let depth = self.depth(point);
        [0, 1].map(|row| {
            let [a, b, c] = self.0[row];
            (a * x + b * y + c) / depth
        })
    }
}

/// Moves points so that their centre is the origin, and scales them to a distance of about one.
struct Scaling {
    middle: Point,
    scale: f64,
}

impl Scaling {
    fn of(points: &[Point; 4]) -> Self {
        let middle = points
            .iter()
            .fold([0.0; 2], |sum, p| [sum[0] + p[0] / 4.0, sum[1] + p[1] / 4.0]);
        let away: f64 = points.iter().map(|p| length(minus(*p, middle)) / 4.0).sum();
        // Four points in one place make the system singular, which is found when it is solved.
        let scale = if away > 0.0 { 1.0 / away } else { 1.0 };
        Self { middle, scale }
    }

    fn there(&self, point: Point) -> Point {
        minus(point, self.middle).map(|one| one * self.scale)
    }

    fn matrix(&self) -> [[f64; 3]; 3] {
        let (s, [x, y]) = (self.scale, self.middle);
        [[s, 0.0, -s * x], [0.0, s, -s * y], [0.0, 0.0, 1.0]]
    }

    fn back(&self) -> [[f64; 3]; 3] {
        let (s, [x, y]) = (self.scale.recip(), self.middle);
        [[s, 0.0, x], [0.0, s, y], [0.0, 0.0, 1.0]]
    }
}

fn product(a: [[f64; 3]; 3], b: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    a.map(|row| [0, 1, 2].map(|column| (0..3).map(|at| row[at] * b[at][column]).sum()))
}

/// Four corners in order round a convex figure, no three on a line.
fn corners(field: &Field, points: &[Point]) -> Result<[Point; 4], InvalidField> {
    let four = <[Point; 4]>::try_from(field.check_points(points)?).map_err(|_| field.refused())?;
    let in_line = (0..4).any(|at| {
        let [a, b, c] = [0, 1, 2].map(|next| four[(at + next) % 4]);
        let (along, on) = (minus(b, a), minus(c, b));
        cross(along, on).abs() <= IN_LINE * length(along) * length(on)
    });
    if in_line {
        return Err(field.refused());
    }
    Outline::convex(field, &four)?;
    Ok(four)
}

/// The corners of something of known size in a photograph, and the points to be measured.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Photograph {
    /// The four corners in the image, in order round the figure, pixels.
    pub image_px: Vec<Point>,
    /// The same corners in the plane, mm.
    pub plane_mm: Vec<Point>,
    /// The points to be measured, pixels.
    pub points_px: Vec<Point>,
    /// How much nearer to the lens than the plane the measured points are, mm.
    pub height_mm: Option<f64>,
    /// The distance from the lens to the plane, mm.
    pub distance_mm: Option<f64>,
}

/// The measured points and distances.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasuredLength {
    /// The points in the plane, mm.
    pub points_mm: Vec<Point>,
    /// The distance from each point to the next, mm.
    pub distances_mm: Vec<f64>,
    /// The map from pixels to mm, row by row, with the last number 1.
    pub matrix: Homography,
    /// How much too long the distances of nearer points are measured, in per cent; `None` unless height and distance
    /// are given.
    pub error_percent: Option<f64>,
}

impl Photograph {
    fn error_percent(&self) -> Result<Option<f64>, InvalidField> {
        match (self.height_mm, self.distance_mm) {
            (None, None) => Ok(None),
            (None, Some(_)) => Err(HEIGHT.refused()),
            (Some(_), None) => Err(DISTANCE.refused()),
            (Some(height), Some(distance)) => {
                let (height, distance) = (HEIGHT.check(height)?, DISTANCE.check(distance)?);
                if distance <= height {
                    return Err(DISTANCE.refused());
                }
                Ok(Some(100.0 * height / (distance - height)))
            }
        }
    }
}

impl Calculation for Photograph {
    const NAME: &'static str = "rectify";
    const TAKES: &'static [Field] = &[IMAGE, PLANE, POINTS, HEIGHT, DISTANCE];
    const GIVES: &'static [AnswerField] = gives![
        "points_mm" "[x, y] in mm", "distances_mm" "mm, from each point to the next",
        "matrix" "three rows of three, pixels to mm, the last number 1",
        "error_percent" "per cent too long for what lies nearer, or null",
    ];
    type Answer = MeasuredLength;

    fn calculate(&self) -> Result<MeasuredLength, InvalidField> {
        let (image, plane) = (corners(&IMAGE, &self.image_px)?, corners(&PLANE, &self.plane_mm)?);
        let matrix = Homography::between(&image, &plane).ok_or_else(|| IMAGE.refused())?;
        let middle = matrix.depth(Outline::convex(&IMAGE, &image)?.centroid());
        let points = POINTS.check_points(&self.points_px)?;
        if points
            .iter()
            .any(|point| matrix.depth(*point) / middle <= HORIZON)
        {
            return Err(POINTS.refused());
        }
        let points_mm: Vec<_> = points.iter().map(|point| matrix.map(*point)).collect();
        Ok(MeasuredLength {
            distances_mm: points_mm
                .windows(2)
                .map(|two| length(minus(two[1], two[0])))
                .collect(),
            points_mm,
            matrix,
            error_percent: self.error_percent()?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const CARD: [Point; 4] = [[0.0, 0.0], [85.6, 0.0], [85.6, 53.98], [0.0, 53.98]];
    const SEEN: [Point; 4] = [[220.0, 180.0], [1010.0, 205.0], [1035.0, 712.0], [190.0, 690.0]];

    fn photograph(image: &[Point], plane: &[Point], points: &[Point]) -> Photograph {
        Photograph {
            image_px: image.to_vec(),
            plane_mm: plane.to_vec(),
            points_px: points.to_vec(),
            height_mm: None,
            distance_mm: None,
        }
    }

    /// `getPerspectiveTransform` of `OpenCV` 5.0 and a float64 direct linear transform agree on both.
    #[test]
    fn as_opencv_maps_it() {
        let square = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let spread = [[0.0, 0.0], [2.0, 0.0], [3.0, 3.0], [0.0, 2.0]];
        let exact = [[1.5, 0.0, 0.0], [0.0, 1.5, 0.0], [-0.25, -0.25, 1.0]];
        let card = [
            [0.109_531_267_250, 0.006_443_015_721, -25.256_621_624_754],
            [-0.003_654_279_189, 0.115_475_222_387, -19.981_598_608_007],
            [-0.000_015_623_616, 0.000_139_134_482, 1.0],
        ];
        for (from, to, expected) in [(square, spread, exact), (SEEN, CARD, card)] {
            let Homography(got) = Homography::between(&from, &to).unwrap();
            for (got, expected) in got.as_flattened().iter().zip(expected.as_flattened()) {
                assert!((got - expected).abs() < 1e-10, "{got} {expected}");
            }
        }
    }

    /// As above: one length near the card, one far from it.
    #[test]
    fn lengths_by_a_card() {
        let points = [[1400.0, 300.0], [1500.0, 900.0], [300.0, 300.0], [900.0, 600.0]];
        let measured = photograph(&SEEN, &CARD, &points).calculate().unwrap();
        assert!((measured.distances_mm[0] - 61.984_231).abs() < 1e-5);
        assert!((measured.distances_mm[2] - 69.739_395).abs() < 1e-5);
        assert_eq!((measured.distances_mm.len(), measured.error_percent), (3, None));
    }

    /// Closed form: 25 of 400 − 25, 25 of 1000 − 25, 5 of 400 − 5.
    #[test]
    fn what_lies_nearer_comes_out_longer() {
        for (height, distance, percent) in [(25.0, 400.0, 6.67), (25.0, 1000.0, 2.56), (5.0, 400.0, 1.27)] {
            let asked = Photograph {
                height_mm: Some(height),
                distance_mm: Some(distance),
                ..photograph(&SEEN, &CARD, &SEEN)
            };
            assert!((asked.calculate().unwrap().error_percent.unwrap() - percent).abs() < 5e-3);
        }
        let behind = Photograph {
            height_mm: Some(400.0),
            distance_mm: Some(400.0),
            ..photograph(&SEEN, &CARD, &SEEN)
        };
        assert_eq!(behind.calculate().unwrap_err().field, "distance_mm");
    }

    #[test]
    fn corners_that_give_no_plane_are_refused() {
        let in_line = [[0.0, 0.0], [10.0, 0.0], [20.0, 0.0], [0.0, 10.0]];
        let all_in_line = [[0.0, 0.0], [10.0, 10.0], [20.0, 20.0], [30.0, 30.0]];
        let crossed = [[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]];
        let hollow = [[0.0, 0.0], [10.0, 0.0], [3.0, 3.0], [0.0, 10.0]];
        let twice = [[0.0, 0.0], [10.0, 0.0], [10.0, 0.0], [0.0, 10.0]];
        for four in [in_line, all_in_line, crossed, hollow, twice] {
            assert_eq!(
                photograph(&four, &CARD, &SEEN).calculate().unwrap_err().field,
                "image_px"
            );
            assert_eq!(
                photograph(&SEEN, &four, &SEEN).calculate().unwrap_err().field,
                "plane_mm"
            );
        }
    }

    /// The spread square's horizon is where x + y = 4.
    #[test]
    fn nothing_is_measured_beyond_the_horizon() {
        let square = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let spread = [[0.0, 0.0], [2.0, 0.0], [3.0, 3.0], [0.0, 2.0]];
        for point in [[2.0, 2.0], [5.0, 5.0]] {
            let beyond = photograph(&square, &spread, &[point]).calculate();
            assert_eq!(beyond.unwrap_err().field, "points_px", "{point:?}");
        }
    }

    proptest! {
        #[test]
        fn corners_come_to_lie_on_corners_and_back(
            moved in prop::array::uniform4([-60.0..60.0f64, -60.0..60.0]),
        ) {
            let mut seen = SEEN;
            for (corner, by) in seen.iter_mut().zip(moved) {
                *corner = [corner[0] + by[0], corner[1] + by[1]];
            }
            let there = Homography::between(&seen, &CARD).unwrap();
            let back = Homography::between(&CARD, &seen).unwrap();
            for (corner, expected) in seen.into_iter().zip(CARD) {
                prop_assert!(length(minus(there.map(corner), expected)) < 1e-8);
                prop_assert!(length(minus(back.map(there.map(corner)), corner)) < 1e-7);
            }
        }
    }
}
