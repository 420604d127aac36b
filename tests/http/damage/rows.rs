//! Damage to rows of which no entry tells what they must be: what may be wrong lets nobody in, and a repair makes it anew.

use std::slice;

use shared::log::body::Role;
use shared::log::{SubjectId, SubjectKind, UnixMs};
use shared::sync::messages::Status;
use support::running::{Client, Server, run};
use support::sample::Pen;

use super::repairing::{bench, put_aside, repair, said};
use crate::roles_push::{self, EARLY, KEPT, codes, received};
use crate::{WAXEND, change, server};

/// What a device sees of itself: its letters, and its role.
fn itself(device: &Client) -> (String, Role) {
    let devices = device.devices();
    (devices[0].letters.clone(), devices[0].role.clone())
}

#[test]
fn a_damaged_device_or_token_lets_nobody_in_until_the_device_joins_again() {
    for (damage, told, letters) in [
        (
            "UPDATE devices SET name = 'Other phone'",
            "has the letters B then.\n",
            "B",
        ),
        (
            "UPDATE tokens SET given = given - 5",
            "deleted: damaged tokens: 1. Their devices join again with `waxend join`.\n",
            "A",
        ),
    ] {
        let bench = bench();
        assert_eq!(change(&bench.data, damage), 1);
        let server = Server::start(WAXEND, &bench.data, &[]);
        let device = bench.device.at(&server);
        assert_eq!(device.ask_status().refusal(401), "token_unknown", "{damage}");
        server.stop();

        let out = repair(&bench.data);
        assert!(out.status.success(), "{out:?}");
        assert!(said(&out).contains(told), "{damage}: {out:?}");
        let server = Server::start(WAXEND, &bench.data, &[]);
        let device = bench.device.at(&server);
        assert_eq!(device.ask_status().refusal(401), "token_unknown", "{damage}");
        let device = server.join(Pen::new(1).device);
        assert_eq!(itself(&device), (letters.to_owned(), Role::Repairer));
        assert_eq!(device.pull_all().0, bench.held);
        server.stop();
        assert!(run(WAXEND, &bench.data, &["check"]).status.success());
    }
}

#[test]
fn a_damaged_device_can_join_again_before_a_repair() {
    let bench = bench();
    assert_eq!(change(&bench.data, "UPDATE devices SET role = 'helper'"), 1);
    let server = Server::start(WAXEND, &bench.data, &[]);
    let device = server.join(Pen::new(1).device);
    assert_eq!(itself(&device), ("B".to_owned(), Role::Repairer));
    assert_eq!(device.pull_all().0, bench.held);
    assert!(server.run(&["check"]).status.success());
}

#[test]
fn a_counter_that_is_damaged_or_lost_is_made_anew_for_the_same_shop() {
    for damage in [
        "DELETE FROM counter",
        "UPDATE counter SET shop = randomblob(16), epoch = randomblob(16), seq = seq + 512, letters_given = 0",
        "UPDATE counter SET last_received = last_received + 1099511627776",
    ] {
        let (_folder, server) = server();
        let mut pen = Pen::new(1);
        let device = server.join(pen.device);
        let shop = device.ask_status().read::<Status>(200).shop;
        device.push_all(&pen.whole_job(b"").entries);
        device.push_all(&[pen.raw(SubjectKind::Shop, SubjectId(shop), "detail", "{}")]);
        let held = device.pull_all().0;
        let data = server.data.clone();
        server.stop();
        assert_eq!(change(&data, damage), 1);
        let checked = run(WAXEND, &data, &["check"]);
        let told = "rows of counter that are not as they were stored: 1\n";
        assert!(said(&checked).contains(told), "{damage}: {checked:?}");

        let out = repair(&data);
        assert!(out.status.success(), "{damage}: {out:?}");
        let server = Server::start(WAXEND, &data, &[]);
        let device = device.at(&server);
        let status: Status = device.ask_status().read(200);
        assert_eq!(status.shop, shop, "{damage}");
        assert_eq!(device.pull_all().0, held);
        let pair = pen.subject();
        let new = pen.raw(SubjectKind::Pair, pair, "note", "{}");
        device.push_all(slice::from_ref(&new));
        let last = device.pull_all().0.pop().unwrap();
        assert!(last.entry == new && last.received.unwrap() <= UnixMs(status.now.0 + 60_000));
        let second = server.join(Pen::new(2).device);
        let letters: Vec<_> = second.devices().into_iter().map(|one| one.letters).collect();
        assert_eq!(letters, ["A", "B"], "{damage}");
        assert!(server.run(&["check"]).status.success());
    }
}

#[test]
fn what_was_kept_aside_and_is_damaged_is_written_to_a_file_and_can_be_sent_again() {
    let mut bench = roles_push::bench();
    let mut detail = |body| {
        bench
            .helpers_pen
            .raw(SubjectKind::Shop, bench.shop, "detail", body)
    };
    let [flawed, sound] = [r#"{"a":"Flawed"}"#, r#"{"a":"Sound"}"#].map(&mut detail);
    let sent = [flawed.clone(), sound.clone()];
    assert_eq!(codes(&bench.helper, &sent), [KEPT, KEPT]);
    let data = bench.server.data.clone();
    bench.server.stop();
    let damage = "UPDATE kept_aside SET device = randomblob(16) WHERE entry LIKE '%Flawed%'";
    assert_eq!(change(&data, damage), 1);
    bench.server = Server::start(WAXEND, &data, &[]);
    bench.repairer = bench.repairer.at(&bench.server);
    assert_eq!(bench.kept(), slice::from_ref(&sound));
    bench.server.stop();

    let out = repair(&data);
    assert_eq!(out.status.code(), Some(1), "{out:?}");
    let told = "taken out: damaged entries that were kept aside: 1.\n";
    assert!(said(&out).contains(told), "{out:?}");
    let content = std::fs::read_to_string(&put_aside(&data)[0]).unwrap();
    assert!(content.contains("Flawed") && content.lines().count() == 1);

    bench.server = Server::start(WAXEND, &data, &[]);
    bench.repairer = bench.repairer.at(&bench.server);
    bench.helper = bench.helper.at(&bench.server);
    assert_eq!(bench.kept(), slice::from_ref(&sound));
    assert_eq!(codes(&bench.helper, slice::from_ref(&flawed)), [KEPT]);
    assert_eq!(bench.kept(), [sound, flawed]);
    bench.server.stop();
    assert!(repair(&data).status.success());
    assert!(put_aside(&data).is_empty());
}

#[test]
fn what_is_written_later_does_not_hide_damage() {
    let mut bench = roles_push::bench();
    let data = bench.server.data.clone();
    for damage in [
        "UPDATE entries SET pushed_by = NULL WHERE seq = 3",
        "UPDATE counter SET last_received = last_received + 1",
    ] {
        assert_eq!(change(&data, damage), 1);
    }
    // This lowers the time at which the entry was received.
    assert_eq!(received(&bench.repairer, &bench.job.entries[2]), EARLY);
    let note = bench.note("Later");
    bench.helper.push_all(&[note]);
    let checked = bench.server.run(&["check"]);
    for told in [
        "entries that cannot be read, or are not as they were stored: 1\n",
        "rows of counter that are not as they were stored: 1\n",
    ] {
        assert!(said(&checked).contains(told), "{checked:?}");
    }
}
