//! QR codes (ISO/IEC 18004) as one SVG path each.

use qrcodegen::{QrCode, QrCodeEcc};

/// Width of the empty margin on every side, in modules, as the standard requires.
const QUIET: i32 = 4;

/// A drawn code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct QrDrawing {
    /// Width and height with the margin, in modules.
    pub(crate) side: i32,
    /// The dark modules as an SVG path in units of a module: one horizontal stroke for each run of dark modules in a
    /// row.
    pub(crate) path: String,
}

/// Draws a short text. `None` if it is too long for any code.
pub(crate) fn draw(text: &str) -> Option<QrDrawing> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let mut path = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let begins = x;
            while code.get_module(x, y) {
                x += 1;
            }
            if x > begins {
                let run = x - begins;
                let command = format!("M{} {}h{run}v1h-{run}z", begins + QUIET, y + QUIET);
                path.push_str(&command);
            }
            x += 1;
        }
    }
    Some(QrDrawing {
        side: code.size() + 2 * QUIET,
        path,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Paints the path at eight pixels a module and decodes it with another library.
    fn read(drawn: &QrDrawing) -> String {
        const SCALE: usize = 8;
        let side = usize::try_from(drawn.side).unwrap();
        let mut dark = vec![false; side * side];
        for command in drawn.path.split('M').skip(1) {
            let (at, rest) = command.split_once('h').unwrap();
            let (x, y) = at.split_once(' ').unwrap();
            let (x, y): (usize, usize) = (x.parse().unwrap(), y.parse().unwrap());
            let run: usize = rest.split_once('v').unwrap().0.parse().unwrap();
            dark[y * side + x..][..run].fill(true);
        }
        let pixels = side * SCALE;
        let grey = |x: usize, y: usize| {
            if dark[y / SCALE * side + x / SCALE] {
                0
            } else {
                255
            }
        };
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(pixels, pixels, grey);
        let found = picture.detect_grids();
        assert_eq!(found.len(), 1);
        found[0].decode().unwrap().1
    }

    #[test]
    fn an_independent_decoder_reads_an_id_back() {
        for id in [
            "01936f2a-7b1c-7e44-9d0a-3c5b8e1f2a60",
            "ffffffff-ffff-ffff-ffff-ffffffffffff",
        ] {
            let drawn = draw(id).unwrap();
            assert_eq!(read(&drawn), id);
            assert_eq!(drawn.side, 29 + 8, "an id fits a code of version 3");
        }
    }

    #[test]
    fn a_text_without_end_is_not_drawn() {
        assert_eq!(draw(&"x".repeat(5_000)), None);
    }
}
