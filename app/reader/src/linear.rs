//! Codes of bars, as number rolls bear them.

use std::borrow::Cow;

use rxing::common::BitArray;
use rxing::oned::{Code39Reader, Code128Reader, EAN8Reader, EAN13Reader, ITFReader, OneDReader};
use rxing::{Binarizer, BinaryBitmap, DecodeHints, RXingResult};

/// Lines laid across a picture: at a hand's distance several meet a tag's bars.
const LINES: usize = 48;

/// The text that two lines across the picture agree on. Half of these codes have no check character, and the grain of
/// leather or a row of stitches can look like a short one: but not twice alike.
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

/// Rows of a picture so high, evenly spread.
fn lines(height: usize) -> impl Iterator<Item = usize> {
    let step = height.div_ceil(LINES).max(1);
    (step / 2..height).step_by(step)
}

/// The code on one row, read from either end. Black and white are told apart twice: within the row, which stands
/// grain, and within the neighbourhood, which stands blur.
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

/// Kinds with a check character first: they are right more often.
fn read_bars(bars: &BitArray) -> Option<RXingResult> {
    // The row's number only tells where a code was, which nobody asks.
    let (row, hints) = (0, DecodeHints::default());
    Code128Reader
        .decode_row(row, bars, &hints)
        .or_else(|_| EAN13Reader.decode_row(row, bars, &hints))
        .or_else(|_| EAN8Reader.decode_row(row, bars, &hints))
        .or_else(|_| Code39Reader::default().decode_row(row, bars, &hints))
        .or_else(|_| ITFReader::default().decode_row(row, bars, &hints))
        .ok()
}
