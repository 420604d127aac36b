//! A device that is shut out, for example a stolen phone, does not get in again by itself, and is given the proof with
//! which it deletes what it holds.

use std::path::Path;

use sha2::{Digest as _, Sha256};
use shared::log::DeviceId;
use shared::sync::messages::{JoinAnswer, JoinCode, JoinRequest, ShutOutProof, ShutOutQuestion, Status};
use shared::sync::{Cursor, Problem};
use support::running::{Answer, Client, Server, run};
use support::sample::{Pen, sha256};
use uuid::Uuid;

use crate::{WAXEND, age_tokens, server, server_with};

pub(super) fn id(number: u32) -> DeviceId {
    Pen::new(number).device
}

/// Asks to join, with the token that `client` has, if it has one.
pub(super) fn join(client: &Client, code: &str, device: DeviceId) -> Answer {
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
    let half_a_year = 180 * 86_400_000;
    assert_eq!(age_tokens(&server.data, half_a_year - 60_000), 2);
    assert_eq!(device.ask_status().status, 200, "a minute before");
    assert_eq!(age_tokens(&server.data, half_a_year + 60_000), 2);
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

/// What a device asks that was answered `token_revoked`.
fn question(number: u32, cursor: Cursor) -> ShutOutQuestion {
    ShutOutQuestion {
        device: id(number),
        nonce: Uuid::from_u128(0x5eed),
        cursor,
        pushed: None,
    }
}

fn ask(server: &Server, question: &ShutOutQuestion) -> Answer {
    server.stranger().post("/api/v1/shut-out", question)
}

/// Asks, and has to be answered as if there were nothing.
fn no_proof(server: &Server, question: &ShutOutQuestion) {
    assert_eq!(ask(server, question).refusal(404), "not_found", "{question:?}");
}

fn proofs(server: &Server, question: &ShutOutQuestion) -> Vec<String> {
    ask(server, question).read::<ShutOutProof>(200).proofs
}

/// The proof for the token of a device, computed as the description of the API says.
fn proof(device: &Client, question: &ShutOutQuestion, shop: Uuid) -> String {
    let at = |cursor: Cursor| format!("{} {} {}", cursor.epoch, cursor.seq, cursor.mark);
    let (id, nonce, cursor) = (question.device, question.nonce, at(question.cursor));
    let pushed = question.pushed.map_or_else(|| "-".to_owned(), at);
    let text = format!("waxend shut out\n{shop}\n{id}\n{nonce}\n{cursor}\n{pushed}\n");
    let token = Sha256::digest(device.token.as_deref().unwrap());
    sha256(&[&token[..], text.as_bytes()].concat())
}

/// Two devices of repairers, of which the second has pushed something, and the second's cursor.
fn two_devices(server: &Server) -> (Client, Client, Cursor) {
    let mut pen = Pen::new(2);
    let (first, second) = (server.join(id(1)), server.join(pen.device));
    second.push_all(&pen.whole_job(b"").entries);
    let (_, cursor) = second.pull_all();
    (first, second, cursor)
}

#[test]
fn a_device_that_was_shut_out_is_given_the_proof_for_its_token() {
    let (_folder, server) = server();
    let (first, stolen, cursor) = two_devices(&server);
    let shop = first.ask_status().read::<Status>(200).shop;
    assert_eq!(first.shut_out(&id(2).to_string()).status, 200);
    let asked = question(2, cursor);
    let nothing_read = Cursor {
        seq: 0,
        mark: Uuid::nil(),
        ..cursor
    };
    let questions = [
        ShutOutQuestion {
            nonce: Uuid::from_u128(0xface),
            ..asked
        },
        ShutOutQuestion {
            cursor: nothing_read,
            pushed: Some(cursor),
            ..asked
        },
        asked,
    ];
    let told = questions.each_ref().map(|asked| proofs(&server, asked));
    for (asked, told) in questions.iter().zip(&told) {
        assert_eq!(told, &[proof(&stolen, asked, shop)], "{asked:?}");
        // Nobody else's token gives it.
        assert_ne!(told, &[proof(&first, asked, shop)]);
    }
    assert!(told[0] != told[1] && told[1] != told[2], "{told:?}");
}

#[test]
fn every_token_that_a_device_was_given_has_its_proof() {
    let (_folder, server) = server();
    let (first, before, cursor) = two_devices(&server);
    let shop = first.ask_status().read::<Status>(200).shop;
    let again: JoinAnswer = join(&before, &server.code(), id(2)).read(200);
    let after = server.stranger().with_token(again.token);
    // On the command line, by which a stolen device is shut out too.
    assert!(server.run(&["devices", "revoke", "B"]).status.success());
    let asked = question(2, cursor);
    let newest_first = [&after, &before].map(|device| proof(device, &asked, shop));
    assert_eq!(proofs(&server, &asked), newest_first);
}

#[test]
fn a_device_that_nobody_has_shut_out_has_no_proof() {
    let (_folder, server) = server();
    let (first, second, cursor) = two_devices(&server);
    no_proof(&server, &question(9, cursor));
    no_proof(&server, &question(2, cursor));

    // It has joined again: its earlier token is revoked, but by nobody.
    let again: JoinAnswer = join(&second, &server.code(), id(2)).read(200);
    assert_eq!(second.ask_status().refusal(401), "token_revoked");
    no_proof(&server, &question(2, cursor));

    // It was shut out and has been let in again.
    let second = second.with_token(again.token);
    assert_eq!(first.shut_out(&id(2).to_string()).status, 200);
    assert_eq!(second.ask_status().refusal(401), "token_revoked");
    assert_eq!(proofs(&server, &question(2, cursor)).len(), 2);
    assert_eq!(join(&second, &server.code(), id(2)).status, 200);
    no_proof(&server, &question(2, cursor));

    // Its token has expired.
    assert!(age_tokens(&server.data, 181 * 86_400_000) >= 2);
    assert_eq!(first.ask_status().refusal(401), "token_revoked");
    no_proof(&server, &question(1, cursor));
}

#[test]
fn a_cursor_that_does_not_stand_has_no_proof() {
    let (_folder, server) = server();
    let (first, _, cursor) = two_devices(&server);
    assert_eq!(first.shut_out(&id(2).to_string()).status, 200);
    assert_eq!(proofs(&server, &question(2, cursor)).len(), 1);
    let (seq, other) = (cursor.seq, Uuid::from_u128(9));
    for wrong in [
        Cursor {
            mark: other,
            ..cursor
        },
        Cursor {
            epoch: other,
            ..cursor
        },
        Cursor {
            seq: seq + 1,
            ..cursor
        },
        Cursor {
            seq: seq - 1,
            ..cursor
        },
        Cursor { seq: 0, ..cursor },
    ] {
        no_proof(&server, &question(2, wrong));
        let pushed = ShutOutQuestion {
            pushed: Some(wrong),
            ..question(2, cursor)
        };
        no_proof(&server, &pushed);
    }
}

/// The device may have what the server has lost.
#[test]
fn a_server_set_back_gives_no_proof() {
    let (folder, server) = server();
    let backup = folder.path().join("shop.tar");
    let (first, second, early) = two_devices(&server);
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    second.push_all(&Pen::new(7).whole_job(b"").entries);
    let (_, late) = second.pull_all();
    assert_eq!(first.shut_out(&id(2).to_string()).status, 200);
    assert_eq!(proofs(&server, &question(2, late)).len(), 1);
    let data = server.data.clone();
    server.stop();
    restore(&data, &backup);
    let server = Server::start(WAXEND, &data, &[]);
    assert_eq!(second.at(&server).ask_status().refusal(401), "token_revoked");
    for cursor in [early, late] {
        no_proof(&server, &question(2, cursor));
    }
}

#[test]
fn questions_for_a_proof_are_limited_like_attempts_to_join() {
    let (_folder, server) = server_with(&["--limit-join", "3"]);
    let nowhere = Cursor {
        epoch: Uuid::nil(),
        seq: 0,
        mark: Uuid::nil(),
    };
    (0..3).for_each(|_| no_proof(&server, &question(1, nowhere)));
    let limited = ask(&server, &question(1, nowhere));
    assert_eq!(limited.refusal(429), "too_many");
    assert!(!limited.header("retry-after").is_empty());
}
