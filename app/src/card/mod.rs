//! The care card: what the customer keeps. Rendered by the server for a card link and previewed by the app, from
//! one source that touches no browser.
//!
//! The newest job is shown in full, beginning with large photographs from before and after. Of earlier jobs, only what
//! was done and how the pair looked is shown, because their advice no longer holds.

mod amount;
mod day;
#[cfg(feature = "csr")]
mod file;
mod view;

use shared::log::body::Section;
use shared::text::unless_empty;

use amount::Amount;
pub use day::in_words;
#[cfg(feature = "csr")]
pub use file::{EmbeddedPicture, data_url, self_contained};
pub use view::{card_body, notice_body};

/// The card's style sheet, for screen and paper, light and dark.
pub const STYLE: &str = concat!(include_str!("page.css"), include_str!("card.css"));

/// What a card shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardView {
    /// One section per job, newest first.
    pub sections: Vec<SectionView>,
    /// Where the calendar file for the next check is, if there is one.
    pub calendar: Option<String>,
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

    /// How much text it has, for the size of its type on paper.
    fn amount(&self) -> Amount {
        Amount::of(self.sections.iter().map(|shown| &shown.section))
    }

    /// What the pair is, by its newest section.
    pub fn title(&self) -> &str {
        self.sections
            .first()
            .map(|shown| shown.section.title.trim())
            .and_then(unless_empty)
            .unwrap_or(words::card::your_pair())
    }
}
