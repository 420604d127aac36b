//! The entries of the care card: the secret of its link, its published sections, and their withdrawals.

use serde::{Deserialize, Serialize};

use super::common::{Blob, Shows};
use crate::log::entry::{EntryId, SubjectId};

/// The secret part of a pair's card link, made once with the pair.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CardLink {
    /// 128 random bits as 32 lower-case hex digits.
    pub secret: String,
}

/// One section of the care card as it was shown to the customer: a snapshot, never recomputed.
///
/// Every version ever written stays readable: fields are only added, with defaults.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Section {
    /// What the pair is, in words.
    #[serde(default)]
    pub title: String,
    /// The day of hand-over, `YYYY-MM-DD`.
    #[serde(default)]
    pub day: String,
    /// What was done, in plain words, one line each.
    #[serde(default)]
    pub done: Vec<String>,
    /// What was found inside and what was decided.
    #[serde(default)]
    pub found: Vec<String>,
    /// Extras at no charge.
    #[serde(default)]
    pub gifts: Vec<String>,
    /// Advice, one line each.
    #[serde(default)]
    pub advice: Vec<String>,
    /// Remarks of the shop for the customer, one line each: notes that were ticked for the card, what holds the sole if
    /// that has changed, old parts that were put back, and old parts that are given back.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<String>,
    /// Hours to wait before wearing.
    #[serde(default)]
    pub wait_hours: Option<u32>,
    /// The day of the next check, `YYYY-MM-DD`.
    #[serde(default)]
    pub next_check: Option<String>,
    /// The next check in words, where its day was forecast: a season, and between which days it lies.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub next_check_words: String,
    /// The guarantee terms that apply to this work.
    #[serde(default)]
    pub terms: String,
    /// The price in words, only if the repairer ticked it.
    #[serde(default)]
    pub price: Option<String>,
    /// The shop's name and how to reach it.
    #[serde(default)]
    pub shop: String,
    /// The shop's name alone; empty in sections of older apps.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub shop_name: String,
    /// The kind of goods, a word of [`crate::trade::Goods`], for its drawing; empty if it was not stated.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub goods: String,
    /// The parts that were put on whole, words of [`crate::trade::Component`], for the drawing.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub new_parts: Vec<String>,
    /// The parts that were worked on, or are new in part, likewise.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub mended_parts: Vec<String>,
    /// Photographs chosen for the card, before first.
    #[serde(default)]
    pub photos: Vec<CardPhoto>,
    /// The language of these words, a tag of BCP 47; absent for British English.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub language: Option<String>,
}

/// A photograph chosen for the card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CardPhoto {
    /// The picture.
    pub blob: Blob,
    /// What it shows: the caption, and the text alternative for a screen reader.
    pub caption: String,
    /// What it shows, beside the words; absent in sections that were published by version 0.1.0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shows: Option<Shows>,
}

impl CardPhoto {
    /// The beginning of the caption of a photograph that shows the pair as it was brought, as version 0.1.0 wrote it.
    const BEFORE: &str = "Before";
    /// The same for the finished pair.
    const AFTER: &str = "After";

    /// Whether it shows the pair as it was brought.
    pub fn is_before(&self) -> bool {
        self.is(&Shows::DropOff, Self::BEFORE)
    }

    /// Whether it shows the finished pair.
    pub fn is_after(&self) -> bool {
        self.is(&Shows::Finished, Self::AFTER)
    }

    fn is(&self, wanted: &Shows, beginning: &str) -> bool {
        self.shows
            .as_ref()
            .map_or_else(|| self.caption.starts_with(beginning), |shows| shows == wanted)
    }
}

/// Publishes a section of the pair's card. About a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Published {
    /// The pair whose card it joins.
    pub pair: SubjectId,
    /// What the customer sees.
    pub section: Box<Section>,
    /// The withdrawals that the device knew when it published this section. A withdrawal that is not listed here wins
    /// over the section.
    #[serde(default)]
    pub seen: Vec<EntryId>,
}

/// Takes back the whole card (about a pair) or one section of it (about a job).
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Withdrawn {}
