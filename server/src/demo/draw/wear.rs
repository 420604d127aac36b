//! What walking does: heels cut off at the back, folds, scuffs, salt.

use super::Stage;
use super::canvas::{Canvas, line};
use super::chance::DrawingChance;
use super::colour::{Colour, SHADOW, WHITE};
use super::forms::{Edge, HeelShape, ShoeForm};

/// The heel from its side; worn, its back corner is gone.
pub(super) fn heel_outline(heel: &HeelShape, stage: Stage) -> String {
    let HeelShape {
        breast: (top, bottom),
        back: (seat_back, ground_back),
        seat: (at_breast, at_back),
        wear: (cut, high),
        ..
    } = *heel;
    let corner = if stage == Stage::Worn {
        format!("L{},0 L{},{}", ground_back - cut, ground_back + 1.0, -high)
    } else {
        format!("L{ground_back},0")
    };
    let bend = top + (bottom - top) * 0.7;
    format!(
        "M{top},{at_breast} C{bend},{} {},{} {bottom},-10 L{bottom},0 {corner} C{ground_back},{} {},{} \
         {seat_back},{at_back} Z",
        at_breast * 0.72,
        bottom - 1.0,
        at_breast * 0.4,
        at_back * 0.4,
        (ground_back + seat_back) / 2.0,
        at_back * 0.7,
    )
}

/// The bright, ragged face where the top piece is worn away.
pub(super) fn heel_facet(canvas: &mut Canvas, heel: &HeelShape) {
    let ground = heel.back.1;
    let (cut, high) = heel.wear;
    let path = format!("M{},0 L{},{}", ground - cut, ground, -high);
    canvas.stroke(&path, line(Colour::of(196, 176, 148), 5.0, 0.75));
    canvas.stroke(&path, line(SHADOW, 1.4, 0.5));
}

/// A heel whose cover is drawn off: layers of board, broken where the pin sat, and the flap that hid them.
pub(super) fn board(canvas: &mut Canvas, heel: &HeelShape, outline: &str) {
    let board = Colour::of(176, 158, 132);
    let tall = -heel.seat.1;
    canvas.inside(outline, |canvas| {
        canvas.fill(&format!("M300,{} H700 V-12 H300 Z", -tall), &board.to_string());
        let mut chance = DrawingChance::of(47);
        let mut y = -16.0;
        while y > -tall {
            let path = format!(
                "M460,{y} q60,{} 110,0 t110,{}",
                chance.between(-2.0, 2.0),
                chance.between(-2.0, 2.0)
            );
            canvas.stroke(&path, line(board.darker(0.55), chance.between(0.8, 2.2), 0.6));
            y -= 5.0;
        }
        let x = (heel.breast.1 + heel.back.1) / 2.0;
        canvas.stroke(
            &format!("M{x},-12 l-5,-22 l9,-14 l-12,-20 l6,-18"),
            line(SHADOW, 3.4, 0.8),
        );
        canvas.glow((x, -18.0), (16.0, 22.0), SHADOW, 0.7);
        canvas.glow((heel.back.1, -tall / 2.0), (34.0, tall), SHADOW, 0.4);
    });
    let (x, y) = (heel.back.0 - 6.0, heel.seat.1 + 4.0);
    let flap = format!("M{x},{y} c26,10 44,46 40,96 c-2,20 -14,30 -20,22 c4,-40 -4,-78 -30,-96 Z");
    canvas.veil(&flap, Colour::of(206, 176, 136), 1.0);
    canvas.stroke(&flap, line(SHADOW, 2.0, 0.5));
}

/// The underside of an upper whose sole has been taken off.
pub(super) fn torn_open(canvas: &mut Canvas, form: &ShoeForm) {
    canvas.moved("translate(6,10) scale(0.985,1)", |canvas| {
        canvas.veil(form.upper, Colour::of(150, 118, 84), 1.0);
        canvas.stroke(form.upper, line(SHADOW, 2.0, 0.4));
    });
    if form.sole.edge == Edge::Lugs {
        return crumbs(canvas);
    }
    let mut chance = DrawingChance::of(41);
    for _ in 0..26 {
        let x = chance.between(30.0, 640.0);
        let y = if x < 430.0 {
            -16.0
        } else {
            -16.0 - (x - 430.0) * 0.22
        };
        let long = chance.between(4.0, 16.0);
        canvas.stroke(
            &format!(
                "M{x},{} l{},{long}",
                y + chance.between(-8.0, 2.0),
                chance.between(-5.0, 5.0)
            ),
            line(Colour::of(220, 200, 160), 1.6, 0.8),
        );
    }
}

/// What is left of a foam midsole, between a boot and its sole.
fn crumbs(canvas: &mut Canvas) {
    let mut chance = DrawingChance::of(59);
    for _ in 0..130 {
        let centre = (chance.between(10.0, 620.0), chance.between(-30.0, 12.0));
        let radii = (chance.between(2.0, 8.0), chance.between(1.6, 5.0));
        let foam = Colour::of(206, 190, 140).darker(chance.between(0.0, 0.4));
        canvas.ellipse(
            (centre.0 + 1.5, centre.1 + 2.0),
            radii,
            &foam.darker(0.6).to_string(),
        );
        canvas.ellipse(centre, radii, &foam.to_string());
    }
}

/// Lining rubbed through at the heel: a hole with a frayed, pale rim.
pub(super) fn lining(canvas: &mut Canvas, form: &ShoeForm) {
    let (x, y) = (566.0, 48.0 - form.height);
    canvas.glow((x, y), (56.0, 44.0), Colour::of(222, 196, 156), 0.9);
    canvas.ellipse(
        (x + 4.0, y + 2.0),
        (24.0, 14.0),
        &Colour::of(92, 66, 44).to_string(),
    );
    let mut chance = DrawingChance::of(97);
    for _ in 0..26 {
        let (dx, dy) = (chance.between(-30.0, 34.0), chance.between(-16.0, 18.0));
        canvas.stroke(
            &format!(
                "M{},{} l{},{}",
                x + dx,
                y + dy,
                chance.between(-7.0, 7.0),
                chance.between(-7.0, 7.0)
            ),
            line(Colour::of(240, 222, 190), 1.1, 0.8),
        );
    }
}

/// Folds across the forepart; deep in worn leather, faint in cared-for.
pub(super) fn creases(canvas: &mut Canvas, form: &ShoeForm, stage: Stage) {
    let depth = match stage {
        Stage::Worn | Stage::Opened => 1.0,
        Stage::Mended => 0.7,
        Stage::Finished => 0.36,
    };
    for path in form.creases {
        canvas.stroke(path, line(SHADOW, 9.0, 0.07 * depth));
        canvas.stroke(path, line(SHADOW, 4.0, 0.16 * depth));
        canvas.stroke(path, line(SHADOW, 1.3, 0.5 * depth));
        canvas.moved("translate(-5,0)", |canvas| {
            canvas.stroke(path, line(WHITE, 3.0, 0.1 * depth));
        });
    }
}

/// Grey toes, scratches and a tide mark of salt along the sole.
pub(super) fn scuffs(canvas: &mut Canvas, form: &ShoeForm, leather: Colour) {
    let mut chance = DrawingChance::of(13);
    canvas.glow((50.0, -66.0), (80.0, 46.0), leather.lighter(0.55), 0.45);
    for _ in 0..34 {
        let (x, y) = (chance.between(4.0, 130.0), chance.between(-112.0, -34.0));
        let (dx, dy) = (chance.between(5.0, 22.0), chance.between(-5.0, 3.0));
        canvas.stroke(
            &format!("M{x},{y} l{dx},{dy}"),
            line(
                leather.lighter(0.6),
                chance.between(0.8, 2.4),
                chance.between(0.2, 0.5),
            ),
        );
    }
    for _ in 0..16 {
        let (x, y) = (
            chance.between(200.0, 640.0),
            chance.between(-form.height * 0.5, -50.0),
        );
        canvas.stroke(
            &format!(
                "M{x},{y} l{},{}",
                chance.between(-16.0, 16.0),
                chance.between(-4.0, 8.0)
            ),
            line(leather.lighter(0.5), 1.1, chance.between(0.15, 0.4)),
        );
    }
    canvas.stroke(
        "M10,-64 C60,-50 114,-38 190,-38 C240,-42 290,-40 340,-58 C380,-64 420,-84 470,-84 C540,-90 600,-88 650,-92",
        line(Colour::of(226, 220, 206), 5.0, 0.16),
    );
}
