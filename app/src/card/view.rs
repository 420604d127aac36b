//! The card's view.

use leptos::prelude::*;
use shared::log::body::{CardPhoto, Section};

use super::{CardView, SectionView, in_words};

/// The whole card: what a page shows inside its `<main>`, and the app inside its preview.
pub fn card_body(card: CardView) -> impl IntoView {
    let title = card.title().to_owned();
    let shop = card
        .sections
        .first()
        .map(|shown| shown.section.shop.clone())
        .unwrap_or_default();
    let class = card
        .sections
        .first()
        .map_or("care-card", |shown| on_paper(&shown.section));
    let mut sections = card.sections.into_iter();
    let newest = sections.next().map(|shown| section(shown, card.calendar));
    let earlier: Vec<_> = sections.map(|shown| section(shown, None)).collect();
    let earlier = (!earlier.is_empty()).then(|| {
        view! {
            <div class="earlier">
                <h2>"Earlier work on this pair"</h2>
                {earlier}
            </div>
        }
    });
    view! {
        <div class=class>
            <header>
                <p class="kind">"Care card"</p>
                <h1>{title}</h1>
            </header>
            {newest}
            {earlier}
            {line("shop", "", shop)}
        </div>
    }
}

/// How large the type can be for a section to stand on one sheet: by its lines, a line being about so many
/// characters on paper, and a heading another.
fn on_paper(section: &Section) -> &'static str {
    const LINE: usize = 56;
    let lists = [&section.done, &section.found, &section.gifts, &section.advice];
    let texts = lists.iter().flat_map(|list| list.iter()).chain([&section.terms]);
    let lines: usize = texts.map(|text| 1 + text.chars().count() / LINE).sum();
    let headings = lists.iter().filter(|list| !list.is_empty()).count();
    match lines + headings {
        0..=13 => "care-card short",
        14..=24 => "care-card",
        25..=30 => "care-card full",
        _ => "care-card full fullest",
    }
}

/// A page that has something to say instead of a card: a few words, then a sentence or two.
pub fn notice_body(title: &'static str, text: &'static str) -> impl IntoView {
    view! {
        <div class="care-card notice">
            <h1>{title}</h1>
            <p>{text}</p>
        </div>
    }
}

fn section(shown: SectionView, calendar: Option<String>) -> impl IntoView {
    let SectionView { section, sources } = shown;
    let day = in_words(&section.day);
    let heading = if day.is_empty() {
        "Work done".to_owned()
    } else {
        format!("Work done, {day}")
    };
    let (lead, photos) = first_and_last(section.photos, sources);
    view! {
        <section>
            <h2>{heading}</h2>
            {figures("lead", lead)}
            {list("What was done", section.done)}
            <div class="more">
                {list("What was found inside", section.found)}
                {list("Extras, at no charge", section.gifts)}
                {section.wait_hours.map(wait)}
                {list("How to make it last", section.advice)}
                {check(section.next_check, calendar)}
                {line("price", "Price: ", section.price.unwrap_or_default())}
                {line("terms", "Guarantee: ", section.terms)}
            </div>
            {figures("photos", photos)}
        </section>
    }
}

/// A photograph and where it is.
type Placed = (CardPhoto, String);

/// The pair as it came and as it left, which stand first and last in a section, and the photographs between.
fn first_and_last(photos: Vec<CardPhoto>, sources: Vec<String>) -> (Vec<Placed>, Vec<Placed>) {
    let mut all = photos.into_iter().zip(sources);
    let before = all.next();
    let after = all.next_back();
    (before.into_iter().chain(after).collect(), all.collect())
}

fn figures(class: &'static str, photos: Vec<Placed>) -> impl IntoView {
    let figures: Vec<_> = photos
        .into_iter()
        .map(|(photo, source)| {
            let size = |pixels: u32| (pixels > 0).then(|| pixels.to_string());
            view! {
                <figure>
                    <img src=source alt=alt(&photo.caption) width=size(photo.blob.width) height=size(photo.blob.height)/>
                    <figcaption>{photo.caption}</figcaption>
                </figure>
            }
        })
        .collect();
    (!figures.is_empty()).then(|| view! { <div class=class>{figures}</div> })
}

/// What a photograph shows, for those who cannot see it; the caption beside it says the rest.
fn alt(caption: &str) -> String {
    if caption.trim().is_empty() {
        "Photograph of the pair".to_owned()
    } else {
        format!("Photograph: {caption}")
    }
}

fn list(heading: &'static str, lines: Vec<String>) -> impl IntoView {
    (!lines.is_empty()).then(|| {
        let items: Vec<_> = lines.into_iter().map(|line| view! { <li>{line}</li> }).collect();
        view! {
            <h3>{heading}</h3>
            <ul>{items}</ul>
        }
    })
}

fn line(class: &'static str, label: &'static str, text: String) -> impl IntoView {
    (!text.trim().is_empty()).then(|| view! { <p class=class>{label}{text}</p> })
}

fn wait(hours: u32) -> impl IntoView {
    let hours = if hours == 1 {
        "1 hour".to_owned()
    } else {
        format!("{hours} hours")
    };
    view! { <p class="wait">"Please wait "<strong>{hours}</strong>" before the first wear."</p> }
}

fn check(day: Option<String>, calendar: Option<String>) -> impl IntoView {
    day.map(|day| {
        let words = in_words(&day);
        let link = calendar.map(|address| {
            view! { <a class="calendar" href=address download="shoe-check.ics">"Add to calendar"</a> }
        });
        view! {
            <p class="check">"Next check: "<time datetime=day>{words}</time>" "{link}</p>
        }
    })
}
