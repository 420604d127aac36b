//! The icon: two stitches of waxed thread through a seam, drawn in code and rendered for every place that
//! wants it as pixels.

use resvg::{tiny_skia, usvg};

use crate::error::BundleError;

/// Where an icon is shown, which decides its ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// A tile of its own shape: browsers and desktops show it as it is.
    Tile,
    /// Filled to the edge, the drawing kept inside the middle four fifths: the system cuts the shape.
    Full,
}

/// Colours of the icon: the shop's leather, its edge, and the waxed thread.
const LEATHER: &str = "#2b1d14";
const SEAM: &str = "#120b07";
const THREAD: &str = "#f2c14e";
const THREAD_SHADE: &str = "#b9811d";

/// The icon as SVG, 512 units square.
pub fn svg(ground: Ground) -> String {
    let (corner, scale) = match ground {
        Ground::Tile => (112, 1.0),
        Ground::Full => (0, 0.8),
    };
    // Scaled about the middle, so that a round cut leaves the thread whole.
    let shift = 256.0 * (1.0 - scale);
    let stitches: String = [96, 208, 320].map(stitch).concat();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 512 512\">\
         <rect width=\"512\" height=\"512\" rx=\"{corner}\" fill=\"{LEATHER}\"/>\
         <g transform=\"translate({shift} {shift}) scale({scale})\" fill=\"none\" stroke-linecap=\"round\">\
         <path d=\"M40 300H472\" stroke=\"{SEAM}\" stroke-width=\"20\"/>\
         {stitches}\
         <path d=\"M416 300C470 240 452 140 372 120C300 102 250 150 190 128C158 116 132 92 108 66\" \
         stroke=\"{THREAD}\" stroke-width=\"24\"/>\
         <path d=\"M108 66L84 40\" stroke=\"{THREAD}\" stroke-width=\"9\"/>\
         </g></svg>"
    )
}

/// One lockstitch: down through the hole at the left, up through the one at the right.
fn stitch(x: u32) -> String {
    let (right, low, high) = (x + 96, 356, 252);
    format!(
        "<path d=\"M{x} 300C{x} {low} {right} {low} {right} 300\" stroke=\"{THREAD_SHADE}\" stroke-width=\"24\"/>\
         <path d=\"M{x} 300C{x} {high} {right} {high} {right} 300\" stroke=\"{THREAD}\" stroke-width=\"24\"/>"
    )
}

/// The icon as a PNG of `side` pixels.
pub fn png(ground: Ground, side: u16) -> Result<Vec<u8>, BundleError> {
    let tree = usvg::Tree::from_str(&svg(ground), &usvg::Options::default())
        .map_err(|error| BundleError::Icon(error.to_string()))?;
    let pixels = u32::from(side);
    let mut canvas =
        tiny_skia::Pixmap::new(pixels, pixels).ok_or_else(|| BundleError::Icon(format!("{side} pixels")))?;
    let scale = f32::from(side) / tree.size().width();
    resvg::render(
        &tree,
        tiny_skia::Transform::from_scale(scale, scale),
        &mut canvas.as_mut(),
    );
    canvas
        .encode_png()
        .map_err(|error| BundleError::Icon(error.to_string()))
}
