//! The calendar file of a card, with text that could break its lines.

use ical::IcalParser;
use ical::parser::Component as _;
use shared::log::body::{Published, Section};
use shared::log::{Body, SubjectKind};
use support::sample::Pen;

use crate::server;

/// RFC 5545 §3.1: only CRLF ends a line; §3.3.11: text has no control characters but line breaks, which are escaped.
#[test]
fn no_control_character_of_a_section_breaks_a_line_of_the_file() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.whole_job(b"");
    device.push_all(&job.entries);
    let published = Published {
        pair: job.pair,
        section: Box::new(Section {
            title: "Derby\rATTENDEE:mailto:a@example.com\u{1b}[31m\u{7}\u{85}brown".to_owned(),
            day: "soon\rBEGIN:VALARM".to_owned(),
            next_check: Some("2026-09-01".to_owned()),
            next_check_words: "autumn\u{0}\u{7f}\u{2028}".to_owned(),
            shop: "Corner bench\r\nEND:VEVENT\rBEGIN:VEVENT".to_owned(),
            ..Section::default()
        }),
        seen: Vec::new(),
    };
    device.push_all(&[pen.entry(SubjectKind::Job, job.job, &Body::Published(published))]);
    let answer = server.stranger().get(&format!("/card/{}/check.ics", job.secret));
    let text = answer.text();
    assert_eq!(answer.status, 200, "{text}");
    assert!(!text.replace("\r\n", "").contains(char::is_control), "{text:?}");
    let unfolded = text.replace("\r\n ", "");
    assert!(
        unfolded.contains("\r\nSUMMARY:Shoe check: Derby\\nATTENDEE:mailto:a@example.com[31m\\nbrown\r\n"),
        "{unfolded}"
    );
    let lines = |beginning: &str| {
        unfolded
            .lines()
            .filter(|line| line.starts_with(beginning))
            .count()
    };
    assert_eq!(
        ["BEGIN:VEVENT", "END:VEVENT", "BEGIN:VALARM", "ATTENDEE"].map(lines),
        [1, 1, 0, 0]
    );
    let calendar = IcalParser::new(text.as_bytes()).next().unwrap().unwrap();
    let event = &calendar.events[0];
    assert!(event.get_property("ATTENDEE").is_none() && event.alarms.is_empty());
}
