//! Repeated measurements of a pair, and how they are drawn.

use serde_json::{Map, Value};
use shared::log::MadeAt;
use shared::log::body::{Measured, Side};
use shared::log::fold::{PairHistory, bench};
use shared::trade::Component;
use shared::wear::guards::Guards;
use shared::wear::put_on::DoneWork;

/// The value of [`Measured::what`] for the thickness of a part.
const WEAR: &str = "wear";
/// In what a helper was given, the list of the numbers that nobody measured: their names.
pub const ASSUMED: &str = "assumed";
/// The greatest length of a part of a shoe, in mm.
const LONGEST_MM: f64 = 1_000.0;

/// Of the inputs of the bench's helpers, those that are measured on the pair itself (not chosen or calculated): the
/// helper and the field.
const ON_THE_PAIR: &[(&str, &str)] = &[
    ("level", "left_back_mm"),
    ("level", "left_breast_mm"),
    ("level", "right_back_mm"),
    ("level", "right_breast_mm"),
    ("heel", "now_mm"),
    ("corner", "outer_back_mm"),
    ("corner", "inner_back_mm"),
];

/// One measurement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// When it was made.
    pub at: MadeAt,
    /// The length, in mm.
    pub mm: f64,
}

/// The measurements of one quantity, the oldest first.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// What was measured.
    pub called: String,
    /// The measurements; never empty.
    pub readings: Vec<Reading>,
}

/// The measurements of the pair across its jobs, grouped by quantity in the order in which each was first measured.
/// Values that cannot be lengths are ignored, and those that were assumed and not measured. What was written down as
/// the outsole while a guard was on is the guard (see [`Guards`]).
pub fn series(history: &PairHistory) -> Vec<Series> {
    let items = history.jobs.values().flat_map(|job| &job.measured);
    let guards = guards(history);
    let mut all: Vec<Series> = Vec::new();
    for item in items {
        for (called, mm) in of_pair(&item.body, item.at, &guards) {
            let reading = Reading { at: item.at, mm };
            match all.iter_mut().find(|known| known.called == called) {
                Some(known) => known.readings.push(reading),
                None => all.push(Series {
                    called,
                    readings: vec![reading],
                }),
            }
        }
    }
    for one in &mut all {
        one.readings.sort_by_key(|reading| reading.at.utc);
    }
    all
}

/// When guards were on the pair, by the standing steps of its jobs.
fn guards(history: &PairHistory) -> Guards {
    let steps = history.jobs.values().flat_map(bench::done);
    let done: Vec<_> = steps
        .map(|step| DoneWork {
            operation: &step.body.operation,
            side: &step.body.side,
            at_ms: step.at.utc.0,
        })
        .collect();
    Guards::of(&done)
}

/// The quantities of the pair itself in one measurement, in mm.
fn of_pair(measured: &Measured, at: MadeAt, guards: &Guards) -> Vec<(String, f64)> {
    let given = &measured.given;
    if measured.what == WEAR {
        let thickness = thickness(given).map(|(part, side, mm)| {
            let of = guards.measured(&part, &side, at.utc.0, mm);
            (thickness_of(&of.unwrap_or(part), &side), mm)
        });
        return thickness.into_iter().collect();
    }
    let asked = ON_THE_PAIR.iter().filter(|(what, _)| *what == measured.what);
    asked
        .filter_map(|(what, field)| {
            let called = words::history::quantity(what, field)?;
            Some((called.to_owned(), length(given, field)?))
        })
        .collect()
}

/// What the thickness of a part is called.
fn thickness_of(part: &Component, side: &Side) -> String {
    match side {
        Side::Left => words::history::left_thickness(part.words()),
        Side::Right => words::history::right_thickness(part.words()),
        _ => words::history::thickness(part.words()),
    }
}

/// A measured thickness: the part as it was written down, the shoe, and the thickness in mm.
fn thickness(given: &Map<String, Value>) -> Option<(Component, Side, f64)> {
    let part = given.get("part").and_then(Value::as_str)?;
    let side = given
        .get("side")
        .and_then(Value::as_str)
        .map_or(Side::Both, Side::from);
    Some((Component::from(part), side, length(given, "thickness_mm")?))
}

/// A length that was measured; `None` if it was assumed, or can be no length.
fn length(given: &Map<String, Value>, field: &str) -> Option<f64> {
    let assumed = given.get(ASSUMED).and_then(Value::as_array);
    if assumed.is_some_and(|names| names.iter().any(|name| name == field)) {
        return None;
    }
    let mm = given.get(field).and_then(Value::as_f64)?;
    (0.0..=LONGEST_MM).contains(&mm).then_some(mm)
}

/// A measured thickness of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartThickness {
    /// The part.
    pub part: Component,
    /// The shoe.
    pub side: Side,
    /// When, and how thick.
    pub reading: Reading,
}

/// Every measured thickness of a part of the pair. What was written down as the outsole while a guard was on is the
/// guard; what was measured of both together is left out (see [`Guards`]).
pub fn thicknesses(history: &PairHistory) -> Vec<PartThickness> {
    let guards = guards(history);
    let items = history.jobs.values().flat_map(|job| &job.measured);
    let worn = items.filter(|item| item.body.what == WEAR);
    worn.filter_map(|item| {
        let (part, side, mm) = thickness(&item.body.given)?;
        Some(PartThickness {
            part: guards.measured(&part, &side, item.at.utc.0, mm)?,
            side,
            reading: Reading { at: item.at, mm },
        })
    })
    .collect()
}

/// The points of a series on a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// The distances from the left and from the top, in units of the drawing.
    pub points: Vec<[f64; 2]>,
}

impl Plot {
    /// The width of the drawing; the points keep a distance from its edges.
    pub const WIDTH: f64 = 320.0;
    /// The height of the drawing.
    pub const HEIGHT: f64 = 120.0;
    const ROOM: [f64; 2] = [28.0, 30.0];

    /// Places the readings: from left to right by time, the greatest at the top. `None` for a single one, which shows
    /// no change.
    pub fn of(readings: &[Reading]) -> Option<Self> {
        if readings.len() < 2 {
            return None;
        }
        let times: Vec<f64> = readings.iter().map(|reading| reading.at.utc.0 as f64).collect();
        let values: Vec<f64> = readings.iter().map(|reading| reading.mm).collect();
        let across = placed(&times, Self::ROOM[0], Self::WIDTH - Self::ROOM[0]);
        let down = placed(&values, Self::HEIGHT - Self::ROOM[1], Self::ROOM[1]);
        let points = across.into_iter().zip(down).map(|(x, y)| [x, y]);
        Some(Self {
            points: points.collect(),
        })
    }

    /// Whether the values differ.
    pub fn rises(&self) -> bool {
        self.points
            .windows(2)
            .any(|two| matches!(two, [one, other] if one[1] != other[1]))
    }

    /// The points as an SVG path.
    pub fn path(&self) -> String {
        let point = |(n, [x, y]): (usize, &[f64; 2])| {
            let begins = if n == 0 { "M" } else { "L" };
            format!("{begins}{x:.1} {y:.1}")
        };
        self.points.iter().enumerate().map(point).collect()
    }
}

/// Scales numbers to a range, the least at `from`; all to the middle if they are equal.
fn placed(all: &[f64], from: f64, to: f64) -> Vec<f64> {
    let (low, high) = all
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
            (low.min(*one), high.max(*one))
        });
    let share = |one: &f64| {
        if high > low {
            (one - low) / (high - low)
        } else {
            0.5
        }
    };
    all.iter().map(|one| from + share(one) * (to - from)).collect()
}

#[cfg(test)]
mod tests;
