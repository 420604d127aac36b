//! The care card: what the customer keeps. Rendered by the server for a card link and previewed by the app, from
//! one source that touches no browser.
//!
//! The newest job is shown in full, beginning with large photographs from after and before. Of earlier jobs, only what
//! was done and how the pair looked is shown, folded, because their advice no longer holds. On paper there is what one
//! sheet has room for; the page has everything.

mod amount;
mod day;
mod drawing;
#[cfg(feature = "csr")]
mod file;
mod view;

use shared::log::body::Section;
use shared::text::unless_empty;

use amount::{ADVICE_ON_PAPER, Amount};
pub use day::in_words;
#[cfg(feature = "ssr")]
pub use drawing::drawing_of;
#[cfg(feature = "csr")]
pub use file::{CardExtras, EmbeddedPicture, data_url, self_contained};
pub use view::{card_body, notice_body};

/// The card's style sheet, for screen and paper, light and dark. The card is readable without its
/// typeface, which is a style sheet of its own.
pub const STYLE: &str = concat!(include_str!("page.css"), include_str!("card.css"));

/// The style sheet with the card's typeface. The app has the same file in its build, and loads it with the first card.
#[cfg(feature = "ssr")]
pub const TYPEFACE_STYLE: &str = include_str!("../../assets/fonts/serif.css");

/// What a card shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardView {
    /// One section per job, newest first.
    pub sections: Vec<SectionView>,
    /// Where the calendar file for the next check is, if there is one.
    pub calendar: Option<String>,
    /// The drawing of the kind of goods, an `<svg>` element of our own build as text, if there is one.
    pub drawing: Option<String>,
}

/// One job of a card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SectionView {
    /// What was published.
    pub section: Section,
    /// Where each of its photographs is, in the order of [`Section::photos`].
    pub sources: Vec<String>,
}

impl CardView {
    /// A card of these sections; `source` gives the address of a photograph by its SHA-256.
    pub fn new<'a>(sections: impl IntoIterator<Item = &'a Section>, source: impl Fn(&str) -> String) -> Self {
        let sections = sections
            .into_iter()
            .map(|section| SectionView {
                section: section.clone(),
                sources: section
                    .photos
                    .iter()
                    .map(|photo| source(&photo.blob.sha256))
                    .collect(),
            })
            .collect();
        Self {
            sections,
            calendar: None,
            drawing: None,
        }
    }

    /// The same card with a calendar file at this address.
    #[must_use]
    pub fn with_calendar(self, address: Option<String>) -> Self {
        Self {
            calendar: address,
            ..self
        }
    }

    /// The same card with the drawing of its kind of goods; `drawing` gives the drawing of a kind by its code.
    #[must_use]
    pub fn with_drawing(self, drawing: impl FnOnce(&str) -> Option<String>) -> Self {
        let goods = self.newest().map(|section| section.goods.as_str());
        let drawing = goods.and_then(unless_empty).and_then(drawing);
        Self { drawing, ..self }
    }

    /// What was published last.
    fn newest(&self) -> Option<&Section> {
        self.sections.first().map(|shown| &shown.section)
    }

    /// How much text it has on paper, for the size of its type.
    fn amount(&self) -> Amount {
        self.newest().map_or(Amount::Short, Amount::of)
    }

    /// Whether paper has no room for all that the newest section says.
    fn has_more(&self) -> bool {
        let advice = self.newest().map_or(0, |section| section.advice.len());
        advice > ADVICE_ON_PAPER || self.amount() == Amount::Fullest
    }

    /// What the pair is, by its newest section.
    pub fn title(&self) -> &str {
        self.newest()
            .map(|section| section.title.trim())
            .and_then(unless_empty)
            .unwrap_or(words::card::your_pair())
    }
}
