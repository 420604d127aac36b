//! Pictures without a code give no text, and no picture makes the reader panic.

use crate::scene::{Code, Picture};
use barcoders::sym::code39::Code39;
use fastrand::Rng;
use proptest::prelude::*;
use reader::read;

const WIDTH: usize = 320;
const HEIGHT: usize = 240;

/// A row of stitches: dark bars of any width, with each pixel row slightly shifted.
fn stitches(rng: &mut Rng) -> Vec<u8> {
    let mut row = Vec::new();
    while row.len() < WIDTH {
        let shade = if rng.bool() { rng.u8(0..80) } else { rng.u8(150..) };
        row.extend(std::iter::repeat_n(shade, rng.usize(1..9)));
    }
    row.truncate(WIDTH);
    let mut picture = Vec::new();
    for _ in 0..HEIGHT {
        if rng.u8(0..4) == 0 {
            row.rotate_left(1);
        }
        picture.extend(row.iter().map(|pixel| pixel.saturating_add(rng.u8(0..16))));
    }
    picture
}

/// The grain of leather: blotches of any shade.
fn leather(rng: &mut Rng) -> Vec<u8> {
    let mut picture = vec![rng.u8(..); WIDTH * HEIGHT];
    for _ in 0..400 {
        let (left, top, shade) = (rng.usize(..WIDTH), rng.usize(..HEIGHT), rng.u8(..));
        let (right, bottom) = (left + rng.usize(1..40), top + rng.usize(1..40));
        for y in top..bottom.min(HEIGHT) {
            picture[y * WIDTH + left..y * WIDTH + right.min(WIDTH)].fill(shade);
        }
    }
    picture
}

#[test]
fn stitches_and_leather_are_no_codes() {
    for seed in 0..60 {
        for draw in [stitches, leather] {
            let luma = draw(&mut Rng::with_seed(seed));
            let read = read(
                &luma,
                u32::try_from(WIDTH).unwrap(),
                u32::try_from(HEIGHT).unwrap(),
            );
            assert_eq!(read, None, "seed {seed}");
        }
    }
}

/// A bar code without a check character, `high` pixels high, as the reader reads it.
fn strip(high: usize) -> Option<String> {
    let modules = Code39::new("A417").unwrap().encode();
    let mut luma = vec![235; WIDTH * HEIGHT];
    for line in luma.chunks_exact_mut(WIDTH).skip(HEIGHT / 2).take(high) {
        for (pixel, module) in line[20..].iter_mut().zip(modules.iter().flat_map(|it| [it; 3])) {
            *pixel = if *module == 1 { 25 } else { 235 };
        }
    }
    read(
        &luma,
        u32::try_from(WIDTH).unwrap(),
        u32::try_from(HEIGHT).unwrap(),
    )
}

#[test]
fn bars_that_one_line_alone_meets_are_not_believed() {
    assert_eq!(strip(4), None);
    assert_eq!(strip(20).as_deref(), Some("A417"));
}

#[test]
fn sizes_that_disagree_are_nothing() {
    assert_eq!(read(&[0; 12], 4, 4), None);
    assert_eq!(read(&[0; 12], u32::MAX, u32::MAX), None);
    assert_eq!(read(&[], 0, 0), None);
}

#[test]
fn the_smallest_pictures_are_nothing() {
    for (width, height) in [(1, 1), (1, 9), (9, 1), (41, 3), (3, 41), (40, 40)] {
        assert_eq!(
            read(
                &vec![0; width * height],
                u32::try_from(width).unwrap(),
                u32::try_from(height).unwrap()
            ),
            None
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// A torn, smeared or half covered code gives its own text or none: never another text, never a panic.
    #[test]
    fn a_spoilt_code_is_its_text_or_nothing(
        seed: u64, degrees in 0.0..360.0, scale in 1.0..8.0, blots in 0_usize..30, grain in 0_i16..120,
    ) {
        let text = "01936f2a-7b1c-7e44-9d0a-3c5b8e1f2a60";
        let mut rng = Rng::with_seed(seed);
        let mut picture = Picture::of(&Code::square(text), scale, degrees);
        for _ in 0..blots {
            let (left, top, shade) = (rng.usize(..picture.width), rng.usize(..picture.height), rng.u8(..));
            let right = (left + rng.usize(1..120)).min(picture.width);
            for y in top..(top + rng.usize(1..60)).min(picture.height) {
                picture.luma[y * picture.width + left..y * picture.width + right].fill(shade);
            }
        }
        let read = picture.noisy(grain, &mut rng).read();
        prop_assert!(read.is_none() || read.as_deref() == Some(text), "{read:?}");
    }
}

#[test]
fn an_empty_picture_holds_no_code() {
    for (width, height) in [(0, 0), (255, 0), (0, 255)] {
        assert_eq!(read(&[], width, height), None);
    }
}
