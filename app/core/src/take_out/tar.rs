//! Writing an archive that every system can unpack: tar in the format `ustar` (IEEE Std 1003.1, pax, "ustar Interchange
//! Format").

use shared::log::UnixMs;

/// The length of a block in bytes: the header of a file is one, and its content fills whole ones.
const BLOCK: usize = 512;

/// The most bytes of a name.
pub(super) const NAME: usize = 100;

/// Where the fields of a header are, in bytes.
mod place {
    pub(super) const MODE: usize = 100;
    pub(super) const OWNER: usize = 108;
    pub(super) const GROUP: usize = 116;
    pub(super) const SIZE: usize = 124;
    pub(super) const MODIFIED: usize = 136;
    pub(super) const CHECKSUM: usize = 148;
    pub(super) const KIND: usize = 156;
    pub(super) const MAGIC: usize = 257;
}

/// Writes an archive in pieces.
pub(super) struct TarWriter<'a> {
    sink: &'a mut dyn FnMut(Vec<u8>),
}

impl<'a> TarWriter<'a> {
    pub(super) fn new(sink: &'a mut dyn FnMut(Vec<u8>)) -> Self {
        Self { sink }
    }

    /// Writes a file. Its name is ASCII, at most [`NAME`] bytes; folders are separated by `/`.
    pub(super) fn file(&mut self, name: &str, modified: UnixMs, bytes: Vec<u8>) {
        let rest = bytes.len() % BLOCK;
        (self.sink)(header(name, modified, bytes.len()));
        (self.sink)(bytes);
        if rest > 0 {
            (self.sink)(vec![0; BLOCK - rest]);
        }
    }

    /// Ends the archive: two empty blocks.
    pub(super) fn end(self) {
        (self.sink)(vec![0; 2 * BLOCK]);
    }
}

/// The header of a file with this name and length.
fn header(name: &str, modified: UnixMs, length: usize) -> Vec<u8> {
    let mut header = vec![0; BLOCK];
    let mut put = |at: usize, text: &[u8]| {
        if let Some(place) = header.get_mut(at..at + text.len()) {
            place.copy_from_slice(text);
        }
    };
    let name = name.as_bytes();
    put(0, name.get(..NAME).unwrap_or(name));
    put(place::MODE, b"0000644\0");
    put(place::OWNER, b"0000000\0");
    put(place::GROUP, b"0000000\0");
    put(place::SIZE, format!("{length:011o}\0").as_bytes());
    let seconds = modified.0.max(0) / 1000;
    put(place::MODIFIED, format!("{seconds:011o}\0").as_bytes());
    put(place::KIND, b"0");
    put(place::MAGIC, b"ustar\x0000");
    // The sum of all bytes, with blanks in its own place.
    put(place::CHECKSUM, &[b' '; 8]);
    let sum: u32 = header.iter().map(|byte| u32::from(*byte)).sum();
    let text = format!("{sum:06o}\0 ");
    if let Some(place) = header.get_mut(place::CHECKSUM..place::CHECKSUM + text.len()) {
        place.copy_from_slice(text.as_bytes());
    }
    header
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The sum that the format demands, by hand: 512 bytes of an empty file named `a`, modified in 1970.
    #[test]
    fn a_header_is_that_of_the_format() {
        let header = header("a", UnixMs(0), 0);
        assert_eq!(header.len(), BLOCK);
        assert_eq!(&header[..2], b"a\0");
        assert_eq!(&header[257..265], b"ustar\x0000");
        let zeros = |count: u32| count * u32::from(b'0');
        let mode = zeros(4) + u32::from(b'6') + 2 * u32::from(b'4');
        let ustar: u32 = b"ustar".iter().map(|byte| u32::from(*byte)).sum();
        let sum =
            u32::from(b'a') + mode + zeros(7) * 2 + zeros(11) * 2 + zeros(1) + ustar + zeros(2) + 8 * 32;
        assert_eq!(&header[148..156], format!("{sum:06o}\0 ").as_bytes());
    }

    #[test]
    fn contents_fill_whole_blocks() {
        for (length, blocks) in [(0, 3), (1, 4), (512, 4), (513, 5)] {
            let mut all = Vec::new();
            let mut sink = |piece: Vec<u8>| all.extend(piece);
            let mut archive = TarWriter::new(&mut sink);
            archive.file("a", UnixMs(0), vec![b'x'; length]);
            archive.end();
            assert_eq!(all.len(), blocks * BLOCK, "{length}");
        }
    }
}
