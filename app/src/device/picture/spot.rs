//! The colour of a small place in a picture.

use web_sys::HtmlImageElement;

use super::PictureError;
use super::exposure::other;
use super::surface::Surface;

/// The side of the averaged square as a share of the picture's longer side. Large enough to even out grain and
/// stitches, small enough to leave out a nearby edge.
const SHARE: f64 = 0.012;

/// Red, green and blue, 0 to 255, on average over a small square round a point given in the picture's own pixels.
///
/// # Errors
/// [`PictureError::Other`] if the browser cannot draw.
pub fn spot(image: &HtmlImageElement, [x, y]: [f64; 2]) -> Result<[f64; 3], PictureError> {
    let longer = image.natural_width().max(image.natural_height());
    let side = (f64::from(longer) * SHARE).round().max(1.0);
    let surface = Surface::new(side as u32, side as u32).map_err(|thrown| other(&thrown))?;
    surface
        .pen()
        .draw_image_with_html_image_element(image, side / 2.0 - x, side / 2.0 - y)
        .map_err(|thrown| other(&thrown))?;
    let pixels = surface.pixels().map_err(|thrown| other(&thrown))?;
    let mut sum = [0.0; 3];
    let mut count = 0.0_f64;
    // Pixels outside of the picture were not drawn, and are transparent.
    for pixel in pixels.chunks_exact(4).filter(|pixel| pixel[3] == u8::MAX) {
        for (sum, channel) in sum.iter_mut().zip(pixel) {
            *sum += f64::from(*channel);
        }
        count += 1.0;
    }
    Ok(sum.map(|sum| sum / count.max(1.0)))
}
