//! The app's own camera: a picture in view, and frames taken from it at once.
//!
//! The camera runs only while its screen is open and the page is seen; the light beside the lens is off otherwise.
//! Where it is denied or missing the screen offers the system's camera instead:
//! `<input type="file" accept="image/*" capture="environment">` and [`from_file`](super::picture::from_file).

mod error;
mod feed;
mod lens;
mod reader;
mod scan;

pub use error::CameraError;
pub use lens::{Lens, Torch, Zoom};
pub use reader::NoReader;
pub use scan::can_scan;

use std::cell::Cell;

use feed::Feed;
use leptos::prelude::*;
use leptos::task::spawn_local;
use web_sys::HtmlVideoElement;

use super::listen::{Listener, PageVisibility};
use super::picture::Exposure;

thread_local! {
    /// Whether this page has already processed a picture once: see [`Camera::warm_up`].
    static WARM: Cell<bool> = const { Cell::new(false) };
}

/// What the camera is doing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CameraState {
    /// Not running: not asked for, or the page is not seen.
    Off,
    /// Asked for; the person may be looking at the browser's question.
    Starting,
    /// The picture is in view and can be taken.
    Live,
    /// It does not run, and why. The screen offers the system's camera, and [`Camera::start`] to try again.
    Failed(CameraError),
}

/// A camera and the element that shows it. Cheap to copy; ends with the reactive owner that made it.
#[derive(Clone, Copy)]
pub struct Camera {
    state: RwSignal<CameraState>,
    lens: RwSignal<Lens>,
    inner: StoredValue<CameraInner, LocalStorage>,
}

#[derive(Default)]
struct CameraInner {
    feed: Option<Feed>,
    video: Option<HtmlVideoElement>,
    /// Whether the screen wants the camera, also while the page is hidden.
    wanted: bool,
    /// Counts starts and stops, so that a camera that the browser hands out after a later start or stop is released
    /// again.
    turn: u32,
}

/// A camera for the current screen, off at first. It pauses while the page is hidden.
#[must_use]
pub fn use_camera() -> Camera {
    let camera = Camera {
        state: RwSignal::new(CameraState::Off),
        lens: RwSignal::new(Lens::default()),
        inner: StoredValue::new_local(CameraInner::default()),
    };
    Listener::on_view(move |view| camera.follow(view)).keep();
    camera
}

impl Camera {
    /// What the camera is doing.
    #[must_use]
    pub fn state(self) -> Signal<CameraState> {
        self.state.into()
    }

    /// What the running camera can do beside taking pictures, and how it is set.
    #[must_use]
    pub fn lens(self) -> Signal<Lens> {
        self.lens.into()
    }

    /// Shows the camera in `video`, now and whenever it starts.
    pub fn attach(self, video: HtmlVideoElement) {
        self.inner.update_value(|inner| inner.video = Some(video));
        self.show();
    }

    /// Asks for the camera. The result is in [`Camera::state`].
    pub fn start(self) {
        let turn = self.begin_turn(Wanted::Yes);
        if PageVisibility::now() == PageVisibility::Seen {
            self.state.set(CameraState::Starting);
            spawn_local(async move { self.receive(turn, Feed::open().await) });
        }
    }

    /// Lets go of the camera.
    pub fn stop(self) {
        self.begin_turn(Wanted::No);
        self.state.set(CameraState::Off);
    }

    /// Takes the frame in view now. It is drawn before this returns, so the next can be taken at once while
    /// [`Exposure::develop`] goes on behind.
    ///
    /// # Errors
    /// [`CameraError::NotReady`] while no live frame is there, or the reason why the camera does not run.
    pub fn shoot(self) -> Result<Exposure, CameraError> {
        if let CameraState::Failed(error) = self.state.get_untracked() {
            return Err(error);
        }
        self.inner.with_value(|inner| match (&inner.feed, &inner.video) {
            (Some(feed), Some(video)) => feed.take(video),
            _ => Err(CameraError::NotReady),
        })
    }

    /// Switches the lamp beside the lens, where there is one.
    pub fn set_torch(self, torch: Torch) {
        self.adjust(|lens| lens.torch = lens.torch.map(|_| torch));
    }

    /// Zooms, within the camera's range, where it can.
    pub fn set_zoom(self, factor: f64) {
        self.adjust(|lens| lens.zoom = lens.zoom.map(|zoom| zoom.to(factor)));
    }

    /// Focuses on a point of the picture, from (0, 0) top left to (1, 1) bottom right, where the camera can.
    pub fn focus_at(self, x: f64, y: f64) {
        self.adjust(|lens| lens.focus_at(x, y));
    }

    /// Notes whether the camera is wanted, releases a running one, and makes every request still under way stale.
    /// Returns the number of this turn.
    fn begin_turn(self, wanted: Wanted) -> u32 {
        self.inner
            .try_update_value(|inner| {
                inner.feed = None;
                inner.wanted = wanted == Wanted::Yes;
                inner.turn += 1;
                inner.turn
            })
            .unwrap_or_default()
    }

    /// Takes over what the browser answered. If a later start or stop has made the answer stale, it is dropped, which
    /// releases the camera.
    fn receive(self, turn: u32, opened: Result<Feed, CameraError>) {
        if !self.is_current(turn) {
            return;
        }
        match opened {
            Ok(mut feed) => {
                feed.on_lost(move || self.fail(turn, CameraError::Busy));
                self.lens.set(feed.lens());
                self.inner.update_value(|inner| inner.feed = Some(feed));
                self.show();
            }
            Err(error) => self.fail(turn, error),
        }
    }

    /// Puts the running camera into the element, if both are there, and says when its picture is in view.
    fn show(self) {
        let shown = self.inner.with_value(|inner| match (&inner.feed, &inner.video) {
            (Some(feed), Some(video)) => Some((inner.turn, feed.show(video))),
            _ => None,
        });
        let Some((turn, playing)) = shown else { return };
        spawn_local(async move {
            match playing.await {
                Ok(()) if self.is_current(turn) => {
                    self.state.set(CameraState::Live);
                    self.warm_up().await;
                }
                Ok(()) => {}
                Err(error) => self.fail(turn, error),
            }
        });
    }

    /// Processes one picture and throws it away, once a page: a browser takes about twice as long for the first one,
    /// and the first photograph should not be slow.
    async fn warm_up(self) {
        if WARM.get() {
            return;
        }
        if let Ok(exposure) = self.shoot() {
            WARM.set(true);
            drop(exposure.develop().await);
        }
    }

    fn fail(self, turn: u32, error: CameraError) {
        if self.is_current(turn) {
            self.inner.update_value(|inner| inner.feed = None);
            self.state.set(CameraState::Failed(error));
        }
    }

    /// Whether `turn` is the latest: false after a later start or stop, and after the screen has gone.
    fn is_current(self, turn: u32) -> bool {
        self.inner
            .try_with_value(|inner| inner.turn == turn)
            .unwrap_or(false)
    }

    fn adjust(self, change: impl FnOnce(&mut Lens)) {
        self.lens.update(change);
        let lens = self.lens.get_untracked();
        self.inner.with_value(|inner| {
            if let Some(feed) = &inner.feed {
                feed.apply(lens);
            }
        });
    }

    fn follow(self, view: PageVisibility) {
        let wanted = self.inner.try_with_value(|inner| inner.wanted).unwrap_or(false);
        match view {
            PageVisibility::Seen if wanted => self.start(),
            PageVisibility::Hidden if wanted => {
                self.begin_turn(Wanted::Yes);
                self.state.set(CameraState::Off);
            }
            _ => {}
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Wanted {
    Yes,
    No,
}
