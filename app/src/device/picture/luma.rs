//! A frame as brightness values, for code that analyses it and does not keep it.

use web_sys::HtmlVideoElement;

use super::PictureError;
use super::exposure::other;
use super::source::PictureSource;
use super::surface::Surface;

/// The brightness of each pixel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Luma {
    /// Pixels in a row.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// From 0 (black) to 255 (white), row by row from the top left.
    pub pixels: Vec<u8>,
}

/// The frame that a video shows now, its longer side `long_edge` pixels at most.
///
/// # Errors
/// [`PictureError::Blank`] if it shows none yet; [`PictureError::Other`] if the browser cannot draw it.
pub fn luma(video: HtmlVideoElement, long_edge: u32) -> Result<Luma, PictureError> {
    let surface = Surface::draw(&PictureSource::Video(video), long_edge)?;
    let (width, height) = surface.size();
    let colours = surface.pixels().map_err(|thrown| other(&thrown))?;
    Ok(Luma {
        width,
        height,
        pixels: colours.chunks_exact(4).map(brightness).collect(),
    })
}

/// The luma of ITU-R BT.601, its weights in 256ths: 0.299 red, 0.587 green, 0.114 blue.
fn brightness(pixel: &[u8]) -> u8 {
    let weighed = pixel
        .iter()
        .zip([77, 150, 29])
        .map(|(part, weight)| u32::from(*part) * weight);
    // The weights add up to 256, so it is never more than a byte.
    u8::try_from(weighed.sum::<u32>() >> 8).unwrap_or(u8::MAX)
}
