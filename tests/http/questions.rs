//! The app's server functions.

use shared::sync::messages::Status;
use support::sample::Pen;

use crate::server;

#[test]
fn a_joined_device_asks_who_has_joined_and_shuts_one_out() {
    let (_folder, server) = server();
    let (one, two) = (Pen::new(1).device, Pen::new(2).device);
    let (first, second) = (server.join(one), server.join(two));
    let devices = first.devices();
    assert_eq!(
        devices.iter().map(|device| device.id).collect::<Vec<_>>(),
        [one, two]
    );
    let status: Status = second.ask_status().read(200);
    assert_eq!(status.entries, 0);
    assert_eq!(first.shut_out(&two.to_string()).status, 200);
    assert_eq!(second.ask_status().refusal(401), "token_revoked");
}

#[test]
fn questions_are_refused_like_everything_else() {
    let (_folder, server) = server();
    let device = server.join(Pen::new(1).device);
    assert_eq!(
        server.stranger().get("/api/fn/v1/devices").refusal(401),
        "token_missing"
    );
    assert_eq!(device.get("/api/fn/v1/nothing").refusal(404), "not_found");
    assert_eq!(
        device.shut_out(&Pen::new(9).device.to_string()).refusal(404),
        "not_found"
    );
    assert_eq!(device.shut_out("nobody").refusal(400), "malformed");
}
