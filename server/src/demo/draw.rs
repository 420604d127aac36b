//! Pictures for the invented shop: a shoe from the side, drawn by rule.

use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, Rgb, RgbImage};

/// What to draw.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    /// The upper's colour.
    pub(super) upper: [u8; 3],
    /// The bench's colour.
    pub(super) bench: [u8; 3],
    /// How far the heel is worn, 0 to 1.
    pub(super) worn: f32,
}

/// A picture as it is stored.
pub(super) struct Drawn {
    pub(super) jpeg: Vec<u8>,
    pub(super) width: u32,
    pub(super) height: u32,
}

/// The upper from the toe's tip round the throat and back to the heel, on a field 4 wide and 3 high.
const UPPER: &[(f32, f32)] = &[
    (0.55, 1.95),
    (0.62, 1.72),
    (0.95, 1.55),
    (1.35, 1.45),
    (1.75, 1.22),
    (2.05, 0.95),
    (2.35, 0.86),
    (2.85, 0.82),
    (3.3, 0.84),
    (3.38, 1.2),
    (3.42, 1.6),
    (3.4, 1.98),
];
const SOLE: &[(f32, f32)] = &[
    (0.5, 1.95),
    (3.45, 1.98),
    (3.42, 2.1),
    (2.4, 2.12),
    (1.9, 2.1),
    (0.9, 2.18),
    (0.55, 2.1),
];

/// Draws a shoe, `width` pixels wide and three quarters as high. `None` if it cannot be encoded.
pub(super) fn shoe(look: Look, width: u32) -> Option<Drawn> {
    let height = width * 3 / 4;
    let scale = 4.0 / width as f32;
    // The heel block, lower at the back where it is worn away.
    let heel = [
        (2.62, 2.1),
        (3.43, 2.08),
        (3.4, 2.5 - 0.16 * look.worn),
        (3.15, 2.5),
        (2.68, 2.5),
    ];
    let picture = RgbImage::from_fn(width, height, |x, y| {
        let at = (x as f32 * scale, y as f32 * scale);
        let light = 1.0 - 0.12 * at.1 + 0.05 * (at.0 - 2.0);
        if inside(UPPER, at) {
            shade(look.upper, light + 0.25 * (1.6 - at.1).max(0.0) - lace(at))
        } else if inside(SOLE, at) || inside(&heel, at) {
            shade([74, 52, 36], light)
        } else {
            shade(look.bench, light - if at.1 > 2.5 { 0.12 } else { 0.0 })
        }
    });
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, 82)
        .encode(&picture, width, height, ExtendedColorType::Rgb8)
        .ok()?;
    Some(Drawn { jpeg, width, height })
}

/// The dark of three laces across the instep.
fn lace((x, y): (f32, f32)) -> f32 {
    let near = |cx: f32, cy: f32| ((x - cx) * 0.5 + (y - cy)).abs() < 0.025 && (x - cx).abs() < 0.2;
    if near(1.75, 1.38) || near(1.93, 1.24) || near(2.1, 1.1) {
        0.45
    } else {
        0.0
    }
}

fn shade(colour: [u8; 3], light: f32) -> Rgb<u8> {
    Rgb(colour.map(|c| (f32::from(c) * light.clamp(0.0, 1.6)).min(255.0) as u8))
}

/// Whether a point lies inside a polygon: an odd number of its edges lie to the right.
fn inside(polygon: &[(f32, f32)], (x, y): (f32, f32)) -> bool {
    let edges = polygon.iter().zip(polygon.iter().cycle().skip(1));
    edges
        .filter(|(a, b)| (a.1 > y) != (b.1 > y) && x < (b.0 - a.0) * (y - a.1) / (b.1 - a.1) + a.0)
        .count()
        % 2
        == 1
}
