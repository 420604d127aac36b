//! Rate limits.

use shared::sync::messages::JoinRequest;
use support::running::{Answer, Client};
use support::sample::Pen;

use crate::server_with;

fn is_limited(answer: &Answer) {
    assert_eq!(answer.refusal(429), "too_many");
    let wait: u64 = answer.header("retry-after").parse().unwrap();
    assert!((1..=60).contains(&wait));
}

#[test]
fn a_flooding_device_is_told_when_to_come_back_and_others_are_not_held_up() {
    let (_folder, server) = server_with(&["--limit-device", "5"]);
    let (flood, other) = (server.join(Pen::new(1).device), server.join(Pen::new(2).device));
    (0..5).for_each(|_| assert_eq!(flood.ask_status().status, 200));
    is_limited(&flood.ask_status());
    assert_eq!(other.ask_status().status, 200);
}

#[test]
fn guessing_join_codes_is_limited_more_strictly() {
    let (_folder, server) = server_with(&["--limit-join", "3"]);
    let code = server.code();
    let guess = JoinRequest {
        code: "2222-2222".into(),
        device: Pen::new(1).device,
        name: String::new(),
        shop: None,
    };
    let stranger = server.stranger();
    (0..3).for_each(|_| assert_eq!(stranger.post("/api/v1/join", &guess).refusal(403), "code_unknown"));
    is_limited(&stranger.post("/api/v1/join", &JoinRequest { code, ..guess }));
    assert_eq!(stranger.get("/health").status, 200);
}

#[test]
fn an_address_and_guessed_card_links_are_limited() {
    let (_folder, server) = server_with(&["--limit-guess", "3"]);
    let stranger = server.stranger();
    for guess in 0..3 {
        assert_eq!(stranger.get(&format!("/card/{guess:032x}")).status, 404);
    }
    let limited = stranger.get("/card/ffffffffffffffffffffffffffffffff");
    assert_eq!(limited.status, 429);
    assert!(limited.text().contains("<h1>") && !limited.header("retry-after").is_empty());
    drop(server);

    let (_folder, server) = server_with(&["--limit-address", "4"]);
    let stranger = server.stranger();
    (0..4).for_each(|_| assert_eq!(stranger.get("/health").status, 200));
    is_limited(&stranger.get("/health"));
}

/// A request for `/health` with one header line.
fn from(client: &Client, header: &str, value: &str) -> Answer {
    client.send("GET", "/health", &[(header, value)], b"")
}

#[test]
fn nobody_gets_another_limit_by_a_forged_header() {
    let (_folder, server) = server_with(&["--limit-address", "4", "--trusted-proxy", "192.0.2.1"]);
    let stranger = server.stranger();
    for n in 0..4 {
        assert_eq!(
            from(&stranger, "x-forwarded-for", &format!("203.0.113.{n}")).status,
            200
        );
    }
    is_limited(&from(&stranger, "x-forwarded-for", "203.0.113.7"));
    is_limited(&from(&stranger, "forwarded", "for=203.0.113.8"));
}

#[test]
fn behind_a_trusted_proxy_each_client_has_a_limit_of_its_own() {
    let (_folder, server) = server_with(&["--limit-address", "4", "--trusted-proxy", "127.0.0.1,192.0.2.1"]);
    let proxy = server.stranger();
    for header in ["x-forwarded-for", "forwarded"] {
        let of = |address: &str| match header {
            "forwarded" => address
                .split(", ")
                .map(|one| format!("for={one}"))
                .collect::<Vec<_>>()
                .join(", "),
            _ => address.to_owned(),
        };
        let flood = if header == "forwarded" {
            "203.0.113.7"
        } else {
            "203.0.113.8"
        };
        // What the client itself has sent stands to the left of what the proxy has added.
        for n in 0..4 {
            let value = of(&format!("198.51.100.{n}, {flood}"));
            assert_eq!(from(&proxy, header, &value).status, 200, "{value}");
        }
        is_limited(&from(&proxy, header, &of(flood)));
        is_limited(&from(
            &proxy,
            header,
            &of(&format!("198.51.100.9, {flood}, 192.0.2.1")),
        ));
        assert_eq!(from(&proxy, header, &of("203.0.113.9")).status, 200);
    }
}

#[test]
fn guesses_and_attempts_to_join_count_for_the_client_behind_the_proxy() {
    let flags = [
        "--limit-guess",
        "2",
        "--limit-join",
        "2",
        "--trusted-proxy",
        "127.0.0.1",
    ];
    let (_folder, server) = server_with(&flags);
    let proxy = server.stranger();
    let guess = |client: &str| {
        proxy
            .send("GET", "/card/none", &[("x-forwarded-for", client)], b"")
            .status
    };
    assert_eq!([1, 2, 3].map(|_| guess("203.0.113.7")), [404, 404, 429]);
    assert_eq!(guess("203.0.113.8"), 404);
    let body = serde_json::json!({ "code": "2222-2222", "device": Pen::new(1).device, "name": "" });
    let body = serde_json::to_vec(&body).unwrap();
    let join = |client: &str| {
        let headers = [("x-forwarded-for", client), ("content-type", "application/json")];
        proxy.send("POST", "/api/v1/join", &headers, &body).status
    };
    assert_eq!([1, 2, 3].map(|_| join("203.0.113.7")), [403, 403, 429]);
    assert_eq!(join("203.0.113.8"), 403);
}
