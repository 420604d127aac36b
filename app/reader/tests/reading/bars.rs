//! Bar codes as they are printed on number rolls, drawn by another library (`barcoders`).

use crate::scene::{Code, Picture};
use barcoders::sym::{code39::Code39, code128::Code128, ean8::EAN8, ean13::EAN13, tf::TF};
use fastrand::Rng;

/// Pixels of a narrow bar of a tag that fills most of the picture's height.
const STANDING: f64 = 2.8;
/// The same of a tag that fills most of its width.
const LYING: f64 = 3.8;

/// A code of each kind, by name, with its text.
fn kinds() -> Vec<(&'static str, Code, &'static str)> {
    // Code sets B and C of ISO/IEC 15417, chosen by the library's own marks.
    let bars = |modules: Vec<u8>| Code::bars(&modules);
    vec![
        (
            "Code 128 B",
            bars(Code128::new("\u{181}Tag-417").unwrap().encode()),
            "Tag-417",
        ),
        (
            "Code 128 C",
            bars(Code128::new("\u{106}004170").unwrap().encode()),
            "004170",
        ),
        ("Code 39", bars(Code39::new("A 417").unwrap().encode()), "A 417"),
        (
            "2 of 5",
            bars(TF::interleaved("00041738").unwrap().encode()),
            "00041738",
        ),
        // The library adds the check digits; 4006381333931 and 96385074 are worked examples of the GS1 General
        // Specifications as commonly cited, from memory.
        (
            "EAN-13",
            bars(EAN13::new("400638133393").unwrap().encode()),
            "4006381333931",
        ),
        ("EAN-8", bars(EAN8::new("9638507").unwrap().encode()), "96385074"),
    ]
}

#[test]
fn it_reads_every_kind_lying_standing_and_upside_down() {
    for (kind, code, text) in kinds() {
        for degrees in [0, 4, 90, 97, 180, 270] {
            let read = Picture::of(&code, STANDING, f64::from(degrees)).read();
            assert_eq!(read.as_deref(), Some(text), "{kind} at {degrees} degrees");
        }
    }
}

#[test]
fn it_reads_every_kind_through_grain_blur_and_fading() {
    for (kind, code, text) in kinds() {
        let clean = Picture::of(&code, LYING, 3.0);
        let troubles = [
            ("grain", clean.clone().noisy(20, &mut Rng::with_seed(417))),
            ("blur", clean.clone().blurred(1)),
            ("fading", clean.faded(80, 160)),
        ];
        for (trouble, picture) in troubles {
            assert_eq!(picture.read().as_deref(), Some(text), "{kind} with {trouble}");
        }
    }
}
