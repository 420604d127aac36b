//! The card's view.

use leptos::prelude::*;
use shared::log::body::{CardPhoto, Section};

use super::drawing::{TintedDrawing, tinted};
use super::{CardView, SectionView, in_words};

/// The whole card: what a page shows inside its `<main>`, and the app inside its preview.
pub fn card_body(card: CardView) -> impl IntoView {
    let title = card.title().to_owned();
    let class = ["care-card ", card.amount().class()].concat();
    let head = |section: &Section| (shop_of(section).to_owned(), section.terms.clone());
    let (shop, terms) = card.newest().map(head).unwrap_or_default();
    let drawing = card.newest().zip(card.drawing.as_deref());
    let drawing = drawing.map(|(section, drawing)| tinted(drawing, section));
    let more = card.has_more();
    let mut sections = card.sections.into_iter();
    let calendar = card.calendar;
    let newest = match sections.next() {
        Some(shown) => newest(shown, title, calendar, drawing, more).into_any(),
        None => view! { <h1>{title}</h1> }.into_any(),
    };
    let earlier: Vec<_> = sections.map(|shown| earlier(shown, &terms)).collect();
    let earlier = (!earlier.is_empty()).then(|| {
        view! {
            <details class="earlier">
                <summary><h2>{words::card::earlier_work()}</h2></summary>
                {earlier}
            </details>
        }
    });
    view! {
        <div class=class>
            <header>
                {line("shop-name", filled(&shop).map(str::to_owned))}
                <p class="kind">{words::card::care_card()}</p>
            </header>
            {newest}
            {earlier}
        </div>
    }
}

/// The shop's name. A section of an older app has it in one text with how to reach the shop, mostly before the first comma;
/// where there are no letters, it is the telephone number.
fn shop_of(section: &Section) -> &str {
    filled(&section.shop_name).unwrap_or_else(|| {
        let first = section.shop.split(',').next().unwrap_or_default();
        if first.contains(char::is_alphabetic) {
            first.trim()
        } else {
            ""
        }
    })
}

/// How to reach the shop, without its name, which stands at the top of the card.
fn reached_at(section: &Section) -> &str {
    let rest = section.shop.trim().strip_prefix(shop_of(section));
    rest.unwrap_or(&section.shop)
        .trim_start_matches(|c: char| c == ',' || c.is_whitespace())
}

/// A page that shows a short notice instead of a card: a title, and a sentence or two.
pub fn notice_body(title: &'static str, text: &'static str) -> impl IntoView {
    view! {
        <div class="care-card notice">
            <h1>{title}</h1>
            <p>{text}</p>
        </div>
    }
}

/// The latest job, in full; `more`: paper has no room for all of it.
fn newest(
    shown: SectionView,
    title: String,
    calendar: Option<String>,
    drawing: Option<TintedDrawing>,
    more: bool,
) -> impl IntoView {
    let SectionView { section, sources } = shown;
    let reached = filled(reached_at(&section)).map(words::card::ask_the_shop);
    let (mut lead, photos) = before_and_after(section.photos, sources);
    // How the pair looks now comes first.
    lead.sort_by_key(|(photo, _)| !photo.is_after());
    let lead_class = if lead.len() == 2 { "lead both" } else { "lead" };
    view! {
        <section class="newest">
            {figures(lead_class, lead)}
            <h1>{title}</h1>
            <div class="account">
                <div class="done">
                    <h2>{heading(&section.day)}</h2>
                    {items(section.done)}
                </div>
                {drawing.map(drawn)}
            </div>
            <div class="told">
                {list(words::card::what_was_found(), section.found)}
                {list(words::card::extras(), section.gifts)}
                {list(words::card::good_to_know(), section.notes)}
            </div>
            {section.wait_hours.map(wait)}
            {advice(&section.advice)}
            {figures("photos", photos)}
            <footer>
                {check(section.next_check, &section.next_check_words, calendar)}
                {line("price", section.price.as_deref().and_then(filled).map(words::card::price))}
                {line("terms", filled(&section.terms).map(words::card::guarantee))}
                {line("shop", reached)}
                {more.then(|| view! { <p class="more">{words::card::more_on_the_page()}</p> })}
            </footer>
        </section>
    }
}

/// The drawing of the goods. It says nothing to a screen reader: what was done is told beside it.
fn drawn(drawing: TintedDrawing) -> impl IntoView {
    let says = drawing.says.map(|says| view! { <p>{says}</p> });
    view! {
        <div class="worked" aria-hidden="true">
            <div inner_html=drawing.svg></div>
            {says}
        </div>
    }
}

/// An earlier job, in short: its advice and remarks are left out because they no longer hold. Its guarantee terms are
/// shown only where they differ from those of the latest job.
fn earlier(shown: SectionView, terms: &str) -> impl IntoView + use<> {
    let SectionView { section, sources } = shown;
    let (lead, _) = before_and_after(section.photos, sources);
    let own_terms = Some(section.terms).filter(|own| own != terms);
    let mut told = section.done;
    told.extend(section.found);
    told.extend(section.gifts);
    view! {
        <section>
            <h3>{heading(&section.day)}</h3>
            {figures("photos", lead)}
            {items(told)}
            {line("terms", own_terms.as_deref().and_then(filled).map(words::card::guarantee))}
        </section>
    }
}

fn heading(day: &str) -> String {
    let day = in_words(day);
    if day.is_empty() {
        words::card::work_done().to_owned()
    } else {
        words::card::work_done_on(&day)
    }
}

/// A photograph and where it is.
type PlacedPhoto = (CardPhoto, String);

/// Splits the photographs into two lists: first the two that are shown large (the pair as it was brought, and the
/// latest photograph of it finished), then all others. Both keep their order.
fn before_and_after(photos: Vec<CardPhoto>, sources: Vec<String>) -> (Vec<PlacedPhoto>, Vec<PlacedPhoto>) {
    let before = photos.iter().position(CardPhoto::is_before);
    let after = photos.iter().rposition(CardPhoto::is_after);
    let (mut lead, mut rest) = (Vec::new(), Vec::new());
    for (at, placed) in photos.into_iter().zip(sources).enumerate() {
        let leads = [before, after].contains(&Some(at));
        if leads { &mut lead } else { &mut rest }.push(placed);
    }
    (lead, rest)
}

fn figures(class: &'static str, photos: Vec<PlacedPhoto>) -> impl IntoView {
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

/// The alternative text of a photograph, for screen readers. It is general: the caption beside the photograph says what
/// it shows.
fn alt(caption: &str) -> String {
    if caption.trim().is_empty() {
        words::card::photograph().to_owned()
    } else {
        words::card::photograph_of(caption)
    }
}

fn list(heading: &'static str, lines: Vec<String>) -> impl IntoView {
    (!lines.is_empty()).then(|| view! { <div class="part"><h3>{heading}</h3> {items(lines)}</div> })
}

fn items(lines: Vec<String>) -> impl IntoView {
    (!lines.is_empty()).then(|| {
        let items: Vec<_> = lines.into_iter().map(|line| view! { <li>{line}</li> }).collect();
        view! { <ul>{items}</ul> }
    })
}

/// Advice: what to do is set bold so that it is found at a glance. Its reason is folded on a screen and follows it on
/// paper; therefore it stands behind the element that opens and closes, and the style sheet hides it.
fn advice(lines: &[String]) -> impl IntoView + use<> {
    (!lines.is_empty()).then(|| {
        let items: Vec<_> = lines
            .iter()
            .map(|line| {
                // The first sentence, with its full stop, is what to do; the rest is the reason.
                let (say, because) = line.split_at(line.find(". ").map_or(line.len(), |stop| stop + 1));
                advised(say.to_owned(), filled(because).map(str::to_owned))
            })
            .collect();
        view! {
            <div class="advice">
                <h3>{words::card::how_to_make_it_last()}</h3>
                <ul>{items}</ul>
            </div>
        }
    })
}

fn advised(say: String, because: Option<String>) -> AnyView {
    match because {
        Some(because) => view! {
            <li>
                <details><summary><strong>{say}</strong></summary></details>
                <span class="because">{because}</span>
            </li>
        }
        .into_any(),
        None => view! { <li><strong>{say}</strong></li> }.into_any(),
    }
}

/// A text, unless it is blank.
fn filled(text: &str) -> Option<&str> {
    Some(text).filter(|text| !text.trim().is_empty())
}

fn line(class: &'static str, sentence: Option<String>) -> impl IntoView {
    sentence.map(|sentence| view! { <p class=class>{sentence}</p> })
}

fn wait(hours: u32) -> impl IntoView {
    let hours = words::card::hours(hours);
    view! {
        <p class="wait">{words::card::please_wait()}<strong>{hours}</strong>{words::card::before_first_wear()}</p>
    }
}

/// When to bring the pair back: the day, and in brackets the wear forecast that it rests on.
fn check(day: Option<String>, foretold: &str, calendar: Option<String>) -> impl IntoView + use<> {
    let foretold = (!foretold.is_empty()).then(|| words::card::forecast(foretold));
    day.map(|day| {
        let words = in_words(&day);
        let link = calendar.map(|address| {
            view! { <a class="calendar" href=address download="shoe-check.ics">{words::card::add_to_calendar()}</a> }
        });
        view! {
            <p class="check">{words::card::next_check()}<time datetime=day>{words}</time>{foretold}" "{link}</p>
        }
    })
}
