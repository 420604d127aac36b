//! `kill -9` under load: everything that was acknowledged is there after the restart.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};

use shared::log::EntryId;
use shared::sync::messages::{PushAnswer, PushOutcome, PushRequest};
use support::running::{Client, Server, eventually};
use support::sample::{Pen, picture, sha256, unsent};

use crate::{WAXEND, server};

/// How often the server is killed; `WAXEND_KILLS` sets another number, as `make kills` does.
fn kills() -> u32 {
    match std::env::var("WAXEND_KILLS") {
        Ok(kills) => kills.parse().expect("WAXEND_KILLS is a number"),
        Err(_) => 20,
    }
}

/// What the server has acknowledged.
#[derive(Default)]
struct Promised {
    entries: Mutex<BTreeSet<EntryId>>,
    blobs: Mutex<BTreeSet<String>>,
    answers: AtomicUsize,
}

/// Pushes entries until the server is killed.
fn push_until_gone(client: &Client, pen: &mut Pen, promised: &Promised) {
    loop {
        let entries = pen.whole_job(b"").entries;
        let body = serde_json::to_vec(&PushRequest {
            entries: unsent(&entries),
            pushed: None,
        })
        .unwrap();
        let Some(answer) = client.try_send("POST", "/api/v1/entries", &[], &body) else {
            return;
        };
        let answer: PushAnswer = answer.read(200);
        assert!(
            answer
                .results
                .iter()
                .all(|taken| matches!(taken, PushOutcome::Accepted { .. }))
        );
        promised
            .entries
            .lock()
            .unwrap()
            .extend(entries.iter().map(|entry| entry.id));
        promised.answers.fetch_add(1, Ordering::SeqCst);
    }
}

/// Sends pictures until the server is killed.
fn put_until_gone(client: &Client, round: u32, promised: &Promised) {
    for number in 0.. {
        let bytes = picture(round * 10_000 + number, 40_000);
        let hash = sha256(&bytes);
        let path = format!("/api/v1/blobs/{hash}");
        let Some(answer) = client.try_send("PUT", &path, &[("content-type", "image/jpeg")], &bytes) else {
            return;
        };
        assert_eq!(answer.status, 201, "{}", answer.text());
        promised.blobs.lock().unwrap().insert(hash);
        promised.answers.fetch_add(1, Ordering::SeqCst);
    }
}

#[test]
fn nothing_acknowledged_is_missing_however_often_the_server_is_killed() {
    let kills = kills();
    let (folder, first) = server();
    let data = folder.path().join("data");
    let mut pens = [Pen::new(1), Pen::new(2)];
    let clients: Vec<_> = pens.iter().map(|pen| first.join(pen.device)).collect();
    first.kill();
    let promised = Arc::new(Promised::default());
    for round in 0..kills {
        let server = Server::start(
            WAXEND,
            &data,
            &["--limit-device", "1000000", "--limit-address", "1000000"],
        );
        let before = promised.answers.load(Ordering::SeqCst);
        std::thread::scope(|scope| {
            for (client, pen) in clients.iter().zip(&mut pens) {
                let (client, promised) = (client.at(&server), &promised);
                scope.spawn(move || push_until_gone(&client, pen, promised));
            }
            let (client, promised) = (clients[0].at(&server), &promised);
            scope.spawn(move || put_until_gone(&client, round, promised));
            // The kill comes after a different number of answers in each round: from 1 to 17 in every twenty rounds.
            let enough = before + 1 + (round as usize % 20) * 16 / 19;
            eventually("enough is acknowledged", || {
                promised.answers.load(Ordering::SeqCst) >= enough
            });
            server.kill();
        });
    }
    let server = Server::start(WAXEND, &data, &[]);
    let device = clients[0].at(&server);
    let held: BTreeSet<_> = device.pull_all().0.iter().map(|held| held.entry.id).collect();
    let promised_entries = promised.entries.lock().unwrap();
    assert!(promised_entries.len() > kills as usize);
    eprintln!(
        "{kills} kills, {} entries and {} photographs acknowledged, none missing",
        promised_entries.len(),
        promised.blobs.lock().unwrap().len()
    );
    assert!(
        promised_entries.is_subset(&held),
        "{} missing",
        promised_entries.difference(&held).count()
    );
    for hash in promised.blobs.lock().unwrap().iter() {
        let bytes = device.get(&format!("/api/v1/blobs/{hash}")).body;
        assert_eq!(sha256(&bytes), *hash);
    }
    drop(server);
    let checked = support::running::run(WAXEND, &data, &["check"]);
    assert!(
        checked.status.success(),
        "{}",
        String::from_utf8_lossy(&checked.stdout)
    );
}
