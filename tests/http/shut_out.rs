//! A device that is shut out, for example a stolen phone, does not get in again by itself.

use std::path::Path;

use shared::log::DeviceId;
use shared::sync::Problem;
use shared::sync::messages::{JoinAnswer, JoinCode, JoinRequest};
use support::running::{Answer, Client, Server, run};
use support::sample::Pen;

use crate::{WAXEND, change, server};

fn id(number: u32) -> DeviceId {
    Pen::new(number).device
}

/// Asks to join, with the token that `client` has, if it has one.
fn join(client: &Client, code: &str, device: DeviceId) -> Answer {
    let request = JoinRequest {
        code: code.to_owned(),
        device,
        name: "Counter tablet".to_owned(),
        shop: None,
    };
    client.post("/api/v1/join", &request)
}

/// A join code that this device asks for.
fn minted(by: &Client) -> String {
    by.post("/api/v1/join-codes", &()).read::<JoinCode>(201).code
}

/// Restores a backup in the place of the stopped shop in the data folder.
fn restore(data: &Path, backup: &Path) {
    let out = run(WAXEND, data, &["restore", "--replace", backup.to_str().unwrap()]);
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
}

#[test]
fn the_join_codes_of_a_device_are_void_once_it_is_shut_out() {
    let (_folder, server) = server();
    let (first, stolen) = (server.join(id(1)), server.join(id(2)));
    let (void, own) = (minted(&stolen), minted(&first));
    let printed = server.code();
    assert_eq!(first.shut_out(&id(2).to_string()).status, 200);
    let stranger = server.stranger();
    for device in [id(2), id(3)] {
        assert_eq!(join(&stranger, &void, device).refusal(403), "code_unknown");
    }
    assert_eq!(
        stolen.post("/api/v1/join-codes", &()).refusal(401),
        "token_revoked"
    );
    // Those of other devices and of the command line stay good, also for the device that was shut out.
    assert_eq!(join(&stranger, &own, id(3)).status, 200);
    assert_eq!(join(&stranger, &printed, id(2)).status, 200);
}

#[test]
fn a_revoked_token_stays_revoked_whatever_copy_comes_back() {
    let (folder, server) = server();
    let (first, stolen) = (server.join(id(1)), server.join(id(2)));
    assert_eq!(stolen.ask_status().status, 200);
    let minted = minted(&stolen);
    let backup = folder.path().join("shop.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    let data = server.data.clone();
    server.stop();
    let older = std::fs::read(data.join("waxend.db")).unwrap();

    let server = Server::start(WAXEND, &data, &[]);
    assert_eq!(first.at(&server).shut_out(&id(2).to_string()).status, 200);
    server.stop();
    let stays_out = |server: &Server| {
        assert_eq!(stolen.at(server).ask_status().refusal(401), "token_revoked");
        let stranger = server.stranger();
        assert_eq!(join(&stranger, &minted, id(3)).refusal(403), "code_unknown");
        let listed = first.at(server).devices();
        assert!(listed[0].revoked.is_none() && listed[1].revoked.is_some());
    };

    restore(&data, &backup);
    let server = Server::start(WAXEND, &data, &[]);
    stays_out(&server);
    server.stop();

    // The file of the database, put back without `waxend restore`.
    std::fs::write(data.join("waxend.db"), older).unwrap();
    let server = Server::start(WAXEND, &data, &[]);
    stays_out(&server);
    let ledger = std::fs::read_to_string(data.join("erased.jsonl")).unwrap();
    assert!(!ledger.contains(stolen.token.as_deref().unwrap()));
    assert_eq!(ledger.matches("revoked").count(), 1, "{ledger}");
    // It can still be let in again.
    assert_eq!(join(&server.stranger(), &server.code(), id(2)).status, 200);
}

/// A server of an earlier version has revoked the token in its database only.
#[test]
fn what_an_earlier_version_has_revoked_stays_revoked_too() {
    let (folder, server) = server();
    let (first, stolen) = (server.join(id(1)), server.join(id(2)));
    let backup = folder.path().join("shop.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    assert_eq!(first.shut_out(&id(2).to_string()).status, 200);
    let data = server.data.clone();
    server.stop();
    std::fs::remove_file(data.join("erased.jsonl")).unwrap();
    Server::start(WAXEND, &data, &[]).stop();

    restore(&data, &backup);
    let server = Server::start(WAXEND, &data, &[]);
    assert_eq!(stolen.at(&server).ask_status().refusal(401), "token_revoked");
    assert_eq!(first.at(&server).ask_status().status, 200);
}

#[test]
fn nobody_joins_under_the_id_of_a_device_that_has_access() {
    let (_folder, server) = server();
    let (owner, thief) = (server.join(id(1)), server.join(id(2)));
    let before = owner.devices();
    let code = minted(&thief);
    // Not without a token, nor with that of another device, nor with one that the server does not know.
    for client in [
        &server.stranger(),
        &thief,
        &server.stranger().with_token("ab".repeat(32)),
    ] {
        assert_eq!(join(client, &code, id(1)).refusal(409), "device_taken");
    }
    assert_eq!(
        owner.devices(),
        before,
        "the owner has its name, its letters and its token"
    );

    // The device itself can: it sends its token. The code was not used up.
    let again: JoinAnswer = join(&owner, &code, id(1)).read(200);
    assert_eq!(again.letters, "A");
    assert_eq!(owner.ask_status().refusal(401), "token_revoked");
    let owner = server.stranger().with_token(again.token);
    assert_eq!(owner.ask_status().status, 200);

    // A device that has lost its token is shut out first, also on the command line.
    assert!(server.run(&["devices", "revoke", "A"]).status.success());
    let again: JoinAnswer = join(&server.stranger(), &server.code(), id(1)).read(200);
    assert_eq!(again.letters, "A");
}

/// The answer to the first request was lost on its way, so the device sends the same again.
#[test]
fn the_same_device_joins_with_the_same_code_until_its_token_was_used() {
    let (_folder, server) = server();
    let (stranger, code) = (server.stranger(), server.code());
    let lost: JoinAnswer = join(&stranger, &code, id(1)).read(200);
    assert_eq!(join(&stranger, &code, id(2)).refusal(403), "code_unknown");
    let answer: JoinAnswer = join(&stranger, &code, id(1)).read(200);
    assert_eq!(answer.letters, lost.letters);
    let client = |answer: &JoinAnswer| server.stranger().with_token(answer.token.clone());
    assert_eq!(client(&lost).ask_status().refusal(401), "token_revoked");
    assert_eq!(client(&answer).ask_status().status, 200);
    assert_eq!(join(&stranger, &code, id(1)).refusal(403), "code_unknown");

    // Nor does it bring back a device that was shut out before it sent anything.
    let code = server.code();
    assert_eq!(join(&stranger, &code, id(3)).status, 200);
    assert_eq!(client(&answer).shut_out(&id(3).to_string()).status, 200);
    assert_eq!(join(&stranger, &code, id(3)).refusal(403), "code_unknown");
}

#[test]
fn a_token_ends_half_a_year_after_its_last_request() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let (device, other) = (server.join(pen.device), server.join(id(2)));
    let job = pen.whole_job(b"");
    device.push_all(&job.entries);
    assert_eq!(other.ask_status().status, 200);
    let shift = "UPDATE tokens SET seen = seen - 180 * 86400000 + 60000";
    assert_eq!(change(&server.data, shift), 2);
    assert_eq!(device.ask_status().status, 200, "a minute before");
    assert_eq!(
        change(
            &server.data,
            "UPDATE tokens SET seen = seen - 180 * 86400000 - 60000"
        ),
        2
    );
    // Two requests: the second finds the token revoked by the first.
    for _ in 0..2 {
        let problem: Problem = device.ask_status().read(401);
        assert_eq!(problem.code.as_str(), "token_revoked");
        assert!(problem.message.contains("half a year"), "{problem:?}");
        assert!(problem.message.contains("join again"), "{problem:?}");
    }
    // It joins again like one that was shut out, and all is as it was.
    let answer: JoinAnswer = join(&server.stranger(), &server.code(), pen.device).read(200);
    assert_eq!(answer.letters, "A");
    let device = device.with_token(answer.token);
    assert_eq!(device.pull_all().0.len(), job.entries.len());
    // So does one that was not even told.
    assert_eq!(join(&server.stranger(), &server.code(), id(2)).status, 200);
}
