//! From SVG to the pixels and JPEG files a phone would have stored.

use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg;

use super::{HEIGHT, WIDTH};

/// How many pixels of the picture become one of its thumbnail, each way.
const SHRINK: u32 = 3;
/// The phone's own setting.
const QUALITY: u8 = 82;

/// A JPEG file and its size in pixels.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::demo) struct Jpeg {
    pub(in crate::demo) bytes: Vec<u8>,
    pub(in crate::demo) width: u32,
    pub(in crate::demo) height: u32,
}

/// An empty ground of the picture's size. `None` only if there is no memory for it.
pub(super) fn ground() -> Option<Pixmap> {
    Pixmap::new(WIDTH, HEIGHT)
}

/// Draws an SVG document onto `pixels`. `None` if it is not one.
pub(super) fn paint(svg: &str, pixels: &mut Pixmap) -> Option<()> {
    let tree = usvg::Tree::from_str(svg, &usvg::Options::default()).ok()?;
    let scale = WIDTH as f32 / tree.size().width();
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    Some(())
}

/// The picture and its thumbnail.
pub(super) fn encode(pixels: &Pixmap) -> Option<(Jpeg, Jpeg)> {
    let full: Vec<u8> = pixels
        .data()
        .chunks_exact(4)
        .flat_map(|p| [p[0], p[1], p[2]])
        .collect();
    let small = shrunk(&full);
    Some((
        jpeg(&full, WIDTH, HEIGHT)?,
        jpeg(&small, WIDTH / SHRINK, HEIGHT / SHRINK)?,
    ))
}

/// Every pixel of the result is the average of a square.
fn shrunk(full: &[u8]) -> Vec<u8> {
    let (wide, side) = (WIDTH as usize, SHRINK as usize);
    let (width, height) = (wide / side, HEIGHT as usize / side);
    let mut sums = vec![0_u32; width * height * 3];
    for (y, row) in full.chunks_exact(wide * 3).enumerate() {
        let into = &mut sums[y / side * width * 3..][..width * 3];
        for (square, sum) in row.chunks_exact(side * 3).zip(into.chunks_exact_mut(3)) {
            for pixel in square.chunks_exact(3) {
                sum[0] += u32::from(pixel[0]);
                sum[1] += u32::from(pixel[1]);
                sum[2] += u32::from(pixel[2]);
            }
        }
    }
    let average = |sum| (sum / (SHRINK * SHRINK)) as u8;
    sums.into_iter().map(average).collect()
}

fn jpeg(rgb: &[u8], width: u32, height: u32) -> Option<Jpeg> {
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, QUALITY)
        .encode(rgb, width, height, ExtendedColorType::Rgb8)
        .ok()?;
    Some(Jpeg { bytes, width, height })
}
