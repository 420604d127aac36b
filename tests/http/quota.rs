//! Quotas, and the space that is left free: what comes beyond is refused, and all else goes on.

use shared::log::body::Erased;
use shared::log::{Body, SubjectKind};
use shared::sync::Problem;
use shared::sync::messages::{PushAnswer, PushRequest};
use support::running::{Answer, Client};
use support::sample::{Pen, WholeJob, picture, sha256, unsent};

use crate::{server, server_with};

fn push(device: &Client, job: &WholeJob) -> Answer {
    let request = PushRequest {
        entries: unsent(&job.entries),
        pushed: None,
    };
    device.post("/api/v1/entries", &request)
}

fn put(device: &Client, bytes: &[u8]) -> Answer {
    device.put_blob(&sha256(bytes), "image/jpeg", bytes)
}

/// An erasure of a customer can be pushed, and erases.
fn erases(device: &Client, pen: &mut Pen, job: &WholeJob) {
    let erased = Body::Erased(Erased::default());
    device.push_all(&[pen.entry(SubjectKind::Customer, job.customer, &erased)]);
    let held = device.pull_all().0;
    let names = held.iter().filter(|held| held.entry.subject.id == job.customer);
    assert!(
        names
            .filter(|held| held.entry.kind == "detail")
            .all(|held| held.entry.is_blank())
    );
}

#[test]
fn beyond_the_quota_of_entries_pushes_are_refused_and_reading_goes_on() {
    let (_folder, server) = server_with(&["--quota-entries", "20"]);
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let jobs = [(); 4].map(|()| pen.whole_job(b"picture"));
    for job in &jobs[..3] {
        assert_eq!(push(&device, job).status, 200);
    }
    let refused = push(&device, &jobs[3]);
    assert_eq!(refused.refusal(507), "disk_full");
    let said = refused.read::<Problem>(507).message;
    assert!(
        said.contains("set to take") && said.contains("kept on the device"),
        "{said}"
    );
    assert_eq!(device.pull_all().0.len(), 27);
    assert_eq!(device.get("/api/v1/in-shop").status, 200);
    assert_eq!(
        server.stranger().get(&format!("/card/{}", jobs[0].secret)).status,
        200
    );
    assert_eq!(
        put(&device, &picture(1, 1_000)).status,
        201,
        "photographs have a quota of their own"
    );
    server.join(Pen::new(2).device);
    erases(&device, &mut pen, &jobs[0]);
    assert_eq!(push(&device, &jobs[3]).refusal(507), "disk_full");
}

#[test]
fn beyond_the_quota_of_photographs_they_are_refused_until_some_are_destroyed() {
    let (_folder, server) = server_with(&["--quota-photos", "1"]);
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (one, two) = (picture(1, 600_000), picture(2, 600_000));
    let job = pen.whole_job(&one);
    assert_eq!(push(&device, &job).status, 200);
    assert_eq!(put(&device, &one).status, 201);
    for _ in 0..2 {
        assert_eq!(put(&device, &two).refusal(507), "disk_full");
    }
    assert_eq!(
        put(&device, &picture(3, 300_000)).status,
        201,
        "a smaller one fits"
    );
    assert_eq!(device.get(&format!("/api/v1/blobs/{}", sha256(&one))).body, one);
    let blob = Some(sha256(&one));
    device.push_all(&[pen.entry(SubjectKind::Job, job.job, &Body::Erased(Erased { blob }))]);
    assert_eq!(put(&device, &two).status, 201);
}

#[test]
fn the_last_of_the_disk_is_left_free() {
    let (_folder, server) = server_with(&["--reserve", "1000000000"]);
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    assert_eq!(push(&device, &pen.whole_job(b"")).refusal(507), "disk_full");
    assert_eq!(put(&device, &picture(1, 1_000)).refusal(507), "disk_full");
    let ready: serde_json::Value = server.stranger().get("/health/ready").read(503);
    assert_eq!(
        (&ready["database"], &ready["photos"]),
        (&"disk_full".into(), &"disk_full".into())
    );
    assert_eq!(device.pull_all().0.len(), 0);
    assert_eq!(device.ask_status().status, 200);
}

#[test]
fn without_flags_nothing_is_refused() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let answer: PushAnswer = push(&device, &pen.whole_job(b"")).read(200);
    assert_eq!(answer.results.len(), 9);
    assert_eq!(put(&device, &picture(1, 1_000)).status, 201);
    assert_eq!(server.stranger().get("/health").text(), "ok\n");
}
