//! The pages around the card's own view.

use std::sync::LazyLock;

use app::card::{CardView, STYLE, TYPEFACE_STYLE, card_body, notice_body};
use axum::response::Html;
use leptos::prelude::*;
use sha2::{Digest as _, Sha256};

/// The style sheet with the card's typeface.
static SHEET: LazyLock<String> = LazyLock::new(|| [TYPEFACE_STYLE, STYLE].concat());

/// The style sheet's file name, with the start of its hash in it.
static STYLE_NAME: LazyLock<String> =
    LazyLock::new(|| format!("card-{}.css", hex::encode(&Sha256::digest(SHEET.as_bytes())[..8])));

/// The style sheet.
pub(super) fn style() -> &'static str {
    &SHEET
}

/// The style sheet's file name.
pub(super) fn style_name() -> &'static str {
    &STYLE_NAME
}

/// A page with a message instead of a card.
#[derive(Debug, Clone, Copy)]
pub(super) enum NoticePage {
    /// For the link of a pair without a published section.
    NotYet,
    /// For the link of a pair whose card was withdrawn.
    Withdrawn,
    /// For a link that no pair has.
    Unknown,
    /// For an address that has tried too many unknown links.
    TooMany,
    /// For more requests than the server can answer at once.
    Busy,
    /// For a failure of the server.
    Failed,
}

impl NoticePage {
    /// The page as HTML.
    pub(super) fn render(self) -> Html<String> {
        let (title, text) = match self {
            Self::NotYet => (
                words::pages::card_not_ready(),
                words::pages::card_not_ready_open_again(),
            ),
            Self::Withdrawn => (
                words::pages::card_withdrawn(),
                words::pages::card_withdrawn_ask_in_the_shop(),
            ),
            Self::Unknown => (
                words::pages::no_card_here(),
                words::pages::no_card_here_check_the_link(),
            ),
            Self::TooMany => (
                words::pages::try_again_in_a_minute(),
                words::pages::too_many_links_that_lead_nowhere(),
            ),
            Self::Busy => (
                words::pages::try_again_in_a_minute(),
                words::refusals::server_busy(),
            ),
            Self::Failed => (
                words::pages::card_cannot_be_shown(),
                words::pages::something_went_wrong(),
            ),
        };
        page(title.to_owned(), move || notice_body(title, text))
    }
}

/// The page with a card, as HTML.
pub(super) fn card(card: CardView) -> Html<String> {
    page(words::pages::card_title(card.title()), move || card_body(card))
}

fn page<V: IntoView>(title: String, body: impl FnOnce() -> V) -> Html<String> {
    let style = format!("/card-style/{}", style_name());
    let html = Owner::new().with(|| {
        view! {
            <html lang=words::current().tag()>
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
