//! Under the soles, which are off: welt or margin, filler, shank, heel seat.

use super::canvas::{Canvas, line};
use super::chance::DrawingChance;
use super::colour::{Colour, SHADOW, WHITE};
use super::forms::ShoeForm;
use super::outline::{outline, pair, shade, smaller};
use super::{Shoe, Silhouette, Stage};

const INSOLE: Colour = Colour::of(206, 166, 118);
const CORK: Colour = Colour::of(168, 118, 70);
const STEEL: Colour = Colour::of(150, 154, 158);

/// Adds both, opened.
pub(super) fn add(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    let path = outline(shoe.kind);
    pair(canvas, form.size, |canvas| {
        shade(canvas, path);
        rim(canvas, shoe, path);
        smaller(canvas, 0.89, |canvas| {
            let paint = canvas.linear(
                (60.0, -90.0),
                (560.0, 110.0),
                &[(0.0, INSOLE.lighter(0.26), 1.0), (1.0, INSOLE.darker(0.32), 1.0)],
            );
            canvas.fill(path, &paint);
            canvas.inside(path, |canvas| {
                canvas.stroke(path, line(SHADOW, 16.0, 0.16));
                canvas.stroke(path, line(SHADOW, 6.0, 0.3));
                filler(canvas, stage);
                shank(canvas, stage);
                seat(canvas, stage);
            });
        });
        if stage < Stage::Mended {
            torn(canvas);
        }
    });
}

/// The welt with its seam; where nothing is welted, the upper turned under.
fn rim(canvas: &mut Canvas, shoe: &Shoe, path: &str) {
    let welted = !matches!(
        shoe.kind,
        Silhouette::Court | Silhouette::Dance | Silhouette::ZipBoot | Silhouette::WalkingBoot
    );
    let colour = if welted {
        INSOLE.darker(0.16)
    } else {
        shoe.upper.mix(INSOLE, 0.3)
    };
    let paint = canvas.linear(
        (0.0, -120.0),
        (300.0, 130.0),
        &[(0.0, colour.lighter(0.3), 1.0), (1.0, colour.darker(0.3), 1.0)],
    );
    canvas.fill(path, &paint);
    canvas.stroke(path, line(shoe.upper.darker(0.3), 5.0, 0.9));
    if welted {
        smaller(canvas, 0.955, |canvas| {
            canvas.stitches(path, Colour::of(236, 222, 188), 2.6)
        });
        return;
    }
    // Pleats where leather is drawn round the toe.
    let mut chance = DrawingChance::of(61);
    for _ in 0..30 {
        let y = chance.between(-100.0, 100.0);
        let x = 4.0 + y.abs() * y.abs() / 130.0;
        canvas.stroke(&format!("M{x},{y} l30,{}", -y * 0.16), line(SHADOW, 1.6, 0.24));
    }
}

/// Cracks across the rim at the toe, and a tear at the joint with its seam hanging out.
fn torn(canvas: &mut Canvas) {
    for crack in [
        "M6,-34 q14,4 22,12 t18,2",
        "M22,-58 q12,10 20,12 t14,8",
        "M2,-8 q12,-4 18,4 t16,-2",
        "M48,-80 q8,10 6,20",
    ] {
        canvas.stroke(crack, line(SHADOW, 5.0, 0.25));
        canvas.stroke(crack, line(SHADOW, 2.2, 0.8));
    }
    let tear = "M196,101 C204,88 214,90 222,84 C232,88 246,82 262,84 C270,90 280,86 288,90 L284,96 C262,102 226,106 196,101 Z";
    canvas.fill(tear, &INSOLE.darker(0.7).to_string());
    canvas.stroke(tear, line(INSOLE.lighter(0.4), 2.0, 0.7));
    for thread in [
        "M204,96 q10,-16 22,-8 t16,-10",
        "M244,92 q12,-18 20,-4 t22,-8",
        "M280,92 q8,-12 18,-14",
    ] {
        canvas.stroke(thread, line(SHADOW, 3.0, 0.35));
        canvas.stroke(thread, line(Colour::of(236, 222, 188), 1.8, 1.0));
    }
}

const HOLLOW: &str = "M40,4 C44,-50 100,-82 184,-80 C270,-76 316,-54 372,-42 L372,46 C316,62 230,86 150,80 \
                      C84,70 40,50 40,4 Z";

fn filler(canvas: &mut Canvas, stage: Stage) {
    let sound = stage >= Stage::Mended;
    canvas.moved("translate(3,4)", |canvas| canvas.veil(HOLLOW, SHADOW, 0.3));
    let cork = if sound { CORK } else { CORK.darker(0.4) };
    canvas.fill(HOLLOW, &cork.to_string());
    canvas.inside(HOLLOW, |canvas| {
        let mut chance = DrawingChance::of(71);
        for _ in 0..170 {
            let centre = (chance.between(36.0, 372.0), chance.between(-82.0, 86.0));
            let radii = (chance.between(2.0, 7.0), chance.between(1.6, 5.0));
            let tone = chance.between(0.0, 1.0);
            let crumb = if tone > 0.55 {
                cork.lighter(tone * 0.34)
            } else {
                cork.darker(0.4 - tone * 0.4)
            };
            canvas.ellipse(centre, radii, &crumb.to_string());
        }
        if sound {
            canvas.glow((160.0, -30.0), (150.0, 70.0), WHITE, 0.24);
            return;
        }
        // Gone in the middle, wet round it.
        canvas.glow((190.0, 6.0), (140.0, 84.0), SHADOW, 0.6);
        let gone = "M130,-10 C140,-44 200,-52 236,-30 C262,-14 250,30 214,40 C170,50 122,30 130,-10 Z";
        canvas.fill(gone, &INSOLE.darker(0.35).to_string());
        canvas.stroke(gone, line(SHADOW, 5.0, 0.45));
        canvas.stroke("M150,-6 l40,10 l-8,14 l36,4", line(SHADOW, 2.6, 0.7));
    });
}

fn shank(canvas: &mut Canvas, stage: Stage) {
    let piece = "M330,-16 C400,-20 470,-18 540,-14 C548,-10 548,12 540,16 C470,18 400,20 330,18 C322,12 322,-10 330,-16 Z";
    let steel = if stage >= Stage::Mended {
        STEEL.lighter(0.1)
    } else {
        Colour::of(132, 92, 66)
    };
    let paint = canvas.linear(
        (0.0, -18.0),
        (0.0, 18.0),
        &[
            (0.0, steel.lighter(0.4), 1.0),
            (0.5, steel, 1.0),
            (1.0, steel.darker(0.4), 1.0),
        ],
    );
    canvas.moved("translate(3,6)", |canvas| canvas.veil(piece, SHADOW, 0.4));
    canvas.fill(piece, &paint);
    canvas.stroke("M350,0 H520", line(SHADOW, 3.0, 0.25));
    if stage < Stage::Mended {
        // Broken across, one end risen.
        canvas.fill(
            "M420,-22 l10,14 l-8,8 l9,22 l-14,-8 l6,-12 l-10,-10 Z",
            &INSOLE.darker(0.55).to_string(),
        );
        canvas.stroke("M420,-20 l8,13 l-8,9 l8,18", line(SHADOW, 2.4, 0.9));
    }
}

fn seat(canvas: &mut Canvas, stage: Stage) {
    for at in 0..9 {
        let turn = (at as f32 - 4.0) * 0.42;
        let (x, y) = (574.0 + 56.0 * turn.cos(), 2.0 + 42.0 * turn.sin());
        if stage >= Stage::Mended {
            canvas.ellipse((x, y), (3.6, 3.6), &STEEL.to_string());
            canvas.ellipse((x - 1.0, y - 1.0), (1.5, 1.5), &WHITE.to_string());
        } else {
            canvas.ellipse((x, y), (3.4, 3.0), &SHADOW.to_string());
            canvas.stroke(
                &format!("M{x},{y} q5,-5 3,-11"),
                line(STEEL.darker(0.2), 2.6, 0.9),
            );
        }
    }
}
