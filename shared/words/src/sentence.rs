//! The form in which this room writes its sentences.

/// Declares sentences: each becomes a function, whose arguments are named in the text.
///
/// ```text
/// sentences! {
///     handed_over() { "Handed over." }
///     still_due(amount: &str) { "Still due for this pair: {amount}" }
///     colour() { british "Colour", american "Color" }
///     pairs_chosen(count: usize) { one "1 pair is chosen.", many "{count} pairs are chosen." }
/// }
/// ```
///
/// A sentence without arguments is a `&'static str`, one with arguments a `String`. `one` and `many` are chosen by the
/// first argument, a whole number. Where nothing but the spelling differs, `british` and `american` stand side by side.
/// The text is also the function's documentation, so that a reader of a screen sees the sentence where it is used.
macro_rules! sentences {
    ($($(#[$meta:meta])* $name:ident($($arg:ident: $type:ty),* $(,)?) $body:tt)*) => {
        $($crate::sentence::sentence! { $(#[$meta])* $name($($arg: $type),*) $body })*
    };
}

/// Declares one of the [`sentences`].
macro_rules! sentence {
    ($(#[$meta:meta])* $name:ident() { $text:literal }) => {
        #[doc = concat!("“", $text, "”")]
        $(#[$meta])*
        #[must_use]
        pub fn $name() -> &'static str {
            $text
        }
    };
    ($(#[$meta:meta])* $name:ident() { british $british:literal, american $american:literal $(,)? }) => {
        #[doc = concat!("“", $british, "”")]
        $(#[$meta])*
        #[must_use]
        pub fn $name() -> &'static str {
            match $crate::current() {
                $crate::Language::British => $british,
                $crate::Language::American => $american,
            }
        }
    };
    ($(#[$meta:meta])* $name:ident($($arg:ident: $type:ty),+) { $text:literal }) => {
        #[doc = concat!("“", $text, "”")]
        $(#[$meta])*
        #[must_use]
        pub fn $name($($arg: $type),+) -> String {
            format!($text)
        }
    };
    ($(#[$meta:meta])* $name:ident($($arg:ident: $type:ty),+) {
        british $british:literal, american $american:literal $(,)?
    }) => {
        #[doc = concat!("“", $british, "”")]
        $(#[$meta])*
        #[must_use]
        pub fn $name($($arg: $type),+) -> String {
            match $crate::current() {
                $crate::Language::British => format!($british),
                $crate::Language::American => format!($american),
            }
        }
    };
    ($(#[$meta:meta])* $name:ident($count:ident: $number:ty $(, $arg:ident: $type:ty)*) {
        one $one:literal, many $many:literal $(,)?
    }) => {
        #[doc = concat!("“", $many, "”")]
        $(#[$meta])*
        #[must_use]
        pub fn $name($count: $number $(, $arg: $type)*) -> String {
            if $count == 1 { format!($one) } else { format!($many) }
        }
    };
}

pub(crate) use {sentence, sentences};

#[cfg(test)]
#[expect(unreachable_pub, reason = "the macro makes public functions")]
mod tests {
    use crate::{Language, speaking};

    sentences! {
        saved() { "Saved." }
        paid(amount: &str) { "Paid: {amount}." }
        grey() { british "Grey", american "Gray" }
        in_grey(pair: &str) { british "{pair} in grey.", american "{pair} in gray." }
        left(count: u32, place: &str) { one "One pair is left in {place}.", many "{count} pairs are left in {place}." }
    }

    #[test]
    fn sentences_take_their_arguments() {
        assert_eq!(saved(), "Saved.");
        assert_eq!(paid("EUR 12.00"), "Paid: EUR 12.00.");
    }

    #[test]
    fn a_number_chooses_its_form() {
        assert_eq!(left(0, "A"), "0 pairs are left in A.");
        assert_eq!(left(1, "A"), "One pair is left in A.");
        assert_eq!(left(2, "A"), "2 pairs are left in A.");
    }

    #[test]
    fn the_spelling_follows_the_language() {
        assert_eq!((grey(), in_grey("A7")), ("Grey", "A7 in grey.".to_owned()));
        let american = speaking(Language::American, || (grey(), in_grey("A7")));
        assert_eq!(american, ("Gray", "A7 in gray.".to_owned()));
    }
}
