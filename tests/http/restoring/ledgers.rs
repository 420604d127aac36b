//! The erasure ledger that a restore has to obey: without a whole one it stops, or lets nobody in.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Output;

use shared::log::body::Erased;
use shared::log::{Body, SubjectId, SubjectKind};
use shared::sync::messages::JoinAnswer;
use support::running::{Client, Server, run};
use support::sample::Pen;

use crate::shut_out::{id, join};
use crate::{WAXEND, server};

/// A shop in which a customer was erased and a device shut out after a backup was made. The server has stopped.
struct Bench {
    folder: tempfile::TempDir,
    data: PathBuf,
    backup: PathBuf,
    device: Client,
    stolen: Client,
    customer: SubjectId,
}

fn bench() -> Bench {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let (device, stolen) = (server.join(pen.device), server.join(id(2)));
    let job = pen.whole_job(b"");
    device.push_all(&job.entries);
    let backup = folder.path().join("shop.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    let erased = Body::Erased(Erased::default());
    device.push_all(&[pen.entry(SubjectKind::Customer, job.customer, &erased)]);
    assert_eq!(device.shut_out(&id(2).to_string()).status, 200);
    let data = server.data.clone();
    server.stop();
    Bench {
        folder,
        data,
        backup,
        device,
        stolen,
        customer: job.customer,
    }
}

impl Bench {
    fn restore(&self, data: &Path, flags: &[&str]) -> Output {
        let file = self.backup.to_str().unwrap();
        run(
            WAXEND,
            data,
            &[&["restore", "--replace", file][..], flags].concat(),
        )
    }

    /// The restore has to be refused, and to change nothing.
    fn is_refused(&self, data: &Path, flags: &[&str]) {
        let database = || fs::read(data.join("waxend.db")).ok();
        let before = database();
        let out = self.restore(data, flags);
        let said = String::from_utf8_lossy(&out.stderr);
        assert!(!out.status.success(), "{flags:?}: {said}");
        for told in ["erasure ledger", "nothing was changed", "--without-ledger"] {
            assert!(said.contains(told), "{flags:?}: {said}");
        }
        assert!(database() == before, "{flags:?}");
    }

    /// What was erased is erased, and the device that was shut out stays out.
    fn obeys(&self, data: &Path) {
        let server = Server::start(WAXEND, data, &[]);
        let (held, _) = self.device.at(&server).pull_all();
        let mut own = held
            .iter()
            .filter(|held| held.entry.subject.id == self.customer && held.entry.kind != "erased");
        assert!(own.all(|held| held.entry.is_blank()));
        assert_eq!(self.stolen.at(&server).ask_status().refusal(401), "token_revoked");
        server.stop();
    }

    /// The ledger with one digit of a token's hash changed.
    fn flawed_ledger(&self) -> Vec<u8> {
        let mut ledger = fs::read(self.data.join("erased.jsonl")).unwrap();
        let token = b"\"token\":\"";
        let at = ledger.windows(token.len()).position(|part| part == token);
        let digit = &mut ledger[at.unwrap() + token.len()];
        *digit = if *digit == b'0' { b'1' } else { b'0' };
        ledger
    }
}

#[test]
fn a_restore_with_a_wrong_or_damaged_ledger_is_refused() {
    let bench = bench();
    let [empty, flawed, nowhere] =
        ["empty", "flawed.jsonl", "nowhere.jsonl"].map(|name| bench.folder.path().join(name));
    fs::write(&flawed, bench.flawed_ledger()).unwrap();
    for ledger in [&nowhere, &flawed, &bench.backup] {
        let flags = ["--ledger", ledger.to_str().unwrap()];
        bench.is_refused(&empty, &flags);
        bench.is_refused(&bench.data, &flags);
    }
    assert!(!empty.join("waxend.db").exists());
    let ledger = bench.data.join("erased.jsonl");
    let out = bench.restore(&empty, &["--ledger", ledger.to_str().unwrap()]);
    assert!(out.status.success(), "{out:?}");
    bench.obeys(&empty);
}

#[test]
fn a_restore_beside_a_lost_or_damaged_ledger_is_refused() {
    let bench = bench();
    let (ledger, copy) = (
        bench.data.join("erased.jsonl"),
        bench.folder.path().join("copy.jsonl"),
    );
    fs::copy(&ledger, &copy).unwrap();
    fs::write(&ledger, bench.flawed_ledger()).unwrap();
    bench.is_refused(&bench.data, &[]);
    fs::remove_file(&ledger).unwrap();
    bench.is_refused(&bench.data, &[]);
    let out = bench.restore(&bench.data, &["--ledger", copy.to_str().unwrap()]);
    assert!(out.status.success(), "{out:?}");
    bench.obeys(&bench.data);
}

#[test]
fn without_a_ledger_every_device_has_to_join_again() {
    let bench = bench();
    fs::remove_file(bench.data.join("erased.jsonl")).unwrap();
    let out = bench.restore(&bench.data, &["--without-ledger"]);
    assert!(out.status.success(), "{out:?}");
    assert!(String::from_utf8_lossy(&out.stdout).contains("Every device has to join again"));
    // Also after the server has started a second time, and after another restore.
    for _ in 0..2 {
        let server = Server::start(WAXEND, &bench.data, &[]);
        for device in [&bench.device, &bench.stolen] {
            assert_eq!(device.at(&server).ask_status().refusal(401), "token_revoked");
        }
        server.stop();
        assert!(bench.restore(&bench.data, &[]).status.success());
    }
    let server = Server::start(WAXEND, &bench.data, &[]);
    let answer: JoinAnswer = join(&server.stranger(), &server.code(), id(1)).read(200);
    assert_eq!(answer.letters, "A");
    let device = bench.device.at(&server).with_token(answer.token);
    assert!(!device.pull_all().0.is_empty());
    // Nobody was shut out by it: devices delete nothing.
    assert!(device.devices().iter().all(|row| row.revoked.is_none()));
}

#[test]
fn a_restore_into_an_empty_folder_without_a_ledger_says_what_may_be_back() {
    let bench = bench();
    let empty = bench.folder.path().join("empty");
    let out = bench.restore(&empty, &[]);
    assert!(out.status.success(), "{out:?}");
    let said = String::from_utf8_lossy(&out.stdout);
    assert!(said.contains("There was no erasure ledger"), "{said}");
}
