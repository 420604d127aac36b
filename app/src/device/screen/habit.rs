//! What this device remembers of its users: which hand holds it, which cautions have been read, and the language.

use leptos::prelude::{document, window};
use web_sys::Storage;
use words::Language;

/// The keys in the browser's local storage of the language, of the hand, and of the cautions read (one a line).
const LANGUAGE: &str = "waxend-language";
const HAND: &str = "waxend-hand";
const READ: &str = "waxend-cautions-read";
/// The class of the page's root element for the left hand; style sheets mirror the layout by it.
const MIRRORED: &str = "left-handed";

/// The hand that holds the device.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// The right hand.
    Right,
    /// The left hand: the layout is mirrored.
    Left,
}

impl Hand {
    /// As it was last set on this device.
    #[must_use]
    pub fn kept() -> Self {
        match item(HAND).as_str() {
            "left" => Hand::Left,
            _ => Hand::Right,
        }
    }

    /// Keeps it on this device.
    pub fn keep(self) {
        keep(HAND, if self == Hand::Left { "left" } else { "right" });
    }

    /// Lays the page out for this hand.
    pub fn lay_out(self) {
        let Some(root) = document().document_element() else {
            return;
        };
        let classes = root.class_list();
        // This can only fail for class names with spaces.
        drop(match self {
            Hand::Left => classes.add_1(MIRRORED),
            Hand::Right => classes.remove_1(MIRRORED),
        });
    }
}

/// Speaks the language that this device last spoke, before the shop's entries are read: in the sentences of this page,
/// and in the `lang` by which a screen reader chooses its voice.
pub fn speak_kept_language() {
    let language = Language::of(&item(LANGUAGE));
    words::use_language(language);
    if let Some(root) = document().document_element() {
        // This can only fail for names that are no attribute's.
        drop(root.set_attribute("lang", language.tag()));
    }
}

/// Keeps the language in which this device speaks from its next start on.
pub fn keep_language(language: Language) {
    if Language::of(&item(LANGUAGE)) != language {
        keep(LANGUAGE, language.tag());
    }
}

/// Whether a caution has been read on this device; the text `caution` names the person and the material too.
#[must_use]
pub fn has_read(caution: &str) -> bool {
    item(READ).lines().any(|line| line == caution)
}

/// Remembers that it was read.
pub fn note_read(caution: &str) {
    if !has_read(caution) {
        let mut all = item(READ);
        all.push_str(caution);
        all.push('\n');
        keep(READ, &all);
    }
}

/// What the browser's local storage has under a key; empty if nothing.
pub(super) fn item(key: &str) -> String {
    storage()
        .and_then(|kept| kept.get_item(key).ok().flatten())
        .unwrap_or_default()
}

/// Keeps a text under a key of the browser's local storage.
pub(super) fn keep(key: &str, text: &str) {
    if let Some(kept) = storage() {
        // A full disk must not stop the work: the setting is simply lost.
        drop(kept.set_item(key, text));
    }
}

/// Removes what is kept under a key.
pub(super) fn remove(key: &str) {
    if let Some(kept) = storage() {
        drop(kept.remove_item(key));
    }
}

fn storage() -> Option<Storage> {
    window().local_storage().ok().flatten()
}
