//! The app's server functions.

use shared::sync::messages::{Device, Status};
use support::running::{Answer, Client};
use support::sample::Pen;

use crate::server;

const FORM: [(&str, &str); 2] = [
    ("content-type", "application/x-www-form-urlencoded"),
    ("accept", "application/json"),
];

fn shut_out(asking: &Client, device: &str) -> Answer {
    asking.send(
        "POST",
        "/api/fn/v1/shut-out",
        &FORM,
        format!("device={device}").as_bytes(),
    )
}

#[test]
fn a_joined_device_asks_who_has_joined_and_shuts_one_out() {
    let (_folder, server) = server();
    let (one, two) = (Pen::new(1).device, Pen::new(2).device);
    let (first, second) = (server.join(one), server.join(two));
    let devices: Vec<Device> = first.get("/api/fn/v1/devices").read(200);
    assert_eq!(
        devices.iter().map(|device| device.id).collect::<Vec<_>>(),
        [one, two]
    );
    let status: Status = second.get("/api/fn/v1/status").read(200);
    assert_eq!(status.entries, 0);
    assert_eq!(shut_out(&first, &two.to_string()).status, 200);
    assert_eq!(second.get("/api/fn/v1/status").refusal(401), "token_revoked");
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
        shut_out(&device, &Pen::new(9).device.to_string()).refusal(404),
        "not_found"
    );
    assert_eq!(shut_out(&device, "nobody").refusal(400), "malformed");
}
