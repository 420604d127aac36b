//! Rule for the room of words: a British and an American shop each read their own words, and nobody reads words that the
//! trade does not use.

use proc_macro2::{Delimiter, TokenStream, TokenTree};

use crate::source::{root, sources};

/// What only a British reader says; an `s` may follow each.
const BRITISH: [&str; 29] = [
    "autumn",
    "collection",
    "colour",
    "coloured",
    "court shoe",
    "fibre",
    "levelled",
    "levelling",
    "long boot",
    "long sole",
    "matt",
    "millimetre",
    "mould",
    "moulded",
    "mulling",
    "odour",
    "press stud",
    "re-stick",
    "refix",
    "refixed",
    "round",
    "sock lining",
    "stiffener",
    "sundries",
    "toe puff",
    "top piece",
    "trainer",
    "vulcanised",
    "zip",
];
/// The same of an American reader. A counter is where customers stand, too, and a fall is no season only.
const AMERICAN: [&str; 23] = [
    "accessories",
    "around",
    "box toe",
    "color",
    "colored",
    "fiber",
    "full sole",
    "heel cap",
    "leveled",
    "leveling",
    "matte",
    "millimeter",
    "mold",
    "molded",
    "odor",
    "pickup",
    "reattach",
    "reglue",
    "sneaker",
    "sock liner",
    "tempering",
    "vulcanized",
    "zipper",
];
/// What is said in other words everywhere.
const NEVER: [&str; 10] = [
    "cement in water",
    "desalting",
    "fed",
    "low shoe",
    "moccasin seam",
    "never out",
    "odd shoe",
    "take back",
    "taken back",
    "touch tape",
];

/// Who reads a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum WhoReads {
    British,
    American,
    Everybody,
}

/// Collects the texts of a file with their readers, other than in its tests and attributes.
fn collect(tokens: TokenStream, found: &mut Vec<(WhoReads, String)>) {
    let mut tokens = tokens.into_iter().peekable();
    let mut reader = WhoReads::Everybody;
    while let Some(token) = tokens.next() {
        match token {
            TokenTree::Punct(mark) if mark.as_char() == '#' => {
                // With a `!` in front it is one of the whole file, such as a comment at its top.
                tokens.next_if(|next| next.to_string() == "!");
                let attribute = tokens.next().map(|next| next.to_string().replace(' ', ""));
                if attribute.as_deref() == Some("[cfg(test)]") {
                    tokens.by_ref().find(|next| {
                        matches!(next, TokenTree::Group(group) if group.delimiter() == Delimiter::Brace)
                    });
                }
            }
            TokenTree::Ident(name) => {
                reader = match name.to_string().as_str() {
                    "british" => WhoReads::British,
                    "american" => WhoReads::American,
                    _ => WhoReads::Everybody,
                };
            }
            TokenTree::Group(group) => collect(group.stream(), found),
            TokenTree::Literal(literal) => {
                let text = syn::parse_str::<syn::LitStr>(&literal.to_string()).map(|text| text.value());
                found.extend(text.ok().map(|text| (reader, text)));
                reader = WhoReads::Everybody;
            }
            TokenTree::Punct(_) => {}
        }
    }
}

/// Whether a text is a code, such as the name of a field, and not read by a person.
fn is_code(text: &str) -> bool {
    text.chars()
        .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
}

/// Which of `words` a text says.
fn said(text: &str, words: &[&'static str]) -> Vec<&'static str> {
    let text = text.to_lowercase();
    let is_whole = |before: &str, after: &str| {
        let after = after.strip_prefix('s').unwrap_or(after);
        !before.ends_with(char::is_alphabetic) && !after.starts_with(char::is_alphabetic)
    };
    let is_said = |word: &str| {
        let mut places = text.match_indices(word);
        places.any(|(at, _)| is_whole(&text[..at], &text[at + word.len()..]))
    };
    words.iter().copied().filter(|word| is_said(word)).collect()
}

/// The words of a text that its reader does not use.
fn foreign(reader: WhoReads, text: &str) -> Vec<&'static str> {
    let mut words = said(text, &NEVER);
    if reader != WhoReads::British {
        words.extend(said(text, &BRITISH));
    }
    if reader != WhoReads::American {
        words.extend(said(text, &AMERICAN));
    }
    words
}

#[test]
fn each_shop_reads_its_own_words() {
    let mut wrong = Vec::new();
    for (path, text) in sources() {
        let path = path.strip_prefix(root()).unwrap();
        // `sentence.rs` is the form of a sentence.
        if !path.starts_with("shared/words/src") || path.ends_with("sentence.rs") {
            continue;
        }
        let mut found = Vec::new();
        collect(text.parse().unwrap(), &mut found);
        for (reader, text) in found.into_iter().filter(|(_, text)| !is_code(text)) {
            let words = foreign(reader, &text);
            if !words.is_empty() {
                wrong.push(format!("{}: {words:?} in {text:?}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_words_of_the_other_shop_are_seen() {
    let source = r#"
        #[doc = "Colour"]
        sentences! {
            a() { british "Colour", american "Color" }
            b(pair: &str) { british "Mold", american "Mould {pair}" }
            c() { "Zip or zipper" }
            d() { "Taken back." }
        }
        fn e() { match code { "top_piece" => "Top pieces", _ => "Rounded" } }
        #[cfg(test)]
        mod tests { fn f() { said("Trainer") } }
    "#;
    let mut found = Vec::new();
    collect(source.parse().unwrap(), &mut found);
    let read = found.iter().filter(|(_, text)| !is_code(text));
    let words: Vec<_> = read.map(|(reader, text)| foreign(*reader, text)).collect();
    assert_eq!(
        words,
        [
            vec![],
            vec![],
            vec!["mold"],
            vec!["mould"],
            vec!["zip", "zipper"],
            vec!["taken back"],
            vec!["top piece"],
            vec![],
        ]
    );
}
