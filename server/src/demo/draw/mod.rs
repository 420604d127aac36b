//! Pictures for the invented shop: shoes drawn by rule, as a phone over the bench would see them.
//!
//! A [`Picture`] says what is to be seen; [`draw`] makes SVG of it, paints that on a bench painted once, and
//! encodes it as the phone's own pictures are.

mod back;
mod belt;
mod bench;
mod canvas;
mod chance;
mod colour;
mod forms;
mod inside;
mod outline;
mod raster;
mod side;
mod sole;
mod upper;
mod wear;

use std::sync::OnceLock;

use resvg::tiny_skia::Pixmap;

use canvas::Canvas;
pub(super) use colour::Colour;
pub(super) use raster::Jpeg;

/// Size of a picture in pixels, and in units of its drawing.
pub(super) const WIDTH: u32 = 960;
/// See [`WIDTH`].
pub(super) const HEIGHT: u32 = 720;

/// Which silhouette.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Silhouette {
    Derby,
    Oxford,
    Moccasin,
    Court,
    Dance,
    Sandal,
    Chelsea,
    ZipBoot,
    WalkingBoot,
    WorkBoot,
    ChildsBoot,
    Belt,
}

/// What a pair looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Shoe {
    pub(super) kind: Silhouette,
    pub(super) upper: Colour,
    /// The sole's edge and the heel.
    pub(super) sole: Colour,
    pub(super) thread: Colour,
    /// Laces or elastic.
    pub(super) laces: Colour,
}

/// Where it is seen from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum View {
    Side,
    /// The soles.
    Sole,
    /// The heels, from behind.
    Back,
    /// Under the soles, which are off.
    Inside,
}

/// How far the work is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Stage {
    /// As brought.
    Worn,
    /// The sole or heel is off, and what is wrong shows.
    Opened,
    /// That is made good.
    Mended,
    /// Ready to be collected.
    Finished,
}

/// A picture to be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Picture {
    pub(super) shoe: Shoe,
    pub(super) view: View,
    pub(super) stage: Stage,
    /// Taken close up: the middle of what is seen, and how many times nearer.
    pub(super) close: Option<Close>,
}

/// A detail of a view.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Close {
    pub(super) x: u16,
    pub(super) y: u16,
    pub(super) times: u8,
}

/// A picture as a phone stores it.
#[derive(Debug, Clone)]
pub(super) struct Drawn {
    pub(super) full: Jpeg,
    pub(super) thumb: Jpeg,
}

/// Draws a picture. `None` if it cannot be drawn or encoded, which is a fault of the drawing.
pub(super) fn draw(picture: &Picture) -> Option<Drawn> {
    let window = window(picture.close);
    let mut pixels = match picture.close {
        None => bench_of(picture)?.clone(),
        Some(_) => {
            let mut near = raster::ground()?;
            raster::paint(&bench::svg(bench_under(picture), window), &mut near)?;
            near
        }
    };
    let mut canvas = Canvas::default();
    add(&mut canvas, picture);
    raster::paint(&canvas.finish(window), &mut pixels)?;
    let (full, thumb) = raster::encode(&pixels)?;
    Some(Drawn { full, thumb })
}

fn add(canvas: &mut Canvas, picture: &Picture) {
    let Some(form) = forms::form(picture.shoe.kind) else {
        return belt::add(canvas, &picture.shoe, picture.stage);
    };
    match picture.view {
        View::Side => side::add(canvas, form, &picture.shoe, picture.stage),
        View::Sole => sole::add(canvas, form, &picture.shoe, picture.stage),
        View::Back => back::add(canvas, form, &picture.shoe, picture.stage),
        View::Inside => inside::add(canvas, form, &picture.shoe, picture.stage),
    }
}

fn window(close: Option<Close>) -> [f32; 4] {
    let (width, height) = (WIDTH as f32, HEIGHT as f32);
    let Some(Close { x, y, times }) = close else {
        return [0.0, 0.0, width, height];
    };
    let times = f32::from(times.max(1));
    let (near, tall) = (width / times, height / times);
    // A camera held near the picture's edge still sees only the picture.
    let from = |middle: u16, wide: f32, all: f32| (f32::from(middle) - wide / 2.0).clamp(0.0, all - wide);
    [from(x, near, width), from(y, tall, height), near, tall]
}

fn bench_under(picture: &Picture) -> bench::BenchView {
    match (picture.shoe.kind, picture.view) {
        (Silhouette::Belt, _) | (_, View::Sole | View::Inside) => bench::BenchView::FromAbove,
        _ => bench::BenchView::FromTheFront,
    }
}

/// The bench without a shoe: painted once for all pictures.
fn bench_of(picture: &Picture) -> Option<&'static Pixmap> {
    static FRONT: OnceLock<Option<Pixmap>> = OnceLock::new();
    static ABOVE: OnceLock<Option<Pixmap>> = OnceLock::new();
    let seen = bench_under(picture);
    let kept = match seen {
        bench::BenchView::FromTheFront => &FRONT,
        bench::BenchView::FromAbove => &ABOVE,
    };
    kept.get_or_init(|| {
        let mut pixels = raster::ground()?;
        raster::paint(&bench::svg(seen, window(None)), &mut pixels)?;
        Some(pixels)
    })
    .as_ref()
}
