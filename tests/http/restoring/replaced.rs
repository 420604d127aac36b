//! What a restore replaces: the database is deleted, or kept until the next erasure; photographs that are intact stay.

use std::fs;
use std::path::{Path, PathBuf};

use server::data::DataFolder;
use server::disk::Disk;
use server::restoring::settle;
use shared::log::body::Erased;
use shared::log::{Body, SubjectKind, UnixMs};
use shared::sync::messages::PullAnswer;
use support::running::{Client, Server, eventually, run};
use support::sample::{Pen, WholeJob, picture, sha256};

use super::offer_everything;
use crate::erasure::at_rest;
use crate::shut_out::id;
use crate::{WAXEND, server};

/// A customer's name.
const NAME: &[u8] = b"Ada Example";

/// A shop and its backup. The server has stopped.
struct Bench {
    folder: tempfile::TempDir,
    data: PathBuf,
    backup: PathBuf,
    device: Client,
    pen: Pen,
    job: WholeJob,
}

fn bench() -> Bench {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    server.join(id(2));
    let bytes = picture(1, 3_000);
    let job = pen.whole_job(&bytes);
    device.push_all(&job.entries);
    device.put_picture(&bytes);
    let backup = folder.path().join("shop.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    let data = server.data.clone();
    server.stop();
    Bench {
        folder,
        data,
        backup,
        device,
        pen,
        job,
    }
}

impl Bench {
    /// Restores the backup. Returns what is said.
    fn restore(&self, flags: &[&str]) -> String {
        let file = self.backup.to_str().unwrap();
        let args = [&["restore", "--replace", file][..], flags].concat();
        let out = run(WAXEND, &self.data, &args);
        assert!(out.status.success(), "{out:?}");
        String::from_utf8(out.stdout).unwrap()
    }

    /// Erases the customer.
    fn erase(&mut self, server: &Server) {
        let erased = Body::Erased(Erased::default());
        let entry = self.pen.entry(SubjectKind::Customer, self.job.customer, &erased);
        self.device.at(server).push_all(&[entry]);
    }

    /// The databases that were put aside, with their write-ahead logs.
    fn replaced(&self) -> Vec<PathBuf> {
        let files = fs::read_dir(&self.data)
            .unwrap()
            .map(|entry| entry.unwrap().path());
        let is_replaced = |path: &PathBuf| path.to_string_lossy().contains(".replaced-");
        files.filter(is_replaced).collect()
    }
}

#[test]
fn a_name_that_is_erased_after_a_restore_is_nowhere_in_the_data_folder() {
    let mut bench = bench();
    bench.restore(&[]);
    assert_eq!(bench.replaced(), Vec::<PathBuf>::new());
    let server = Server::start(WAXEND, &bench.data, &[]);
    assert!(at_rest(&bench.data, NAME));
    bench.erase(&server);
    assert!(!at_rest(&bench.data, NAME));
    server.stop();
    assert!(!at_rest(&bench.data, NAME));
}

#[test]
fn a_replaced_database_is_kept_if_that_is_said_and_deleted_by_the_next_erasure() {
    let mut bench = bench();
    let said = bench.restore(&["--keep-replaced"]);
    assert!(said.contains("Names that were erased may stand in it."), "{said}");
    let kept = bench.replaced();
    assert!(kept.len() == 1 && at_rest(&bench.data, NAME), "{kept:?}");
    let checked = run(WAXEND, &bench.data, &["check"]);
    let told = format!("put aside until the next erasure: {}", kept[0].display());
    assert!(checked.status.success());
    assert!(
        String::from_utf8_lossy(&checked.stdout).contains(&told),
        "{checked:?}"
    );
    // Another restore does not touch it.
    bench.restore(&[]);
    assert_eq!(bench.replaced(), kept);
    let server = Server::start(WAXEND, &bench.data, &[]);
    let device = bench.device.at(&server);
    assert_eq!(device.shut_out(&id(2).to_string()).status, 200);
    assert_eq!(bench.replaced(), kept);
    bench.erase(&server);
    assert_eq!(bench.replaced(), Vec::<PathBuf>::new());
    assert!(!at_rest(&bench.data, NAME));
}

#[test]
fn a_database_that_a_named_ledger_erases_from_is_not_kept() {
    let mut bench = bench();
    let other = bench.folder.path().join("other");
    let copied = std::process::Command::new("cp")
        .arg("-a")
        .args([&bench.data, &other])
        .status();
    assert!(copied.unwrap().success());
    let server = Server::start(WAXEND, &other, &[]);
    bench.erase(&server);
    server.stop();
    let ledger = other.join("erased.jsonl");
    bench.restore(&["--keep-replaced", "--ledger", ledger.to_str().unwrap()]);
    assert_eq!(bench.replaced(), Vec::<PathBuf>::new());
    assert!(!at_rest(&bench.data, NAME));
}

/// The path of a photograph in a photo folder.
fn place(photos: &Path, bytes: &[u8]) -> PathBuf {
    let name = sha256(bytes);
    photos.join(&name[..2]).join(&name[2..4]).join(name)
}

#[test]
fn an_intact_photograph_stays_where_that_in_the_backup_is_damaged() {
    let bench = bench();
    let bytes = picture(1, 3_000);
    let mut backup = fs::read(&bench.backup).unwrap();
    let at = backup
        .windows(500)
        .position(|part| part == &bytes[..500])
        .unwrap();
    backup[at + 700] ^= 1;
    fs::write(&bench.backup, &backup).unwrap();
    let said = bench.restore(&[]);
    assert!(said.contains("the intact one in the data folder stays"), "{said}");
    let photo = place(&bench.data.join("photos"), &bytes);
    assert_eq!(fs::read(&photo).unwrap(), bytes);
    assert!(run(WAXEND, &bench.data, &["check"]).status.success());

    // Where both are damaged, nothing is changed.
    fs::write(&photo, &bytes[..2_000]).unwrap();
    let args = ["restore", "--replace", bench.backup.to_str().unwrap()];
    let refused = run(WAXEND, &bench.data, &args);
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(
        !refused.status.success() && said.contains("nothing was changed"),
        "{said}"
    );
    // From a sound backup it comes back.
    backup[at + 700] ^= 1;
    fs::write(&bench.backup, &backup).unwrap();
    bench.restore(&[]);
    assert_eq!(fs::read(&photo).unwrap(), bytes);
}

#[test]
fn a_photograph_that_is_damaged_after_it_was_unpacked_replaces_no_intact_one() {
    let folder = tempfile::tempdir().unwrap();
    let data = DataFolder::at(folder.path()).unwrap();
    let unpacked = folder.path().join("restored-5/photos");
    let [stands, comes] = [1, 2].map(|number| picture(number, 2_000));
    // One is intact where it stands, the other where it was unpacked.
    for (photos, intact) in [(&data.photos(), &stands), (&unpacked, &comes)] {
        for bytes in [&stands, &comes] {
            let photo = place(photos, bytes);
            fs::create_dir_all(photo.parent().unwrap()).unwrap();
            let content = if bytes == intact {
                &bytes[..]
            } else {
                &bytes[..1_000]
            };
            fs::write(photo, content).unwrap();
        }
    }
    fs::write(folder.path().join("restored-5/waxend.db"), b"rows").unwrap();
    assert!(settle(&data, &Disk::default()).unwrap());
    for bytes in [&stands, &comes] {
        assert_eq!(&fs::read(place(&data.photos(), bytes)).unwrap(), bytes);
    }
}

#[test]
fn a_photograph_that_came_after_the_backup_need_not_be_sent_again() {
    let mut bench = bench();
    let server = Server::start(WAXEND, &bench.data, &[]);
    let device = bench.device.at(&server);
    let bytes = picture(2, 3_000);
    let later = bench.pen.whole_job(&bytes).entries;
    device.push_all(&later);
    let name = device.put_picture(&bytes);
    let (held, _) = device.pull_all();
    server.stop();
    bench.restore(&[]);

    let server = Server::start(WAXEND, &bench.data, &[]);
    let device = bench.device.at(&server);
    let entries: Vec<_> = held.iter().map(|held| held.entry.clone()).collect();
    let times: Vec<UnixMs> = held.iter().map(|held| held.received.unwrap()).collect();
    assert_eq!(offer_everything(&device, &entries, &times), later.len());
    server.stop();
    let server = Server::start(WAXEND, &bench.data, &[]);
    let device = bench.device.at(&server);
    eventually("the photograph is found", || {
        device.get(&format!("/api/v1/blobs/{name}")).status == 200
    });
    let page: PullAnswer = device.pull(None).read(200);
    assert!(page.wanted.is_empty(), "{:?}", page.wanted);
}
