//! A sole's outline seen square on, toe to the left, about 660 units long, its middle line on y = 0.

use super::Silhouette;
use super::canvas::Canvas;
use super::colour::SHADOW;

/// A right shoe's outline.
pub(super) fn outline(kind: Silhouette) -> &'static str {
    match kind {
        Silhouette::Court | Silhouette::Dance => SLENDER,
        Silhouette::WalkingBoot | Silhouette::WorkBoot | Silhouette::ChildsBoot | Silhouette::Sandal => BROAD,
        _ => PLAIN,
    }
}

const PLAIN: &str = "M0,4 C6,-66 84,-104 184,-100 C290,-94 340,-60 420,-54 C500,-52 560,-70 612,-58 \
                     C650,-48 660,-20 658,6 C654,42 618,62 560,62 C480,58 420,62 344,78 C290,92 220,108 150,100 \
                     C70,88 4,64 0,4 Z";
const SLENDER: &str = "M0,0 C20,-50 100,-88 196,-84 C300,-78 350,-34 430,-30 C500,-30 560,-50 612,-42 \
                       C648,-36 656,-16 654,4 C650,30 618,44 560,44 C480,38 430,34 360,50 C300,68 230,92 160,84 \
                       C90,74 18,40 0,0 Z";
const BROAD: &str = "M2,6 C0,-84 84,-122 190,-118 C300,-112 350,-74 430,-68 C510,-66 566,-84 616,-72 \
                     C656,-60 666,-24 664,6 C660,50 622,76 560,76 C480,72 424,76 350,92 C290,106 220,124 144,114 \
                     C60,100 4,78 2,6 Z";

/// Draws something twice: the left shoe above, the right one, its mirror image, below.
pub(super) fn pair(canvas: &mut Canvas, size: f32, draw: impl Fn(&mut Canvas)) {
    let left = (960.0 - 660.0 * size * 1.12) / 2.0;
    for (y, mirror) in [(216.0, -1.0), (508.0, 1.0)] {
        let scale = size * 1.12;
        canvas.moved(
            &format!("translate({left},{y}) scale({scale},{})", scale * mirror),
            |canvas| {
                draw(canvas);
            },
        );
    }
}

/// What a shoe on its back throws on the bench. Mirrored with its shoe, so it lies all round.
pub(super) fn shade(canvas: &mut Canvas, path: &str) {
    for (grow, opacity) in [(1.07, 0.1), (1.045, 0.16), (1.02, 0.26)] {
        let shift = 330.0 * (1.0 - grow);
        canvas.moved(
            &format!("translate({},4) scale({grow},{})", shift + 8.0, grow * 1.03),
            |canvas| {
                canvas.veil(path, SHADOW, opacity);
            },
        );
    }
}

/// The same outline drawn smaller about its middle: `by` is what is left of it.
pub(super) fn smaller(canvas: &mut Canvas, by: f32, draw: impl FnOnce(&mut Canvas)) {
    let shift = 330.0 * (1.0 - by);
    canvas.moved(&format!("translate({shift},0) scale({by},{})", by - 0.03), draw);
}
