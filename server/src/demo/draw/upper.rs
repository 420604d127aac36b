//! The upper from its side: leather with its light, panels, seams, fastening.

use super::canvas::{Canvas, line};
use super::colour::{Colour, SHADOW, WHITE};
use super::forms::{Fastening, Panel, ShoeForm, Stuff};
use super::side::dulled;
use super::{Shoe, Stage, wear};

const LINING: Colour = Colour::of(178, 146, 108);
const BRASS: Colour = Colour::of(198, 164, 92);
const STEEL: Colour = Colour::of(168, 172, 174);

/// Adds the upper.
pub(super) fn add(canvas: &mut Canvas, form: &ShoeForm, shoe: &Shoe, stage: Stage) {
    let leather = dulled(shoe.upper, stage);
    opening(canvas, form, leather, stage);
    let paint = shaded(canvas, form, leather);
    canvas.fill(form.upper, &paint);
    canvas.inside(form.upper, |canvas| {
        for panel in form.panels {
            self::panel(canvas, form, panel, shoe, leather);
        }
        volume(canvas, form, stage);
        wear::creases(canvas, form, stage);
        if stage == Stage::Worn {
            wear::scuffs(canvas, form, leather);
        }
        canvas.stroke(form.upper, line(SHADOW, 5.0, 0.3));
        canvas.moved("translate(0,3)", |canvas| {
            canvas.stroke(form.upper, line(WHITE, 2.0, 0.14));
        });
    });
    for seam in form.seams {
        canvas.stitches(seam, shoe.thread, 1.7);
    }
    fastening(canvas, &form.fastening, shoe, stage);
}

fn opening(canvas: &mut Canvas, form: &ShoeForm, leather: Colour, stage: Stage) {
    if !form.behind.is_empty() {
        let paint = canvas.linear(
            (0.0, -form.height),
            (0.0, -form.height * 0.6),
            &[(0.0, leather.lighter(0.14), 1.0), (1.0, leather.darker(0.4), 1.0)],
        );
        canvas.fill(form.behind, &paint);
        canvas.stroke(form.behind, line(SHADOW, 1.6, 0.4));
    }
    let depth = canvas.linear(
        (0.0, -form.height + 6.0),
        (0.0, -form.height * 0.82),
        &[(0.0, LINING.darker(0.15), 1.0), (1.0, LINING.darker(0.85), 1.0)],
    );
    canvas.fill(form.mouth, &depth);
    if stage == Stage::Worn {
        canvas.inside(form.mouth, |canvas| wear::lining(canvas, form));
    }
    canvas.stroke(form.mouth, line(leather.darker(0.3), 3.0, 0.9));
}

/// The leather in the light that falls from above and from the left.
fn shaded(canvas: &mut Canvas, form: &ShoeForm, leather: Colour) -> String {
    canvas.linear(
        (180.0, -form.height),
        (380.0, 0.0),
        &[
            (0.0, leather.lighter(0.2), 1.0),
            (0.45, leather, 1.0),
            (1.0, leather.darker(0.42), 1.0),
        ],
    )
}

fn panel(canvas: &mut Canvas, form: &ShoeForm, panel: &Panel, shoe: &Shoe, leather: Colour) {
    // The edge of the piece throws a thin shade on what lies under it.
    canvas.stroke(panel.path, line(SHADOW, 9.0, 0.1));
    canvas.stroke(panel.path, line(SHADOW, 4.0, 0.26));
    match panel.stuff {
        Stuff::Leather(tone) => {
            let tint = if tone < 0.0 {
                leather.darker(-tone)
            } else {
                leather.lighter(tone)
            };
            let paint = shaded(canvas, form, tint);
            canvas.fill(panel.path, &paint);
            canvas.stroke(panel.path, line(WHITE, 1.2, 0.16));
            canvas.inside(panel.path, |canvas| {
                for inward in [6.0, 12.0] {
                    canvas.moved(&format!("translate({inward},{})", inward * 0.1), |canvas| {
                        canvas.stitches(panel.path, shoe.thread, 1.6);
                    });
                }
            });
        }
        Stuff::Elastic => elastic(canvas, panel.path, shoe.laces),
        Stuff::Rubber => {
            let rubber = Colour::of(50, 48, 48);
            canvas.fill(panel.path, &rubber.to_string());
            canvas.stroke(panel.path, line(WHITE, 1.6, 0.22));
        }
        Stuff::Padding => {
            let soft = canvas.linear(
                (0.0, -form.height),
                (0.0, -form.height * 0.8),
                &[
                    (0.0, leather.lighter(0.22), 1.0),
                    (0.5, leather.lighter(0.02), 1.0),
                    (1.0, leather.darker(0.34), 1.0),
                ],
            );
            canvas.fill(panel.path, &soft);
        }
    }
}

fn elastic(canvas: &mut Canvas, path: &str, colour: Colour) {
    let paint = canvas.linear(
        (400.0, -400.0),
        (530.0, -260.0),
        &[(0.0, colour.lighter(0.2), 1.0), (1.0, colour.darker(0.3), 1.0)],
    );
    canvas.fill(path, &paint);
    canvas.inside(path, |canvas| {
        let ribs: String = (0..22)
            .map(|at| format!("M{},-460 v260 ", 404 + at * 6))
            .collect();
        canvas.stroke(&ribs, line(SHADOW, 2.4, 0.4));
        canvas.stroke(path, line(SHADOW, 8.0, 0.35));
    });
    canvas.stroke(path, line(SHADOW, 2.0, 0.5));
}

/// Roundness: dark where the leather turns under, light where it swells.
fn volume(canvas: &mut Canvas, form: &ShoeForm, stage: Stage) {
    let low = canvas.linear(
        (0.0, -96.0),
        (0.0, -16.0),
        &[(0.0, SHADOW, 0.0), (1.0, SHADOW, 0.4)],
    );
    canvas.fill("M-40,-120 H700 V0 H-40 Z", &low);
    let back = canvas.linear(
        (540.0, 0.0),
        (660.0, 0.0),
        &[(0.0, SHADOW, 0.0), (1.0, SHADOW, 0.42)],
    );
    canvas.fill("M540,-600 H700 V0 H540 Z", &back);
    let shine = match stage {
        Stage::Worn | Stage::Opened => 0.16,
        Stage::Mended => 0.24,
        Stage::Finished => 0.34,
    };
    for (centre, radii) in form.lights {
        canvas.glow(*centre, *radii, WHITE, shine);
        if stage == Stage::Finished {
            let small = (radii.0 * 0.42, radii.1 * 0.36);
            canvas.glow(
                (centre.0 - radii.0 * 0.16, centre.1 - radii.1 * 0.22),
                small,
                WHITE,
                0.3,
            );
        }
    }
}

fn fastening(canvas: &mut Canvas, fastening: &Fastening, shoe: &Shoe, stage: Stage) {
    match fastening {
        Fastening::Nothing => {}
        Fastening::Laces {
            eyelets,
            over,
            hooks_from,
        } => {
            for (at, eyelet) in eyelets.iter().enumerate() {
                lace(canvas, *eyelet, *over, shoe.laces, at >= *hooks_from);
            }
            if let (Some(top), true) = (eyelets.last(), stage != Stage::Opened) {
                bow(canvas, *top, shoe.laces);
            }
        }
        Fastening::Straps { paths, buckles } => {
            for path in *paths {
                canvas.stitches(path, shoe.thread, 1.4);
            }
            for at in *buckles {
                buckle(canvas, *at);
            }
        }
        Fastening::Zip(path) => zip(canvas, path),
    }
}

fn lace(canvas: &mut Canvas, (x, y): (f32, f32), (dx, dy): (f32, f32), colour: Colour, hook: bool) {
    let metal = if hook { STEEL } else { BRASS };
    canvas.ellipse((x, y), (6.5, 6.0), &metal.darker(0.25).to_string());
    canvas.ellipse((x - 0.8, y - 0.8), (4.6, 4.2), &metal.lighter(0.3).to_string());
    canvas.ellipse((x, y), (2.8, 2.6), &SHADOW.to_string());
    let path = format!("M{x},{y} q{},{} {dx},{dy}", dx * 0.4, dy * 1.1);
    canvas.stroke(&path, line(SHADOW, 9.6, 0.35));
    canvas.stroke(&path, line(colour.darker(0.3), 7.4, 1.0));
    canvas.stroke(&path, line(colour.lighter(0.15), 4.2, 1.0));
}

fn bow(canvas: &mut Canvas, (x, y): (f32, f32), colour: Colour) {
    let loops = [
        format!("M{x},{y} c-16,20 -70,30 -72,6 c0,-20 50,-22 72,-6"),
        format!("M{x},{y} c26,8 70,36 58,54 c-14,14 -52,-22 -58,-54"),
        format!("M{x},{y} c-10,22 -20,44 -40,62"),
        format!("M{x},{y} c12,24 20,50 16,84"),
    ];
    for path in &loops {
        canvas.moved("translate(3,5)", |canvas| {
            canvas.stroke(path, line(SHADOW, 7.0, 0.22))
        });
        canvas.stroke(path, line(colour.darker(0.4), 6.4, 1.0));
        canvas.stroke(path, line(colour.lighter(0.1), 4.0, 1.0));
    }
    canvas.ellipse((x, y), (8.5, 7.0), &colour.darker(0.35).to_string());
    canvas.ellipse((x - 1.0, y - 1.0), (6.0, 5.0), &colour.lighter(0.08).to_string());
}

fn buckle(canvas: &mut Canvas, (x, y): (f32, f32)) {
    let frame = format!("M{},{} h24 v24 h-24 Z", x - 12.0, y - 12.0);
    canvas.moved("translate(2,3)", |canvas| {
        canvas.stroke(&frame, line(SHADOW, 5.0, 0.35))
    });
    canvas.stroke(&frame, line(BRASS.darker(0.35), 5.2, 1.0));
    canvas.stroke(&frame, line(BRASS.lighter(0.35), 2.4, 1.0));
    canvas.stroke(
        &format!("M{},{y} h22", x - 12.0),
        line(BRASS.lighter(0.2), 3.0, 1.0),
    );
}

fn zip(canvas: &mut Canvas, path: &str) {
    canvas.stroke(path, line(SHADOW, 24.0, 0.3));
    canvas.stroke(path, line(Colour::of(44, 40, 42), 18.0, 1.0));
    canvas.bars(path, line(BRASS, 10.0, 1.0), "2.4 2.6");
    canvas.stroke(path, line(SHADOW, 1.4, 0.8));
    canvas.fill("M482,-524 h16 l-2,26 h-12 Z", &BRASS.darker(0.1).to_string());
    canvas.fill("M486,-500 h8 l3,44 h-14 Z", &BRASS.lighter(0.25).to_string());
}
