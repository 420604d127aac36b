//! How much memory the server needs, also when much is asked of it at once.

use std::thread;

use shared::log::body::SameAs;
use shared::log::{Body, Entry, SubjectKind};
use shared::sync::HistoryMark;
use shared::sync::messages::{HistoryAnswer, InShopAnswer, PushRequest};
use support::running::{Answer, Client, Server};
use support::sample::{Pen, WholeJob, picture, unsent};

use crate::bodies::send_large_bodies;
use crate::in_shop::page;
use crate::{server, server_with};

#[test]
fn five_thousand_entries_and_fifty_photographs_fit_into_80_mb() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    for _ in 0..3 {
        let entries: Vec<_> = (0..190).flat_map(|_| pen.whole_job(b"").entries).collect();
        device.push_all(&entries);
    }
    (0..50).for_each(|number| drop(device.put_picture(&picture(number, 600_000))));
    let (held, _) = device.pull_all();
    assert!(held.len() > 5_000);
    let most = server.memory_kb("VmHWM");
    assert!(most <= 80 * 1024, "{most} kB");
}

/// The most memory that the server may have had, in kB.
const CEILING_KB: u64 = 150 * 1024;

fn stays_below_the_ceiling(server: &Server, after: &str) {
    let most = server.memory_kb("VmHWM");
    assert!(most <= CEILING_KB, "after {after}: {most} kB");
}

/// Does the same many times at once.
fn at_once<T: Send>(times: usize, work: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let work = &work;
    thread::scope(|scope| {
        let running = (0..times).map(|number| scope.spawn(move || work(number)));
        let running: Vec<_> = running.collect();
        running.into_iter().map(|one| one.join().unwrap()).collect()
    })
}

/// Whether an answer says that there are too many requests just now.
fn is_busy(answer: &Answer) -> bool {
    if answer.status != 503 {
        return false;
    }
    assert_eq!(answer.header("retry-after"), "1");
    true
}

/// Checks that each was answered, or told to come again. Returns one that was answered.
fn are_answered(answers: Vec<Answer>) -> Answer {
    let mut answered = answers.into_iter().filter(|answer| !is_busy(answer));
    let one = answered.next().unwrap();
    assert_eq!(one.status, 200, "{}", one.text());
    assert!(answered.all(|answer| answer.status == 200));
    one
}

/// A job in the shop with many remarks of two kilobytes.
fn large_job(pen: &mut Pen, remarks: usize) -> (WholeJob, Vec<Entry>) {
    let job = pen.whole_job(b"");
    let text = format!(r#"{{"text":"{}"}}"#, "x".repeat(2_000));
    let mut entries = job.entries.clone();
    entries.extend((0..remarks).map(|_| pen.raw(SubjectKind::Job, job.job, "note", &text)));
    (job, entries)
}

/// A pair's job, and thousands of pairs that are the same pair.
fn job_of_many_names(device: &Client, pen: &mut Pen, names: usize) -> WholeJob {
    let job = pen.whole_job(b"");
    device.push_all(&job.entries);
    let same = Body::SameAs(SameAs { other: job.pair });
    let joins: Vec<_> = (0..names)
        .map(|_| {
            let other = pen.subject();
            pen.entry(SubjectKind::Pair, other, &same)
        })
        .collect();
    joins.chunks(1_000).for_each(|some| device.push_all(some));
    job
}

fn history(device: &Client, start: &str, from: Option<HistoryMark>) -> Answer {
    let from = from.map(|mark| format!("&before_subject={}&before_seq={}", mark.subject_seq, mark.seq));
    device.get(&format!("/api/v1/history?{start}{}", from.unwrap_or_default()))
}

#[test]
fn whatever_is_asked_at_once_the_server_stays_below_150_mib() {
    let (_folder, server) = server_with(&["--limit-connections-address", "230", "--limit-guess", "1000"]);
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);

    // A shop with 30 MB of entries about what is in it, pushed by many at once.
    let pushed = at_once(32, |number| {
        let (_, entries) = large_job(&mut Pen::new(100 + number as u32), 440);
        let request = PushRequest {
            entries: unsent(&entries),
            pushed: None,
        };
        loop {
            let answer = device.post("/api/v1/entries", &request);
            if !is_busy(&answer) {
                return answer.status;
            }
        }
    });
    assert_eq!(pushed, [200; 32]);
    stays_below_the_ceiling(&server, "32 pushes of a megabyte");

    let named = job_of_many_names(&device, &mut pen, 2_000);
    let card = format!("/card/{}", named.secret);
    let stranger = server.stranger();
    are_answered(at_once(40, |_| stranger.get(&card)));
    stays_below_the_ceiling(&server, "40 cards of 2,000 names");

    let whole = are_answered(at_once(4, |_| device.get("/api/v1/in-shop")));
    let whole: InShopAnswer = whole.read(200);
    assert!(whole.entries.len() > 10_000, "{} entries", whole.entries.len());
    stays_below_the_ceiling(&server, "what is in the shop, four times");
    let paged = at_once(4, |_| {
        let (mut entries, mut after) = (0, None);
        loop {
            let answer: InShopAnswer = page(&device, after).read(200);
            entries += answer.entries.len();
            let Some(next) = answer.next else {
                return entries;
            };
            after = Some((answer.start, next));
        }
    });
    assert_eq!(paged, [whole.entries.len(); 4]);
    stays_below_the_ceiling(&server, "the same in pages");

    let start = &whole.start;
    let start = format!("epoch={}&seq={}&mark={}", start.epoch, start.seq, start.mark);
    are_answered(at_once(40, |_| history(&device, &start, None)));
    let read = at_once(4, |_| {
        let (mut entries, mut from) = (0, None);
        loop {
            let answer: HistoryAnswer = history(&device, &start, from).read(200);
            entries += answer.entries.len();
            if answer.next.is_none() {
                return entries;
            }
            from = answer.next;
        }
    });
    assert!(read.iter().all(|entries| *entries >= whole.entries.len()));
    stays_below_the_ceiling(&server, "all of the history, four times");
    are_answered(at_once(40, |_| device.pull(None)));
    stays_below_the_ceiling(&server, "40 pulls");

    send_large_bodies(&server, 200);
    stays_below_the_ceiling(&server, "200 large bodies of strangers");
    assert_eq!(device.ask_status().status, 200);
}

/// A batch that is far from as long as it is wide: a million things that are no entries.
#[test]
fn a_batch_of_too_many_entries_is_refused_before_it_is_read() {
    let (_folder, server) = server();
    let device = server.join(Pen::new(1).device);
    let batch = format!(r#"{{"entries":[0{}]}}"#, ",0".repeat(950_000));
    let answer = device.send("POST", "/api/v1/entries", &[], batch.as_bytes());
    assert_eq!(answer.refusal(413), "too_large");
    stays_below_the_ceiling(&server, "a million things that are no entries");
}

/// The stored entries are much larger than those that are sent in their name.
#[test]
fn a_small_batch_does_not_bring_much_larger_entries_into_memory() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (subject, text) = (pen.subject(), "x".repeat(250_000));
    let mut entries: Vec<_> = (0..160)
        .map(|_| pen.raw(SubjectKind::Pair, subject, "note", ""))
        .collect();
    for some in entries.chunks_mut(4) {
        for entry in some.iter_mut() {
            entry.body.clone_from(&text);
        }
        device.push_all(some);
        // They are sent again with next to nothing in them.
        some.iter_mut().for_each(|entry| entry.body = "{}".to_owned());
    }
    let request = PushRequest {
        entries: unsent(&entries),
        pushed: None,
    };
    assert_eq!(device.post("/api/v1/entries", &request).refusal(413), "too_large");
    let some = PushRequest {
        entries: unsent(&entries[..10]),
        pushed: None,
    };
    assert_eq!(
        device.post("/api/v1/entries", &some).status,
        200,
        "ten of them are not too much"
    );
    stays_below_the_ceiling(&server, "a batch in the name of 40 MB");
}
