//! What the log says of refused requests, and requests whose body is said to be no JSON.

use serde_json::{Value, json};
use shared::log::SubjectKind;
use shared::sync::messages::JoinRequest;
use support::running::{Server, eventually};
use support::sample::{Pen, unsent};

use crate::shut_out::id;
use crate::{helper, server, server_with};

/// The lines of the log that have all of these words.
fn lines(server: &Server, words: &[&str]) -> Vec<String> {
    let log = server.log();
    let has_all = |line: &&str| words.iter().all(|word| line.contains(word));
    log.lines().filter(has_all).map(str::to_owned).collect()
}

fn is_logged(server: &Server, words: &[&str]) {
    eventually(&words.join(" "), || !lines(server, words).is_empty());
}

#[test]
fn a_refused_token_is_logged_with_its_address_and_route_and_without_the_token() {
    let (_folder, server) = server_with(&["--trusted-proxy", "127.0.0.1"]);
    let (first, second) = (server.join(id(1)), server.join(id(2)));
    let guess = "ab".repeat(32);
    let proxy = server.stranger().with_token(&guess);
    let forwarded = [("x-forwarded-for", "203.0.113.7")];
    let answer = proxy.send("GET", "/api/v1/blobs/secret-name", &forwarded, b"");
    assert_eq!(answer.refusal(401), "token_unknown");
    is_logged(
        &server,
        &["token_unknown", "203.0.113.7", "GET", "/api/v1/blobs/{sha256}"],
    );
    assert_eq!(server.stranger().ask_status().refusal(401), "token_missing");
    is_logged(&server, &["token_missing", "127.0.0.1", "/api/v1/status"]);
    assert_eq!(first.shut_out(&id(2).to_string()).status, 200);
    assert_eq!(second.ask_status().refusal(401), "token_revoked");
    is_logged(&server, &["token_revoked"]);
    let log = server.log();
    for secret in [
        Some(guess),
        first.token,
        second.token,
        Some("secret-name".to_owned()),
    ] {
        let secret = secret.unwrap();
        assert!(!log.contains(&secret), "{secret} in {log}");
    }
}

/// Whoever guesses does not fill the disk, nor hide the refusals of others.
#[test]
fn many_refusals_of_one_address_are_few_lines() {
    let (_folder, server) = server_with(&["--trusted-proxy", "127.0.0.1"]);
    let proxy = server.stranger().with_token("ab".repeat(32));
    let ask = |address: &str| proxy.send("GET", "/api/v1/status", &[("x-forwarded-for", address)], b"");
    for _ in 0..60 {
        assert_eq!(ask("203.0.113.7").status, 401);
    }
    assert_eq!(ask("203.0.113.8").status, 401);
    is_logged(&server, &["token_unknown", "203.0.113.8"]);
    let flood = lines(&server, &["token_unknown", "203.0.113.7"]).len();
    assert!((1..=20).contains(&flood), "{flood} lines");
    let unwritten: usize = lines(&server, &["unwritten="])
        .iter()
        .map(|line| unwritten(line))
        .sum();
    assert_eq!(flood + 1 + unwritten, 61, "every refusal is told of");
}

/// How many refusals before it were not written, as a line says.
fn unwritten(line: &str) -> usize {
    let (_, told) = line.split_once("unwritten=").unwrap();
    told.split_whitespace().next().unwrap().parse().unwrap()
}

#[test]
fn a_refused_join_code_is_logged_without_the_code() {
    let (_folder, server) = server();
    let guess = JoinRequest {
        code: "2222-2222".into(),
        device: id(1),
        name: "Counter tablet".to_owned(),
        shop: None,
    };
    assert_eq!(
        server.stranger().post("/api/v1/join", &guess).refusal(403),
        "code_unknown"
    );
    is_logged(&server, &["code_unknown", "127.0.0.1"]);
    let log = server.log();
    assert!(
        !log.contains("2222-2222") && !log.contains("Counter tablet"),
        "{log}"
    );
}

#[test]
fn what_a_role_may_not_do_is_logged_with_the_device_and_the_kind() {
    let (_folder, server) = server();
    server.join(id(1));
    let mut pen = Pen::new(2);
    let helper = helper(&server, pen.device);
    let device = pen.device.to_string();
    assert_eq!(helper.get("/api/v1/kept-aside").refusal(403), "for_repairer");
    is_logged(&server, &[device.as_str(), "GET", "/api/v1/kept-aside"]);
    let customer = pen.subject();
    let erased = pen.raw(SubjectKind::Customer, customer, "erased", "{}");
    // A kind can be any word, also a secret one.
    let token = helper.token.clone().unwrap();
    let unknown = pen.raw(SubjectKind::Shop, customer, &token, "{}");
    helper.push(unsent(&[erased, unknown]));
    is_logged(&server, &[device.as_str(), "entries were refused", "erased"]);
    assert!(!server.log().contains(&token));
}

/// Every route that reads JSON of a joined device or a stranger, a body, and the status of the answer.
fn json_routes() -> [(&'static str, Value, u16); 6] {
    let cursor = json!({ "epoch": id(0), "seq": 0, "mark": id(0) });
    let question = json!({ "device": id(9), "nonce": id(0), "cursor": cursor });
    [
        ("/api/v1/entries", json!({ "entries": [] }), 200),
        ("/api/v1/entries/missing", json!({ "held": [] }), 200),
        ("/api/v1/kept-aside", json!({ "take": [], "drop": [] }), 200),
        ("/api/v1/blobs/missing", json!({ "hashes": [] }), 200),
        ("/api/v1/join-codes", json!({ "role": "helper" }), 201),
        ("/api/v1/shut-out", question, 404),
    ]
}

#[test]
fn json_that_is_said_to_be_a_form_or_text_is_refused() {
    let (_folder, server) = server();
    let device = server.join(id(1));
    for (path, body, status) in json_routes() {
        let send = |headers: &[(&str, &str)]| device.send("POST", path, headers, body.to_string().as_bytes());
        for other in [
            "text/plain;charset=UTF-8",
            "application/x-www-form-urlencoded",
            "multipart/form-data; boundary=x",
        ] {
            assert_eq!(
                send(&[("content-type", other)]).refusal(415),
                "media_type",
                "{path} {other}"
            );
        }
        // As every app sends it, with a charset as some libraries do, and without a type.
        for headers in [
            &[("content-type", "application/json")][..],
            &[("content-type", "application/json; charset=utf-8")],
            &[],
        ] {
            let answer = send(headers);
            assert_eq!(answer.status, status, "{path} {headers:?}: {}", answer.text());
        }
    }
    let join = |media_type| {
        let headers = [("content-type", media_type)];
        let request = json!({ "code": server.code(), "device": id(2), "name": "Tablet" });
        server
            .stranger()
            .send("POST", "/api/v1/join", &headers, request.to_string().as_bytes())
    };
    assert_eq!(join("text/plain").refusal(415), "media_type");
    assert_eq!(join("application/json").status, 200);
    // The framework's own forms are no JSON, and are read as before.
    assert_eq!(device.shut_out(&id(2).to_string()).status, 200);
}
