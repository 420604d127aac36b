//! The icon: stitches of waxed thread along a welt, and the end of the thread. Drawn in code and rendered in every size
//! that is needed.

use resvg::{tiny_skia, usvg};

use crate::error::BundleError;

/// The background of the icon, which depends on where it is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ground {
    /// With rounded corners: browsers and desktops show it as it is.
    Tile,
    /// Filled to the edges, because the system cuts it to a shape of its own; the drawing is inside the circle that no
    /// shape cuts.
    Full,
}

/// Colours of the icon: the shop's leather, the welt that is sewn on, its holes, and the waxed thread.
const LEATHER: &str = "#2b1d14";
const WELT: &str = "#6b4226";
const HOLE: &str = "#120b07";
const THREAD: &str = "#f2c14e";

/// The icon as SVG, 512 units square.
pub fn svg(ground: Ground) -> String {
    let (corner, scale) = match ground {
        Ground::Tile => (112, 1.0),
        Ground::Full => (0, 0.72),
    };
    // Scaled about the centre, so that the thread is not cut.
    let shift = 256.0 * (1.0 - scale);
    let stitches: String = [104, 200, 296].map(stitch).concat();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 512 512\">\
         <rect width=\"512\" height=\"512\" rx=\"{corner}\" fill=\"{LEATHER}\"/>\
         <path d=\"M0 300H512V412H0Z\" fill=\"{WELT}\"/>\
         <g transform=\"translate({shift} {shift}) scale({scale})\" fill=\"none\" stroke-linecap=\"round\">\
         {stitches}\
         <circle cx=\"408\" cy=\"356\" r=\"16\" fill=\"{HOLE}\"/>\
         <path d=\"M408 356C466 268 440 150 356 132C284 116 240 168 180 146C150 134 128 114 108 88\" \
         stroke=\"{THREAD}\" stroke-width=\"26\"/>\
         <path d=\"M108 88L80 54\" stroke=\"{THREAD}\" stroke-width=\"10\"/>\
         </g></svg>"
    )
}

/// One stitch: it comes out of one hole and slants into the next.
fn stitch(x: u32) -> String {
    let (from, to) = (x + 10, x + 86);
    format!(
        "<circle cx=\"{x}\" cy=\"356\" r=\"16\" fill=\"{HOLE}\"/>\
         <path d=\"M{from} 366L{to} 346\" stroke=\"{THREAD}\" stroke-width=\"26\"/>"
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

#[cfg(test)]
mod tests {
    use super::*;

    fn pixels(ground: Ground) -> tiny_skia::Pixmap {
        tiny_skia::Pixmap::decode_png(&png(ground, 192).unwrap()).unwrap()
    }

    #[test]
    fn an_icon_has_the_size_asked_for() {
        let icon = pixels(Ground::Tile);
        assert_eq!((icon.width(), icon.height()), (192, 192));
    }

    #[test]
    fn a_system_may_cut_the_full_icon_to_any_shape() {
        let (tile, full) = (pixels(Ground::Tile), pixels(Ground::Full));
        assert_eq!(tile.pixel(0, 0).unwrap().alpha(), 0);
        assert_eq!(full.pixel(0, 0).unwrap().alpha(), 255);
        // The manifest's safe zone is a circle with a radius of two fifths of the width. Outside of it there must be no
        // thread.
        let thread = |x: u32, y: u32| full.pixel(x, y).is_some_and(|pixel| pixel.red() > 200);
        for (x, y) in (0..192).flat_map(|x| (0..192).map(move |y| (x, y))) {
            let (dx, dy) = (f64::from(x) - 95.5, f64::from(y) - 95.5);
            assert!(!thread(x, y) || dx.hypot(dy) <= 0.4 * 192.0, "thread at {x}, {y}");
        }
    }
}
