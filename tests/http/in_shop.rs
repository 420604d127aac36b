//! What is in the shop, for a new device: in pages, and as older apps ask for it.

use std::collections::BTreeSet;

use shared::log::body::SameAs;
use shared::log::{Body, EntryId, ReceivedEntry, SubjectId, SubjectKind};
use shared::sync::messages::{BATCH_BYTES, InShopAnswer, PullAnswer, Status};
use shared::sync::{Cursor, HistoryMark};
use support::running::{Answer, Client};
use support::sample::{Pen, WholeJob};
use uuid::Uuid;

use crate::server;

/// Asks for the first page, or for the one after a mark.
pub(super) fn page(device: &Client, after: Option<(Cursor, HistoryMark)>) -> Answer {
    let after = after.map(|(start, mark)| {
        let (subject, seq) = (mark.subject_seq, mark.seq);
        let start = format!("&epoch={}&seq={}&mark={}", start.epoch, start.seq, start.mark);
        format!("{start}&before_subject={subject}&before_seq={seq}")
    });
    device.get(&format!(
        "/api/v1/in-shop?paged=true{}",
        after.unwrap_or_default()
    ))
}

fn ids(entries: &[ReceivedEntry]) -> BTreeSet<EntryId> {
    entries.iter().map(|held| held.entry.id).collect()
}

/// Pushes jobs with a large remark each, so that they fill several pages.
fn push_jobs(device: &Client, pen: &mut Pen, count: usize) -> Vec<WholeJob> {
    let remark = format!(r#"{{"text":"{}"}}"#, "x".repeat(100_000));
    let jobs = (0..count).map(|_| {
        let mut job = pen.whole_job(b"");
        job.entries
            .push(pen.raw(SubjectKind::Job, job.job, "note", &remark));
        device.push_all(&job.entries);
        job
    });
    jobs.collect()
}

#[test]
fn the_pages_have_what_the_whole_answer_has_and_are_small() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let shop = SubjectId(device.ask_status().read::<Status>(200).shop);
    let name = r#"{"field":"name","value":"Corner bench"}"#;
    device.push_all(&[pen.raw(SubjectKind::Shop, shop, "detail", name)]);
    let jobs = push_jobs(&device, &mut pen, 30);
    // One has left the shop, and the customer of another one was entered twice.
    device.push_all(&[pen.hand_over(jobs[3].job)]);
    let twice = pen.subject();
    let same = Body::SameAs(SameAs {
        other: jobs[5].customer,
    });
    device.push_all(&[pen.entry(SubjectKind::Customer, twice, &same)]);

    let answer = device.get("/api/v1/in-shop");
    assert_eq!(answer.header("content-type"), "application/json");
    let whole: InShopAnswer = answer.read(200);
    assert_eq!(whole.next, None, "an app that knows no pages gets all of it");
    assert_eq!(whole.entries.len(), 1 + 29 * 10 + 1);

    let (mut paged, mut pages, mut after) = (Vec::new(), 0, None);
    loop {
        let answer = page(&device, after);
        assert!(answer.body.len() <= BATCH_BYTES, "{} bytes", answer.body.len());
        let answer: InShopAnswer = answer.read(200);
        assert_eq!(answer.start, whole.start);
        pages += 1;
        paged.extend(answer.entries);
        match answer.next {
            Some(next) => after = Some((answer.start, next)),
            None => break,
        }
    }
    assert!(pages >= 3, "{pages}");
    assert_eq!(
        paged[0].entry.subject.kind,
        SubjectKind::Shop,
        "settings come first"
    );
    assert_eq!(paged.len(), whole.entries.len(), "nothing comes twice");
    assert_eq!(ids(&paged), ids(&whole.entries));
}

/// An entry in one subject may be more than a page.
#[test]
fn one_large_job_is_sent_in_several_pages() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = push_jobs(&device, &mut pen, 1).remove(0);
    let remark = format!(r#"{{"text":"{}"}}"#, "x".repeat(200_000));
    for _ in 0..12 {
        device.push_all(&[pen.raw(SubjectKind::Job, job.job, "note", &remark)]);
    }
    let (mut paged, mut after) = (Vec::new(), None);
    loop {
        let answer: InShopAnswer = page(&device, after).read(200);
        assert!(!answer.entries.is_empty());
        paged.extend(answer.entries);
        let Some(next) = answer.next else { break };
        after = Some((answer.start, next));
    }
    assert_eq!((paged.len(), ids(&paged).len()), (22, 22));
}

#[test]
fn pages_go_on_while_others_write() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let jobs = push_jobs(&device, &mut pen, 30);
    let first: InShopAnswer = page(&device, None).read(200);
    let mut read = first.entries.clone();
    let mut after = first.next.map(|next| (first.start, next));
    while let Some(from) = after {
        // The oldest job, which would come last, leaves the shop, another one comes, and another device begins to read.
        device.push_all(&[pen.hand_over(jobs[0].job)]);
        push_jobs(&device, &mut pen, 1);
        assert_eq!(page(&device, None).status, 200);
        let answer: InShopAnswer = page(&device, Some(from)).read(200);
        assert_eq!(answer.start, first.start);
        read.extend(answer.entries);
        after = answer.next.map(|next| (answer.start, next));
    }
    let still_here = jobs[1..].iter().flat_map(|job| &job.entries);
    let expected: BTreeSet<_> = still_here.map(|entry| entry.id).collect();
    assert!(ids(&read).is_superset(&expected));
    assert!(ids(&read).len() == read.len(), "nothing comes twice");
    // What was written meanwhile is pulled from the first page's cursor on.
    let pulled: PullAnswer = device.pull(Some(first.start)).read(200);
    assert!(pulled.entries.iter().any(|held| held.entry.kind == "handed_over"));
}

#[test]
fn a_page_of_another_numbering_is_refused() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    push_jobs(&device, &mut pen, 1);
    let InShopAnswer { start, .. } = page(&device, None).read(200);
    let mark = HistoryMark {
        subject_seq: 1,
        seq: 1,
    };
    assert_eq!(page(&device, Some((start, mark))).status, 200);
    let other = Cursor {
        mark: Uuid::from_u128(7),
        ..start
    };
    assert_eq!(page(&device, Some((other, mark))).refusal(409), "cursor_lost");
    for half in ["before_subject=1&before_seq=1", "before_subject=1", "epoch=x"] {
        let answer = device.get(&format!("/api/v1/in-shop?paged=true&{half}"));
        assert_eq!(answer.refusal(400), "malformed", "{half}");
    }
    assert_eq!(
        device.get("/api/v1/in-shop?paged=maybe").refusal(400),
        "malformed"
    );
    assert_eq!(device.get("/api/v1/in-shop?paged=false&later=1").status, 200);
}
