//! Measures lengths in a photograph that contains something of known size.

use shared::trade::formulas::rectify::Photograph;
use shared::trade::formulas::{Calculation, InvalidField, Point};

use super::CalcAnswer;
use super::lengths::Lengths;

/// The word of this measurement in addresses and in the log.
pub const PHOTO: &str = "photo";

/// A flat object of known size, with its sides in mm, the long one first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReferenceObject {
    /// Its word in the log.
    pub word: &'static str,
    sides: [f64; 2],
}

impl ReferenceObject {
    /// Its name on the screen.
    pub fn words(&self) -> &'static str {
        words::calc::photo::lies_beside(self.word)
    }
}

/// The objects that can be laid beside the work: a card is ID-1 of ISO/IEC 7810, a sheet A4 of ISO 216.
pub static BESIDE: [ReferenceObject; 2] = [
    ReferenceObject {
        word: "card",
        sides: [85.60, 53.98],
    },
    ReferenceObject {
        word: "a4",
        sides: [297.0, 210.0],
    },
];

/// How many corners are tapped before the points to measure.
pub const CORNERS: usize = 4;

/// What to tap next, as long as there are too few points; otherwise the length from the first point to the last, and
/// from each to the next. Corners are tapped in turn, the first two along a long side; points are in pixels.
///
/// # Errors
/// What is wrong with the tapped points.
pub fn measure(
    beside: &ReferenceObject,
    taps: &[Point],
    lengths: Lengths,
) -> Result<CalcAnswer, InvalidField> {
    let (corners, points) = taps.split_at(taps.len().min(CORNERS));
    let next = match (corners.len(), points.len()) {
        (0, _) => Some(words::calc::photo::tap_first_corner().to_owned()),
        (some, _) if some < CORNERS => Some(words::calc::photo::tap_corner(some + 1, CORNERS)),
        (_, 0) => Some(words::calc::photo::tap_where_it_begins().to_owned()),
        (_, 1) => Some(words::calc::photo::tap_where_it_ends().to_owned()),
        _ => None,
    };
    if let Some(say) = next {
        return Ok(CalcAnswer {
            say,
            ..CalcAnswer::default()
        });
    }
    let [long, short] = beside.sides;
    let measured = Photograph {
        image_px: corners.to_vec(),
        plane_mm: vec![[0.0, 0.0], [long, 0.0], [long, short], [0.0, short]],
        points_px: points.to_vec(),
        height_mm: None,
        distance_mm: None,
    }
    .calculate()
    .map_err(|refused| InvalidField::new(words::calc::photo::corners(), refused.allowed))?;
    let all: Vec<String> = measured.distances_mm.iter().map(|mm| lengths.say(*mm)).collect();
    Ok(CalcAnswer {
        say: words::calc::photo::it_measures(&words::calc::photo::one_then_the_next(&all)),
        // Closed form: height / (distance − height).
        more: vec![words::calc::photo::nearer_comes_out_larger().to_owned()],
        ..CalcAnswer::default()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The ID-1 card of a worked example (`OpenCV` and a direct linear transform agree): (300, 300) to (900, 600) is
    /// 69.739395 mm.
    #[test]
    fn a_length_is_measured_beside_a_card() {
        let corners = [[220.0, 180.0], [1010.0, 205.0], [1035.0, 712.0], [190.0, 690.0]];
        let mut taps = corners.to_vec();
        let say = |taps: &[Point]| measure(&BESIDE[0], taps, Lengths::Mm).unwrap().say;
        assert_eq!(say(&taps[..2]), "Corner 3 of 4.");
        assert!(say(&taps).starts_with("Now tap"));
        taps.extend([[300.0, 300.0], [900.0, 600.0]]);
        assert_eq!(say(&taps), "It measures 69.7 mm.");
    }

    #[test]
    fn corners_in_a_line_are_refused_in_words() {
        let taps = [
            [0.0, 0.0],
            [1.0, 0.0],
            [2.0, 0.0],
            [0.0, 1.0],
            [0.5, 0.5],
            [0.6, 0.6],
        ];
        let refused = measure(&BESIDE[1], &taps, Lengths::Mm).unwrap_err();
        assert_eq!(refused.field, "The corners");
    }
}
