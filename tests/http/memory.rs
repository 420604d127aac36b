//! How much memory the server needs.

use support::sample::{Pen, picture};

use crate::server;

#[test]
fn five_thousand_entries_and_fifty_photographs_fit_into_80_mb() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    for _ in 0..3 {
        let entries: Vec<_> = (0..190).flat_map(|_| pen.whole_job(b"").entries).collect();
        device.push_all(&entries);
    }
    (0..50).for_each(|number| drop(device.put_picture(&picture(number, 600_000))));
    let (held, _) = device.pull_all();
    assert!(held.len() > 5_000);
    let most = server.memory_kb("VmHWM");
    assert!(most <= 80 * 1024, "{most} kB");
}
