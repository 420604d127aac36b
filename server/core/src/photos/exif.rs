//! Finds EXIF in pictures while they are received. It can say where and when a picture was taken, and by which device. Only EXIF is
//! looked for, not XMP, which can say the same.

/// Where a search is in a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Place {
    /// So many bytes before the next part that could be EXIF.
    Before(u64),
    /// Behind all of them, or in what is no picture.
    Behind,
    /// In a part that is EXIF.
    Exif,
}

/// What the first bytes of a part say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Read {
    /// Nothing before the next byte is there.
    More,
    /// The last byte is the first one of the part; what stands before it has no meaning.
    Fill,
    /// It is no EXIF, and so many bytes of it are still to come.
    Skip(u64),
    /// No EXIF can follow.
    End,
    /// It is EXIF.
    Exif,
}

/// Looks for EXIF in a picture whose bytes come in pieces of any length.
#[derive(Debug)]
pub struct ExifSearch {
    read: fn(&[u8]) -> Read,
    place: Place,
    /// The first bytes of the part at hand, eight at most.
    start: Vec<u8>,
}

impl ExifSearch {
    /// A search in a file of this media type. Only JPEG, PNG and `WebP` are searched.
    pub fn new(media_type: &str) -> Self {
        // The first part stands after SOI, after the signature, or after the header of the file.
        let (read, place): (fn(&[u8]) -> Read, Place) = match media_type {
            "image/jpeg" => (jpeg, Place::Before(2)),
            "image/png" => (png, Place::Before(8)),
            "image/webp" => (webp, Place::Before(12)),
            _ => (nothing, Place::Behind),
        };
        let start = Vec::with_capacity(8);
        Self { read, place, start }
    }

    /// Takes the next bytes.
    pub fn take(&mut self, mut bytes: &[u8]) {
        while let (Place::Before(skip), Some((first, rest))) = (self.place, bytes.split_first()) {
            if skip > 0 {
                let skipped = bytes.len().min(usize::try_from(skip).unwrap_or(usize::MAX));
                bytes = &bytes[skipped..];
                self.place = Place::Before(skip - skipped as u64);
            } else {
                self.start.push(*first);
                bytes = rest;
                self.read_start();
            }
        }
    }

    fn read_start(&mut self) {
        self.place = match (self.read)(&self.start) {
            Read::More => return,
            Read::Fill => {
                self.start.pop();
                return;
            }
            Read::Skip(bytes) => Place::Before(bytes),
            Read::End => Place::Behind,
            Read::Exif => Place::Exif,
        };
        self.start.clear();
    }

    /// Whether EXIF was found.
    pub fn found(&self) -> bool {
        self.place == Place::Exif
    }
}

fn nothing(_: &[u8]) -> Read {
    Read::End
}

/// A segment of a JPEG before the picture itself (ITU-T T.81 B.1.1): a marker; with most markers the length of what follows,
/// of which it is the first two bytes; content. EXIF is an APP1 that begins with `Exif` (CIPA DC-008, 4.7.2).
fn jpeg(start: &[u8]) -> Read {
    const APP1: u8 = 0xe1;
    const NAME: &[u8; 4] = b"Exif";
    match *start {
        [0xff] => Read::More,
        // Any number of these may stand before a marker.
        [0xff, 0xff] => Read::Fill,
        // No marker, and markers without a length.
        [0xff, 0x00 | 0x01 | 0xd0..=0xd7] => Read::Skip(0),
        // The beginning of the picture itself, its end, or another file.
        [0xff, 0xd8..=0xda] => Read::End,
        [0xff, _] | [0xff, _, _] => Read::More,
        [0xff, marker, high, low, ref content @ ..] => {
            let length = u64::from(u16::from_be_bytes([high, low]));
            let is_whole = content.len() == NAME.len();
            match length.checked_sub(2) {
                None => Read::End,
                Some(bytes) if marker != APP1 || bytes < NAME.len() as u64 => Read::Skip(bytes),
                Some(_) if is_whole && content == NAME => Read::Exif,
                Some(bytes) if is_whole => Read::Skip(bytes - NAME.len() as u64),
                Some(_) => Read::More,
            }
        }
        // A stray byte between segments: programs that show pictures go on to the next marker.
        _ => Read::Skip(0),
    }
}

/// A chunk of a PNG (W3C PNG 5.3): the length of its content, its type, content, and four bytes of checksum. EXIF is `eXIf`
/// (W3C PNG, third edition).
fn png(start: &[u8]) -> Read {
    match *start {
        [_, _, _, _, b'e', b'X', b'I', b'f'] => Read::Exif,
        [_, _, _, _, b'I', b'E', b'N', b'D'] => Read::End,
        [a, b, c, d, _, _, _, _] => Read::Skip(u64::from(u32::from_be_bytes([a, b, c, d])) + 4),
        _ => Read::More,
    }
}

/// A chunk of a `WebP` (RFC 9649 2.3): its type, the length of its content, and content, filled up to an even number of
/// bytes. EXIF is `EXIF`.
fn webp(start: &[u8]) -> Read {
    match *start {
        [b'E', b'X', b'I', b'F', _, _, _, _] => Read::Exif,
        [_, _, _, _, a, b, c, d] => {
            let bytes = u64::from(u32::from_le_bytes([a, b, c, d]));
            Read::Skip(bytes + bytes % 2)
        }
        _ => Read::More,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether EXIF is found. In pieces of whatever length, the same is found.
    fn has_exif(media_type: &str, file: &[u8]) -> bool {
        let found = [1, 3, 7, 4096].map(|piece| {
            let mut search = ExifSearch::new(media_type);
            file.chunks(piece).for_each(|bytes| search.take(bytes));
            search.found()
        });
        assert!(found.iter().all(|one| *one == found[0]), "{found:?} {file:?}");
        found[0]
    }

    fn segment(marker: u8, content: &[u8]) -> Vec<u8> {
        let length = u16::try_from(content.len() + 2).unwrap().to_be_bytes();
        [&[0xff, marker][..], &length, content].concat()
    }

    fn jpeg_of(segments: &[Vec<u8>]) -> Vec<u8> {
        let picture = [
            0xff, 0xda, 0, 2, 0x12, 0xff, 0xe1, 0, 8, b'E', b'x', b'i', b'f', 0, 0, 0xff, 0xd9,
        ];
        [&[0xff, 0xd8][..], &segments.concat(), &picture].concat()
    }

    #[test]
    fn exif_of_a_jpeg_is_a_segment_of_its_own() {
        let (jfif, exif) = (segment(0xe0, b"JFIF\0\x01\x02"), segment(0xe1, b"Exif\0\0II*\0"));
        let tables = segment(0xdb, &[7; 65]);
        let found = |segments: &[Vec<u8>]| has_exif("image/jpeg", &jpeg_of(segments));
        assert!(found(std::slice::from_ref(&exif)));
        assert!(found(&[jfif.clone(), tables.clone(), exif.clone()]));
        assert!(found(&[jfif.clone(), vec![0xff, 0xff, 0xff], exif.clone()]));
        assert!(found(&[vec![0xff, 0x01], exif.clone()]));
        assert!(found(&[jfif.clone(), vec![0x00], exif.clone()]), "a stray byte");
        assert!(
            !found(&[jfif.clone(), tables]),
            "what follows is the picture itself"
        );
        assert!(!found(&[segment(0xe1, b"other data\0"), segment(0xe1, b"Ex")]));
        assert!(!found(&[
            segment(0xfe, b"Exif\0\0"),
            segment(0xe2, b"\xff\xe1\0\x08Exif\0\0")
        ]));
        assert!(
            !found(&[jfif, vec![0xff, 0xe1, 0, 1], exif.clone()]),
            "no segment is so short"
        );
        let cut_short = jpeg_of(&[exif]);
        assert!(!has_exif("image/jpeg", &cut_short[..7]));
    }

    #[test]
    fn exif_of_a_png_is_a_chunk_before_its_end() {
        let chunk = |kind: &[u8], content: &[u8]| {
            let length = u32::try_from(content.len()).unwrap().to_be_bytes();
            [&length[..], kind, content, b"sum!"].concat()
        };
        let png_of = |chunks: &[Vec<u8>]| [&b"\x89PNG\r\n\x1a\n"[..], &chunks.concat()].concat();
        let (head, data, end) = (
            chunk(b"IHDR", &[1; 13]),
            chunk(b"IDAT", b"eXIf"),
            chunk(b"IEND", b""),
        );
        let exif = chunk(b"eXIf", b"II*\0");
        let found = |chunks: &[Vec<u8>]| has_exif("image/png", &png_of(chunks));
        assert!(found(&[head.clone(), exif.clone(), data.clone(), end.clone()]));
        assert!(found(&[head.clone(), data.clone(), exif.clone(), end.clone()]));
        assert!(!found(&[head, data, end, exif]));
    }

    #[test]
    fn exif_of_a_webp_is_a_chunk_of_its_own() {
        let chunk = |kind: &[u8], content: &[u8]| {
            let length = u32::try_from(content.len()).unwrap().to_le_bytes();
            let fill = &b"\0"[..content.len() % 2];
            [kind, &length[..], content, fill].concat()
        };
        let webp_of = |chunks: &[Vec<u8>]| [&b"RIFF\x40\0\0\0WEBP"[..], &chunks.concat()].concat();
        let (head, data) = (chunk(b"VP8X", &[8; 10]), chunk(b"VP8 ", b"EXIFs"));
        let exif = chunk(b"EXIF", b"II*\0");
        let found = |chunks: &[Vec<u8>]| has_exif("image/webp", &webp_of(chunks));
        assert!(found(&[head.clone(), data.clone(), exif.clone()]));
        assert!(!found(&[head, data]));
        assert!(
            !has_exif("audio/ogg", &webp_of(&[exif])),
            "only pictures are searched"
        );
    }
}
