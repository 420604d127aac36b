//! The text of a file, from its bytes.

/// What the bytes 0x80 to 0x9F stand for in Windows-1252 (WHATWG, Encoding Standard, index windows-1252; from memory). All
/// others are those of Latin-1.
const WINDOWS_1252: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}',
    '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];

/// The text of a file: UTF-16 if its byte order mark says so, UTF-8 with or without such a mark, else Windows-1252.
pub fn decoded(bytes: &[u8]) -> String {
    match bytes {
        [0xff, 0xfe, rest @ ..] => utf_16(rest, u16::from_le_bytes),
        [0xfe, 0xff, rest @ ..] => utf_16(rest, u16::from_be_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] => eight_bits(rest),
        all => eight_bits(all),
    }
}

fn utf_16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> String {
    let (units, _) = bytes.as_chunks::<2>();
    let letters = char::decode_utf16(units.iter().map(|two| unit(*two)));
    letters
        .map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER))
        .collect()
}

/// UTF-8, or Windows-1252 if the bytes are no UTF-8.
pub(super) fn eight_bits(bytes: &[u8]) -> String {
    match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().map(|byte| windows_1252(*byte)).collect(),
    }
}

fn windows_1252(byte: u8) -> char {
    let special = byte
        .checked_sub(0x80)
        .and_then(|at| WINDOWS_1252.get(usize::from(at)));
    special.copied().unwrap_or(char::from(byte))
}
