//! The difference between two colours, from values or from a photograph that contains a white card.
//!
//! sRGB by IEC 61966-2-1:1999, CIELAB under D65, the difference by CIEDE2000; all by the library `palette`. The card's
//! reflectance must be known: taking 90 % for 100 % moves a brown by 2 units, more than is accepted as equal.
//!
//! The thresholds (50 % of observers see 0.8, and accept 1.8) are borrowed from dental ceramics (Paravina et al., 2015,
//! 175 observers): none for leather was found, and the verdict says so.

use palette::color_difference::Ciede2000;
use palette::convert::FromColorUnclamped;
use palette::white_point::D65;
use palette::{Lab, LinSrgb, Srgb};
use serde::{Deserialize, Serialize};

use super::calculation::gives;
use super::{Allowed, AnswerField, Calculation, Field, InvalidField};

/// Half of the observers see a difference of this.
pub const SEEN: f64 = 0.8;
/// Half of the observers accept a difference of this.
pub const ACCEPTED: f64 = 1.8;
/// The greatest value of a channel.
const FULL: f64 = 255.0;

const SAMPLE: &[Field] = &[
    Field::new(
        "lab",
        "L 0 to 100, a and b -200 to 200; or srgb",
        Allowed::Numbers(3, 3, -200.0, 200.0),
    )
    .or_none(),
    Field::new(
        "srgb",
        "[r, g, b] from 0 to 255 or \"#rrggbb\"; or lab",
        Allowed::Described("three numbers, or six hexadecimal digits"),
    )
    .or_none(),
];
const A: Field = Field::new("a", "one colour", Allowed::Group(SAMPLE));
const B: Field = Field::new("b", "the other", Allowed::Group(SAMPLE));
const WHITE_SRGB: Field = Field::new(
    "srgb",
    "[r, g, b] from 20 to 255 or \"#rrggbb\"",
    Allowed::Described("three numbers, or six hexadecimal digits"),
);
const REFLECTANCE: Field = Field::number(
    "reflectance",
    "fraction of light the card gives back, by its maker",
    0.05,
    1.0,
);
const WHITE: Field = Field::new(
    "white",
    "a card in the same picture",
    Allowed::Group(&[WHITE_SRGB, REFLECTANCE]),
)
.or_none();

/// An sRGB colour, as it was entered.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Rgb {
    /// Red, green, blue, 0 to 255.
    Channels([f64; 3]),
    /// Six hexadecimal digits, with or without `#`.
    Hex(String),
}

/// One colour: exactly one of the two fields.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ColourSample {
    /// CIELAB under D65.
    pub lab: Option<[f64; 3]>,
    /// sRGB.
    pub srgb: Option<Rgb>,
}

/// A white card in the same photograph.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct White {
    /// The colour of the card in the photograph.
    pub srgb: Rgb,
    /// The reflectance of the card: the fraction of light that it reflects.
    pub reflectance: f64,
}

/// Two colours to compare.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Colours {
    /// The first colour.
    pub a: ColourSample,
    /// The second colour.
    pub b: ColourSample,
    /// The card by which sRGB colours are corrected.
    pub white: Option<White>,
}

/// The difference between two colours.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Difference {
    /// The first colour as L, a, b.
    pub lab_a: [f64; 3],
    /// The second colour as L, a, b.
    pub lab_b: [f64; 3],
    /// The difference by CIEDE2000.
    pub delta_e00: f64,
    /// What the difference means, and where the thresholds come from.
    pub verdict: &'static str,
}

impl Rgb {
    /// The linear channels without gamma, each from 0 to 1; `None` unless every channel is from `least` to 255.
    fn linear(&self, least: f64) -> Option<LinSrgb<f64>> {
        let channels = match self {
            Rgb::Channels(channels) => *channels,
            Rgb::Hex(text) => {
                let digits = text.strip_prefix('#').unwrap_or(text);
                let all = digits.len() == 6 && digits.bytes().all(|digit| digit.is_ascii_hexdigit());
                let number = all.then(|| u32::from_str_radix(digits, 16).ok()).flatten()?;
                let [_, r, g, b] = number.to_be_bytes();
                [r, g, b].map(f64::from)
            }
        };
        let allowed = channels.iter().all(|channel| (least..=FULL).contains(channel));
        let [r, g, b] = channels.map(|channel| channel / FULL);
        allowed.then(|| Srgb::new(r, g, b).into_linear())
    }
}

impl White {
    /// The factor by which each channel is corrected.
    fn gains(&self) -> Result<LinSrgb<f64>, InvalidField> {
        let card = self.srgb.linear(20.0).ok_or_else(|| WHITE_SRGB.refused())?;
        let reflectance = REFLECTANCE.check(self.reflectance)?;
        Ok(LinSrgb::new(
            reflectance / card.red,
            reflectance / card.green,
            reflectance / card.blue,
        ))
    }
}

impl ColourSample {
    fn lab(&self, gains: Option<LinSrgb<f64>>) -> Result<Lab<D65, f64>, InvalidField> {
        let [lab, srgb] = [&SAMPLE[0], &SAMPLE[1]];
        match (&self.lab, &self.srgb) {
            (Some([l, a, b]), None) => {
                lab.check_list(&[*l, *a, *b])?;
                if !(0.0..=100.0).contains(l) {
                    return Err(lab.refused());
                }
                Ok(Lab::new(*l, *a, *b))
            }
            (None, Some(rgb)) => {
                let seen = rgb.linear(0.0).ok_or_else(|| srgb.refused())?;
                // A colour lighter than the card correctly has channels above 1.
                Ok(Lab::from_color_unclamped(
                    gains.map_or(seen, |gains| seen * gains),
                ))
            }
            (None, None) => Err(lab.refused_as("lab or srgb must be there")),
            (Some(_), Some(_)) => Err(lab.refused_as("lab or srgb, not both")),
        }
    }
}

fn verdict(difference: f64) -> &'static str {
    if difference <= SEEN {
        "not seen by half of the observers (threshold 0.8, borrowed from dental ceramics, Paravina et al. 2015; none for leather was found)"
    } else if difference <= ACCEPTED {
        "seen, and accepted by half of the observers (thresholds 0.8 and 1.8, borrowed from dental ceramics, Paravina et al. 2015; none for leather was found)"
    } else {
        "not accepted by half of the observers (threshold 1.8, borrowed from dental ceramics, Paravina et al. 2015; none for leather was found)"
    }
}

impl Calculation for Colours {
    const NAME: &'static str = "colour";
    const TAKES: &'static [Field] = &[A, B, WHITE];
    const GIVES: &'static [AnswerField] = gives![
        "lab_a" "L, a, b under D65", "lab_b" "L, a, b under D65", "delta_e00" "CIEDE2000",
        "verdict" "what that means; the thresholds are borrowed",
    ];
    type Answer = Difference;

    fn calculate(&self) -> Result<Difference, InvalidField> {
        let gains = self.white.as_ref().map(White::gains).transpose();
        let gains = gains.map_err(|refused| refused.within(WHITE.name))?;
        let a = self.a.lab(gains).map_err(|refused| refused.within(A.name))?;
        let b = self.b.lab(gains).map_err(|refused| refused.within(B.name))?;
        let delta_e00 = a.difference(b);
        Ok(Difference {
            lab_a: [a.l, a.a, a.b],
            lab_b: [b.l, b.a, b.b],
            delta_e00,
            verdict: verdict(delta_e00),
        })
    }
}

#[cfg(test)]
mod tests;
