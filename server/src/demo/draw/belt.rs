//! A belt, rolled once on the bench.

use super::canvas::{Canvas, line};
use super::colour::{Colour, SHADOW, WHITE};
use super::side::dulled;
use super::{Shoe, Stage};

/// From the buckle round the coil to the tip.
const RUN: &str = "M150,470 C300,600 620,640 780,500 C900,390 840,190 640,150 C440,112 270,190 270,320 \
                   C270,430 400,480 520,460 C620,440 690,380 680,310";
const BRASS: Colour = Colour::of(202, 168, 92);

/// Adds the belt.
pub(super) fn add(canvas: &mut Canvas, shoe: &Shoe, stage: Stage) {
    let leather = dulled(shoe.upper, stage);
    for (down, wide, opacity) in [(16.0, 86.0, 0.14), (10.0, 80.0, 0.22), (5.0, 76.0, 0.3)] {
        canvas.moved(&format!("translate({},{down})", down * 0.7), |canvas| {
            canvas.stroke(RUN, line(SHADOW, wide, opacity));
        });
    }
    canvas.stroke(RUN, line(leather.darker(0.6), 70.0, 1.0));
    canvas.stroke(RUN, line(leather.lighter(0.08), 66.0, 1.0));
    canvas.stroke(RUN, line(leather, 62.0, 1.0));
    // Both seams at once: what a narrower line leaves of bars nearly as wide as the belt.
    canvas.stroke(RUN, line(SHADOW, 55.0, 0.3));
    canvas.bars(RUN, line(shoe.thread, 53.0, 1.0), "6 4");
    canvas.stroke(RUN, line(leather.lighter(0.02), 48.0, 1.0));
    let shine = if stage == Stage::Finished { 0.16 } else { 0.06 };
    canvas.stroke(RUN, line(WHITE, 30.0, shine));
    canvas.stroke(RUN, line(WHITE, 16.0, shine * 0.7));
    tip(canvas, leather, stage);
    buckle(canvas, leather, stage);
    if stage == Stage::Worn {
        cracks(canvas);
    }
}

fn tip(canvas: &mut Canvas, leather: Colour, stage: Stage) {
    for (at, (x, y)) in [(676.0, 300.0), (684.0, 346.0), (668.0, 388.0), (636.0, 420.0)]
        .into_iter()
        .enumerate()
    {
        let worn = stage == Stage::Worn && at == 2;
        let wide = if worn { 11.0 } else { 6.5 };
        canvas.ellipse((x, y), (wide + 3.0, wide), &leather.darker(0.5).to_string());
        canvas.ellipse((x, y), (wide, wide - 2.0), &SHADOW.to_string());
    }
}

fn buckle(canvas: &mut Canvas, leather: Colour, stage: Stage) {
    canvas.moved("translate(150,470) rotate(36)", |canvas| {
        canvas.fill("M40,-40 h26 v80 h-26 Z", &leather.darker(0.35).to_string());
        canvas.stroke("M44,-36 v72 M62,-36 v72", line(WHITE, 1.6, 0.3));
        if stage != Stage::Worn {
            metal(canvas);
            return;
        }
        // The old one has lost its pin and hangs askew.
        canvas.moved("rotate(-14)", metal_frame);
    });
}

fn metal(canvas: &mut Canvas) {
    metal_frame(canvas);
    canvas.stroke("M20,0 H-76", line(SHADOW, 12.0, 0.3));
    canvas.stroke("M20,0 H-76", line(BRASS.darker(0.2), 9.0, 1.0));
    canvas.stroke("M18,-2 H-74", line(BRASS.lighter(0.5), 3.0, 0.9));
}

fn metal_frame(canvas: &mut Canvas) {
    let frame = "M24,-54 H-58 Q-74,-54 -74,-38 V38 Q-74,54 -58,54 H24 Z";
    canvas.moved("translate(5,8)", |canvas| {
        canvas.stroke(frame, line(SHADOW, 16.0, 0.3))
    });
    canvas.stroke(frame, line(BRASS.darker(0.4), 15.0, 1.0));
    canvas.stroke(frame, line(BRASS, 11.0, 1.0));
    canvas.moved("translate(-2,-3)", |canvas| {
        canvas.stroke(frame, line(BRASS.lighter(0.6), 3.0, 0.9))
    });
}

fn cracks(canvas: &mut Canvas) {
    let mut chance = super::chance::DrawingChance::of(83);
    for _ in 0..26 {
        let (x, y) = (chance.between(560.0, 760.0), chance.between(480.0, 560.0));
        canvas.stroke(
            &format!(
                "M{x},{y} l{},{}",
                chance.between(-4.0, 4.0),
                chance.between(8.0, 24.0)
            ),
            line(SHADOW, chance.between(1.0, 2.2), 0.4),
        );
    }
}
