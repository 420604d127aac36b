//! The language in which the sentences of this room are returned.

use std::cell::Cell;

/// A language of the sentences.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Language {
    /// English with British spelling and dates.
    #[default]
    British,
    /// English with American spelling and dates.
    American,
}

impl Language {
    /// Every language, in the order in which a shop chooses.
    pub const ALL: [Self; 2] = [Self::British, Self::American];

    /// The tag of the language (BCP 47), as it is written in the log and in the `lang` of a page.
    #[must_use]
    pub const fn tag(self) -> &'static str {
        match self {
            Self::British => "en-GB",
            Self::American => "en-US",
        }
    }

    /// The language of a tag; British for a tag that this version does not know.
    #[must_use]
    pub fn of(tag: &str) -> Self {
        let known = Self::ALL.into_iter().find(|language| language.tag() == tag);
        known.unwrap_or_default()
    }

    /// The name of the language, in that language.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::British => "British English",
            Self::American => "American English",
        }
    }
}

thread_local! {
    static CURRENT: Cell<Language> = const { Cell::new(Language::British) };
}

/// The language in which this thread speaks; British unless it was told otherwise.
#[must_use]
pub fn current() -> Language {
    CURRENT.get()
}

/// Sets the language of this thread from now on: for a page, whose only thread speaks the shop's language.
pub fn use_language(language: Language) {
    CURRENT.set(language);
}

/// Runs `speak` with all sentences in `language`, and sets this thread's language back afterwards, also after a panic:
/// for a server, whose threads speak for one shop after the other. `speak` must not wait for anything.
pub fn speaking<T>(language: Language, speak: impl FnOnce() -> T) -> T {
    struct Before(Language);
    impl Drop for Before {
        fn drop(&mut self) {
            CURRENT.set(self.0);
        }
    }
    let _before = Before(CURRENT.replace(language));
    speak()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_language_lasts_as_long_as_its_speech() {
        assert_eq!(current(), Language::British);
        let inner = speaking(Language::American, || {
            (current(), speaking(Language::British, current), current())
        });
        assert_eq!(inner, (Language::American, Language::British, Language::American));
        let panicked =
            std::panic::catch_unwind(|| speaking(Language::American, || panic!("stopped half way")));
        assert!(panicked.is_err());
        assert_eq!(current(), Language::British);
    }

    #[test]
    fn tags_are_read_as_they_are_written() {
        for language in Language::ALL {
            assert_eq!(Language::of(language.tag()), language);
        }
        assert_eq!(Language::of("xx"), Language::British);
        assert_eq!(Language::of(""), Language::British);
    }
}
