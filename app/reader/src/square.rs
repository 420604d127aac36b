//! QR codes.
//!
//! The library's steps are called one by one rather than through its `QrReader`, which decodes text with tables of
//! every legacy character set; these are larger than all other code here. Stubs and number rolls need none of them.

use rxing::common::cpp_essentials::DecoderResult;
use rxing::common::{BitMatrix, DetectorRXingResult};
use rxing::qrcode::cpp_port::decoder::Decode;
use rxing::qrcode::cpp_port::detector::{FindFinderPatterns, GenerateFinderPatternSets, SampleQR};

/// The text of the first code that can be decoded completely.
pub(crate) fn read(picture: &BitMatrix) -> Option<String> {
    // `true`: examine every row; `0`: modules may have any size.
    let mut corners = FindFinderPatterns(picture, true, 0);
    GenerateFinderPatternSets(&mut corners)
        .iter()
        .filter_map(|three| SampleQR(picture, three).ok())
        .filter_map(|sampled| Decode(sampled.getBits()).ok())
        .filter(DecoderResult::isValid)
        .find_map(|code| String::from_utf8(code.content().bytes().to_vec()).ok())
        .filter(|text| !text.is_empty())
}
