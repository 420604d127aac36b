//! A full disk: it is reported, nothing is stored by halves, and the first request after space was freed succeeds.

use std::fs::{self, File};
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output};

use serde_json::Value;
use shared::log::body::Erased;
use shared::log::{Body, DeviceId, SubjectKind};
use shared::sync::messages::{JoinCode, PushRequest};
use support::running::{Answer, Client, Server};
use support::sample::{Pen, picture, sha256, unsent};

use crate::WAXEND;

/// A server with its data folder and log on a small disk of their own, which is mounted in a mount namespace of the
/// server and goes with its process.
struct OnSmallDisk {
    folder: tempfile::TempDir,
    server: Server,
    /// The path of the disk through the server's own root folder in `/proc`.
    disk: PathBuf,
}

impl OnSmallDisk {
    fn start() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let disk = folder.path().join("disk");
        fs::create_dir(&disk).unwrap();
        let script = "mount -t tmpfs -o size=5m tmpfs \"$1\" && \
                      exec \"$2\" serve --data \"$1/data\" --listen 127.0.0.1:0 --reserve 0 2>> \"$1/log\"";
        let mut command = Command::new("unshare");
        command
            .args(["--map-root-user", "--mount", "sh", "-c", script, "sh"])
            .arg(&disk)
            .arg(WAXEND);
        let server = Server::launch(WAXEND, &disk, command);
        Self {
            // `exec` gives the server the id of the process that was started.
            disk: format!("/proc/{}/root{}", server.pid(), disk.display()).into(),
            folder,
            server,
        }
    }

    /// Runs another command of the binary on the same data, in the server's mount namespace.
    fn command(&self, args: &[&str]) -> Output {
        Command::new("nsenter")
            .args(["--user", "--mount", "--preserve-credentials", "--target"])
            .arg(self.server.pid().to_string())
            .arg(WAXEND)
            .args(args)
            .arg("--data")
            .arg(self.folder.path().join("disk/data"))
            .output()
            .unwrap()
    }

    fn run(&self, arg: &str) -> String {
        let out = self.command(&[arg]);
        assert!(out.status.success(), "{out:?}");
        String::from_utf8(out.stdout).unwrap()
    }

    fn join(&self, device: DeviceId) -> Client {
        let said = self.run("join");
        let code = said.lines().find_map(|line| line.strip_prefix("Join code: "));
        self.server.join_with(code.unwrap(), device)
    }

    fn filler(&self) -> PathBuf {
        self.disk.join("filler")
    }

    /// Fills the disk completely.
    fn fill(&self) {
        let mut filler = File::options()
            .create(true)
            .append(true)
            .open(self.filler())
            .unwrap();
        let mut step = 1 << 20;
        while step > 0 {
            if filler.write_all(&vec![b'x'; step]).is_err() {
                step /= 2;
            }
        }
    }

    fn free(&self) {
        fs::remove_file(self.filler()).unwrap();
    }

    /// Every file below the photo folder, including drafts.
    fn photos(&self) -> Vec<String> {
        let out = Command::new("find")
            .arg(self.disk.join("data/photos"))
            .args(["-type", "f", "-printf", "%f\n"])
            .output()
            .unwrap();
        let mut names: Vec<_> = String::from_utf8(out.stdout)
            .unwrap()
            .lines()
            .map(str::to_owned)
            .collect();
        names.sort();
        names
    }
}

/// Pushes one entry of 200 kB.
fn push_large(device: &Client, pen: &mut Pen) -> Answer {
    let subject = pen.subject();
    let entry = pen.raw(SubjectKind::Pair, subject, "note", &"x".repeat(200_000));
    let request = PushRequest {
        entries: unsent(&[entry]),
        pushed: None,
    };
    device.post("/api/v1/entries", &request)
}

#[test]
fn a_full_disk_is_said_plainly_and_harms_nothing() {
    let small = OnSmallDisk::start();
    let mut pen = Pen::new(1);
    let device = small.join(pen.device);
    let kept = device.put_picture(&picture(1, 1_000_000));
    let big = picture(2, 6_000_000);
    assert_eq!(
        device.put_blob(&sha256(&big), "image/jpeg", &big).refusal(507),
        "disk_full"
    );
    // The rest of the disk is filled with entries.
    let mut taken = 0;
    let refused = loop {
        let answer = push_large(&device, &mut pen);
        if answer.status != 200 {
            break answer;
        }
        taken += 1;
        assert!(taken < 100, "the disk never filled");
    };
    assert_eq!(refused.refusal(507), "disk_full");
    assert_eq!(
        device.pull_all().0.len(),
        taken,
        "everything acknowledged is there"
    );
    assert_eq!(device.get(&format!("/api/v1/blobs/{kept}")).body.len(), 1_000_000);
}

#[test]
fn writing_goes_on_with_the_first_request_after_room_was_made() {
    let small = OnSmallDisk::start();
    let mut pen = Pen::new(1);
    let device = small.join(pen.device);
    let other = small.join(Pen::new(2).device);
    let mut photos = vec![device.put_picture(&picture(1, 100_000))];
    assert_eq!(push_large(&device, &mut pen).status, 200);
    let stranger = small.server.stranger();
    assert_eq!(stranger.get("/health").text(), "ok\n");

    // Several rounds: after a recovery the same must work again.
    let mut taken = 1;
    for round in 1..=3 {
        small.fill();
        // The write-ahead log may have room from before, so some entries are still accepted.
        let refused = loop {
            let answer = push_large(&device, &mut pen);
            if answer.status != 200 {
                break answer;
            }
            taken += 1;
        };
        assert_eq!(refused.refusal(507), "disk_full");
        let unsaved = picture(round * 10, 300_000);
        // Every refusal is also logged, to a file that cannot grow.
        for _ in 0..5 {
            assert_eq!(push_large(&device, &mut pen).refusal(507), "disk_full");
            let put = device.put_blob(&sha256(&unsaved), "image/jpeg", &unsaved);
            assert_eq!(put.refusal(507), "disk_full");
        }
        let answer = stranger.get("/health/ready");
        let ready: Value = answer.read(503);
        assert_eq!(
            (&ready["ready"], &ready["photos"]),
            (&Value::Bool(false), &Value::String("disk_full".into()))
        );
        assert_eq!(stranger.get("/health").status, 503);
        assert_eq!(stranger.get("/health/live").text(), r#"{"live":true}"#);
        assert_eq!(device.pull_all().0.len(), taken, "reading goes on");

        small.free();
        assert_eq!(push_large(&device, &mut pen).status, 200);
        taken += 1;
        photos.push(device.put_picture(&unsaved));
        let code: JoinCode = device.post("/api/v1/join-codes", &()).read(201);
        assert!(!code.code.is_empty());
        let out = device.shut_out(&Pen::new(2).device.to_string());
        assert_eq!(out.status, 200, "{}", out.text());
        assert_eq!(stranger.get("/health").text(), "ok\n");
    }
    assert_eq!(other.ask_status().refusal(401), "token_revoked");

    // A backup that finds no room leaves no file behind.
    small.fill();
    let backup = small.folder.path().join("disk/shop.tar");
    let out = small.command(&["backup", backup.to_str().unwrap()]);
    assert!(!out.status.success(), "{out:?}");
    small.free();
    let mut left: Vec<_> = fs::read_dir(&small.disk)
        .unwrap()
        .map(|entry| entry.unwrap().file_name())
        .collect();
    left.sort();
    assert_eq!(left, ["data", "log"]);

    photos.sort();
    assert_eq!(small.photos(), photos, "no half photograph, no draft");
    assert_eq!(device.pull_all().0.len(), taken);
    assert!(small.run("check").ends_with("All is well.\n"));
    let log = fs::read_to_string(small.disk.join("log")).unwrap();
    assert!(!log.contains("panicked"), "{log}");
}

/// The server notes the erasure before it commits it, and the commit fails on the full disk.
#[test]
fn an_erasure_that_found_no_room_erases_when_it_comes_again() {
    let small = OnSmallDisk::start();
    let mut pen = Pen::new(1);
    let device = small.join(pen.device);
    let (first, second) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    device.push_all(&first.entries);
    device.push_all(&second.entries);
    let erasure = |pen: &mut Pen, customer| {
        pen.entry(SubjectKind::Customer, customer, &Body::Erased(Erased::default()))
    };
    // The ledger's file now has a block on the disk, with room for the next line.
    device.push_all(&[erasure(&mut pen, first.customer)]);
    small.fill();
    while push_large(&device, &mut pen).status == 200 {}
    let erasure = erasure(&mut pen, second.customer);
    let request = PushRequest {
        entries: unsent(std::slice::from_ref(&erasure)),
        pushed: None,
    };
    assert_eq!(device.post("/api/v1/entries", &request).refusal(507), "disk_full");
    small.free();
    device.push_all(&[erasure]);
    let held = device.pull_all().0;
    let mut own = held
        .iter()
        .filter(|held| held.entry.subject.id == second.customer);
    assert!(own.all(|held| held.entry.is_blank() || held.entry.kind == "erased"));
    let name = held.iter().filter(|held| held.entry.body.contains("Ada Example"));
    assert_eq!(name.count(), 0);
    assert!(small.run("check").ends_with("All is well.\n"));
}

#[test]
fn a_log_that_takes_no_line_harms_nobody() {
    for log in [
        "exec \"$@\" 2> /dev/full",
        // A pipe that nobody reads.
        "mkfifo \"$0\" && exec 3<> \"$0\" 2> \"$0\" 3<&- && exec \"$@\"",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let data = folder.path().join("data");
        let mut command = Command::new("sh");
        command
            .args(["-c", log])
            .arg(folder.path().join("pipe"))
            .args([WAXEND, "serve", "--listen", "127.0.0.1:0"])
            .args(["--log-format", "json", "--data"])
            .arg(&data);
        let server = Server::launch(WAXEND, &data, command);
        let mut pen = Pen::new(1);
        let device = server.join(pen.device);
        for _ in 0..20 {
            device.push_all(&pen.whole_job(b"").entries);
        }
        assert_eq!(device.pull_all().0.len(), 180);
        assert_eq!(device.get("/health").text(), "ok\n");
    }
}
