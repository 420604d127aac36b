//! The care card as a customer's browser gets it.

use ical::IcalParser;
use ical::parser::Component as _;
use shared::log::body::{CardLink, Published, Retracted, SameAs, Section, Withdrawn};
use shared::log::{Body, SubjectKind};
use shared::sync::messages::PushOutcome;
use support::sample::{Pen, picture, unsent};

use crate::server;

#[test]
fn the_card_is_plain_html_that_asks_for_nothing_elsewhere() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let bytes = picture(1, 3000);
    let job = pen.whole_job(&bytes);
    let card = format!("/card/{}", job.secret);
    let stranger = server.stranger();
    assert_eq!(stranger.get(&card).status, 404, "nothing under the link yet");
    device.push_all(&job.entries[..7]);
    let early = stranger.get(&card);
    assert_eq!(early.status, 404);
    assert!(early.text().contains("not ready yet"));
    device.push_all(&job.entries);
    let page = stranger.get(&card);
    let html = page.text();
    assert_eq!(page.status, 200);
    assert!(html.starts_with("<!DOCTYPE html><html lang=\"en-GB\">"), "{html}");
    assert_eq!(html.matches("<h1>").count(), 1);
    for never in [
        "<script",
        "javascript:",
        " on",
        "http://",
        "https://",
        "<style",
        "style=",
        "Ada Example",
    ] {
        assert!(never == " on" || !html.contains(never), "{never} in {html}");
    }
    assert!(html.contains("<p class=\"shop-name\">Corner bench</p>"), "{html}");
    let images = html.matches("<img ").count();
    assert!(
        images == 1
            && html.matches("<figure>").count() == images
            && html.matches("<figcaption>").count() == images
    );
    assert!(html.contains("alt=\"Photograph: Before\""));
    let policy = page.header("content-security-policy");
    assert!(
        policy.starts_with("default-src 'none'; img-src 'self'; style-src 'self'"),
        "{policy}"
    );
    assert!(page.header("x-robots-tag").contains("noindex"));
    assert_eq!(page.header("referrer-policy"), "no-referrer");
    let style = html.split("href=\"").nth(1).unwrap().split('"').next().unwrap();
    let style = stranger.get(style);
    assert_eq!(
        (style.status, style.header("content-type")),
        (200, "text/css; charset=utf-8")
    );
    assert!(style.header("cache-control").contains("immutable"));
    assert_eq!(stranger.get("/card-style/card-0000.css").status, 404);
}

#[test]
fn a_photograph_is_served_only_if_the_card_lists_it() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let bytes = picture(1, 3000);
    let job = pen.whole_job(&bytes);
    device.push_all(&job.entries);
    let photo = format!("/card/{}/photo/{}", job.secret, job.blob.sha256);
    let stranger = server.stranger();
    let place = stranger.get(&photo);
    assert_eq!(
        (place.status, place.header("content-type")),
        (200, "image/svg+xml"),
        "its place, until it arrives"
    );
    assert_eq!(place.header("cache-control"), "no-store");
    device.put_picture(&bytes);
    let other = device.put_picture(&picture(2, 3000));
    let shown = stranger.get(&photo);
    assert_eq!(
        (shown.status, shown.header("content-type"), &shown.body),
        (200, "image/jpeg", &bytes)
    );
    assert_eq!(
        stranger
            .get(&format!("/card/{}/photo/{other}", job.secret))
            .status,
        404
    );
    assert_eq!(
        stranger
            .get(&format!("/card/{}/photo/..%2f..%2fwaxend.db", job.secret))
            .status,
        404
    );
}

/// The words of a section are kept as they were published; the page around them and its dates follow their language.
#[test]
fn a_card_is_in_the_language_of_its_newest_section() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.whole_job(b"1");
    device.push_all(&job.entries);
    let page = || server.stranger().get(&format!("/card/{}", job.secret)).text();
    let british = page();
    assert!(
        british.contains("lang=\"en-GB\"") && british.contains("2 March 2026"),
        "{british}"
    );
    let published = Published {
        pair: job.pair,
        section: Box::new(Section {
            title: "Brown derby".to_owned(),
            day: "2026-03-04".to_owned(),
            next_check: Some("2026-09-01".to_owned()),
            language: Some("en-US".to_owned()),
            ..Section::default()
        }),
        seen: Vec::new(),
    };
    device.push_all(&[pen.entry(SubjectKind::Job, job.job, &Body::Published(published))]);
    let american = page();
    assert!(
        american.contains("lang=\"en-US\"") && american.contains("March 4, 2026"),
        "{american}"
    );
    let calendar = server
        .stranger()
        .get(&format!("/card/{}/check.ics", job.secret))
        .text();
    assert!(calendar.contains("March 4\\, 2026"), "{calendar}");
}

#[test]
fn a_withdrawn_card_says_so_kindly_and_shows_nothing() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let bytes = picture(1, 3000);
    let job = pen.whole_job(&bytes);
    device.push_all(&job.entries);
    device.put_picture(&bytes);
    device.push_all(&[pen.entry(SubjectKind::Pair, job.pair, &Body::Withdrawn(Withdrawn {}))]);
    let page = server.stranger().get(&format!("/card/{}", job.secret));
    assert_eq!(page.status, 410);
    assert!(page.text().contains("withdrawn") && !page.text().contains("Brown derby"));
    assert_eq!(page.header("x-robots-tag"), "noindex, nofollow");
    let photo = format!("/card/{}/photo/{}", job.secret, job.blob.sha256);
    assert_eq!(server.stranger().get(&photo).status, 404);
    assert_eq!(
        server
            .stranger()
            .get(&format!("/card/{}/check.ics", job.secret))
            .status,
        404
    );
}

#[test]
fn a_link_belongs_to_one_pair_and_leads_to_all_that_are_the_same() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (one, two) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    device.push_all(&one.entries);
    device.push_all(&two.entries);
    let stolen = Body::CardLink(CardLink {
        secret: one.secret.clone(),
    });
    let results = device.push(unsent(&[pen.entry(SubjectKind::Pair, two.pair, &stolen)]));
    assert!(matches!(&results[0], PushOutcome::Refused(problem) if problem.code.as_str() == "link_taken"));
    // The pair's own device may push the link again.
    device.push_all(&[pen.entry(SubjectKind::Pair, one.pair, &stolen)]);

    let section = Section {
        title: "Black boot".into(),
        day: "2026-04-01".into(),
        ..Section::default()
    };
    let published = Published {
        pair: two.pair,
        section: Box::new(section),
        seen: Vec::new(),
    };
    device.push_all(&[pen.entry(SubjectKind::Job, two.job, &Body::Published(published))]);
    let page = |secret: &str| server.stranger().get(&format!("/card/{secret}")).text();
    assert!(!page(&one.secret).contains("Black boot"));
    device.push_all(&[pen.entry(
        SubjectKind::Pair,
        two.pair,
        &Body::SameAs(SameAs { other: one.pair }),
    )]);
    for secret in [&one.secret, &two.secret] {
        let html = page(secret);
        assert!(
            html.contains("Black boot") && html.contains("2 March 2026"),
            "{html}"
        );
    }
}

/// A link whose entry was retracted or replaced leads to a withdrawn card; other links of the pair still work.
#[test]
fn only_a_standing_link_leads_to_the_card() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (one, two) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    device.push_all(&one.entries);
    device.push_all(&two.entries);
    let same = SameAs { other: one.pair };
    device.push_all(&[pen.entry(SubjectKind::Pair, two.pair, &Body::SameAs(same))]);
    let stranger = server.stranger();
    let status = |secret: &str| stranger.get(&format!("/card/{secret}")).status;
    let link = |secret: &str| {
        Body::CardLink(CardLink {
            secret: secret.into(),
        })
    };

    let is_link = |entry: &&shared::log::Entry| entry.kind == "card_link";
    let first = one.entries.iter().find(is_link).unwrap();
    let retraction = pen.entry(
        SubjectKind::Pair,
        one.pair,
        &Body::Retracted(Retracted { entry: first.id }),
    );
    device.push_all(std::slice::from_ref(&retraction));
    let gone = stranger.get(&format!("/card/{}", one.secret));
    assert_eq!(gone.status, 410);
    assert!(gone.text().contains("withdrawn") && !gone.text().contains("Brown derby"));
    for below in [format!("photo/{}", one.blob.sha256), "check.ics".to_owned()] {
        assert_eq!(status(&format!("{}/{below}", one.secret)), 404);
    }
    assert_eq!(status(&two.secret), 200, "the joined pair's link goes on");

    // A new link replaces the second one. It has the same length and form.
    let third = two.secret.chars().rev().collect::<String>();
    let mut replacing = pen.entry(SubjectKind::Pair, two.pair, &link(&third));
    replacing.over = two
        .entries
        .iter()
        .find(is_link)
        .map(|entry| entry.id)
        .into_iter()
        .collect();
    device.push_all(std::slice::from_ref(&replacing));
    assert_eq!((status(&two.secret), status(&third)), (410, 200));

    // If the retraction is retracted, the first link works again. If a replaced link is pushed again, it works again
    // too.
    let revived = Body::Retracted(Retracted { entry: retraction.id });
    device.push_all(&[pen.entry(SubjectKind::Pair, one.pair, &revived)]);
    assert_eq!(status(&one.secret), 200);
    device.push_all(&[pen.entry(SubjectKind::Pair, two.pair, &link(&two.secret))]);
    assert_eq!((status(&two.secret), status(&third)), (200, 200));
}

/// For an earlier job the card says only what was done, since the day to wear it again, its next check and its advice
/// no longer apply. Its guarantee is shown if it differs from that of the newest job.
#[test]
fn earlier_work_is_told_in_short() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (one, two) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    device.push_all(&one.entries);
    device.push_all(&two.entries);
    let section = |title: &str, day: &str, terms: &str| Section {
        title: title.into(),
        day: day.into(),
        done: vec![format!("{title} done.")],
        found: vec![format!("{title} found.")],
        gifts: vec![format!("{title} given.")],
        notes: vec![format!("{title} remark.")],
        advice: vec![format!("{title} advice. And why.")],
        wait_hours: Some(24),
        next_check: Some(day.into()),
        terms: terms.into(),
        ..Section::default()
    };
    let mut publish = |job, section| {
        let published = Published {
            pair: one.pair,
            section: Box::new(section),
            seen: Vec::new(),
        };
        device.push_all(&[pen.entry(SubjectKind::Job, job, &Body::Published(published))]);
    };
    publish(one.job, section("First", "2026-04-01", "Three months."));
    publish(two.job, section("Second", "2026-05-01", "Six months."));
    device.push_all(&[pen.entry(
        SubjectKind::Pair,
        two.pair,
        &Body::SameAs(SameAs { other: one.pair }),
    )]);
    let html = server.stranger().get(&format!("/card/{}", one.secret)).text();
    let (newest, earlier) = html.split_once("Earlier work on this pair").unwrap();
    for told in [
        "Second done.",
        "Good to know",
        "Second remark.",
        "Second advice.",
        "And why.",
        "24 hours",
        "Six months.",
    ] {
        assert!(newest.contains(told), "{told} in {newest}");
    }
    for told in [
        "First done.",
        "First found.",
        "First given.",
        "1 April 2026",
        "Three months.",
    ] {
        assert!(earlier.contains(told), "{told} in {earlier}");
    }
    for past in ["advice", "remark", "24 hours", "Look again"] {
        assert!(!earlier.contains(past), "{past} in {earlier}");
    }
}

#[test]
fn words_of_the_shop_are_text_never_markup() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.whole_job(b"");
    let evil = "<script>alert(1)</script><img src=x onerror=alert(2)>\"'&";
    let section = Section {
        title: evil.into(),
        day: evil.into(),
        done: vec![evil.into()],
        terms: evil.into(),
        shop: evil.into(),
        next_check: Some(evil.into()),
        ..Section::default()
    };
    let published = Published {
        pair: job.pair,
        section: Box::new(section),
        seen: Vec::new(),
    };
    device.push_all(&job.entries);
    device.push_all(&[pen.entry(SubjectKind::Job, job.job, &Body::Published(published))]);
    let html = server.stranger().get(&format!("/card/{}", job.secret)).text();
    assert!(
        html.contains("&lt;script&gt;") && !html.contains("<script") && !html.contains("<img src=x"),
        "{html}"
    );
}

/// RFC 5545, read with the `ical` crate, which shares no code with the crate that writes it.
#[test]
fn the_next_check_is_a_calendar_file() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    device.push_all(&pen.whole_job(b"").entries);
    let secret = Pen::new(1).whole_job(b"").secret;
    let answer = server.stranger().get(&format!("/card/{secret}/check.ics"));
    assert_eq!(
        (answer.status, answer.header("content-type")),
        (200, "text/calendar; charset=utf-8")
    );
    let text = answer.text();
    assert!(
        text.split("\r\n")
            .all(|line| line.len() <= 75 && !line.contains('\n')),
        "{text}"
    );
    let calendar = IcalParser::new(text.as_bytes()).next().unwrap().unwrap();
    let event = &calendar.events[0];
    let value = |name: &str| event.get_property(name).unwrap().value.clone().unwrap();
    assert_eq!(
        (value("DTSTART"), value("DTEND")),
        ("20260901".to_owned(), "20260902".to_owned())
    );
    assert_eq!(value("SUMMARY"), "Shoe check: Brown derby");
    assert!(value("UID").ends_with("@waxend") && value("DTSTAMP").ends_with('Z'));
}
