//! A pair from its side: one shoe in front, the other behind it.

use super::canvas::{Canvas, line};
use super::colour::{Colour, SHADOW, WHITE};
use super::forms::{Edge, HeelShape, ShoeForm, Sole};
use super::{Shoe, Stage, upper, wear};

/// Where the front shoe's toe stands, and how large it is drawn.
const GROUND: f32 = 618.0;
const SCALE: f32 = 1.1;

/// Adds the pair.
pub(super) fn add(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    let scale = SCALE * form.size;
    let left = (960.0 - 660.0 * scale) / 2.0;
    let farther = scale * 0.95;
    canvas.moved(&place(left + 88.0, GROUND - 66.0, farther), |canvas| {
        shadow(canvas, form);
        one(canvas, form, shoe, stage);
        // It stands in the shade of the other.
        canvas.veil(form.upper, SHADOW, 0.16);
    });
    canvas.moved(&place(left - 34.0, GROUND, scale), |canvas| {
        shadow(canvas, form);
        one(canvas, form, shoe, stage);
    });
}

fn place(x: f32, y: f32, scale: f32) -> String {
    format!("translate({x},{y}) scale({scale})")
}

fn shadow(canvas: &mut Canvas, form: &ShoeForm) {
    canvas.glow((366.0, 4.0), (430.0, 52.0), SHADOW, 0.5);
    canvas.glow((340.0, 2.0), (350.0, 16.0), SHADOW, 0.6);
    // Away from the window.
    canvas.glow((560.0, 14.0), (260.0, 20.0 + form.height * 0.06), SHADOW, 0.28);
}

fn one(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    if stage == Stage::Opened && !covered_high(form) {
        canvas.moved("rotate(-2.2 640 -40) translate(0,4)", |canvas| {
            base(canvas, form, shoe, stage);
        });
        canvas.moved("translate(0,-34)", |canvas| {
            wear::torn_open(canvas, form);
            upper::add(canvas, form, shoe, stage);
        });
        return;
    }
    base(canvas, form, shoe, stage);
    upper::add(canvas, form, shoe, stage);
}

/// Whether it is the heel, not the sole, that is opened: a high block under a leather cover.
fn covered_high(form: &ShoeForm) -> bool {
    form.heel.is_some_and(|heel| !heel.stacked && heel.seat.1 < -90.0)
}

/// Sole and heel.
fn base(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    if let Some(heel) = &form.heel {
        self::heel(canvas, heel, shoe, stage);
    }
    sole(canvas, &form.sole, shoe, stage);
}

fn sole(canvas: &mut Canvas, sole: &Sole, shoe: &Shoe, stage: Stage) {
    let colour = dulled(shoe.sole, stage);
    let paint = canvas.linear(
        (0.0, -70.0),
        (0.0, 0.0),
        &[
            (0.0, colour.lighter(0.22), 1.0),
            (0.4, colour, 1.0),
            (1.0, colour.darker(0.45), 1.0),
        ],
    );
    canvas.fill(sole.path, &paint);
    canvas.inside(sole.path, |canvas| match sole.edge {
        Edge::Leather => layers(canvas, sole.path, colour),
        Edge::Rubber => canvas.veil("M-40,-14 H700 V10 H-40 Z", SHADOW, 0.2),
        Edge::Lugs => lugs(canvas, colour),
        Edge::Cork => cork(canvas, colour),
    });
    if !sole.welt.is_empty() {
        let welt = dulled(shoe.sole.lighter(0.3), stage);
        let paint = canvas.linear(
            (0.0, -80.0),
            (0.0, -16.0),
            &[(0.0, welt.lighter(0.2), 1.0), (1.0, welt.darker(0.25), 1.0)],
        );
        canvas.fill(sole.welt, &paint);
    }
    if !sole.seam.is_empty() {
        canvas.stitches(sole.seam, shoe.thread, 2.4);
    }
    if stage == Stage::Finished {
        canvas.stroke(sole.path, line(WHITE, 1.4, 0.16));
    }
}

fn layers(canvas: &mut Canvas, path: &str, colour: Colour) {
    canvas.moved("translate(0,8)", |canvas| {
        canvas.stroke(path, line(colour.darker(0.6), 1.6, 0.4));
    });
}

fn lugs(canvas: &mut Canvas, colour: Colour) {
    let tread: String = (0..15)
        .map(|at| format!("M{},4 l8,-24 h14 l8,24 Z ", -6 + at * 46))
        .collect();
    canvas.veil(&tread, SHADOW, 0.55);
    canvas.stroke(
        "M-20,-52 C60,-30 120,-26 190,-26 L700,-36",
        line(colour.lighter(0.3), 2.0, 0.3),
    );
}

fn cork(canvas: &mut Canvas, colour: Colour) {
    canvas.veil("M-20,-10 H700 V10 H-20 Z", SHADOW, 0.55);
    let mut chance = super::chance::DrawingChance::of(31);
    for _ in 0..110 {
        let (x, y) = (chance.between(0.0, 650.0), chance.between(-58.0, -12.0));
        canvas.ellipse(
            (x, y),
            (chance.between(1.5, 4.5), chance.between(1.0, 2.4)),
            &colour.darker(0.45).to_string(),
        );
    }
}

/// The heel: its lifts, its top piece, and what is worn off its back corner.
fn heel(canvas: &mut Canvas, heel: &HeelShape, shoe: &Shoe, stage: Stage) {
    let colour = if heel.stacked { shoe.sole } else { heel_cover(shoe) };
    let colour = dulled(colour, stage);
    let outline = wear::heel_outline(heel, stage);
    let tall = -heel.seat.1;
    let paint = canvas.linear(
        (heel.breast.1, 0.0),
        (heel.back.0, 0.0),
        &[
            (0.0, colour.lighter(0.14), 1.0),
            (0.55, colour, 1.0),
            (1.0, colour.darker(0.4), 1.0),
        ],
    );
    canvas.fill(&outline, &paint);
    canvas.inside(&outline, |canvas| {
        let rubber = Colour::of(46, 42, 42);
        canvas.fill("M300,-11 H700 V4 H300 Z", &rubber.to_string());
        canvas.stroke("M300,-11.5 H700", line(SHADOW, 1.6, 0.8));
        if heel.stacked {
            let mut y = -25.0;
            while y > -tall {
                canvas.stroke(&format!("M300,{y} L700,{}", y - 3.0), line(SHADOW, 1.4, 0.42));
                canvas.stroke(
                    &format!("M300,{} L700,{}", y + 1.6, y - 1.4),
                    line(WHITE, 1.0, 0.14),
                );
                y -= 13.0;
            }
        }
        if stage >= Stage::Mended {
            let (x, y) = (heel.breast.0 + (heel.back.0 - heel.breast.0) * 0.45, -tall / 2.0);
            canvas.glow((x, y), (26.0, tall * 0.6), WHITE, 0.28);
        }
    });
    if stage == Stage::Worn {
        wear::heel_facet(canvas, heel);
    }
    if stage == Stage::Opened && !heel.stacked {
        wear::board(canvas, heel, &outline);
    }
}

/// A heel that shows no lifts is covered with the upper's leather.
pub(super) fn heel_cover(shoe: &Shoe) -> Colour {
    shoe.upper.darker(0.08)
}

/// Worn things are paler and greyer than cared-for ones.
pub(super) fn dulled(colour: Colour, stage: Stage) -> Colour {
    match stage {
        Stage::Worn | Stage::Opened => colour.mix(Colour::of(128, 118, 106), 0.26),
        Stage::Mended => colour.mix(Colour::of(128, 118, 106), 0.12),
        Stage::Finished => colour,
    }
}
