//! The bench: its wood, the wall with the tools behind it, the light from the window on the left.

use super::canvas::{Canvas, line};
use super::chance::DrawingChance;
use super::colour::{Colour, SHADOW, WHITE};

const WOOD: Colour = Colour::of(186, 140, 94);
const WALL: Colour = Colour::of(104, 118, 116);
const IRON: Colour = Colour::of(52, 58, 60);
const MAT: Colour = Colour::of(74, 92, 84);

/// Where the bench is seen from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum BenchView {
    /// With the wall behind it.
    FromTheFront,
    /// Its top alone, with the cutting mat.
    FromAbove,
}

/// The empty bench, `window` of it shown.
pub(super) fn svg(seen: BenchView, window: [f32; 4]) -> String {
    let mut canvas = Canvas::default();
    match seen {
        BenchView::FromTheFront => {
            wall(&mut canvas);
            top(&mut canvas, 392.0);
        }
        BenchView::FromAbove => {
            top(&mut canvas, 0.0);
            mat(&mut canvas);
        }
    }
    light(&mut canvas);
    canvas.finish(window)
}

fn wall(canvas: &mut Canvas) {
    let plaster = canvas.linear(
        (0.0, 0.0),
        (960.0, 400.0),
        &[
            (0.0, WALL.lighter(0.5), 1.0),
            (0.5, WALL.lighter(0.14), 1.0),
            (1.0, WALL.darker(0.3), 1.0),
        ],
    );
    canvas.fill("M-20,-20 H980 V400 H-20 Z", &plaster);
    canvas.veil("M-20,62 H980 V84 H-20 Z", WOOD.darker(0.55), 0.62);
    canvas.veil("M-20,84 H980 V92 H-20 Z", SHADOW, 0.22);
    for (at, tool) in [(80.0, HAMMER), (236.0, PINCERS), (724.0, LAST), (862.0, AWL)] {
        canvas.moved(&format!("translate({},70)", at + 12.0), |canvas| {
            canvas.veil(tool, SHADOW, 0.1);
        });
        canvas.moved(&format!("translate({at},62)"), |canvas| {
            canvas.veil(tool, IRON, 0.42);
        });
    }
    canvas.glow((120.0, 60.0), (520.0, 420.0), WHITE, 0.34);
    // The bench hides the foot of the wall in its own shade.
    let shade = canvas.linear(
        (0.0, 330.0),
        (0.0, 394.0),
        &[(0.0, SHADOW, 0.0), (1.0, SHADOW, 0.42)],
    );
    canvas.fill("M-20,330 H980 V394 H-20 Z", &shade);
}

const HAMMER: &str =
    "M-7,0 H7 L9,150 H-9 Z M-46,150 C-30,140 30,140 52,148 L58,166 C30,182 -20,184 -54,172 Z";
const PINCERS: &str = "M-24,0 C-30,60 -16,100 -4,124 C-34,140 -34,176 -6,186 L-2,176 C-18,166 -16,146 0,136 \
                       C16,146 18,166 2,176 L6,186 C34,176 34,140 4,124 C16,100 30,60 24,0 L14,0 C18,50 8,90 0,108 \
                       C-8,90 -18,50 -14,0 Z";
const LAST: &str = "M-30,14 C-10,4 26,4 36,20 C42,60 34,90 42,130 C50,176 34,220 4,222 C-24,222 -40,180 -32,130 \
                    C-26,90 -40,60 -30,14 Z";
const AWL: &str = "M-12,0 C-18,30 -16,50 -8,62 H8 C16,50 18,30 12,0 Z M-3,62 H3 L0,150 Z";

/// Boards that run along the bench, with their grain.
fn top(canvas: &mut Canvas, from: f32) {
    let wood = canvas.linear(
        (0.0, from),
        (0.0, 720.0),
        &[
            (0.0, WOOD.darker(0.32), 1.0),
            (0.45, WOOD, 1.0),
            (1.0, WOOD.darker(0.14), 1.0),
        ],
    );
    canvas.fill(&format!("M-20,{from} H980 V740 H-20 Z"), &wood);
    let mut chance = DrawingChance::of(7);
    let depth = 740.0 - from;
    // Nearer boards look wider.
    let edges = [0.0, 0.13, 0.33, 0.6, 1.0].map(|part| from + depth * part);
    for pair in edges.windows(2) {
        board(canvas, &mut chance, pair[0], pair[1]);
    }
}

fn board(canvas: &mut Canvas, chance: &mut DrawingChance, top: f32, bottom: f32) {
    let tint = chance.between(0.0, 1.0);
    let colour = if tint > 0.5 { WHITE } else { SHADOW };
    canvas.veil(
        &format!("M-20,{top} H980 V{bottom} H-20 Z"),
        colour,
        0.02 + 0.05 * (tint - 0.5).abs(),
    );
    for _ in 0..26 {
        let y = chance.between(top, bottom);
        let x = chance.between(-300.0, 900.0);
        let long = chance.between(120.0, 520.0);
        let bow = chance.between(-6.0, 6.0) * (bottom - top) / 120.0;
        let path = format!("M{x},{y} q{},{bow} {long},{}", long / 2.0, bow / 3.0);
        let width = chance.between(0.7, 2.2);
        canvas.stroke(&path, line(WOOD.darker(0.6), width, chance.between(0.05, 0.2)));
    }
    canvas.stroke(&format!("M-20,{bottom} H980"), line(SHADOW, 2.4, 0.5));
    canvas.stroke(&format!("M-20,{} H980", bottom + 2.2), line(WHITE, 1.2, 0.22));
}

fn mat(canvas: &mut Canvas) {
    canvas.veil("M66,54 H918 V696 H66 Z", SHADOW, 0.16);
    canvas.veil("M58,44 H908 V684 H58 Z", SHADOW, 0.2);
    let rubber = canvas.linear(
        (50.0, 36.0),
        (900.0, 680.0),
        &[(0.0, MAT.lighter(0.2), 1.0), (1.0, MAT.darker(0.28), 1.0)],
    );
    canvas.fill(
        "M62,36 H890 Q902,36 902,48 V664 Q902,676 890,676 H62 Q50,676 50,664 V48 Q50,36 62,36 Z",
        &rubber,
    );
    let mut chance = DrawingChance::of(23);
    for _ in 0..34 {
        let (x, y) = (chance.between(70.0, 860.0), chance.between(56.0, 650.0));
        let (dx, dy) = (chance.between(-60.0, 60.0), chance.between(-40.0, 40.0));
        canvas.stroke(
            &format!("M{x},{y} l{dx},{dy}"),
            line(MAT.lighter(0.4), 1.0, chance.between(0.08, 0.24)),
        );
    }
}

fn light(canvas: &mut Canvas) {
    canvas.glow((250.0, 380.0), (640.0, 420.0), WHITE, 0.2);
    let corner = canvas.radial(&[(0.0, SHADOW, 0.0), (0.62, SHADOW, 0.0), (1.0, SHADOW, 0.4)]);
    canvas.fill("M-240,-180 H1200 V900 H-240 Z", &corner);
}
