//! What an erased mention has left of an entry: it stands in the erasure ledger too, which no backup brings back, and links
//! to what the entry linked to.

use std::{fs, slice};

use serde_json::json;
use shared::log::body::Erased;
use shared::log::{Body, Entry, SubjectKind};
use support::running::{Server, run};
use support::sample::Pen;

use crate::erasure::at_rest;
use crate::mentions::{erasing, is_well, note, records};
use crate::{WAXEND, server};

const SAID: &str = "Brack and Thorn share these";
const LEFT: &str = "… and Thorn share these";

fn ledger(server: &Server) -> String {
    fs::read_to_string(server.data.join("erased.jsonl")).unwrap()
}

fn by_id(mut entries: Vec<Entry>) -> Vec<Entry> {
    entries.sort_by_key(|entry| entry.id);
    entries
}

#[test]
fn a_second_mention_takes_what_the_first_has_left_out_of_the_ledger() {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.subject();
    let said = note(&mut pen, job, SAID);
    device.push_all(slice::from_ref(&said));
    let backup = folder.path().join("before.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    let first = erasing(&mut pen, &said, Some(json!({ "text": LEFT })));
    device.push_all(slice::from_ref(&first));
    assert!(
        ledger(&server).contains(LEFT),
        "an older backup has the entry whole"
    );

    let left = json!({ "entry": said.id, "left": { "text": "… and … share these" } });
    let second = erasing(&mut pen, &first, Some(left));
    device.push_all(slice::from_ref(&second));
    let text = ledger(&server);
    assert!(!text.contains("Thorn"), "{text}");
    for erasure in [&first, &second] {
        assert!(text.contains(&erasure.id.to_string()), "{text}");
    }
    assert!(!at_rest(&server.data, b"Thorn"));
    let after = by_id(records(&device));
    is_well(&server);
    let data = server.data.clone();
    server.stop();

    let out = run(WAXEND, &data, &["restore", "--replace", backup.to_str().unwrap()]);
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let server = Server::start(WAXEND, &data, &[]);
    let device = device.at(&server);
    assert_eq!(by_id(records(&device)), after);
    device.push_all(&[said, first, second]);
    assert_eq!(by_id(records(&device)), after);
    assert!(!at_rest(&data, b"Thorn"));
    is_well(&server);
}

/// Also if the server was stopped between the erasure and the ledger.
#[test]
fn the_subject_takes_what_is_left_of_its_entries_out_of_the_ledger() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (job, other) = (pen.subject(), pen.subject());
    let [said, beside] = [job, other].map(|job| note(&mut pen, job, SAID));
    device.push_all(&[said.clone(), beside.clone()]);
    let of_said = erasing(&mut pen, &said, Some(json!({ "text": LEFT })));
    let of_other = erasing(&mut pen, &beside, Some(json!({ "text": "… waits" })));
    device.push_all(&[of_said, of_other]);
    let before = ledger(&server);
    let erased = pen.entry(SubjectKind::Job, job, &Body::Erased(Erased::default()));
    device.push_all(&[erased]);
    let after = ledger(&server);
    assert!(before.contains(LEFT) && !after.contains(LEFT), "{after}");
    assert!(after.contains("… waits"), "{after}");
    let (data, records_before) = (server.data.clone(), records(&device));
    server.stop();

    // The lines of before, and that of the erasure with its digest.
    let lines: Vec<&str> = after.lines().collect();
    let [.., erased, digest] = lines.as_slice() else {
        panic!("{after}");
    };
    fs::write(data.join("erased.jsonl"), format!("{before}{erased}\n{digest}\n")).unwrap();
    let server = Server::start(WAXEND, &data, &[]);
    let text = ledger(&server);
    assert!(!text.contains(LEFT) && text.contains("… waits"), "{text}");
    assert_eq!(records(&device.at(&server)), records_before);
    is_well(&server);
}

/// Otherwise the earlier job would no longer lead to the complaint about it.
#[test]
fn a_complaint_stays_linked_to_the_earlier_job_when_its_mention_is_erased() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (job, earlier) = (pen.subject(), pen.subject());
    let body = |note: &str| json!({ "job": earlier, "operation": "restitch_welt", "note": note });
    let complaint = pen.raw(
        SubjectKind::Job,
        job,
        "complaint",
        &body("Brack says so").to_string(),
    );
    device.push_all(slice::from_ref(&complaint));
    let erased = erasing(&mut pen, &complaint, Some(body("… says so")));
    assert_eq!(shared::log::about(&erased), [job, earlier]);
    device.push_all(&[erased]);
    is_well(&server);
}
