//! Closed outlines: soles, top pieces, heels seen from above.

use super::{Field, InvalidField, Point};

/// Shares of a length below this are rounding errors.
const NOTHING: f64 = 1e-9;

/// A closed outline that does not cross itself, in mm, in the order it was given.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline(Vec<Point>);

impl Outline {
    /// Reads an outline. The last point is joined to the first, whether or not the first is repeated at the end; a
    /// point that is given twice in a row counts once.
    ///
    /// # Errors
    /// The field, if the points are not allowed, cross, touch or go back on themselves, or enclose no area.
    pub fn simple(field: &Field, points: &[Point]) -> Result<Self, InvalidField> {
        let mut corners = field.check_points(points)?.to_vec();
        corners.dedup();
        if corners.len() > 1 && corners.first() == corners.last() {
            corners.pop();
        }
        let outline = Self(corners);
        let around = outline.perimeter();
        let encloses = outline.area() > NOTHING * around * around;
        if outline.0.len() < 3 || !encloses || outline.crosses_itself() {
            return Err(field.refused_as(
                "an outline of at least 3 points that encloses something and does not cross itself",
            ));
        }
        Ok(outline)
    }

    /// Reads a convex outline.
    ///
    /// # Errors
    /// As [`Outline::simple`], and the field if the outline is not convex.
    pub fn convex(field: &Field, points: &[Point]) -> Result<Self, InvalidField> {
        let outline = Self::simple(field, points)?;
        let turns = outline.signed_area().signum();
        let hollow = outline.corners().any(|[a, b, c]| {
            let (along, on) = (minus(b, a), minus(c, b));
            turns * cross(along, on) < -NOTHING * length(along) * length(on)
        });
        if hollow {
            return Err(field.refused_as("a convex outline: nowhere hollow"));
        }
        Ok(outline)
    }

    /// Its points.
    pub fn points(&self) -> &[Point] {
        &self.0
    }

    /// Each edge, from one point to the next.
    pub fn edges(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let next = self.0.iter().cycle().skip(1);
        self.0.iter().copied().zip(next.copied())
    }

    fn corners(&self) -> impl Iterator<Item = [Point; 3]> + '_ {
        let after = self.0.iter().cycle().skip(2);
        self.edges().zip(after).map(|((a, b), c)| [a, b, *c])
    }

    /// Its area in mm²: positive if it runs from x towards y, otherwise negative (shoelace formula).
    pub fn signed_area(&self) -> f64 {
        let Some(origin) = self.0.first() else { return 0.0 };
        let twice: f64 = self
            .edges()
            .map(|(a, b)| cross(minus(a, *origin), minus(b, *origin)))
            .sum();
        twice / 2.0
    }

    /// Area, mm².
    pub fn area(&self) -> f64 {
        self.signed_area().abs()
    }

    /// Its perimeter, mm.
    pub fn perimeter(&self) -> f64 {
        self.edges().map(|(a, b)| length(minus(b, a))).sum()
    }

    /// Centroid of its area, mm.
    pub fn centroid(&self) -> Point {
        let Some(&origin) = self.0.first() else {
            return [0.0; 2];
        };
        let mut sum = [0.0; 2];
        for (a, b) in self.edges() {
            let (a, b) = (minus(a, origin), minus(b, origin));
            let twice = cross(a, b);
            sum = [sum[0] + twice * (a[0] + b[0]), sum[1] + twice * (a[1] + b[1])];
        }
        let six = 6.0 * self.signed_area();
        [origin[0] + sum[0] / six, origin[1] + sum[1] / six]
    }

    /// The part in which `value`, a linear function of the point, is not negative; empty if it is negative everywhere.
    /// For a convex outline it is one convex piece.
    #[must_use]
    pub fn clipped(&self, value: impl Fn(Point) -> f64) -> Self {
        let mut kept = Vec::with_capacity(self.0.len() + 2);
        for (a, b) in self.edges() {
            let (at_a, at_b) = (value(a), value(b));
            if at_a >= 0.0 {
                kept.push(a);
            }
            if (at_a > 0.0 && at_b < 0.0) || (at_a < 0.0 && at_b > 0.0) {
                kept.push(between(a, b, at_a / (at_a - at_b)));
            }
        }
        Self(kept)
    }

    /// A convex outline with every edge moved inwards by `inset` mm; empty if nothing is left.
    #[must_use]
    pub fn drawn_in(&self, inset: f64) -> Self {
        let turns = self.signed_area().signum();
        self.edges().fold(self.clone(), |left, (a, b)| {
            let along = minus(b, a);
            let inside = move |point| turns * cross(along, minus(point, a)) / length(along) - inset;
            left.clipped(inside)
        })
    }

    /// `count` points evenly spaced along it, beginning with its point nearest to `near`.
    pub fn evenly(&self, count: usize, near: Point) -> Vec<Point> {
        let around = self.perimeter();
        let start = self.place_nearest(near);
        let step = around / count as f64;
        (0..count)
            .map(|at| self.at((start + at as f64 * step) % around))
            .collect()
    }

    /// The distance along it from its first point to its point nearest to `near`, mm.
    fn place_nearest(&self, near: Point) -> f64 {
        let (mut gone, mut best) = (0.0, (f64::INFINITY, 0.0));
        for (a, b) in self.edges() {
            let along = minus(b, a);
            let share = (dot(minus(near, a), along) / dot(along, along)).clamp(0.0, 1.0);
            let away = length(minus(near, between(a, b, share)));
            if away < best.0 {
                best = (away, gone + share * length(along));
            }
            gone += length(along);
        }
        best.1
    }

    /// The point at this distance along it from its first point.
    fn at(&self, place: f64) -> Point {
        let mut left = place;
        for (a, b) in self.edges() {
            let edge = length(minus(b, a));
            if left <= edge && edge > 0.0 {
                return between(a, b, left / edge);
            }
            left -= edge;
        }
        self.0.first().copied().unwrap_or_default()
    }

    fn crosses_itself(&self) -> bool {
        let edges: Vec<_> = self.edges().collect();
        let runs_back = self.corners().any(|[a, b, c]| {
            let (along, on) = (minus(b, a), minus(c, b));
            cross(along, on).abs() <= NOTHING * length(along) * length(on) && dot(along, on) < 0.0
        });
        runs_back
            || (0..edges.len()).any(|at| {
                // Neighbours share a point; the first and the last edge are neighbours too.
                let last = edges.len() - usize::from(at == 0);
                (at + 2..last).any(|other| meet(edges[at], edges[other]))
            })
    }
}

/// Whether two edges have a point in common.
fn meet((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |from: Point, to: Point, point: Point| cross(minus(to, from), minus(point, from));
    let (of_c, of_d) = (side(a, b, c), side(a, b, d));
    let (of_a, of_b) = (side(c, d, a), side(c, d, b));
    let apart = |one: f64, other: f64| (one > 0.0 && other > 0.0) || (one < 0.0 && other < 0.0);
    if apart(of_c, of_d) || apart(of_a, of_b) {
        return false;
    }
    // Edges on one line meet only if they overlap; otherwise each must reach the other.
    (0..2).all(|axis| {
        let (low, high) = (a[axis].min(b[axis]), a[axis].max(b[axis]));
        c[axis].min(d[axis]) <= high && c[axis].max(d[axis]) >= low
    })
}

pub(super) fn minus(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

pub(super) fn cross(a: Point, b: Point) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

pub(super) fn length(a: Point) -> f64 {
    a[0].hypot(a[1])
}

pub(super) fn between(a: Point, b: Point, share: f64) -> Point {
    [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::Allowed;
    use super::*;
    use proptest::prelude::*;

    pub(in super::super) const FIELD: Field =
        Field::new("outline_mm", "mm", Allowed::Points(3, 2_000, 2, 1_000.0));

    /// A heel: straight at the breast, semicircular at the back.
    pub(in super::super) fn heel(wide: f64, long: f64) -> Vec<Point> {
        let half = wide / 2.0;
        let back = (0..=12).map(|at| {
            let turn = std::f64::consts::PI * (1.0 + f64::from(at) / 12.0);
            [half + half * turn.cos(), half + half * turn.sin()]
        });
        back.chain([[wide, long], [0.0, long]]).collect()
    }

    #[test]
    fn what_is_no_outline_is_refused() {
        let wrong: [&[Point]; 6] = [
            &[],
            &[[0.0, 0.0], [1.0, 0.0]],
            &[[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]],
            // A bow tie.
            &[[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 9.0]],
            // A spike, there and back.
            &[[0.0, 0.0], [10.0, 0.0], [20.0, 0.0], [10.0, 0.0], [10.0, 10.0]],
            // A corner that touches the other side.
            &[[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [5.0, 0.0], [0.0, 10.0]],
        ];
        for points in wrong {
            assert_eq!(
                Outline::simple(&FIELD, points).unwrap_err().field,
                "outline_mm",
                "{points:?}"
            );
        }
        let hollow = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [5.0, 3.0], [0.0, 10.0]];
        assert!(Outline::simple(&FIELD, &hollow).is_ok());
        assert!(
            Outline::convex(&FIELD, &hollow)
                .unwrap_err()
                .allowed
                .contains("convex")
        );
    }

    #[test]
    fn the_first_point_may_be_written_again() {
        let mut points = heel(60.0, 65.0);
        let once = Outline::convex(&FIELD, &points).unwrap();
        points.push(points[0]);
        assert_eq!(Outline::convex(&FIELD, &points).unwrap(), once);
    }

    /// Closed form: a rectangle moved inwards is a rectangle; moved by half its width nothing is left.
    #[test]
    fn drawn_in() {
        let points = [[0.0, 0.0], [60.0, 0.0], [60.0, 65.0], [0.0, 65.0]];
        let outline = Outline::convex(&FIELD, &points).unwrap();
        let inner = outline.drawn_in(6.35);
        assert!((inner.area() - 47.3 * 52.3).abs() < 1e-9 && (inner.perimeter() - 199.2).abs() < 1e-9);
        assert!(outline.drawn_in(30.5).points().is_empty());
    }

    proptest! {
        #[test]
        fn an_outline_is_what_it_is_wherever_it_lies(
            wide in 30.0..80.0f64, long in 85.0..120.0f64, by in [-500.0..500.0f64, -500.0..500.0],
        ) {
            let points = heel(wide, long);
            let here = Outline::convex(&FIELD, &points).unwrap();
            let moved: Vec<_> = points.iter().map(|p| [p[0] + by[0], p[1] + by[1]]).collect();
            let there = Outline::convex(&FIELD, &moved).unwrap();
            prop_assert!((here.area() - there.area()).abs() < 1e-6);
            let away = minus(there.centroid(), here.centroid());
            prop_assert!((away[0] - by[0]).abs() < 1e-8 && (away[1] - by[1]).abs() < 1e-8);
            let mirrored: Vec<_> = points.iter().map(|p| [-p[0], p[1]]).collect();
            let mirrored = Outline::convex(&FIELD, &mirrored).unwrap();
            prop_assert!((mirrored.signed_area() + here.signed_area()).abs() < 1e-9);
            prop_assert!((mirrored.centroid()[0] + here.centroid()[0]).abs() < 1e-9);
        }

        #[test]
        fn two_halves_make_the_whole(wide in 30.0..80.0f64, long in 85.0..120.0f64, cut in [-1.0..1.0f64, -1.0..1.0, -40.0..40.0]) {
            let outline = Outline::convex(&FIELD, &heel(wide, long)).unwrap();
            let value = |p: Point| cut[0] * (p[0] - 20.0) + cut[1] * (p[1] - 30.0) + cut[2];
            let (one, other) = (outline.clipped(value), outline.clipped(|p| -value(p)));
            prop_assert!((one.area() + other.area() - outline.area()).abs() < 1e-8);
        }
    }
}
