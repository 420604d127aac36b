//! The drawing of the goods on the care card.

use shared::log::body::{Published, Section};
use shared::log::{Body, SubjectKind};
use support::sample::Pen;

use crate::server;

/// The drawing is part of the page: nothing else is fetched for it. A kind or part that this version does not know changes
/// nothing.
#[test]
fn the_goods_are_drawn_with_the_parts_that_are_new() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.whole_job(b"");
    device.push_all(&job.entries);
    let mut page = |goods: &str, part: &str| {
        let section = Section {
            goods: goods.into(),
            new_parts: vec![part.into()],
            shop: "Corner bench, telephone 01632 960000".into(),
            ..Section::default()
        };
        let published = Published {
            pair: job.pair,
            section: Box::new(section),
            seen: Vec::new(),
        };
        device.push_all(&[pen.entry(SubjectKind::Job, job.job, &Body::Published(published))]);
        server.stranger().get(&format!("/card/{}", job.secret)).text()
    };
    let bare = page("hat", "outsole");
    assert!(!bare.contains("<svg"), "{bare}");
    let plain = page("low_shoe", "bell");
    assert!(
        plain.contains("<svg ") && !plain.contains("shaded: new"),
        "{plain}"
    );
    let tinted = page("low_shoe", "outsole");
    assert!(
        tinted.contains("data-age=\"new\" data-part=\"outsole\"") && tinted.contains("shaded: new"),
        "{tinted}"
    );
    for never in ["http://", "https://", "style=", "<script"] {
        assert!(!tinted.contains(never), "{never} in {tinted}");
    }
    // The shop's name stands on top, and how to reach it at the end.
    assert!(
        tinted.contains("Questions? Ask us: telephone 01632 960000"),
        "{tinted}"
    );
}
