//! Bar codes, as they are printed on number rolls.

use std::borrow::Cow;

use rxing::common::BitArray;
use rxing::oned::{Code39Reader, Code128Reader, EAN8Reader, EAN13Reader, ITFReader, OneDReader};
use rxing::{Binarizer, BinaryBitmap, DecodeHints, RXingResult};

/// How many rows of a picture are scanned: at a hand's distance, several of them cross a tag's bars.
const LINES: usize = 48;

/// The text on which two scanned rows agree. Half of these kinds of code have no check character, and the grain of
/// leather or a row of stitches can look like a short code, but not like the same one twice.
pub(crate) fn read<B: Binarizer>(picture: &BinaryBitmap<B>) -> Option<String> {
    let mut once: Vec<String> = Vec::new();
    for text in lines(picture.get_height()).filter_map(|line| read_line(picture, line)) {
        if once.contains(&text) {
            return Some(text);
        }
        once.push(text);
    }
    None
}

/// Evenly spaced rows of a picture of this height, about [`LINES`] of them.
fn lines(height: usize) -> impl Iterator<Item = usize> {
    let step = height.div_ceil(LINES).max(1);
    (step / 2..height).step_by(step)
}

/// The code on one row, read in both directions. The threshold between black and white is found in two ways: within the
/// row, which is robust against noise, and within the neighbourhood, which is robust against blur.
fn read_line<B: Binarizer>(picture: &BinaryBitmap<B>, line: usize) -> Option<String> {
    let within_row = picture.get_black_row(line).ok().map(Cow::into_owned);
    let within_reach = u32::try_from(line)
        .ok()
        .map(|line| picture.get_black_matrix().getRow(line));
    let found = [within_row, within_reach]
        .into_iter()
        .flatten()
        .find_map(from_either_end)?;
    Some(found.getText().to_owned()).filter(|text| !text.is_empty())
}

fn from_either_end(mut bars: BitArray) -> Option<RXingResult> {
    read_bars(&bars).or_else(|| {
        bars.reverse();
        read_bars(&bars)
    })
}

/// Tries the kinds with a check character first, because they are more reliable.
fn read_bars(bars: &BitArray) -> Option<RXingResult> {
    // The row's number is only returned with the result, and is not used.
    let (row, hints) = (0, DecodeHints::default());
    Code128Reader
        .decode_row(row, bars, &hints)
        .or_else(|_| EAN13Reader.decode_row(row, bars, &hints))
        .or_else(|_| EAN8Reader.decode_row(row, bars, &hints))
        .or_else(|_| Code39Reader::default().decode_row(row, bars, &hints))
        .or_else(|_| ITFReader::default().decode_row(row, bars, &hints))
        .ok()
}
