//! Reads the code on a tag or stub from a picture, for browsers without a reader of their own.
//!
//! A wasm module of its own, because it is needed at the first scan and not for the first screen.

mod linear;
mod square;

use rxing::common::HybridBinarizer;
use rxing::{BinaryBitmap, Luma8Source};
use wasm_bindgen::prelude::wasm_bindgen;

/// The text of the code in a picture: a QR code in any orientation (ISO/IEC 18004), else Code 128, Code 39, EAN-13,
/// EAN-8 or interleaved 2 of 5, horizontal or vertical.
///
/// `luma` is the brightness of each pixel from 0 (black) to 255 (white), row by row from the top left; it has
/// `width` × `height` bytes. `None` if there is no code, if it cannot be read with certainty, if its text is not
/// UTF-8, if the picture is empty, or if the sizes disagree.
#[wasm_bindgen]
#[must_use]
pub fn read(luma: &[u8], width: u32, height: u32) -> Option<String> {
    // The library treats a rotated empty picture as one that has rows, and then reads beyond its end.
    if luma.is_empty() {
        return None;
    }
    let source = Luma8Source::new_with_slice(luma, width, height).ok()?;
    let mut picture = BinaryBitmap::new(HybridBinarizer::new(source));
    square::read(picture.get_black_matrix())
        .or_else(|| linear::read(&picture))
        .or_else(|| linear::read(&picture.rotate_counter_clockwise()))
}
