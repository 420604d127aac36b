//! The pictures of the invented shop: drawn once, kept in `server/src/demo/pictures`, and put into the binary.
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
    /// Under the soles, which are off.
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
    /// The sole or heel is off, and what is wrong shows.
    Opened,
    /// That is made good.
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

/// A detail of a view: its middle in pixels of the whole picture, and how many times nearer it is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Close {
    pub(super) x: u16,
    pub(super) y: u16,
    pub(super) times: u8,
}

/// How a picture is taken of a job's own pair.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shot {
    pub(super) view: View,
    pub(super) stage: StoryStage,
    pub(super) close: Option<Close>,
}

impl Shot {
    /// The name of the picture that this takes of a pair of that look, without the end of a file's name.
    pub(super) fn of(self, look: &str) -> String {
        let look = look.replace('\'', "").replace(' ', "_");
        let mut name = [look.as_str(), self.view.word(), self.stage.word()].join("-");
        if let Some(Close { x, y, times }) = self.close {
            name.push_str(&format!("-{x}x{y}x{times}"));
        }
        name
    }
}

/// The whole view.
pub(super) const fn shot(view: View, stage: StoryStage) -> Shot {
    Shot {
        view,
        stage,
        close: None,
    }
}

/// A detail of it, about a point of the whole picture.
pub(super) const fn near(view: View, stage: StoryStage, x: u16, y: u16, times: u8) -> Shot {
    let close = Some(Close { x, y, times });
    Shot { view, stage, close }
}
