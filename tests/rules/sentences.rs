//! Rule for the sources: a sentence that a person reads stands in the room of words, and nowhere else.

use proc_macro2::{Delimiter, TokenStream, TokenTree};

use crate::source::{root, sources};

/// The rooms that speak to people of the shop and to their customers.
const SPEAKING: [&str; 6] = [
    "app/src",
    "app/core/src",
    "server/core/src",
    "server/src/http",
    "shared/src/analytics",
    "shared/src/week",
];
/// Beginnings that are not read by a person, although they look like a sentence.
const CODES: [&str; 2] = [
    // A scheme of HTTP's `Authorization`.
    "Bearer ",
    // How version 0.1.0 began a line of the log, which is recognised by it.
    "Done, though not noted: ",
];

/// What is followed by words for developers.
const DEVELOPERS: [&str; 5] = ["expect", "panic", "unreachable", "assert", "assert_eq"];

/// Whether a text reads as a sentence or a heading: its first word has a capital letter in front and small ones after it,
/// which the path of a drawing or a query to a database does not, and it has a second word.
fn is_sentence(text: &str) -> bool {
    let (first, rest) = text.split_once(' ').unwrap_or((text, ""));
    let mut letters = first.trim_end_matches([',', ':', '.']).chars();
    let capital = letters.next().is_some_and(|letter| letter.is_ascii_uppercase());
    let small = letters.all(|letter| letter.is_ascii_lowercase() || letter == '\'');
    let second = rest.chars().any(char::is_alphabetic);
    let drawn = first.len() == 1 && rest.starts_with(|next: char| next.is_ascii_digit());
    capital && small && second && !drawn && !CODES.iter().any(|code| text.starts_with(code))
}

/// Collects the sentences among the literals of a file, other than in its tests, attributes and expectations.
fn collect(tokens: TokenStream, found: &mut Vec<String>) {
    let mut tokens = tokens.into_iter().peekable();
    while let Some(token) = tokens.next() {
        match token {
            // An attribute, such as a comment of the documentation.
            TokenTree::Punct(mark) if mark.as_char() == '#' => {
                let attribute = tokens.next_if(|next| is_group(next, Delimiter::Bracket));
                if attribute.is_some_and(|attribute| attribute.to_string().replace(' ', "") == "[cfg(test)]")
                {
                    // The item that it belongs to ends with its braces, or without any.
                    tokens
                        .by_ref()
                        .find(|next| is_group(next, Delimiter::Brace) || next.to_string() == ";");
                }
            }
            // What a developer reads when an assumption does not hold.
            TokenTree::Ident(name) if DEVELOPERS.contains(&&*name.to_string()) => {
                tokens.next_if(|next| next.to_string() == "!");
                tokens.next_if(|next| is_group(next, Delimiter::Parenthesis));
            }
            TokenTree::Group(group) => collect(group.stream(), found),
            TokenTree::Literal(literal) => {
                let text = syn::parse_str::<syn::LitStr>(&literal.to_string()).map(|text| text.value());
                found.extend(text.ok().filter(|text| is_sentence(text)));
            }
            TokenTree::Punct(_) | TokenTree::Ident(_) => {}
        }
    }
}

fn is_group(token: &TokenTree, wanted: Delimiter) -> bool {
    matches!(token, TokenTree::Group(group) if group.delimiter() == wanted)
}

/// The sentences of a source text.
fn sentences(source: &str) -> Vec<String> {
    let mut found = Vec::new();
    collect(source.parse().unwrap(), &mut found);
    found
}

#[test]
fn every_sentence_is_in_the_room_of_words() {
    let mut outside = Vec::new();
    for (path, text) in sources() {
        let path = path.strip_prefix(root()).unwrap();
        let speaks = SPEAKING.iter().any(|room| path.starts_with(room));
        // `sample.rs` makes up a shop's records for measurements.
        let ours = ["tests", "tests.rs", "sample.rs"];
        let is_test = path.iter().any(|part| ours.iter().any(|name| part == *name));
        if speaks && !is_test {
            outside.extend(
                sentences(&text)
                    .into_iter()
                    .map(|found| format!("{}: {found}", path.display())),
            );
        }
    }
    assert!(outside.is_empty(), "{outside:#?}");
}

#[test]
fn sentences_are_seen() {
    let source = r##"
        //! A file.
        #[doc = "A doc comment."]
        fn one() { view! { <p class="row between" title="Not here">"Hand over"</p> } }
        fn two() { three().expect("A reason."); panic!("A fault {x}"); say(format!("Due: {amount}")); four("Bearer {t}") }
        #[cfg(test)]
        mod tests { fn five() { six("A test's own sentence") } }
        fn seven() { eight("left", "Left", r#"A raw one"#, b"No text", 'C') }
    "##;
    assert_eq!(
        sentences(source),
        ["Not here", "Hand over", "Due: {amount}", "A raw one"]
    );
}
