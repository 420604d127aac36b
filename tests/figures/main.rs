//! The server's figures, as a table: `cargo bench --package server`.
//!
//! The real binary over HTTP on the local interface, with a data folder on the temporary disk. Beside the pushes stands
//! the time that the same database needs for the same rows alone, which tells a slow machine from a slow server.

#![allow(clippy::unwrap_used, reason = "a measurement that cannot go on should stop")]
#![allow(clippy::print_stdout, reason = "the table is the point")]

mod bare;
mod cards;

use std::time::{Duration, Instant};

use shared::log::Entry;
use shared::sync::messages::{HistoryAnswer, InShopAnswer, PullAnswer};
use support::running::{Client, Server};
use support::sample::{Pen, WholeJob, picture};

const WAXEND: &str = env!("CARGO_BIN_EXE_waxend");
/// Entries in one measured push or pull.
const SOME: usize = 5_000;
/// Entries of a shop ten years old.
const MANY: usize = 400_000;
/// Entries in one request: just under a megabyte.
const BATCH: usize = 2_000;
const OPEN: [&str; 6] = [
    "--limit-device",
    "100000000",
    "--limit-address",
    "100000000",
    "--limit-guess",
    "100000000",
];

fn main() {
    // `cargo test --benches` only checks that the program starts.
    if !std::env::args().any(|arg| arg == "--bench") {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let server = Server::start(WAXEND, &data, &OPEN);
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);

    let some = entries(&mut pen, SOME);
    row(
        "5,000 rows, bare SQLite, one transaction",
        bare::insert(folder.path(), &some),
    );
    row("5,000 entries pushed, empty shop", time(|| push(&device, &some)));
    row(
        "5,000 entries pulled",
        time(|| assert_eq!(device.pull_all().0.len(), SOME)),
    );
    (0..50).for_each(|number| drop(device.put_picture(&picture(number, 600_000))));
    println!(
        "| peak memory after 5,000 entries and 50 photographs | {} MB |",
        server.memory_kb("VmHWM") / 1024
    );

    let filling = Instant::now();
    while filled(&device) < MANY {
        push(&device, &handed_over(&mut pen, 10_000));
    }
    println!(
        "| (a shop of 400,000 entries filled in) | {:.0} s |",
        filling.elapsed().as_secs_f64()
    );
    let some = entries(&mut pen, SOME);
    row(
        "5,000 entries pushed, 400,000 there",
        time(|| push(&device, &some)),
    );
    let now: InShopAnswer = device.get("/api/v1/in-shop").read(200);
    row(
        "what is in the shop, 400,000 there",
        time(|| drop(device.get("/api/v1/in-shop"))),
    );
    history(&device, &now);
    let job = pen.whole_job(&picture(1, 600_000));
    device.push_all(&job.entries);
    cards::measure(&server, &job);
    println!(
        "| peak memory of all this | {} MB |",
        server.memory_kb("VmHWM") / 1024
    );
}

fn filled(device: &Client) -> usize {
    let status: shared::sync::messages::Status = device.ask_status().read(200);
    usize::try_from(status.entries).unwrap()
}

/// `count` entries of whole jobs.
fn entries(pen: &mut Pen, count: usize) -> Vec<Entry> {
    let jobs = std::iter::from_fn(|| Some(pen.whole_job(b"").entries));
    jobs.flatten().take(count).collect()
}

/// So many entries of jobs that have left the shop, twenty entries each.
fn handed_over(pen: &mut Pen, count: usize) -> Vec<Entry> {
    let job = |pen: &mut Pen| {
        let WholeJob { job, mut entries, .. } = pen.whole_job(b"");
        let note = r#"{"operation":"half sole rubber","side":"both","note":"second coat after ten minutes"}"#;
        entries.extend((0..10).map(|_| pen.raw(shared::log::SubjectKind::Job, job, "step", note)));
        entries.push(pen.hand_over(job));
        entries
    };
    std::iter::from_fn(|| Some(job(pen)))
        .flatten()
        .take(count)
        .collect()
}

fn push(device: &Client, entries: &[Entry]) {
    entries.chunks(BATCH).for_each(|batch| device.push_all(batch));
}

fn history(device: &Client, now: &InShopAnswer) {
    let start = now.start;
    let query = format!(
        "/api/v1/history?epoch={}&seq={}&mark={}",
        start.epoch, start.seq, start.mark
    );
    let (mut pages, mut next, mut all) = (Vec::new(), String::new(), 0);
    loop {
        let began = Instant::now();
        let answer = device.get(&format!("{query}{next}"));
        pages.push(began.elapsed());
        let page: HistoryAnswer = answer.read(200);
        all += page.entries.len();
        let Some(mark) = page.next else { break };
        next = format!("&before_subject={}&before_seq={}", mark.subject_seq, mark.seq);
    }
    let total: Duration = pages.iter().sum();
    pages.sort();
    row("a page of history, median", pages[pages.len() / 2]);
    row("a page of history, slowest", *pages.last().unwrap());
    row(
        &format!("the whole history, {all} entries, {} pages", pages.len()),
        total,
    );
    let page = device.pull(None);
    assert!(page.read::<PullAnswer>(200).more);
}

fn time(work: impl FnOnce()) -> Duration {
    let began = Instant::now();
    work();
    began.elapsed()
}

fn row(what: &str, took: Duration) {
    println!("| {what} | {:.1} ms |", took.as_secs_f64() * 1000.0);
}
