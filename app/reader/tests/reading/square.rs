//! QR codes as they are printed on stubs and tags, drawn by another library (`qrcodegen`).

use crate::scene::{Code, Picture};
use fastrand::Rng;

/// The text in the app's own stubs.
const ID: &str = "01936f2a-7b1c-7e44-9d0a-3c5b8e1f2a60";
/// Pixels for each module of a tag at a hand's distance.
const SCALE: f64 = 4.3;

fn read(degrees: u32, change: impl Fn(Picture) -> Picture) -> Option<String> {
    change(Picture::of(&Code::square(ID), SCALE, f64::from(degrees))).read()
}

#[test]
fn it_reads_a_stub_held_at_any_angle() {
    for degrees in (0..360).step_by(10) {
        assert_eq!(read(degrees, |it| it).as_deref(), Some(ID), "{degrees} degrees");
    }
}

#[test]
fn it_reads_through_grain_blur_fading_and_a_lamp_at_the_side() {
    let mut missed = Vec::new();
    for degrees in (0..360).step_by(15) {
        let grain = |it: Picture| it.noisy(40, &mut Rng::with_seed(degrees.into()));
        let troubles = [
            ("grain", read(degrees, grain)),
            ("blur", read(degrees, |it| it.blurred(1))),
            ("fading", read(degrees, |it| it.faded(80, 160))),
            ("lamp", read(degrees, Picture::lit_from_the_side)),
            (
                "all of it",
                read(degrees, |it| {
                    let it = it.blurred(1).faded(70, 170).lit_from_the_side();
                    it.noisy(5, &mut Rng::with_seed(7))
                }),
            ),
        ];
        for (trouble, text) in troubles {
            match text {
                Some(text) => assert_eq!(text, ID, "read wrong: {trouble} at {degrees} degrees"),
                None => missed.push((trouble, degrees)),
            }
        }
    }
    assert!(missed.is_empty(), "not read: {missed:?}");
}

#[test]
fn it_reads_numbers_words_and_letters_outside_ascii() {
    for text in ["0417", "A 17", "a17", "Größe 42", "https://shop.example/17"] {
        let read = Picture::of(&Code::square(text), SCALE, 12.0).read();
        assert_eq!(read.as_deref(), Some(text));
    }
}

/// In Latin-1, as some printers of number rolls do, it is not known which letters are meant.
#[test]
fn bytes_that_are_not_utf_8_are_no_text() {
    let latin_1 = [b'N', 0xB0, b'1', b'7'];
    let code = qrcodegen::QrCode::encode_binary(&latin_1, qrcodegen::QrCodeEcc::Medium).unwrap();
    assert_eq!(Picture::of(&Code::of(&code), SCALE, 0.0).read(), None);
}
