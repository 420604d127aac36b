use super::*;
use proptest::prelude::*;

/// Sharma, Wu, Dalal (2005), Color Research and Application 30(1), 21-30, table 1: all 34 pairs.
#[rustfmt::skip]
const PAIRS: [([f64; 3], [f64; 3], f64); 34] = [
    ([50.0000, 2.6772, -79.7751], [50.0000, 0.0000, -82.7485], 2.0425),
    ([50.0000, 3.1571, -77.2803], [50.0000, 0.0000, -82.7485], 2.8615),
    ([50.0000, 2.8361, -74.0200], [50.0000, 0.0000, -82.7485], 3.4412),
    ([50.0000, -1.3802, -84.2814], [50.0000, 0.0000, -82.7485], 1.0000),
    ([50.0000, -1.1848, -84.8006], [50.0000, 0.0000, -82.7485], 1.0000),
    ([50.0000, -0.9009, -85.5211], [50.0000, 0.0000, -82.7485], 1.0000),
    ([50.0000, 0.0000, 0.0000], [50.0000, -1.0000, 2.0000], 2.3669),
    ([50.0000, -1.0000, 2.0000], [50.0000, 0.0000, 0.0000], 2.3669),
    ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0009], 7.1792),
    ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0010], 7.1792),
    ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0011], 7.2195),
    ([50.0000, 2.4900, -0.0010], [50.0000, -2.4900, 0.0012], 7.2195),
    ([50.0000, -0.0010, 2.4900], [50.0000, 0.0009, -2.4900], 4.8045),
    ([50.0000, -0.0010, 2.4900], [50.0000, 0.0010, -2.4900], 4.8045),
    ([50.0000, -0.0010, 2.4900], [50.0000, 0.0011, -2.4900], 4.7461),
    ([50.0000, 2.5000, 0.0000], [50.0000, 0.0000, -2.5000], 4.3065),
    ([50.0000, 2.5000, 0.0000], [73.0000, 25.0000, -18.0000], 27.1492),
    ([50.0000, 2.5000, 0.0000], [61.0000, -5.0000, 29.0000], 22.8977),
    ([50.0000, 2.5000, 0.0000], [56.0000, -27.0000, -3.0000], 31.9030),
    ([50.0000, 2.5000, 0.0000], [58.0000, 24.0000, 15.0000], 19.4535),
    ([50.0000, 2.5000, 0.0000], [50.0000, 3.1736, 0.5854], 1.0000),
    ([50.0000, 2.5000, 0.0000], [50.0000, 3.2972, 0.0000], 1.0000),
    ([50.0000, 2.5000, 0.0000], [50.0000, 1.8634, 0.5757], 1.0000),
    ([50.0000, 2.5000, 0.0000], [50.0000, 3.2592, 0.3350], 1.0000),
    ([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644),
    ([63.0109, -31.0961, -5.8663], [62.8187, -29.7946, -4.0864], 1.2630),
    ([61.2901, 3.7196, -5.3901], [61.4292, 2.2480, -4.9620], 1.8731),
    ([35.0831, -44.1164, 3.7933], [35.0232, -40.0716, 1.5901], 1.8645),
    ([22.7233, 20.0904, -46.6940], [23.0331, 14.9730, -42.5619], 2.0373),
    ([36.4612, 47.8580, 18.3852], [36.2715, 50.5065, 21.2231], 1.4146),
    ([90.8027, -2.0831, 1.4410], [91.1528, -1.6435, 0.0447], 1.4441),
    ([90.9257, -0.5406, -0.9208], [88.6381, -0.8985, -0.7239], 1.5381),
    ([6.7747, -0.2908, -2.4247], [5.8714, -0.0985, -2.2286], 0.6377),
    ([2.0776, 0.0795, -1.1350], [0.9033, -0.0636, -0.5514], 0.9082),
];

fn lab(lab: [f64; 3]) -> ColourSample {
    ColourSample {
        lab: Some(lab),
        srgb: None,
    }
}

fn srgb(channels: [f64; 3]) -> ColourSample {
    ColourSample {
        lab: None,
        srgb: Some(Rgb::Channels(channels)),
    }
}

fn hex(text: &str) -> ColourSample {
    ColourSample {
        lab: None,
        srgb: Some(Rgb::Hex(text.to_owned())),
    }
}

fn compare(a: ColourSample, b: ColourSample, white: Option<White>) -> Difference {
    Colours { a, b, white }.calculate().unwrap()
}

fn close(got: [f64; 3], expected: [f64; 3], within: f64) {
    for (got, expected) in got.into_iter().zip(expected) {
        assert!((got - expected).abs() < within, "{got} {expected}");
    }
}

#[test]
fn the_published_pairs_both_ways() {
    for (a, b, expected) in PAIRS {
        let there = compare(lab(a), lab(b), None).delta_e00;
        let back = compare(lab(b), lab(a), None).delta_e00;
        // The table is rounded to four decimals.
        assert!(
            (there - expected).abs() < 6e-5 && (back - expected).abs() < 6e-5,
            "{a:?} {b:?} {there} {back}"
        );
    }
}

/// scikit-image 0.26, `rgb2lab`; within 0.02, since libraries write the white point with different decimals.
#[test]
fn lab_of_srgb() {
    for (text, expected) in [
        ("8B4513", [37.4698, 26.4421, 40.9842]),
        ("#5C3317", [25.8785, 15.8000, 25.1755]),
        ("FF0000", [53.2406, 80.0923, 67.2028]),
        ("808080", [53.5850, -0.0015, 0.0028]),
        ("d2b48c", [74.9758, 5.0199, 24.4310]),
    ] {
        close(compare(hex(text), lab([0.0; 3]), None).lab_a, expected, 0.02);
    }
}

/// IEC 61966-2-1:1999, by colour-science: linear values of 8-bit channels.
#[test]
fn gamma_is_taken_off() {
    for (channel, expected) in [
        (0.0, 0.0),
        (1.0, 0.000_303_526_984),
        (10.0, 0.003_035_269_835),
        (11.0, 0.003_346_535_764),
        (64.0, 0.051_269_458_374),
        (128.0, 0.215_860_500_114),
        (188.0, 0.502_886_458_033),
        (255.0, 1.0),
    ] {
        let got = Rgb::Channels([channel; 3]).linear(0.0).unwrap().red;
        assert!((got - expected).abs() < 1e-9, "{channel} {got}");
    }
}

/// Computed with colour-science: a brown beside a card, which is taken for 100 % and for 90 %.
#[test]
fn a_card_corrects_and_its_reflectance_matters() {
    let brown = || srgb([120.0, 72.0, 40.0]);
    let by = |reflectance| {
        let card = Rgb::Channels([212.0, 198.0, 176.0]);
        let white = Some(White {
            srgb: card,
            reflectance,
        });
        compare(brown(), brown(), white).lab_a
    };
    close(
        compare(brown(), brown(), None).lab_a,
        [35.5592, 17.2650, 27.4907],
        0.02,
    );
    close(by(1.0), [45.1165, 16.8976, 26.9577], 0.02);
    close(by(0.9), [43.0073, 16.3145, 26.0274], 0.02);
    let apart = compare(lab(by(1.0)), lab(by(0.9)), None);
    assert!((apart.delta_e00 - 2.02).abs() < 5e-3, "{}", apart.delta_e00);
    assert!(apart.verdict.starts_with("not accepted") && apart.verdict.contains("borrowed"));
}

#[test]
fn what_is_no_colour_is_named() {
    let brown = srgb([120.0, 72.0, 40.0]);
    let wrong = |a, b| Colours { a, b, white: None }.calculate().unwrap_err().field;
    assert_eq!(wrong(ColourSample::default(), brown.clone()), "a.lab");
    assert_eq!(wrong(brown.clone(), hex("#8b451")), "b.srgb");
    assert_eq!(wrong(brown.clone(), hex("#8b45é")), "b.srgb");
    assert_eq!(wrong(srgb([256.0, 0.0, 0.0]), brown.clone()), "a.srgb");
    assert_eq!(wrong(lab([101.0, 0.0, 0.0]), brown.clone()), "a.lab");
    let black = White {
        srgb: Rgb::Channels([0.0; 3]),
        reflectance: 1.0,
    };
    let asked = Colours {
        a: brown.clone(),
        b: brown,
        white: Some(black),
    };
    assert_eq!(asked.calculate().unwrap_err().field, "white.srgb");
}

proptest! {
    #[test]
    fn the_same_from_both_sides_and_nothing_from_itself(
        a in [0.0..100.0f64, -90.0..90.0, -90.0..90.0], b in [0.0..100.0f64, -90.0..90.0, -90.0..90.0],
    ) {
        let (there, back) = (compare(lab(a), lab(b), None), compare(lab(b), lab(a), None));
        prop_assert!((there.delta_e00 - back.delta_e00).abs() < 1e-9 && there.delta_e00 >= 0.0);
        prop_assert!(compare(lab(a), lab(a), None).delta_e00 < 1e-9);
    }
}
