//! The card's view.

use leptos::prelude::*;
use shared::log::body::{CardPhoto, Section};

use super::{CardView, SectionView, in_words};

/// The whole card: what a page shows inside its `<main>`, and the app inside its preview.
pub fn card_body(card: CardView) -> impl IntoView {
    let title = card.title().to_owned();
    let said = |read: fn(&Section) -> &String| {
        let newest = card.sections.first();
        newest
            .map(|shown| read(&shown.section).clone())
            .unwrap_or_default()
    };
    let (shop, terms) = (said(|section| &section.shop), said(|section| &section.terms));
    let class = ["care-card ", card.amount().class()].concat();
    let mut sections = card.sections.into_iter();
    let newest = sections.next().map(|shown| newest(shown, card.calendar));
    let earlier: Vec<_> = sections.map(|shown| earlier(shown, &terms)).collect();
    let earlier = (!earlier.is_empty()).then(|| {
        view! {
            <div class="earlier">
                <h2>{words::card::earlier_work()}</h2>
                {earlier}
            </div>
        }
    });
    view! {
        <div class=class>
            <header>
                <p class="kind">{words::card::care_card()}</p>
                <h1>{title}</h1>
            </header>
            {newest}
            {earlier}
            {line("shop", filled(&shop).map(words::card::ask_the_shop))}
        </div>
    }
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

/// The latest job, in full.
fn newest(shown: SectionView, calendar: Option<String>) -> impl IntoView {
    let SectionView { section, sources } = shown;
    let (lead, photos) = before_and_after(section.photos, sources);
    view! {
        <section>
            <h2>{heading(&section.day)}</h2>
            {figures("lead", lead)}
            <div class="told">
                {list(words::card::what_was_done(), section.done)}
                {list(words::card::what_was_found(), section.found)}
                {list(words::card::extras(), section.gifts)}
                {list(words::card::good_to_know(), section.notes)}
            </div>
            {section.wait_hours.map(wait)}
            {advice(&section.advice)}
            {check(section.next_check, &section.next_check_words, calendar)}
            {line("price", section.price.as_deref().and_then(filled).map(words::card::price))}
            {line("terms", filled(&section.terms).map(words::card::guarantee))}
            {figures("photos", photos)}
        </section>
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
/// latest photograph of it finished), then all others.
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

/// Advice: what to do is set bold so that it is found at a glance; the reason follows in the same line.
fn advice(lines: &[String]) -> impl IntoView + use<> {
    (!lines.is_empty()).then(|| {
        let items: Vec<_> = lines
            .iter()
            .map(|line| {
                // The first sentence, with its full stop, is what to do; the rest is the reason.
                let (say, because) = line.split_at(line.find(". ").map_or(line.len(), |stop| stop + 1));
                view! { <li><strong>{say.to_owned()}</strong>{because.to_owned()}</li> }
            })
            .collect();
        view! {
            <h3>{words::card::how_to_make_it_last()}</h3>
            <ul>{items}</ul>
        }
    })
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
