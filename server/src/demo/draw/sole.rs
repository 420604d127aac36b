//! A pair from below.

use super::canvas::{Canvas, line};
use super::chance::DrawingChance;
use super::colour::{Colour, SHADOW, WHITE};
use super::forms::{Edge, ShoeForm};
use super::outline::{outline, pair, shade, smaller};
use super::side::dulled;
use super::{Shoe, Stage};

const LEATHER: Colour = Colour::of(196, 150, 98);
const RUBBER: Colour = Colour::of(54, 52, 54);

/// Adds the soles.
pub(super) fn add(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    let path = outline(shoe.kind);
    pair(canvas, form.size, |canvas| {
        shade(canvas, path);
        // The upper's edge, seen past the sole.
        canvas.moved("translate(-3,-2) scale(1.01,1.03)", |canvas| {
            canvas.fill(path, &dulled(shoe.upper, stage).darker(0.25).to_string());
        });
        ground(canvas, form, path, stage);
        canvas.inside(path, |canvas| {
            match form.sole.edge {
                Edge::Lugs => lugs(canvas),
                Edge::Cork | Edge::Rubber => ripples(canvas),
                Edge::Leather => smaller(canvas, 0.955, |canvas| {
                    canvas.stitches(path, LEATHER.lighter(0.5), 2.0);
                }),
            }
            heel(canvas, form, stage);
            if stage == Stage::Worn {
                worn(canvas);
            }
            canvas.stroke(path, line(SHADOW, 7.0, 0.3));
            canvas.stroke(path, line(WHITE, 2.0, 0.3));
        });
    });
}

fn ground(canvas: &mut Canvas, form: &ShoeForm, path: &str, stage: Stage) {
    let colour = match form.sole.edge {
        Edge::Leather => dulled(LEATHER, stage),
        _ => dulled(RUBBER, stage),
    };
    let paint = canvas.linear(
        (40.0, -110.0),
        (520.0, 120.0),
        &[
            (0.0, colour.lighter(0.3), 1.0),
            (0.4, colour, 1.0),
            (1.0, colour.darker(0.3), 1.0),
        ],
    );
    canvas.fill(path, &paint);
    canvas.inside(path, |canvas| {
        canvas.glow((200.0, -10.0), (170.0, 90.0), WHITE, 0.16);
        canvas.glow((400.0, 4.0), (90.0, 70.0), SHADOW, 0.18);
    });
}

fn lugs(canvas: &mut Canvas) {
    let mut tread = String::new();
    for row in 0..11 {
        let x = 22 + row * 58;
        if (360..470).contains(&x) {
            continue;
        }
        for (y, tall) in [(-112, 46), (-52, 40), (14, 40), (66, 46)] {
            tread.push_str(&format!(
                "M{x},{y} h34 l6,{} l-6,{} h-34 l-6,-{} Z ",
                tall / 2,
                tall / 2,
                tall / 2
            ));
        }
    }
    canvas.moved("translate(4,5)", |canvas| canvas.veil(&tread, SHADOW, 0.6));
    canvas.veil(&tread, RUBBER.lighter(0.14), 1.0);
    canvas.stroke(&tread, line(WHITE, 1.2, 0.14));
}

fn ripples(canvas: &mut Canvas) {
    let rows: String = (0..34)
        .map(|at| format!("M{},-120 q-16,120 0,240 ", 16 + at * 19))
        .collect();
    canvas.stroke(&rows, line(SHADOW, 4.0, 0.4));
    canvas.moved("translate(4,0)", |canvas| {
        canvas.stroke(&rows, line(WHITE, 1.6, 0.12))
    });
}

fn heel(canvas: &mut Canvas, form: &ShoeForm, stage: Stage) {
    let Some(_) = form.heel else { return };
    let piece = "M492,-120 C478,-50 478,50 492,120 L720,120 L720,-120 Z";
    canvas.moved("translate(-7,0)", |canvas| canvas.veil(piece, SHADOW, 0.5));
    let colour = dulled(RUBBER, stage);
    let paint = canvas.linear(
        (480.0, -60.0),
        (650.0, 70.0),
        &[(0.0, colour.lighter(0.22), 1.0), (1.0, colour.darker(0.25), 1.0)],
    );
    canvas.fill(piece, &paint);
    canvas.stroke(piece, line(WHITE, 1.6, 0.25));
    for at in 0..7 {
        let turn = (at as f32 - 3.0) * 0.5;
        let centre = (566.0 + 66.0 * turn.cos(), 2.0 + 46.0 * turn.sin());
        canvas.ellipse(centre, (3.4, 3.4), &Colour::of(196, 170, 110).to_string());
        canvas.ellipse((centre.0 - 0.8, centre.1 - 0.8), (1.4, 1.4), &WHITE.to_string());
    }
    if stage == Stage::Worn {
        // The outer back corner: the mirror puts it outside on both shoes.
        let facet = "M556,66 C604,40 636,10 654,-30 L700,-30 L700,100 L556,100 Z";
        canvas.veil(facet, Colour::of(176, 146, 108), 0.95);
        canvas.stroke("M556,66 C604,40 636,10 654,-30", line(SHADOW, 3.0, 0.5));
        canvas.moved("translate(8,8)", |canvas| {
            canvas.stroke("M566,68 C610,44 642,16 656,-16", line(SHADOW, 1.6, 0.35));
        });
    }
}

/// A hole in the forepart with its pale, frayed rim, and the scratches of every road.
fn worn(canvas: &mut Canvas) {
    canvas.glow((176.0, 6.0), (150.0, 86.0), Colour::of(92, 72, 56), 0.6);
    canvas.glow((170.0, 6.0), (84.0, 56.0), Colour::of(216, 188, 148), 0.7);
    let hole =
        "M124,2 C128,-22 156,-34 184,-26 C214,-22 228,-2 218,18 C206,38 170,40 146,32 C132,28 122,16 124,2 Z";
    canvas.stroke(hole, line(Colour::of(226, 202, 164), 7.0, 0.9));
    canvas.fill(hole, &Colour::of(84, 60, 42).to_string());
    canvas.inside(hole, |canvas| {
        canvas.glow((160.0, -12.0), (70.0, 34.0), SHADOW, 0.75);
        canvas.glow((190.0, 22.0), (36.0, 16.0), Colour::of(168, 128, 84), 0.8);
    });
    let mut chance = DrawingChance::of(53);
    for _ in 0..60 {
        let (x, y) = (chance.between(30.0, 340.0), chance.between(-86.0, 90.0));
        let colour = if chance.between(0.0, 1.0) > 0.5 {
            SHADOW
        } else {
            WHITE
        };
        canvas.stroke(
            &format!(
                "M{x},{y} l{},{}",
                chance.between(-34.0, 34.0),
                chance.between(-7.0, 7.0)
            ),
            line(colour, chance.between(0.8, 2.0), chance.between(0.08, 0.26)),
        );
    }
}
