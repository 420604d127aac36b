//! Compares two colours in one photograph: the mixed colour and the one it should match.

use serde_json::{Map, Value, json};
use shared::trade::formulas::colour::{ACCEPTED, ColourSample, Colours, Difference, Rgb, SEEN, White};
use shared::trade::formulas::{Calculation, InvalidField};

use super::CalcAnswer;
use super::lengths::rounded;

/// The word of this comparison in addresses and in the log.
pub const COMPARE: &str = "compare";
/// The reflectance of a white card, in per cent, if its maker does not state it. Common practice, no source.
pub const USUAL_WHITE: f64 = 90.0;
/// A channel at or above this value may have been overexposed.
const WASHED_OUT: f64 = 254.0;
/// The smallest difference along one axis of CIELAB that is reported.
const WORTH_A_WORD: f64 = 1.0;

/// The colours that were tapped so far, in the order in which they are asked for: the colour to match, the mixed
/// colour, the white card. Each is red, green and blue, 0 to 255, as in the photograph.
type Spots = [[f64; 3]];

/// What to tap next or, once two colours are tapped, how far they are apart and how the mixture is off.
///
/// `white_percent` is the reflectance of the card, in per cent.
///
/// # Errors
/// What is wrong with the card or its reflectance.
pub fn compare(spots: &Spots, white_percent: f64) -> Result<CalcAnswer, InvalidField> {
    let next = match spots {
        [] => words::calc::compare::tap_wanted_colour(),
        [_] => words::calc::compare::tap_mixed_colour(),
        _ => return difference(spots, white_percent).map(|found| compared_answer(&found, spots.len() > 2)),
    };
    Ok(CalcAnswer::new(next.to_owned()))
}

/// The difference of two colours, corrected by the white card if it was tapped.
fn difference(spots: &Spots, white_percent: f64) -> Result<Difference, InvalidField> {
    let of = |at: usize| ColourSample {
        srgb: spots.get(at).copied().map(Rgb::Channels),
        lab: None,
    };
    let card = spots.get(2);
    if card.is_some_and(|card| card.iter().any(|channel| *channel >= WASHED_OUT)) {
        return Err(InvalidField::new(
            words::calc::compare::white_card(),
            words::calc::compare::card_washed_out(),
        ));
    }
    let white = card.map(|card| White {
        srgb: Rgb::Channels(*card),
        reflectance: white_percent / 100.0,
    });
    let colours = Colours {
        a: of(0),
        b: of(1),
        white,
    };
    colours
        .calculate()
        .map_err(|refused| match refused.field.as_str() {
            "white.reflectance" => InvalidField::new(
                words::calc::compare::light_card_gives_back(),
                words::calc::from_to(5, 100),
            ),
            _ => InvalidField::new(
                words::calc::compare::white_card(),
                words::calc::compare::card_too_dark(),
            ),
        })
}

fn compared_answer(found: &Difference, corrected: bool) -> CalcAnswer {
    let apart = rounded(found.delta_e00, 1);
    let say = if found.delta_e00 <= SEEN {
        words::calc::compare::apart_hardly_seen(&apart)
    } else if found.delta_e00 <= ACCEPTED {
        words::calc::compare::apart_mostly_accepted(&apart)
    } else {
        words::calc::compare::apart_seen(&apart)
    };
    let mut more = Vec::new();
    if let Some(lacks) = lacks(found) {
        more.push(words::calc::compare::mixed_one_is(&lacks));
    }
    if !corrected {
        more.push(words::calc::compare::tap_white_card_too().to_owned());
    }
    // Paravina et al., 2015: 0.8 is seen, 1.8 accepted by half of 175 observers.
    more.push(words::calc::compare::thresholds_are_borrowed().to_owned());
    CalcAnswer {
        say,
        more,
        ..CalcAnswer::default()
    }
}

/// The directions in which the mixed colour is off, the greatest first; `None` if it is not off.
fn lacks(found: &Difference) -> Option<String> {
    let axes = [
        [words::calc::compare::lighter(), words::calc::compare::darker()],
        [words::calc::compare::redder(), words::calc::compare::greener()],
        [words::calc::compare::yellower(), words::calc::compare::bluer()],
    ];
    let mut off: Vec<(f64, &str)> = axes
        .iter()
        .zip(found.lab_b.iter().zip(&found.lab_a))
        .map(|([more, less], (mixed, wanted))| (mixed - wanted, if mixed > wanted { *more } else { *less }))
        .map(|(by, word)| (by.abs(), word))
        .filter(|(by, _)| *by >= WORTH_A_WORD)
        .collect();
    off.sort_by(|a, b| b.0.total_cmp(&a.0));
    let directions: Vec<&str> = off.into_iter().map(|(_, word)| word).collect();
    (!directions.is_empty()).then(|| words::lists::and(&directions))
}

/// The comparison as it is stored in the log.
pub fn compared(spots: &Spots, white_percent: f64, photo: Option<&str>) -> Map<String, Value> {
    let at = |at: usize| json!(spots.get(at));
    let mut given = Map::new();
    for (name, value) in [
        ("wanted_srgb", at(0)),
        ("mixed_srgb", at(1)),
        ("white_srgb", at(2)),
        ("white_percent", json!(white_percent)),
        ("photo", json!(photo)),
    ] {
        given.insert(name.to_owned(), value);
    }
    given
}

/// How far the two colours of a stored comparison are apart, by CIEDE2000; `None` if it cannot be read.
pub fn difference_stored(given: &Map<String, Value>) -> Option<f64> {
    let spot = |name: &str| {
        let [red, green, blue] = given.get(name)?.as_array()?.as_slice() else {
            return None;
        };
        Some([red.as_f64()?, green.as_f64()?, blue.as_f64()?])
    };
    let mut spots = vec![spot("wanted_srgb")?, spot("mixed_srgb")?];
    spots.extend(spot("white_srgb"));
    let white = given.get("white_percent").and_then(Value::as_f64);
    let found = difference(&spots, white.unwrap_or(USUAL_WHITE)).ok()?;
    Some(found.delta_e00)
}

/// A difference as it is told: to one decimal.
pub fn difference_words(delta_e00: f64) -> String {
    rounded(delta_e00, 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A worked example of colour-science: card (212, 198, 176), sample (120, 72, 40); the sample as it would be under
    /// an even light is (145.50, 95.13, 62.46), whose Lab is 45.1165, 16.8976, 26.9577.
    const CARD: [f64; 3] = [212.0, 198.0, 176.0];
    const SEEN_SO: [f64; 3] = [120.0, 72.0, 40.0];

    #[test]
    fn what_to_tap_is_told_one_after_another() {
        let say = |spots: &Spots| compare(spots, 100.0).unwrap().say;
        assert_eq!(say(&[]), "Tap the colour that it should be.");
        assert_eq!(say(&[SEEN_SO]), "Now tap the colour that was mixed.");
        assert_eq!(
            say(&[SEEN_SO, SEEN_SO]),
            "Apart by 0: hardly anybody will see it."
        );
    }

    #[test]
    fn without_a_card_it_is_asked_for() {
        let with = compare(&[SEEN_SO, SEEN_SO, CARD], 90.0).unwrap();
        let without = compare(&[SEEN_SO, SEEN_SO], 90.0).unwrap();
        assert!(without.more[0].contains("white card") && !with.more[0].contains("white card"));
    }

    /// Taking a card of 90 % for one of 100 % moves the example's brown by 2.02 (colour-science), which is told as seen.
    #[test]
    fn the_card_corrects_both_and_its_light_matters() {
        let corrected = |percent| difference(&[SEEN_SO, SEEN_SO, CARD], percent).unwrap();
        let lab = corrected(100.0).lab_a;
        for (got, want) in lab.iter().zip([45.1165, 16.8976, 26.9577]) {
            assert!((got - want).abs() < 0.02, "{lab:?}");
        }
        let darker = corrected(90.0).lab_a;
        for (got, want) in darker.iter().zip([43.0073, 16.3145, 26.0274]) {
            assert!((got - want).abs() < 0.02, "{darker:?}");
        }
    }

    /// `#8B4513` and `#5C3317` (scikit-image: L 37.47, 25.88; a 26.44, 15.80; b 40.98, 25.18).
    #[test]
    fn what_the_mixture_lacks_is_told_the_farthest_first() {
        let (saddle, dark) = ([139.0, 69.0, 19.0], [92.0, 51.0, 23.0]);
        let answer = compare(&[saddle, dark], 90.0).unwrap();
        assert!(answer.say.ends_with("it will be seen."), "{}", answer.say);
        assert_eq!(answer.more[0], "The mixed one is bluer, darker and greener.");
        let back = compare(&[dark, saddle], 90.0).unwrap();
        assert_eq!(back.more[0], "The mixed one is yellower, lighter and redder.");
    }

    #[test]
    fn a_card_that_is_washed_out_dark_or_of_no_known_light_is_refused_in_words() {
        let refused = |card, percent| {
            compare(&[SEEN_SO, SEEN_SO, card], percent)
                .unwrap_err()
                .to_string()
        };
        assert!(refused([255.0, 240.0, 230.0], 90.0).contains("washed out"));
        assert!(refused([4.0, 3.0, 2.0], 90.0).contains("too dark"));
        assert!(refused(CARD, 400.0).contains("from 5 to 100"));
        assert!(refused(CARD, f64::NAN).contains("from 5 to 100"));
    }

    #[test]
    fn the_difference_of_a_comparison_that_was_kept_is_known_again() {
        let (saddle, dark) = ([139.0, 69.0, 19.0], [92.0, 51.0, 23.0]);
        for spots in [&[saddle, dark][..], &[saddle, dark, CARD]] {
            let now = difference(spots, 80.0).unwrap().delta_e00;
            assert_eq!(difference_stored(&compared(spots, 80.0, None)), Some(now));
            let said = compare(spots, 80.0).unwrap().say;
            assert!(said.contains(&difference_words(now)), "{said}");
        }
        assert_eq!(difference_stored(&compared(&[saddle], 80.0, None)), None);
        let mut broken = compared(&[saddle, dark], 80.0, None);
        broken.insert("mixed_srgb".to_owned(), json!(["red"]));
        assert_eq!(difference_stored(&broken), None);
    }

    #[test]
    fn what_is_kept_says_all_that_it_came_from() {
        let given = compared(&[SEEN_SO, SEEN_SO, CARD], 90.0, Some("ab"));
        assert_eq!(given["white_srgb"], json!(CARD));
        assert_eq!(given["white_percent"], json!(90.0));
        assert_eq!(
            compared(&[SEEN_SO, SEEN_SO], 90.0, None)["white_srgb"],
            Value::Null
        );
    }
}
