//! The pages around the card's own view.

use std::sync::LazyLock;

use app::card::{CardView, STYLE, card_body, notice_body};
use axum::response::Html;
use leptos::prelude::*;
use sha2::{Digest as _, Sha256};

/// The style sheet's file name, with the start of its hash in it.
static STYLE_NAME: LazyLock<String> =
    LazyLock::new(|| format!("card-{}.css", hex::encode(&Sha256::digest(STYLE.as_bytes())[..8])));

/// The style sheet's file name.
pub(super) fn style_name() -> &'static str {
    &STYLE_NAME
}

/// A page with a message instead of a card.
pub(super) struct NoticePage {
    title: &'static str,
    text: &'static str,
}

/// For the link of a pair without a published section.
pub(super) const NOT_YET: NoticePage = NoticePage {
    title: "This card is not ready yet",
    text: "The shop has not finished it. Please open this link again when you have your shoes back.",
};
/// For the link of a pair whose card was withdrawn.
pub(super) const WITHDRAWN: NoticePage = NoticePage {
    title: "This card has been taken back",
    text: "The shop has withdrawn it. If you have a question about your shoes, please ask in the shop.",
};
/// For a link that no pair has.
pub(super) const UNKNOWN: NoticePage = NoticePage {
    title: "There is no card here",
    text: "Please check the link, or scan the code on your stub again. If it still does not open, ask in the shop.",
};
/// For an address that has tried too many unknown links.
pub(super) const TOO_MANY: NoticePage = NoticePage {
    title: "Please try again in a minute",
    text: "Too many links that lead nowhere were opened from this network.",
};
/// For a failure of the server.
pub(super) const FAILED: NoticePage = NoticePage {
    title: "The card cannot be shown just now",
    text: "Something went wrong on the shop's side. Please try again in a moment.",
};

impl NoticePage {
    /// The page as HTML.
    pub(super) fn render(&self) -> Html<String> {
        let Self { title, text } = *self;
        page(title.to_owned(), move || notice_body(title, text))
    }
}

/// The page with a card, as HTML.
pub(super) fn card(card: CardView) -> Html<String> {
    page(format!("Care card: {}", card.title()), move || card_body(card))
}

fn page<V: IntoView>(title: String, body: impl FnOnce() -> V) -> Html<String> {
    let style = format!("/card-style/{}", style_name());
    let html = Owner::new().with(|| {
        view! {
            <html lang="en">
                <head>
                    <meta charset="utf-8"/>
                    <meta name="viewport" content="width=device-width, initial-scale=1"/>
                    <meta name="robots" content="noindex, nofollow"/>
                    <title>{title}</title>
                    <link rel="stylesheet" href=style/>
                </head>
                <body><main>{body()}</main></body>
            </html>
        }
        .to_html()
    });
    Html(format!("<!DOCTYPE html>{html}"))
}
