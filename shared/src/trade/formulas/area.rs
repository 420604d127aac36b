//! Area of a cut piece, and the leather to buy for it.
//!
//! Shoelace formula. Typical yields, from memory and unverified: sole bends 0.75 to 0.85, uppers 0.60 to 0.75.

use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::outline::Outline;
use super::unit::{MM2_PER_DM2, MM2_PER_FT2};
use super::{Allowed, AnswerField, Calculation, Field, InvalidField, Point};

const OUTLINE: Field = Field::new("outline_mm", "mm", Allowed::Points(3, 2_000, 2, 10_000.0));
const YIELD: Field = Field::number("yield", "fraction of what is bought that is used", 0.05, 1.0);
const COUNT: Field = Field::new("count", "pieces", Allowed::Whole(1, 10_000));

/// Pieces to be cut.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutPieces {
    /// The outline of one piece, mm.
    pub outline_mm: Vec<Point>,
    /// The yield: the fraction of the bought leather that ends in the pieces.
    #[serde(rename = "yield")]
    pub used: f64,
    /// The number of pieces.
    pub count: u32,
}

/// The area of pieces, and the leather to buy.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Area {
    /// The area of one piece, mm².
    pub area_mm2: f64,
    /// The perimeter of one piece, mm.
    pub perimeter_mm: f64,
    /// The centroid of one piece, mm.
    pub centroid_mm: Point,
    /// The area of one piece, dm².
    pub each_dm2: f64,
    /// The leather to buy for all pieces, waste included, dm².
    pub buy_dm2: f64,
    /// The leather to buy, ft².
    pub buy_ft2: f64,
}

impl Calculation for CutPieces {
    const NAME: &'static str = "area";
    const TAKES: &'static [Field] = &[OUTLINE, YIELD, COUNT];
    const GIVES: &'static [AnswerField] = gives![
        "area_mm2" "mm2, of one", "perimeter_mm" "mm, of one", "centroid_mm" "[x, y] in mm", "each_dm2" "dm2, of one",
        "buy_dm2" "dm2, all with what is lost", "buy_ft2" "ft2, all with what is lost",
    ];
    type Answer = Area;

    fn calculate(&self) -> Result<Area, InvalidField> {
        let outline = Outline::simple(&OUTLINE, &self.outline_mm)?;
        let used = YIELD.check(self.used)?;
        let Allowed::Whole(fewest, most) = COUNT.allowed else {
            return Err(COUNT.refused());
        };
        if !(fewest..=most).contains(&self.count) {
            return Err(COUNT.refused());
        }
        let area_mm2 = outline.area();
        let buy_mm2 = area_mm2 * f64::from(self.count) / used;
        Ok(Area {
            area_mm2,
            perimeter_mm: outline.perimeter(),
            centroid_mm: outline.centroid(),
            each_dm2: area_mm2 / MM2_PER_DM2,
            buy_dm2: buy_mm2 / MM2_PER_DM2,
            buy_ft2: buy_mm2 / MM2_PER_FT2,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SOLE: [Point; 23] = [
        [0.0, 30.0],
        [5.0, 12.0],
        [20.0, 3.0],
        [45.0, 0.0],
        [80.0, 6.0],
        [110.0, 14.0],
        [140.0, 14.0],
        [170.0, 6.0],
        [205.0, 0.0],
        [240.0, 6.0],
        [268.0, 24.0],
        [280.0, 48.0],
        [276.0, 70.0],
        [258.0, 88.0],
        [225.0, 98.0],
        [190.0, 98.0],
        [160.0, 90.0],
        [130.0, 78.0],
        [100.0, 70.0],
        [70.0, 66.0],
        [40.0, 66.0],
        [15.0, 56.0],
        [3.0, 44.0],
    ];

    fn sole(points: &[Point]) -> Area {
        let cut = CutPieces {
            outline_mm: points.to_vec(),
            used: 0.75,
            count: 2,
        };
        cut.calculate().unwrap()
    }

    /// An invented sole; values by shapely 2.2.0 (area exact by the shoelace formula). A pair at 75 %.
    #[test]
    fn a_pair_of_soles_as_an_independent_library_measures_it() {
        let area = sole(&SOLE);
        assert_eq!(area.area_mm2, 19_531.0);
        assert!((area.perimeter_mm - 650.287_378).abs() < 5e-7);
        assert!((area.centroid_mm[0] - 150.379_653).abs() < 5e-7);
        assert!((area.centroid_mm[1] - 44.734_798).abs() < 5e-7);
        assert!((area.each_dm2 - 1.953_1).abs() < 1e-12 && (area.buy_dm2 - 5.208_3).abs() < 5e-5);
        assert!((area.buy_ft2 * 0.75 - 0.420_46).abs() < 5e-6);
        let mirrored: Vec<_> = SOLE.iter().map(|p| [-p[0], p[1]]).collect();
        assert_eq!(sole(&mirrored).area_mm2, area.area_mm2);
    }

    #[test]
    fn nothing_is_cut_of_nothing() {
        let cut = CutPieces {
            outline_mm: SOLE.to_vec(),
            used: 0.75,
            count: 0,
        };
        assert_eq!(cut.calculate().unwrap_err().field, "count");
    }
}
