//! An SVG document that grows stroke by stroke.

use std::fmt::Write as _;

use super::colour::Colour;

/// One stop of a gradient: where (0 to 1), colour, opacity.
pub(super) type Stop = (f32, Colour, f32);

/// A line to be drawn along a path.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stroke {
    /// Its colour.
    pub(super) colour: Colour,
    /// Its width, in units of the drawing.
    pub(super) width: f32,
    /// 0 (not seen) to 1.
    pub(super) opacity: f32,
}

/// Shorthand for a [`Stroke`].
pub(super) const fn line(colour: Colour, width: f32, opacity: f32) -> Stroke {
    Stroke {
        colour,
        width,
        opacity,
    }
}

/// An SVG document in the making.
#[derive(Debug, Default)]
pub(super) struct Canvas {
    defs: String,
    body: String,
    names: u32,
}

impl Canvas {
    /// The whole document, `window` (x, y, width, height) of it shown.
    pub(super) fn finish(self, window: [f32; 4]) -> String {
        let [x, y, width, height] = window;
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{x} {y} {width} {height}\">\
             <defs>{}</defs>{}</svg>",
            self.defs, self.body
        )
    }

    /// Fills a path with `paint`: a colour, or what [`Canvas::linear`] and [`Canvas::radial`] give.
    pub(super) fn fill(&mut self, path: &str, paint: &str) {
        self.put(format_args!("<path d=\"{path}\" fill=\"{paint}\"/>"));
    }

    /// Fills a path with a colour that lets some of the ground through.
    pub(super) fn veil(&mut self, path: &str, colour: Colour, opacity: f32) {
        self.put(format_args!(
            "<path d=\"{path}\" fill=\"{colour}\" fill-opacity=\"{opacity}\"/>"
        ));
    }

    /// Draws a line along a path.
    pub(super) fn stroke(&mut self, path: &str, line: Stroke) {
        self.dashes(path, line, "none");
    }

    /// Draws a broken line: `dashes` as SVG writes them.
    pub(super) fn dashes(&mut self, path: &str, line: Stroke, dashes: &str) {
        self.put(format_args!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" stroke-opacity=\"{}\" \
             stroke-linecap=\"round\" stroke-linejoin=\"round\" stroke-dasharray=\"{dashes}\"/>",
            line.colour, line.width, line.opacity
        ));
    }

    /// Draws a line broken into bars with square ends.
    pub(super) fn bars(&mut self, path: &str, line: Stroke, bars: &str) {
        self.put(format_args!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" stroke-opacity=\"{}\" \
             stroke-dasharray=\"{bars}\"/>",
            line.colour, line.width, line.opacity
        ));
    }

    /// A seam: the thread in its groove.
    pub(super) fn stitches(&mut self, path: &str, thread: Colour, width: f32) {
        self.stroke(path, line(thread.darker(0.75), width * 1.9, 0.35));
        let dashes = format!("{} {}", width * 2.4, width * 1.9);
        self.dashes(path, line(thread, width, 0.95), &dashes);
    }

    /// A soft round spot of light or dark, fading to nothing at its edge.
    pub(super) fn glow(&mut self, centre: (f32, f32), radii: (f32, f32), colour: Colour, opacity: f32) {
        let paint = self.radial(&[
            (0.0, colour, opacity),
            (0.35, colour, opacity * 0.72),
            (0.7, colour, opacity * 0.24),
            (1.0, colour, 0.0),
        ]);
        let ((cx, cy), (rx, ry)) = (centre, radii);
        self.put(format_args!(
            "<ellipse cx=\"{cx}\" cy=\"{cy}\" rx=\"{rx}\" ry=\"{ry}\" fill=\"{paint}\"/>"
        ));
    }

    /// A plain ellipse.
    pub(super) fn ellipse(&mut self, centre: (f32, f32), radii: (f32, f32), paint: &str) {
        let ((cx, cy), (rx, ry)) = (centre, radii);
        self.put(format_args!(
            "<ellipse cx=\"{cx}\" cy=\"{cy}\" rx=\"{rx}\" ry=\"{ry}\" fill=\"{paint}\"/>"
        ));
    }

    /// A gradient between two points of the drawing.
    pub(super) fn linear(&mut self, from: (f32, f32), to: (f32, f32), stops: &[Stop]) -> String {
        let name = self.name();
        let _ = write!(
            self.defs,
            "<linearGradient id=\"{name}\" gradientUnits=\"userSpaceOnUse\" \
             x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\">{}</linearGradient>",
            from.0,
            from.1,
            to.0,
            to.1,
            written(stops)
        );
        format!("url(#{name})")
    }

    /// A round gradient over the whole of what it fills.
    pub(super) fn radial(&mut self, stops: &[Stop]) -> String {
        let name = self.name();
        let _ = write!(
            self.defs,
            "<radialGradient id=\"{name}\">{}</radialGradient>",
            written(stops)
        );
        format!("url(#{name})")
    }

    /// Whatever `draw` adds is kept inside `path`.
    pub(super) fn inside(&mut self, path: &str, draw: impl FnOnce(&mut Self)) {
        let name = self.name();
        let _ = write!(
            self.defs,
            "<clipPath id=\"{name}\"><path d=\"{path}\"/></clipPath>"
        );
        self.put(format_args!("<g clip-path=\"url(#{name})\">"));
        draw(self);
        self.body.push_str("</g>");
    }

    /// Whatever `draw` adds is moved, turned or scaled: `transform` as SVG writes it.
    pub(super) fn moved(&mut self, transform: &str, draw: impl FnOnce(&mut Self)) {
        self.put(format_args!("<g transform=\"{transform}\">"));
        draw(self);
        self.body.push_str("</g>");
    }

    fn name(&mut self) -> String {
        self.names += 1;
        format!("n{}", self.names)
    }

    fn put(&mut self, markup: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = self.body.write_fmt(markup);
    }
}

fn written(stops: &[Stop]) -> String {
    let stop = |(at, colour, opacity): &Stop| {
        format!("<stop offset=\"{at}\" stop-color=\"{colour}\" stop-opacity=\"{opacity}\"/>")
    };
    stops.iter().map(stop).collect()
}
