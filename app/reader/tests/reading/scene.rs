//! Pictures of codes as a hand-held camera sees them.

use fastrand::Rng;
use qrcodegen::{QrCode, QrCodeEcc};

/// A drawn code in modules: dark or light, with its empty margin.
pub(crate) struct Code {
    width: usize,
    height: usize,
    dark: Vec<bool>,
}

/// Width of the empty margin, in modules: 4 for a QR code (ISO/IEC 18004), 10 for bar codes (ISO/IEC 15417).
const QUIET: (usize, usize) = (4, 10);
/// Height of bars, in modules.
const BARS_HIGH: usize = 40;

impl Code {
    /// A QR code of medium error correction, as on stubs.
    pub(crate) fn square(text: &str) -> Self {
        Self::of(&QrCode::encode_text(text, QrCodeEcc::Medium).unwrap())
    }

    /// A QR code that is already encoded.
    pub(crate) fn of(code: &QrCode) -> Self {
        let inner = usize::try_from(code.size()).unwrap();
        let side = inner + 2 * QUIET.0;
        let at = |index: usize| i32::try_from(index).unwrap() - i32::try_from(QUIET.0).unwrap();
        let dark = (0..side * side).map(|index| code.get_module(at(index % side), at(index / side)));
        Self {
            width: side,
            height: side,
            dark: dark.collect(),
        }
    }

    /// A bar code from a row of ones (dark) and zeros (light).
    pub(crate) fn bars(modules: &[u8]) -> Self {
        let width = modules.len() + 2 * QUIET.1;
        let row: Vec<bool> = (0..width)
            .map(|x| {
                x.checked_sub(QUIET.1)
                    .and_then(|x| modules.get(x))
                    .is_some_and(|module| *module == 1)
            })
            .collect();
        Self {
            width,
            height: BARS_HIGH,
            dark: row.repeat(BARS_HIGH),
        }
    }

    /// The brightness at a position in modules; grey outside of the code.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "floors of places inside the code"
    )]
    fn luma(&self, across: f64, down: f64) -> u16 {
        let inside = (0.0..self.width as f64).contains(&across) && (0.0..self.height as f64).contains(&down);
        match inside {
            false => 140,
            true if self.dark[down as usize * self.width + across as usize] => 25,
            true => 235,
        }
    }
}

/// A grey picture.
#[derive(Clone)]
pub(crate) struct Picture {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) luma: Vec<u8>,
}

impl Picture {
    /// A code in the middle of a VGA frame on a grey background, `scale` pixels a module, turned by `degrees`. Pixels
    /// at an edge are blended, as by a lens.
    pub(crate) fn of(code: &Code, scale: f64, degrees: f64) -> Self {
        let (width, height) = (640, 480);
        let (sin, cos) = degrees.to_radians().sin_cos();
        let at = |x: f64, y: f64| {
            let (x, y) = (x - width as f64 / 2.0, y - height as f64 / 2.0);
            let across = (x * cos + y * sin) / scale + code.width as f64 / 2.0;
            let down = (y * cos - x * sin) / scale + code.height as f64 / 2.0;
            code.luma(across, down)
        };
        let mixed = |x: usize, y: usize| {
            let parts = [1.0 / 6.0, 0.5, 5.0 / 6.0];
            let points = parts
                .iter()
                .flat_map(|down| parts.iter().map(move |across| (across, down)));
            let sum: u16 = points
                .map(|(across, down)| at(x as f64 + across, y as f64 + down))
                .sum();
            u8::try_from(sum / 9).unwrap()
        };
        let luma = (0..width * height).map(|index| mixed(index % width, index / width));
        Self {
            width,
            height,
            luma: luma.collect(),
        }
    }

    /// Adds noise as in a dark room: changes each pixel by up to `strength`.
    pub(crate) fn noisy(mut self, strength: i16, rng: &mut Rng) -> Self {
        for pixel in &mut self.luma {
            let off = i16::from(*pixel) + rng.i16(-strength..=strength);
            *pixel = u8::try_from(off.clamp(0, 255)).unwrap();
        }
        self
    }

    /// Blurs: each pixel becomes the mean of those up to `reach` away.
    pub(crate) fn blurred(self, reach: usize) -> Self {
        let mean = |x: usize, y: usize| {
            let rows = y.saturating_sub(reach)..(y + reach + 1).min(self.height);
            let columns = x.saturating_sub(reach)..(x + reach + 1).min(self.width);
            let count = rows.len() * columns.len();
            let sum: usize = rows
                .flat_map(|row| columns.clone().map(move |column| row * self.width + column))
                .map(|at| usize::from(self.luma[at]))
                .sum();
            u8::try_from(sum / count).unwrap()
        };
        let luma = (0..self.luma.len()).map(|at| mean(at % self.width, at / self.width));
        Self {
            luma: luma.collect(),
            ..self
        }
    }

    /// Reduces the contrast: all brightness is between `dark` and `light`.
    pub(crate) fn faded(mut self, dark: u8, light: u8) -> Self {
        let range = u16::from(light - dark);
        for pixel in &mut self.luma {
            *pixel = dark + u8::try_from(u16::from(*pixel) * range / 255).unwrap();
        }
        self
    }

    /// Light from the left: the brightness falls to a third at the right edge.
    pub(crate) fn lit_from_the_side(mut self) -> Self {
        for (at, pixel) in self.luma.iter_mut().enumerate() {
            let lost = usize::from(*pixel) * (at % self.width) * 2 / (3 * self.width);
            *pixel -= u8::try_from(lost).unwrap();
        }
        self
    }

    /// What the reader reads in it.
    pub(crate) fn read(&self) -> Option<String> {
        reader::read(
            &self.luma,
            u32::try_from(self.width).unwrap(),
            u32::try_from(self.height).unwrap(),
        )
    }
}
