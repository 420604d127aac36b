//! Refusals: each has a stable code and a sentence, and nothing is lost.

use shared::log::{SubjectKind, UnixMs};
use shared::sync::messages::{MAX_ASKED, MAX_BLOB, PushOutcome};
use support::sample::{Pen, picture, sha256, unsent};

use crate::server;

#[test]
fn tokens_missing_unknown_and_revoked() {
    let (_folder, server) = server();
    let pen = Pen::new(1);
    let device = server.join(pen.device);
    // Another repairer's device, so that this one is not the last.
    server.join(Pen::new(2).device);
    assert_eq!(server.stranger().ask_status().refusal(401), "token_missing");
    let guess = server.stranger().with_token("ab".repeat(32));
    assert_eq!(guess.ask_status().refusal(401), "token_unknown");
    assert_eq!(device.shut_out(&pen.device.to_string()).status, 200);
    assert_eq!(device.ask_status().refusal(401), "token_revoked");
    // A device with a revoked token gets the reason even if it sends a megabyte.
    let body = vec![b' '; 1_000_000];
    assert_eq!(
        device.send("POST", "/api/v1/entries", &[], &body).refusal(401),
        "token_revoked"
    );
}

#[test]
fn no_route_but_health_cards_join_and_the_proof_answers_a_stranger() {
    let (_folder, server) = server();
    let stranger = server.stranger();
    assert_eq!(stranger.get("/health").text(), "ok\n");
    let closed = [
        ("GET", "/api/v1/entries"),
        ("POST", "/api/v1/entries"),
        ("POST", "/api/v1/entries/missing"),
        ("GET", "/api/v1/kept-aside"),
        ("POST", "/api/v1/kept-aside"),
        ("GET", "/api/v1/in-shop"),
        ("GET", "/api/v1/history"),
        ("GET", "/api/v1/status"),
        ("GET", "/api/fn/v1/devices"),
        ("POST", "/api/fn/v1/shut-out"),
        ("POST", "/api/v1/join-codes"),
        ("POST", "/api/v1/blobs/missing"),
        ("PUT", "/api/v1/blobs/x"),
        ("GET", "/api/v1/blobs/x"),
    ];
    for (method, path) in closed {
        assert_eq!(
            stranger.send(method, path, &[], b"").refusal(401),
            "token_missing",
            "{method} {path}"
        );
    }
}

#[test]
fn bodies_that_are_not_what_was_asked_for() {
    let (_folder, server) = server();
    let device = server.join(Pen::new(1).device);
    let posts = [
        "/api/v1/entries",
        "/api/v1/entries/missing",
        "/api/v1/blobs/missing",
        "/api/v1/join",
        "/api/v1/shut-out",
    ];
    for path in posts {
        for body in ["{", "[]", "null", "{\"entries\":3}", "\u{0}", "{\"entries\":[}"] {
            assert_eq!(
                device.send("POST", path, &[], body.as_bytes()).refusal(400),
                "malformed",
                "{path} {body}"
            );
        }
        let big = vec![b' '; 2_100_000];
        assert_eq!(
            device.send("POST", path, &[], &big).refusal(413),
            "too_large",
            "{path}"
        );
    }
    for query in ["?seq=1", "?epoch=x&seq=1&mark=y", "?seq=-1"] {
        assert_eq!(
            device.get(&format!("/api/v1/entries{query}")).refusal(400),
            "malformed",
            "{query}"
        );
    }
    assert_eq!(device.get("/api/v1/history").refusal(400), "malformed");
    let many = vec![sha256(b"x"); MAX_ASKED + 1];
    let asked = serde_json::json!({ "hashes": many });
    assert_eq!(
        device.post("/api/v1/blobs/missing", &asked).refusal(413),
        "too_large"
    );
    let asked = serde_json::json!({ "hashes": ["../../etc/passwd"] });
    assert_eq!(
        device.post("/api/v1/blobs/missing", &asked).refusal(400),
        "bad_hash"
    );
}

#[test]
fn a_bad_entry_is_refused_by_itself_and_stops_no_other() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let subject = pen.subject();
    let note = |pen: &mut Pen| pen.raw(SubjectKind::Pair, subject, "note", r#"{"text":"x"}"#);
    let [first, taken, mut kind, mut time, last] = [(); 5].map(|()| note(&mut pen));
    device.push_all(std::slice::from_ref(&taken));
    let mut other = note(&mut pen);
    other.id = taken.id;
    kind.kind = "No Word".to_owned();
    time.stamp.ms = UnixMs(-1);
    let mut wild = unsent(&[note(&mut pen)]);
    wild[0].received = Some(UnixMs(-5));
    let mut entries: Vec<_> = unsent(&[first, other, kind, time, last])
        .into_iter()
        .chain(wild)
        .map(|held| serde_json::to_value(held).unwrap())
        .collect();
    entries.push(serde_json::json!({ "entry": "?" }));
    let answer = device.post("/api/v1/entries", &serde_json::json!({ "entries": entries }));
    let results = answer.read::<shared::sync::messages::PushAnswer>(200).results;
    let codes: Vec<_> = results
        .iter()
        .map(|taken| match taken {
            PushOutcome::Accepted { .. } => "taken".to_owned(),
            PushOutcome::Refused(problem) => problem.code.to_string(),
        })
        .collect();
    let expected = [
        "taken",
        "id_taken",
        "bad_envelope",
        "bad_envelope",
        "taken",
        "bad_envelope",
        "malformed",
    ];
    assert_eq!(codes, expected);
    let (held, _) = device.pull_all();
    assert_eq!(held.len(), 3);
    assert!(
        held.iter().any(|held| held.entry == taken),
        "the first copy stands"
    );
}

#[test]
fn blobs_that_are_not_what_they_say() {
    let (_folder, server) = server();
    let device = server.join(Pen::new(1).device);
    let bytes = picture(1, 5_000);
    let name = sha256(&bytes);
    assert_eq!(device.put_blob(&name, "image/jpeg", b"").refusal(400), "empty");
    assert_eq!(
        device
            .put_blob(&sha256(b"other"), "image/jpeg", &bytes)
            .refusal(422),
        "hash_mismatch"
    );
    assert_eq!(
        device.put_blob(&name, "image/png", &bytes).refusal(415),
        "media_type"
    );
    assert_eq!(
        device.put_blob(&name, "text/html", &bytes).refusal(415),
        "media_type"
    );
    let page = b"<svg onload=alert(1)>";
    assert_eq!(
        device.put_blob(&sha256(page), "image/jpeg", page).refusal(415),
        "media_type"
    );
    let huge = picture(2, MAX_BLOB + 1);
    assert_eq!(
        device.put_blob(&sha256(&huge), "image/jpeg", &huge).refusal(413),
        "too_large"
    );
    let most = picture(3, MAX_BLOB);
    assert_eq!(device.put_blob(&sha256(&most), "image/jpeg", &most).status, 201);
    assert_eq!(
        device.get(&format!("/api/v1/blobs/{name}")).refusal(404),
        "not_found"
    );
    assert_eq!(device.put_blob(&name, "image/jpeg", &bytes).status, 201);
    assert_eq!(device.put_blob(&name, "image/jpeg;q=1", &bytes).status, 200);
    // No file is left behind by refused photographs.
    let left = std::fs::read_dir(server.data.join("photos/incoming"))
        .unwrap()
        .count();
    assert_eq!(left, 0);
}

#[test]
fn tricks_in_names_lead_nowhere() {
    let (folder, server) = server();
    std::fs::write(folder.path().join("secret.txt"), "secret").unwrap();
    let device = server.join(Pen::new(1).device);
    let tricks = [
        "..%2f..%2fwaxend.db",
        "%2e%2e%2f%2e%2e%2fetc%2fpasswd",
        "....",
        "%00",
        "AA".repeat(32).as_str(),
        "a".repeat(63).as_str(),
        "a".repeat(65).as_str(),
        "..%5c..%5cwaxend.db",
        "%ff%fe",
    ]
    .map(str::to_owned);
    for name in tricks {
        let path = format!("/api/v1/blobs/{name}");
        assert!(
            matches!(device.get(&path).refusal(400).as_str(), "bad_hash" | "malformed"),
            "{name}"
        );
        let put = device.send("PUT", &path, &[("content-type", "image/jpeg")], &picture(1, 10));
        assert!(
            matches!(put.refusal(400).as_str(), "bad_hash" | "malformed"),
            "{name}"
        );
        let card = server.stranger().get(&format!("/card/{name}"));
        assert!(matches!(card.status, 400 | 404), "{name} {}", card.status);
        assert!(!card.text().contains("secret"));
    }
    for path in [
        "/../secret.txt",
        "/..%2fsecret.txt",
        "/%2e%2e/secret.txt",
        "//etc/passwd",
        "/pkg/../../secret.txt",
    ] {
        assert_eq!(server.stranger().get(path).status, 404, "{path}");
    }
}

#[test]
fn what_is_not_there_and_what_cannot_be_done() {
    let (_folder, server) = server();
    let device = server.join(Pen::new(1).device);
    assert_eq!(device.get("/api/v1/nothing").refusal(404), "not_found");
    assert_eq!(device.get("/api/v2/entries").refusal(404), "not_found");
    assert_eq!(
        device.get("/pkg/app-0123456789abcdef.wasm").refusal(404),
        "not_found"
    );
    assert_eq!(
        device.send("POST", "/api/v1/status", &[], b"{}").refusal(405),
        "method_not_allowed"
    );
    assert_eq!(
        device.send("DELETE", "/api/v1/entries", &[], b"").refusal(405),
        "method_not_allowed"
    );
    assert_eq!(
        device.send("POST", "/api/fn/v1/devices", &[], b"").refusal(404),
        "not_found"
    );
    assert_eq!(device.shut_out("nobody").refusal(400), "malformed");
    // The app is not built in this test, so the start page says how to build it.
    let start = server.stranger().get("/");
    assert!(start.text().contains("make app"), "{}", start.text());
}

#[test]
fn another_origin_may_ask_with_a_token() {
    let (_folder, server) = server();
    let asked = [
        ("origin", "https://bench.example"),
        ("access-control-request-method", "PUT"),
        ("access-control-request-headers", "authorization,content-type"),
    ];
    let allowed = server.stranger().send("OPTIONS", "/api/v1/blobs/x", &asked, b"");
    assert_eq!(allowed.status, 200);
    assert_eq!(allowed.header("access-control-allow-origin"), "*");
    assert!(allowed.header("access-control-allow-methods").contains("PUT"));
    assert!(
        allowed
            .header("access-control-allow-headers")
            .contains("authorization")
    );
    assert_eq!(allowed.header("access-control-allow-credentials"), "");
    // The browser lets a page from another origin read a refusal too.
    let refused = server.stranger().send("GET", "/api/v1/status", &asked[..1], b"");
    assert_eq!(refused.header("access-control-allow-origin"), "*");
}
