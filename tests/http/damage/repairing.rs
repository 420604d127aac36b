//! `waxend check --repair`: what is derived is made anew, and devices are asked for what is damaged.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Output;

use shared::log::{ReceivedEntry, UnixMs};
use shared::sync::messages::{MissingBlobsAnswer, PullAnswer};
use support::running::{Client, Server, run};
use support::sample::{Pen, picture};

use super::{DAMAGE, delete_two_hundred, execute, scratch, shop_of, wrong};
use crate::restoring::offer_everything;
use crate::{WAXEND, change, server};

/// What damages entries in such a way that they have to be taken out, and how many in a shop of two jobs.
const TAKEN_OUT: [(&str, usize); 3] = [
    ("UPDATE entries SET body = replace(body, 'Ada', 'Eda')", 2),
    (
        "UPDATE entries SET device_seq = 0, sha256 = NULL WHERE seq = 3",
        1,
    ),
    ("UPDATE entries SET pushed_by = NULL WHERE seq = 4", 1),
];

pub(super) fn repair(data: &Path) -> Output {
    run(WAXEND, data, &["check", "--repair"])
}

pub(super) fn said(out: &Output) -> String {
    String::from_utf8_lossy(&out.stdout).into_owned()
}

#[tokio::test(flavor = "multi_thread")]
async fn what_is_derived_from_the_entries_is_made_anew() {
    for (damage, told) in DAMAGE {
        if TAKEN_OUT.iter().any(|(taken_out, _)| *taken_out == damage) {
            continue;
        }
        let folder = scratch();
        let data = folder.path().join("data");
        shop_of(2, false, &data).await;
        assert!(execute(&data, damage).await > 0, "{damage}");
        assert!(wrong(&data).await.contains(&told.to_owned()), "{damage}");
        let out = repair(&data);
        assert!(out.status.success(), "{damage}: {out:?}");
        assert!(said(&out).ends_with("All is well.\n"), "{damage}: {out:?}");
        assert_eq!(wrong(&data).await, Vec::<String>::new(), "{damage}");
        let again = repair(&data);
        assert!(!said(&again).contains("mended:"), "{damage}: {again:?}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn the_check_says_what_was_mended_and_a_sound_shop_stays_as_it_is() {
    let folder = scratch();
    let data = folder.path().join("data");
    shop_of(2, true, &data).await;
    let epoch = || text_of(&data, "SELECT hex(epoch) || seq FROM counter");
    let before = epoch().await;
    assert_eq!(
        said(&repair(&data)),
        "18 entries, 2 photographs and voice notes, 0 not yet arrived.\nAll is well.\n"
    );
    assert_eq!(epoch().await, before, "devices need not read anything again");
    execute(&data, "UPDATE subjects SET first_seq = -5 WHERE first_seq = 3").await;
    execute(&data, "UPDATE blobs SET media_type = 'image/png', bytes = 7").await;
    let told = said(&repair(&data));
    assert!(
        told.contains("mended: photograph ") && told.contains(" is noted as it is\n"),
        "{told}"
    );
    assert!(told.ends_with("All is well.\n"), "{told}");
    assert_ne!(epoch().await, before);
}

/// The result of a query for one text.
async fn text_of(data: &Path, sql: &'static str) -> String {
    let mut database = super::connect(&data.join("waxend.db")).await;
    let found = sqlx::query_scalar(sql).fetch_one(&mut database).await.unwrap();
    sqlx::Connection::close(database).await.unwrap();
    found
}

#[tokio::test(flavor = "multi_thread")]
async fn entries_that_are_gone_are_told_and_asked_for() {
    let folder = scratch();
    let data = folder.path().join("data");
    shop_of(30, false, &data).await;
    delete_two_hundred(&data).await;
    let before = text_of(&data, "SELECT hex(epoch) FROM counter").await;
    let out = repair(&data);
    assert_eq!(out.status.code(), Some(1), "{out:?}");
    assert!(
        said(&out).contains("WRONG: entries that are gone: 200;"),
        "{out:?}"
    );
    assert_ne!(text_of(&data, "SELECT hex(epoch) FROM counter").await, before);
    assert_eq!(wrong(&data).await, Vec::<String>::new());
}

/// A shop with a joined device, the entries that it holds, and its pictures.
pub(super) struct Bench {
    _folder: tempfile::TempDir,
    pub(super) data: PathBuf,
    pub(super) device: Client,
    pub(super) held: Vec<ReceivedEntry>,
}

/// The server has stopped.
pub(super) fn bench() -> Bench {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    for number in 0..2 {
        let bytes = picture(number, 3_000);
        device.push_all(&pen.whole_job(&bytes).entries);
        device.put_picture(&bytes);
    }
    let (held, _) = device.pull_all();
    let data = server.data.clone();
    server.stop();
    Bench {
        _folder: folder,
        data,
        device,
        held,
    }
}

/// The files that a repair has put aside.
pub(super) fn put_aside(data: &Path) -> Vec<PathBuf> {
    let names = fs::read_dir(data).unwrap().map(|entry| entry.unwrap().path());
    let is_aside = |path: &PathBuf| path.to_string_lossy().contains("waxend.db.damaged-");
    names.filter(is_aside).collect()
}

#[test]
fn a_damaged_entry_is_kept_aside_and_comes_back_from_a_device() {
    for (damage, many) in TAKEN_OUT {
        let bench = bench();
        assert!(change(&bench.data, damage) > 0);
        let out = repair(&bench.data);
        assert_eq!(out.status.code(), Some(1), "{out:?}");
        let told = format!("taken out: damaged entries: {many}.");
        assert!(said(&out).contains(&told), "{out:?}");
        assert!(said(&out).contains("no device has brought again"), "{out:?}");
        let aside = put_aside(&bench.data);
        let content = fs::read_to_string(&aside[0]).unwrap();
        assert_eq!((aside.len(), content.lines().count()), (1, many));

        let server = Server::start(WAXEND, &bench.data, &[]);
        let device = bench.device.at(&server);
        assert_eq!(device.pull_all().0.len(), bench.held.len() - many);
        let entries: Vec<_> = bench.held.iter().map(|held| held.entry.clone()).collect();
        let times: Vec<UnixMs> = bench.held.iter().map(|held| held.received.unwrap()).collect();
        assert_eq!(offer_everything(&device, &entries, &times), many);
        let (now, _) = device.pull_all();
        assert_eq!(now.len(), bench.held.len());
        assert!(bench.held.iter().all(|held| now.contains(held)));
        server.stop();
        assert!(run(WAXEND, &bench.data, &["check"]).status.success());
        assert!(repair(&bench.data).status.success());
        assert!(put_aside(&bench.data).is_empty());
    }
}

#[test]
fn a_damaged_photograph_is_asked_for_and_the_damaged_file_stays_until_it_comes() {
    let bench = bench();
    let bytes = picture(1, 3_000);
    let name = support::sample::sha256(&bytes);
    let photo = bench
        .data
        .join(format!("photos/{}/{}/{name}", &name[..2], &name[2..4]));
    let mut flawed = bytes.clone();
    flawed[700] ^= 1;
    fs::write(&photo, &flawed).unwrap();
    let out = repair(&bench.data);
    let told = said(&out);
    assert!(out.status.success(), "{out:?}");
    assert!(
        told.contains(&format!("photograph {name} is asked for from the devices")),
        "{told}"
    );
    assert!(told.contains(&format!("not yet arrived: {name}")), "{told}");
    assert_eq!(fs::read(&photo).unwrap(), flawed, "nothing else is left of it");

    let server = Server::start(WAXEND, &bench.data, &[]);
    let device = bench.device.at(&server);
    let page: PullAnswer = device.pull(None).read(200);
    assert_eq!(page.wanted, std::slice::from_ref(&name));
    let asked = serde_json::json!({ "hashes": [name] });
    let answer: MissingBlobsAnswer = device.post("/api/v1/blobs/missing", &asked).read(200);
    assert_eq!(answer.missing, std::slice::from_ref(&name));
    device.put_picture(&bytes);
    let page: PullAnswer = device.pull(None).read(200);
    assert!(page.wanted.is_empty());
    assert!(server.run(&["check"]).status.success());
}

#[test]
fn a_repair_waits_until_no_server_runs() {
    let (_folder, server) = server();
    let out = server.run(&["check", "--repair"]);
    assert!(!out.status.success());
    assert!(
        String::from_utf8_lossy(&out.stderr).contains("already runs"),
        "{out:?}"
    );
    let data = server.data.clone();
    server.stop();
    assert!(repair(&data).status.success());
}

#[test]
fn a_damaged_ledger_is_told_and_mended() {
    let bench = bench();
    let ledger = bench.data.join("erased.jsonl");
    let sound = fs::read(&ledger).unwrap();
    fs::write(&ledger, [&sound[..], &b"{\"blob\":\"aa\"\xff}\n"[..]].concat()).unwrap();
    let checked = run(WAXEND, &bench.data, &["check"]);
    assert_eq!(checked.status.code(), Some(1));
    assert!(
        said(&checked).contains("lines of the erasure ledger"),
        "{checked:?}"
    );
    assert!(repair(&bench.data).status.success());
    assert_eq!(fs::read(&ledger).unwrap(), sound);
    assert!(run(WAXEND, &bench.data, &["check"]).status.success());
}

#[test]
fn a_database_that_cannot_be_read_is_left_as_it_is() {
    let bench = bench();
    let database = bench.data.join("waxend.db");
    let mut bytes = fs::read(&database).unwrap();
    // All pages but the first four.
    bytes[4 * 4096..].fill(0xa5);
    fs::write(&database, &bytes).unwrap();
    let out = repair(&bench.data);
    assert!(!out.status.success(), "{out:?}");
    assert!(!said(&out).contains("All is well"), "{out:?}");
    assert_eq!(fs::read(&database).unwrap(), bytes);
}
