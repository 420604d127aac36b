//! The care card: any section that a log can contain is rendered, and none of its text becomes markup.

use app::card::{CardView, card_body, drawing_of};
use leptos::prelude::*;
use shared::log::body::Section;

use crate::text;

/// The input: sections as JSON, one per line, newest first.
pub(crate) fn card(data: &[u8]) {
    let Some(text) = text(data) else { return };
    let sections: Vec<Section> = text
        .lines()
        .take(8)
        .filter_map(|line| serde_json::from_str(line).ok())
        .collect();
    for section in &sections {
        let written = serde_json::to_string(section).unwrap();
        assert_eq!(&serde_json::from_str::<Section>(&written).unwrap(), section);
    }
    let view = CardView::new(&sections, |hash| format!("/card/photo/{}", hash.len()))
        .with_calendar(Some("check.ics".to_owned()))
        .with_drawing(|goods| drawing_of(goods).map(str::to_owned));
    let plain = CardView::new(&[], |_| String::new());
    let render = |view: CardView| Owner::new().with(|| card_body(view).to_html());
    let (html, empty) = (render(view), render(plain));
    assert!(!empty.is_empty());
    // The view uses few kinds of tag. Any other one would come from the text of an entry.
    for tag in html.split('<').skip(1) {
        let name: String = tag
            .trim_start_matches('/')
            .chars()
            .take_while(char::is_ascii_alphanumeric)
            .collect();
        let known = [
            "div",
            "header",
            "p",
            "h1",
            "h2",
            "h3",
            "h4",
            "section",
            "figure",
            "figcaption",
            "img",
            "ul",
            "ol",
            "li",
            "a",
            "dl",
            "dt",
            "dd",
            "span",
            "strong",
            "em",
            "time",
            "small",
            "br",
            "footer",
            "article",
            "main",
            "table",
            "tr",
            "td",
            "th",
            "tbody",
            "details",
            "summary",
            "svg",
            "g",
            "path",
        ];
        assert!(
            known.contains(&name.as_str()) || tag.starts_with('!'),
            "a tag of its own: <{tag}"
        );
    }
}

pub(crate) fn seeds() -> Vec<Vec<u8>> {
    let mut pen = support::sample::Pen::new(1);
    let job = pen.whole_job(b"picture");
    let published = job
        .entries
        .iter()
        .find(|entry| entry.kind == "published")
        .unwrap();
    let body: serde_json::Value = serde_json::from_str(&published.body).unwrap();
    let mut section = body["section"].clone();
    let bare = section.to_string();
    for (field, value) in [
        ("found", "Board <under> the wrap"),
        ("gifts", "New \"laces\""),
        ("advice", "Dry flat & away from heat"),
    ] {
        section[field] = serde_json::json!([value]);
    }
    section["wait_hours"] = 24.into();
    section["terms"] = "A year on the stitching.".into();
    section["price"] = "45.00 EUR".into();
    section["next_check_words"] = "autumn".into();
    section["shop_name"] = "Corner <bench>".into();
    section["goods"] = "low_shoe".into();
    section["new_parts"] = serde_json::json!(["outsole", "\"><b>"]);
    section["mended_parts"] = serde_json::json!(["welt"]);
    vec![
        bare.clone().into_bytes(),
        section.to_string().into_bytes(),
        format!("{section}\n{bare}").into_bytes(),
    ]
}
