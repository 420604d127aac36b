//! Texts that may be empty, and texts that are compared.

/// The text; `None` if it is empty.
pub fn unless_empty<T: AsRef<str>>(text: T) -> Option<T> {
    (!text.as_ref().is_empty()).then_some(text)
}

/// The text in lower case, its letters without the marks of western European languages, for comparing what people and
/// other programs have written: `Straße`, `STRASSE` and `strasse` are the same.
pub fn folded(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for letter in text.chars().flat_map(char::to_lowercase) {
        let plain = match letter {
            'á' | 'à' | 'â' | 'ä' | 'ã' | 'å' => "a",
            'é' | 'è' | 'ê' | 'ë' => "e",
            'í' | 'ì' | 'î' | 'ï' => "i",
            'ó' | 'ò' | 'ô' | 'ö' | 'õ' | 'ø' => "o",
            'ú' | 'ù' | 'û' | 'ü' => "u",
            'ç' => "c",
            'ñ' => "n",
            'ý' | 'ÿ' => "y",
            'æ' => "ae",
            'œ' => "oe",
            'ß' => "ss",
            other => {
                folded.push(other);
                continue;
            }
        };
        folded.push_str(plain);
    }
    folded
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_of_one_word_are_the_same() {
        assert_eq!(folded("Straße"), folded("STRASSE"));
        assert_eq!(folded("Prénom Ñ œ"), "prenom n oe");
        assert_eq!(folded("Ελένη 12"), "ελένη 12");
    }

    #[test]
    fn blanks_are_a_text_and_nothing_is_none() {
        assert_eq!(unless_empty(" "), Some(" "));
        assert_eq!(unless_empty(String::new()), None);
    }
}
