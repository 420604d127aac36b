//! Names of the pictures of the demo shop. The files are in `server/src/demo/pictures` and embedded in the binary.
//!
//! A picture's file is named after what it shows: the pair's look, the view, how far the work is, and the detail.

/// Where a pair is seen from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum View {
    Side,
    /// The soles.
    Sole,
    /// The heels, from behind.
    Back,
    /// The underside of the shoe with the sole taken off.
    Inside,
}

impl View {
    fn word(self) -> &'static str {
        match self {
            View::Side => "side",
            View::Sole => "sole",
            View::Back => "back",
            View::Inside => "inside",
        }
    }
}

/// How far the work is in a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum StoryStage {
    /// As brought.
    Worn,
    /// The sole or heel is off, and the damage shows.
    Opened,
    /// The damage is repaired.
    Mended,
    /// Ready to be collected.
    Finished,
}

impl StoryStage {
    fn word(self) -> &'static str {
        match self {
            StoryStage::Worn => "worn",
            StoryStage::Opened => "opened",
            StoryStage::Mended => "mended",
            StoryStage::Finished => "finished",
        }
    }
}

/// A detail of a view: its centre in pixels of the whole picture, and the magnification.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Close {
    pub(super) x: u16,
    pub(super) y: u16,
    pub(super) times: u8,
}

/// Which picture is taken of a job's own pair.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shot {
    pub(super) view: View,
    pub(super) stage: StoryStage,
    pub(super) close: Option<Close>,
}

impl Shot {
    /// The name of this picture of a pair with this look, without a file extension.
    pub(super) fn of(self, look: &str) -> String {
        let look = look.replace('\'', "").replace(' ', "_");
        let mut name = [look.as_str(), self.view.word(), self.stage.word()].join("-");
        if let Some(Close { x, y, times }) = self.close {
            name.push_str(&format!("-{x}x{y}x{times}"));
        }
        name
    }
}

/// A picture of the whole view.
pub(super) const fn shot(view: View, stage: StoryStage) -> Shot {
    Shot {
        view,
        stage,
        close: None,
    }
}

/// A detail of a view: the centre in pixels of the whole picture, and the magnification.
pub(super) const fn near(view: View, stage: StoryStage, x: u16, y: u16, times: u8) -> Shot {
    let close = Some(Close { x, y, times });
    Shot { view, stage, close }
}
