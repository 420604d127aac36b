//! Which media types the shop stores, and how the first bytes of a file show its type.

use shared::sync::messages::MEDIA_TYPES;

/// Whether the shop stores files of this media type.
pub fn is_kept(media_type: &str) -> bool {
    MEDIA_TYPES.contains(&media_type)
}

/// Whether a file with these first bytes can be of this media type. `start` is its first 16 bytes, or all of them if it
/// has fewer.
///
/// Signatures: JPEG (ITU-T T.81 B.1.1.3, SOI then a marker), PNG (W3C PNG §5.2), `WebP` (RFC 9649 §2.3), Matroska
/// and `WebM` (RFC 8794 §11.2, EBML header), Ogg (RFC 3533 §6), MP4 (ISO/IEC 14496-12 §4.3, `ftyp`), MPEG audio
/// (ISO/IEC 11172-3 §2.4.1.3, eleven set bits) or an `ID3v2` tag.
pub fn agrees(media_type: &str, start: &[u8]) -> bool {
    let at = |from: usize, text: &[u8]| start.get(from..from + text.len()) == Some(text);
    match media_type {
        "image/jpeg" => at(0, b"\xff\xd8\xff"),
        "image/png" => at(0, b"\x89PNG\r\n\x1a\n"),
        "image/webp" => at(0, b"RIFF") && at(8, b"WEBP"),
        "audio/webm" => at(0, b"\x1a\x45\xdf\xa3"),
        "audio/ogg" => at(0, b"OggS"),
        "audio/mp4" => at(4, b"ftyp"),
        "audio/mpeg" => at(0, b"ID3") || (at(0, b"\xff") && start.get(1).is_some_and(|b| b & 0xe0 == 0xe0)),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kept_kind_is_told_by_its_own_signature_and_by_no_text() {
        let starts: [(&str, &[u8]); 7] = [
            ("image/jpeg", b"\xff\xd8\xff\xe0\0\x10JFIF"),
            ("image/png", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"),
            ("image/webp", b"RIFF\x10\0\0\0WEBPVP8 "),
            ("audio/webm", b"\x1a\x45\xdf\xa3\x9f"),
            ("audio/ogg", b"OggS\0\x02"),
            ("audio/mp4", b"\0\0\0\x1cftypM4A "),
            ("audio/mpeg", b"ID3\x04"),
        ];
        for (media_type, start) in starts {
            assert!(is_kept(media_type) && agrees(media_type, start), "{media_type}");
            assert!(!agrees(media_type, b"<svg onload="), "{media_type}");
            assert!(!agrees(media_type, b""), "{media_type}");
        }
        assert_eq!(starts.len(), MEDIA_TYPES.len());
        assert!(!is_kept("image/svg+xml") && !is_kept("text/html"));
    }
}
