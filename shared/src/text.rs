//! Texts that may be empty.

/// The text; `None` if it is empty.
pub fn unless_empty<T: AsRef<str>>(text: T) -> Option<T> {
    (!text.as_ref().is_empty()).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_are_a_text_and_nothing_is_none() {
        assert_eq!(unless_empty(" "), Some(" "));
        assert_eq!(unless_empty(String::new()), None);
    }
}
