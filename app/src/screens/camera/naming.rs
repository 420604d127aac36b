//! How the pair before the lens is called.

use shared::log::fold::{JobLine, Summary};

/// How a pair is called: by its number, else by its description.
pub fn named(summary: &Summary, line: &JobLine) -> String {
    let name = if line.tag.is_empty() {
        &summary.title
    } else {
        &line.tag
    };
    if name.is_empty() {
        words::camera::this_pair()
    } else {
        name
    }
    .to_owned()
}

/// The description of a pair that is called by its number: the number alone would not tell which of several pairs it is.
pub fn described(summary: &Summary, line: &JobLine) -> Option<String> {
    (!line.tag.is_empty()).then(|| summary.title.clone())
}
