//! Erased content stays erased: in the files of the data folder, when outdated devices push it, and when an older copy
//! is restored.

use std::path::Path;

use shared::log::body::{Erased, Note};
use shared::log::{Body, SubjectKind};
use shared::sync::messages::{MissingBlobsAnswer, PushOutcome};
use support::running::{Server, run};
use support::sample::{Pen, blob_of, picture, sha256, unsent};

use crate::{WAXEND, server};

/// Whether any file in the data folder contains these bytes.
pub(super) fn at_rest(folder: &Path, needle: &[u8]) -> bool {
    std::fs::read_dir(folder).unwrap().any(|entry| {
        let entry = entry.unwrap();
        match entry.file_type().unwrap().is_dir() {
            true => at_rest(&entry.path(), needle),
            false => std::fs::read(entry.path())
                .unwrap()
                .windows(needle.len())
                .any(|window| window == needle),
        }
    })
}

#[test]
fn an_erased_customer_stays_erased() {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let (device, stale) = (server.join(pen.device), server.join(Pen::new(2).device));
    let job = pen.whole_job(b"");
    let voice = picture(7, 2000);
    let spoken = Body::Note(Note {
        of: None,
        text: "Ada Example calls on Mondays".into(),
        voice: Some(blob_of(&voice, "image/jpeg")),
    });
    let note = pen.entry(SubjectKind::Customer, job.customer, &spoken);
    let entries: Vec<_> = job.entries.iter().cloned().chain([note]).collect();
    device.push_all(&entries);
    let voice = device.put_picture(&voice);
    let backup = folder.path().join("before.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());

    device.push_all(&[pen.entry(
        SubjectKind::Customer,
        job.customer,
        &Body::Erased(Erased::default()),
    )]);
    let clean = |server: &Server| {
        let (held, _) = device.at(server).pull_all();
        let own = held
            .iter()
            .filter(|held| held.entry.subject.id == job.customer && held.entry.kind != "erased");
        assert!(own.clone().count() >= 3 && own.clone().all(|held| held.entry.is_blank()));
        assert!(
            held.iter()
                .any(|held| held.entry.subject.id == job.job && !held.entry.is_blank())
        );
        assert_eq!(
            device
                .at(server)
                .get(&format!("/api/v1/blobs/{voice}"))
                .refusal(410),
            "erased"
        );
    };
    clean(&server);
    // A device that does not know of the erasure pushes everything again, with an edit that it made meanwhile, and the
    // voice note.
    let late = pen.raw(
        SubjectKind::Customer,
        job.customer,
        "detail",
        r#"{"field":"phone","value":"Ada Example 1"}"#,
    );
    stale.push_all(&entries);
    stale.push_all(&[late]);
    assert_eq!(
        stale
            .put_blob(&voice, "image/jpeg", &picture(7, 2000))
            .refusal(410),
        "erased"
    );
    clean(&server);
    let data = server.data.clone();
    let gone = || {
        assert!(
            !at_rest(&data, b"Ada Example"),
            "the name is still somewhere in the data folder"
        )
    };
    gone();
    server.stop();
    gone();

    let restored = run(WAXEND, &data, &["restore", "--replace", backup.to_str().unwrap()]);
    assert!(
        restored.status.success(),
        "{}",
        String::from_utf8_lossy(&restored.stderr)
    );
    let server = Server::start(WAXEND, &data, &[]);
    clean(&server);
    gone();
    let ledger = std::fs::read_to_string(data.join("erased.jsonl")).unwrap();
    let erases = |line: &&str| line.starts_with("{\"erased\"") || line.starts_with("{\"blob\"");
    let lines = ledger.lines().filter(erases).count();
    assert_eq!(
        lines, 2,
        "the customer and the voice note, once each however often they are erased again"
    );
    assert!(server.run(&["check"]).status.success());
}

#[test]
fn an_erased_photograph_is_destroyed_and_refused_for_ever() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let bytes = picture(1, 4000);
    let job = pen.whole_job(&bytes);
    device.push_all(&job.entries);
    let hash = device.put_picture(&bytes);
    let kept = device.get(&format!("/api/v1/blobs/{hash}"));
    assert_eq!(
        kept.header("cache-control"),
        "no-store",
        "no cache keeps what an erasure cannot reach"
    );
    let erased = Body::Erased(Erased {
        blob: Some(hash.clone()),
    });
    device.push_all(&[pen.entry(SubjectKind::Job, job.job, &erased)]);
    let gone = |device: &support::running::Client| {
        assert_eq!(
            device.get(&format!("/api/v1/blobs/{hash}")).refusal(410),
            "erased"
        );
        assert_eq!(
            device.put_blob(&hash, "image/jpeg", &bytes).refusal(410),
            "erased"
        );
        let asked = serde_json::json!({ "hashes": [hash] });
        let answer: MissingBlobsAnswer = device.post("/api/v1/blobs/missing", &asked).read(200);
        assert!(answer.missing.is_empty(), "erased is not missing");
        let shown = device.get(&format!("/card/{}/photo/{hash}", job.secret));
        assert_eq!(
            shown.header("content-type"),
            "image/svg+xml",
            "the card shows its place"
        );
        assert_eq!(shown.status, 410, "and says that nothing will come");
        let said = String::from_utf8(shown.body).unwrap();
        assert!(said.contains("deleted") && !said.contains("on its way"), "{said}");
        let page = device.get(&format!("/card/{}", job.secret));
        assert_eq!(page.status, 200);
        let page = String::from_utf8(page.body).unwrap();
        assert!(!page.contains(&hash), "the page leaves it out");
    };
    gone(&device);
    assert!(
        !server
            .data
            .join("photos")
            .join(&hash[..2])
            .join(&hash[2..4])
            .join(&hash)
            .exists()
    );
    let data = server.data.clone();
    server.kill();
    gone(&device.at(&Server::start(WAXEND, &data, &[])));
}

#[test]
fn a_photograph_another_job_still_shows_outlives_the_customer_it_was_on() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let bytes = picture(3, 4000);
    let job = pen.whole_job(&bytes);
    let note = Body::Note(Note {
        of: None,
        text: String::new(),
        voice: Some(blob_of(&bytes, "image/jpeg")),
    });
    device.push_all(&job.entries);
    device.push_all(&[pen.entry(SubjectKind::Customer, job.customer, &note)]);
    device.put_picture(&bytes);
    device.push_all(&[pen.entry(
        SubjectKind::Customer,
        job.customer,
        &Body::Erased(Erased::default()),
    )]);
    assert_eq!(
        device.get(&format!("/api/v1/blobs/{}", sha256(&bytes))).status,
        200
    );
}

#[test]
fn an_erasure_can_come_before_what_it_erases_in_one_batch() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let customer = pen.subject();
    let name = pen.raw(
        SubjectKind::Customer,
        customer,
        "detail",
        r#"{"field":"name","value":"Ada"}"#,
    );
    let erased = pen.entry(SubjectKind::Customer, customer, &Body::Erased(Erased::default()));
    let results = device.push(unsent(&[name, erased]));
    assert!(
        results
            .iter()
            .all(|taken| matches!(taken, PushOutcome::Accepted { .. }))
    );
    let (held, _) = device.pull_all();
    assert!(held[0].entry.is_blank() && !held[1].entry.is_blank());
}

/// No app writes a hash in capitals, or nests a body as deep as this. What does must not hide a photograph by it.
#[test]
fn a_hash_in_capitals_or_deep_inside_a_body_is_destroyed_too() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.whole_job(b"");
    device.push_all(&job.entries);
    let [erased, capitals, deep, beside] =
        [1, 2, 3, 4].map(|number| device.put_picture(&picture(number, 3000)));
    let nested = |inner: &str| format!("{}{inner}{}", "[".repeat(500), "]".repeat(500));
    let voice = |hash: &str| format!(r#"{{"sha256":"{hash}","media_type":"audio/ogg","bytes":3000}}"#);
    for (kind, body) in [
        (
            "note",
            format!(r#"{{"text":"","voice":{}}}"#, voice(&capitals.to_uppercase())),
        ),
        ("kind_of_2031", nested(&voice(&deep))),
        (
            "note",
            format!(
                r#"{{"text":"","later":{},"voice":{}}}"#,
                nested(""),
                voice(&beside)
            ),
        ),
    ] {
        device.push_all(&[pen.raw(SubjectKind::Customer, job.customer, kind, &body)]);
    }
    let of_blob = Body::Erased(Erased {
        blob: Some(erased.to_uppercase()),
    });
    let of_customer = Body::Erased(Erased::default());
    device.push_all(&[
        pen.entry(SubjectKind::Job, job.job, &of_blob),
        pen.entry(SubjectKind::Customer, job.customer, &of_customer),
    ]);
    let gone = |server: &Server| {
        for hash in [&erased, &capitals, &deep, &beside] {
            let answer = device.at(server).get(&format!("/api/v1/blobs/{hash}"));
            assert_eq!(answer.refusal(410), "erased");
            let folder = server.data.join("photos").join(&hash[..2]).join(&hash[2..4]);
            assert!(!folder.join(hash).exists());
        }
    };
    gone(&server);
    let data = server.data.clone();
    server.kill();
    gone(&Server::start(WAXEND, &data, &[]));
}
