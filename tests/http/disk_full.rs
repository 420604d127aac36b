//! A full disk: said plainly, nothing half stored, and usable again once there is room.

use std::path::Path;
use std::process::Command;

use shared::log::SubjectKind;
use shared::sync::messages::PushRequest;
use support::running::Server;
use support::sample::{Pen, picture, sha256, unsent};

use crate::WAXEND;

/// A server whose data folder is a small disk of its own, in its own mount namespace: it goes with the process.
fn on_small_disk(data: &Path) -> Server {
    let script = "mount -t tmpfs -o size=5m tmpfs \"$1\" && \"$2\" join --data \"$1\" > \"$1.code\" && \
                  exec \"$2\" serve --data \"$1\" --listen 127.0.0.1:0";
    let mut command = Command::new("unshare");
    command
        .args(["--map-root-user", "--mount", "sh", "-c", script, "sh"])
        .arg(data)
        .arg(WAXEND);
    Server::launch(WAXEND, data, command)
}

#[test]
fn a_full_disk_is_said_plainly_and_harms_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    std::fs::create_dir(&data).unwrap();
    let server = on_small_disk(&data);
    let said = std::fs::read_to_string(folder.path().join("data.code")).unwrap();
    let code = said
        .lines()
        .find_map(|line| line.strip_prefix("Join code: "))
        .unwrap()
        .to_owned();
    let mut pen = Pen::new(1);
    let request = shared::sync::messages::JoinRequest {
        code,
        device: pen.device,
        name: "x".into(),
        shop: None,
    };
    let answer: shared::sync::messages::JoinAnswer =
        server.stranger().post("/api/v1/join", &request).read(200);
    let device = server.stranger().with_token(answer.token);

    let kept = device.put_picture(&picture(1, 1_000_000));
    let big = picture(2, 6_000_000);
    assert_eq!(
        device.put_blob(&sha256(&big), "image/jpeg", &big).refusal(507),
        "disk_full"
    );
    // Fill what is left with entries.
    let subject = pen.subject();
    let mut taken = 0;
    let refused = loop {
        let entry = pen.raw(SubjectKind::Pair, subject, "note", &"x".repeat(200_000));
        let answer = device.post(
            "/api/v1/entries",
            &PushRequest {
                entries: unsent(&[entry]),
                pushed: None,
            },
        );
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
