//! Joining a shop: codes, letters, tokens.

use std::collections::BTreeSet;

use server::data::DataFolder;
use server_core::shop::typed;
use server_core::store::{MemberTx, SecretDigest, Store, StoreTx, TxMode};
use sha2::{Digest as _, Sha256};
use shared::log::{DeviceId, UnixMs};
use shared::sync::messages::{JoinAnswer, JoinCode, JoinRequest, PullAnswer};
use support::running::{Server, eventually};
use support::sample::Pen;
use uuid::Uuid;

use crate::{server, server_with};

fn request(code: &str, device: DeviceId) -> JoinRequest {
    JoinRequest {
        code: code.to_owned(),
        device,
        name: "Counter tablet".to_owned(),
        shop: None,
    }
}

fn join(server: &Server, request: &JoinRequest) -> support::running::Answer {
    server.stranger().post("/api/v1/join", request)
}

/// The link names the server's real address and not the default one, because it is opened by a device that does not
/// know it.
#[test]
fn the_link_leads_to_where_the_server_is() {
    let (_folder, server) = server();
    let out = String::from_utf8(server.run(&["join"]).stdout).unwrap();
    assert!(out.contains(&format!("{}/join#code=", server.url)), "{out}");
}

#[test]
fn a_code_works_once_however_it_is_typed() {
    let (_folder, server) = server();
    let device = Pen::new(1).device;
    assert_eq!(
        join(&server, &request("WRNG-CODE", device)).refusal(403),
        "code_unknown"
    );
    assert_eq!(join(&server, &request("", device)).refusal(403), "code_unknown");
    let code = server.code();
    let typed = format!(" {} ", code.to_lowercase().replace('-', " "));
    let answer: JoinAnswer = join(&server, &request(&typed, device)).read(200);
    assert_eq!((answer.letters.as_str(), answer.token.len()), ("A", 64));
    assert_eq!(
        join(&server, &request(&code, Pen::new(2).device)).refusal(403),
        "code_unknown"
    );
}

#[test]
fn an_old_code_says_that_it_is_old() {
    let (_folder, server) = server();
    let code = server.code();
    // The expiry of the code is changed in the database, so that the test need not wait ten minutes.
    tokio::runtime::Runtime::new().unwrap().block_on(async {
        let store = DataFolder::at(&server.data).unwrap().open_store().await.unwrap();
        let hash = SecretDigest(Sha256::digest(typed(&code)).into());
        let mut tx = store.begin(TxMode::Write).await.unwrap();
        let mut row = tx.join_code(&hash).await.unwrap().unwrap();
        row.expires = UnixMs(row.expires.0 - 600_001);
        tx.put_join_code(&hash, &row).await.unwrap();
        tx.commit().await.unwrap();
        store.close().await;
    });
    assert_eq!(
        join(&server, &request(&code, Pen::new(1).device)).refusal(410),
        "code_expired"
    );
}

#[test]
fn a_device_of_another_shop_is_sent_away_and_the_code_stays_good() {
    let (_folder, server) = server();
    let device = Pen::new(1).device;
    let code = server.code();
    let stray = JoinRequest {
        shop: Some(Uuid::from_u128(9)),
        ..request(&code, device)
    };
    assert_eq!(join(&server, &stray).refusal(409), "other_shop");
    let answer: JoinAnswer = join(&server, &request(&code, device)).read(200);
    let again = JoinRequest {
        shop: Some(answer.shop),
        ..request(&server.code(), device)
    };
    let known = server.stranger().with_token(answer.token);
    let answer_again: JoinAnswer = known.post("/api/v1/join", &again).read(200);
    assert_eq!(answer_again.shop, answer.shop);
}

#[test]
fn letters_are_never_given_twice_and_a_device_keeps_its_own() {
    let (_folder, server) = server_with(&["--limit-join", "1000"]);
    let letters = |number| {
        let answer: JoinAnswer = join(&server, &request(&server.code(), Pen::new(number).device)).read(200);
        (answer.letters, answer.token)
    };
    let client = |token: &str| server.stranger().with_token(token);
    let (first, old) = letters(1);
    let given: BTreeSet<_> = (2..=28)
        .map(|number| letters(number).0)
        .chain([first.clone()])
        .collect();
    assert_eq!(given.len(), 28);
    assert!(given.contains("Z") && given.contains("AB"));
    let again = request(&server.code(), Pen::new(1).device);
    let again: JoinAnswer = client(&old).post("/api/v1/join", &again).read(200);
    assert_eq!(again.letters, first);
    assert_eq!(client(&old).ask_status().refusal(401), "token_revoked");
    assert_eq!(client(&again.token).ask_status().status, 200);
}

#[test]
fn a_joined_device_issues_codes_lists_devices_and_shuts_one_out() {
    let (_folder, server) = server();
    let (mut one, two) = (Pen::new(1), Pen::new(2));
    let first = server.join(one.device);
    let code: JoinCode = first.post("/api/v1/join-codes", &()).read(201);
    let answer: JoinAnswer = join(&server, &request(&code.code, two.device)).read(200);
    let second = server.stranger().with_token(answer.token);

    let job = one.whole_job(b"");
    first.push_all(&job.entries);
    let page: PullAnswer = second.pull(None).read(200);
    second.pull(Some(page.cursor));
    let listed = || first.devices();
    eventually("the list shows how far the second device has read", || {
        listed()[1].seq == page.cursor.seq
    });
    assert_eq!(listed()[0].letters, "A");

    let out = server.run(&["devices", "revoke", "b"]);
    assert!(out.status.success());
    assert_eq!(second.pull(None).refusal(401), "token_revoked");
    assert!(listed()[1].revoked.is_some());
    // After joining again it can push what it had not sent.
    let back = server.join(two.device);
    back.push_all(&Pen::new(2).whole_job(b"").entries);
    assert!(listed()[1].revoked.is_none());
}

#[test]
fn the_name_of_a_device_changes_nothing_in_the_terminal() {
    let (_folder, server) = server();
    let named = JoinRequest {
        name: "Tablet\u{1b}]0;title\u{7}\u{9b}2J\r\nB   and a line more".to_owned(),
        ..request(&server.code(), Pen::new(1).device)
    };
    assert_eq!(join(&server, &named).status, 200);
    let commands: [&[&str]; 2] = [&["devices"], &["devices", "revoke", "A"]];
    for args in commands {
        let out = String::from_utf8(server.run(args).stdout).unwrap();
        let line = out.strip_suffix('\n').unwrap();
        assert!(line.contains("Tablet\u{fffd}]0;title"), "{out:?}");
        assert!(!line.contains(char::is_control), "{out:?}");
    }
}

#[test]
fn secrets_are_stored_as_hashes_only_and_logs_name_nobody() {
    let (_folder, server) = server();
    let code = server.code();
    let mut pen = Pen::new(1);
    let answer: JoinAnswer = join(&server, &request(&code, pen.device)).read(200);
    let device = server.stranger().with_token(&answer.token);
    let job = pen.whole_job(b"");
    device.push_all(&job.entries);
    assert_eq!(device.get(&format!("/card/{}", job.secret)).status, 200);
    let data = server.data.clone();
    let log = server.log();
    server.stop();
    let bytes = std::fs::read(data.join("waxend.db")).unwrap();
    for secret in [answer.token.as_str(), code.as_str(), &code.replace('-', "")] {
        assert!(
            !bytes
                .windows(secret.len())
                .any(|window| window == secret.as_bytes())
        );
    }
    assert!(log.contains("entries pushed"));
    for private in [
        answer.token.as_str(),
        &code,
        &job.secret,
        "Ada Example",
        "Counter tablet",
    ] {
        assert!(!log.contains(private), "{private} in {log}");
    }
}
