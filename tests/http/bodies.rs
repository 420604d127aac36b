//! How large the body of a request may be: for each route enough for what the app sends, and little more.

use std::io::{Read, Write};
use std::net::TcpStream;

use serde_json::to_vec;
use shared::log::{EntryId, UnixMs};
use shared::sync::Cursor;
use shared::sync::messages::{
    Holding, JoinAnswer, JoinRequest, KeptAsideDecided, KeptAsideDecision, MAX_ASKED, MissingBlobs,
    MissingBlobsAnswer, MissingEntries, MissingEntriesAnswer, PushAnswer, PushRequest, ShutOutQuestion,
};
use support::running::Server;
use support::sample::{Pen, sha256, unsent};
use uuid::Uuid;

use crate::connections::address;
use crate::{server, server_with};

/// The most bytes that each route with a body takes. A photograph is counted while it is stored: see `bad_input`.
const LIMITS: [(&str, usize); 8] = [
    ("/api/v1/join", 10_000),
    ("/api/v1/join-codes", 1_000),
    ("/api/v1/entries", 2_000_000),
    ("/api/v1/entries/missing", 200_000),
    ("/api/v1/kept-aside", 100_000),
    ("/api/v1/blobs/missing", 200_000),
    ("/api/v1/shut-out", 1_000),
    ("/api/fn/v1/shut-out", 1_000),
];

#[test]
fn each_route_takes_a_body_up_to_its_limit_and_no_larger_one() {
    let (_folder, server) = server();
    let device = server.join(Pen::new(1).device);
    for (path, most) in LIMITS {
        let sent = |bytes: usize| device.send("POST", path, &[], &vec![b' '; bytes]);
        let taken = sent(most);
        assert!(matches!(taken.status, 201 | 400), "{path}: {}", taken.status);
        assert_eq!(sent(most + 1).refusal(413), "too_large", "{path}");
    }
}

/// A body may come without its length, in chunks.
#[test]
fn a_body_of_unknown_length_is_refused_at_the_limit_too() {
    let (_folder, server) = server();
    let mut stream = TcpStream::connect(address(&server)).unwrap();
    let head =
        "POST /api/v1/join HTTP/1.1\r\nhost: x\r\nconnection: close\r\ntransfer-encoding: chunked\r\n\r\n";
    stream.write_all(head.as_bytes()).unwrap();
    for _ in 0..11 {
        write!(stream, "3e8\r\n{}\r\n", " ".repeat(0x3e8)).unwrap();
    }
    stream.write_all(b"0\r\n\r\n").unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    assert!(answer.starts_with("HTTP/1.1 413 "), "{answer}");
}

#[test]
fn the_largest_requests_of_the_app_are_taken() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);

    let join = JoinRequest {
        code: server.code(),
        device: Pen::new(2).device,
        // A character of four bytes.
        name: "\u{1f97e}".repeat(2_000),
        shop: None,
    };
    let joined: JoinAnswer = server.stranger().post("/api/v1/join", &join).read(200);
    assert_eq!(joined.letters, "B");

    let held = (1..=MAX_ASKED as u128).map(|number| Holding {
        id: EntryId(Uuid::from_u128(number)),
        received: Some(UnixMs::MAX),
    });
    let asked = MissingEntries { held: held.collect() };
    let answer: MissingEntriesAnswer = device.post("/api/v1/entries/missing", &asked).read(200);
    assert_eq!(answer.missing.len(), MAX_ASKED);

    let hashes = (0..MAX_ASKED).map(|number| sha256(&number.to_be_bytes()));
    let asked = MissingBlobs {
        hashes: hashes.collect(),
    };
    let answer: MissingBlobsAnswer = device.post("/api/v1/blobs/missing", &asked).read(200);
    assert_eq!(answer.missing, asked.hashes);

    let mut batch = to_vec(&PushRequest {
        entries: unsent(&pen.whole_job(b"").entries),
        pushed: None,
    })
    .unwrap();
    batch.resize(2_000_000, b' ');
    let pushed: PushAnswer = device.send("POST", "/api/v1/entries", &[], &batch).read(200);
    assert_eq!(pushed.results.len(), 9);

    assert_eq!(device.shut_out(&join.device.to_string()).status, 200);
}

#[test]
fn the_largest_decision_and_the_largest_question_are_taken() {
    let (_folder, server) = server();
    let device = server.join(Pen::new(1).device);
    let ids = (1..=MAX_ASKED as u128).map(|number| EntryId(Uuid::from_u128(number)));
    let decision = KeptAsideDecision {
        take: ids.collect(),
        drop: Vec::new(),
    };
    let decided: KeptAsideDecided = device.post("/api/v1/kept-aside", &decision).read(200);
    assert!(decided.taken.is_empty(), "none of them is kept aside");

    let cursor = Cursor {
        epoch: Uuid::max(),
        seq: u64::MAX,
        mark: Uuid::max(),
    };
    let question = ShutOutQuestion {
        device: Pen::new(1).device,
        nonce: Uuid::max(),
        cursor,
        pushed: Some(cursor),
    };
    let answer = device.post("/api/v1/shut-out", &question);
    assert_eq!(answer.refusal(404), "not_found");
}

/// How large the bodies of strangers are.
const LARGE: usize = 1_900_000;
/// The most memory of the server meanwhile, in kB: less than the bodies alone have together.
const MOST_KB: u64 = 100 * 1024;

#[test]
fn large_bodies_of_many_strangers_are_not_kept_in_memory() {
    let (_folder, server) = server_with(&["--limit-connections-address", "100"]);
    send_large_bodies(&server, 60);
    let most = server.memory_kb("VmHWM");
    assert!(most <= MOST_KB, "{most} kB");
}

/// So many strangers send large bodies, all at once, and each is refused.
pub(super) fn send_large_bodies(server: &Server, strangers: usize) {
    let head = format!(
        "POST /api/v1/join HTTP/1.1\r\nhost: x\r\ncontent-length: {LARGE}\r\nconnection: close\r\n\r\n"
    );
    let most = vec![b' '; LARGE - 1];
    let opened = (0..strangers).map(|_| {
        let mut stream = TcpStream::connect(address(server)).unwrap();
        stream.write_all(head.as_bytes()).unwrap();
        stream.write_all(&most).unwrap();
        stream
    });
    // No body is whole before nearly all of every other one has been sent.
    for mut stream in opened.collect::<Vec<_>>() {
        stream.write_all(b" ").unwrap();
        let mut start = [0; 13];
        stream.read_exact(&mut start).unwrap();
        assert_eq!(&start, b"HTTP/1.1 413 ");
    }
}
