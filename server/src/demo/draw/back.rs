//! A pair from behind: are the heels level?

use super::canvas::{Canvas, line};
use super::colour::{Colour, SHADOW, WHITE};
use super::forms::ShoeForm;
use super::side::{dulled, heel_cover};
use super::{Shoe, Stage};

/// Adds both heels.
pub(super) fn add(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    let scale = 1.5 * form.size;
    for (x, mirror) in [(306.0, 1.0), (654.0, -1.0)] {
        canvas.moved(
            &format!("translate({x},610) scale({},{scale})", scale * mirror),
            |canvas| {
                one(canvas, form, shoe, stage);
            },
        );
    }
}

/// A left shoe, its outer side to the left.
fn one(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    canvas.glow((0.0, 2.0), (150.0, 20.0), SHADOW, 0.6);
    let (seat, half, narrow) = measures(form);
    block(canvas, form, shoe, stage);
    let leather = dulled(shoe.upper, stage);
    let top = -form.height.min(380.0) + 20.0;
    let neck = if form.height > 300.0 {
        half * 1.06
    } else {
        half * 0.62
    };
    let upper = format!(
        "M{},{seat} C{},{} {},{} {},{top} C{},{} {},{} {neck},{top} C{},{} {},{} {},{seat} Z",
        -half * narrow,
        -half * 1.34,
        seat - 50.0,
        -half * 0.9,
        seat - 90.0,
        -neck,
        -neck * 0.5,
        top + 12.0,
        neck * 0.5,
        top + 12.0,
        half * 0.9,
        seat - 90.0,
        half * 1.34,
        seat - 50.0,
        half * narrow,
    );
    let paint = canvas.linear(
        (-half * 1.3, 0.0),
        (half * 1.3, 0.0),
        &[
            (0.0, leather.darker(0.2), 1.0),
            (0.28, leather.lighter(0.22), 1.0),
            (0.6, leather, 1.0),
            (1.0, leather.darker(0.5), 1.0),
        ],
    );
    canvas.fill(&upper, &paint);
    canvas.inside(&upper, |canvas| {
        canvas.stroke(&upper, line(SHADOW, 6.0, 0.3));
        let low = canvas.linear(
            (0.0, seat - 50.0),
            (0.0, seat),
            &[(0.0, SHADOW, 0.0), (1.0, SHADOW, 0.45)],
        );
        canvas.fill(&format!("M-200,{} H200 V{seat} H-200 Z", seat - 50.0), &low);
        seam(canvas, shoe, seat, top);
        let shine = if stage == Stage::Finished { 0.5 } else { 0.16 };
        canvas.glow((-half * 0.4, seat - 70.0), (half * 0.4, 60.0), WHITE, shine);
        if stage == Stage::Worn {
            canvas.glow(
                (-half * 0.8, seat - 20.0),
                (40.0, 30.0),
                leather.lighter(0.6),
                0.5,
            );
        }
    });
}

fn seam(canvas: &mut Canvas, shoe: &Shoe, seat: f32, top: f32) {
    canvas.stroke(&format!("M0,{top} L0,{seat}"), line(SHADOW, 3.0, 0.4));
    for x in [-5.0, 5.0] {
        canvas.stitches(&format!("M{x},{top} L{x},{seat}"), shoe.thread, 1.4);
    }
    let strap = format!(
        "M-15,{top} L-12,{} C-8,{} 8,{} 12,{} L15,{top} Z",
        top + 60.0,
        top + 70.0,
        top + 70.0,
        top + 60.0
    );
    canvas.veil(&strap, SHADOW, 0.24);
    canvas.stitches(&strap, shoe.thread, 1.3);
}

/// Height of the seat, half the heel's width, and how narrow it is above the seat.
fn measures(form: &ShoeForm) -> (f32, f32, f32) {
    match form.heel {
        Some(heel) if heel.breast.1 - heel.breast.0 > 40.0 => (heel.seat.1, 66.0, 0.9),
        Some(heel) => (heel.seat.1 - 10.0, 82.0, 0.96),
        None => (-40.0, 84.0, 1.0),
    }
}

fn block(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    let (seat, half, _) = measures(form);
    let slender = half < 70.0;
    let foot = if slender { 22.0 } else { half * 0.9 };
    let stacked = form.heel.is_none_or(|heel| heel.stacked);
    let colour = dulled(if stacked { shoe.sole } else { heel_cover(shoe) }, stage);
    let lost = if stage == Stage::Worn { 17.0 } else { 0.0 };
    let path = format!(
        "M{},{seat} C{},{} {},-40 {},{} L{},0 L{foot},0 C{foot},-40 {},{} {half},{seat} Z",
        -half,
        -half,
        seat * 0.6,
        -foot,
        -foot,
        -lost,
        -foot * 0.2,
        half,
        seat * 0.6,
    );
    let paint = canvas.linear(
        (-half, 0.0),
        (half, 0.0),
        &[
            (0.0, colour.darker(0.15), 1.0),
            (0.3, colour.lighter(0.18), 1.0),
            (1.0, colour.darker(0.5), 1.0),
        ],
    );
    canvas.fill(&path, &paint);
    canvas.inside(&path, |canvas| {
        canvas.fill("M-120,-12 H120 V4 H-120 Z", &Colour::of(46, 42, 42).to_string());
        let mut y = -25.0;
        while stacked && y > seat {
            canvas.stroke(&format!("M-120,{y} H120"), line(SHADOW, 1.5, 0.45));
            canvas.stroke(&format!("M-120,{} H120", y + 1.7), line(WHITE, 1.0, 0.16));
            y -= 13.0;
        }
        if stage == Stage::Finished {
            canvas.glow((-half * 0.3, seat * 0.5), (20.0, 40.0), WHITE, 0.4);
        }
    });
    if stage == Stage::Worn {
        let edge = format!("M{},{} L{},0", -foot, -lost, -foot * 0.2);
        canvas.stroke(&edge, line(Colour::of(206, 184, 150), 4.4, 0.9));
        // The gap between heel and bench.
        canvas.glow((-foot * 0.7, 0.0), (foot * 0.6, 8.0), SHADOW, 0.5);
    }
}
