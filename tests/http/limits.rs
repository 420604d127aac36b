//! Rate limits.

use shared::sync::messages::JoinRequest;
use support::running::Answer;
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
