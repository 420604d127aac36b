//! Roles: what a repairer's and a helper's device may ask, and that a shop keeps a repairer's device. What they may write is
//! in `roles_push`.

use std::collections::BTreeSet;

use serde_json::{Value, json};
use shared::log::body::Role;
use shared::sync::messages::{InShopAnswer, JoinAnswer, JoinCode, JoinCodeRequest, PullAnswer};
use support::running::{Answer, Client, Server};
use support::sample::{Pen, WholeJob, picture, sha256};
use uuid::Uuid;

use crate::openapi::description;
use crate::shut_out::{id, join};
use crate::{helper, helper_code, server};

/// A device that asks, and what its requests name.
struct Asking {
    client: Client,
    /// A join code.
    code: String,
    job: WholeJob,
    /// Sets apart what the devices send.
    number: u32,
}

impl Asking {
    fn get(&self, path: &str) -> Answer {
        self.client.get(path)
    }

    fn post(&self, path: &str, body: &Value) -> Answer {
        self.client.post(path, body)
    }

    /// Joins another device.
    fn join_another(&self) -> Answer {
        join(&self.client, &self.code, id(10 + self.number))
    }

    /// Asks whether a device that never joined was shut out.
    fn ask_shut_out(&self) -> Answer {
        let cursor = json!({ "epoch": Uuid::nil(), "seq": 0, "mark": Uuid::nil() });
        let question = json!({ "device": id(9), "nonce": Uuid::nil(), "cursor": cursor });
        self.post("/api/v1/shut-out", &question)
    }

    fn history(&self) -> Answer {
        let start = self.get("/api/v1/in-shop").read::<InShopAnswer>(200).start;
        let query = format!("epoch={}&seq={}&mark={}", start.epoch, start.seq, start.mark);
        self.get(&format!("/api/v1/history?{query}"))
    }

    fn put_picture(&self) -> Answer {
        let bytes = picture(self.number, 2000);
        self.client.put_blob(&sha256(&bytes), "image/jpeg", &bytes)
    }

    fn card(&self, below: &str) -> Answer {
        self.get(&format!("/card/{}{below}", self.job.secret))
    }

    fn card_style(&self) -> Answer {
        let page = self.card("").text();
        self.get(page.split("href=\"").nth(1).unwrap().split('"').next().unwrap())
    }
}

/// A method and a path of the description, the statuses of the answers to a helper's and to a repairer's device, and the
/// request.
type Route = (&'static str, &'static str, [u16; 2], fn(&Asking) -> Answer);

/// Every route. Where a helper is answered 403, the code has to be `for_repairer`.
const ROUTES: [Route; 24] = [
    ("post", "/api/v1/join", [200, 200], Asking::join_another),
    ("post", "/api/v1/join-codes", [403, 201], |asking| {
        asking.post("/api/v1/join-codes", &json!({ "role": "repairer" }))
    }),
    ("post", "/api/v1/shut-out", [404, 404], Asking::ask_shut_out),
    ("get", "/api/v1/entries", [200, 200], |asking| {
        asking.get("/api/v1/entries")
    }),
    ("post", "/api/v1/entries", [200, 200], |asking| {
        asking.post("/api/v1/entries", &json!({ "entries": [] }))
    }),
    ("post", "/api/v1/entries/missing", [200, 200], |asking| {
        asking.post("/api/v1/entries/missing", &json!({ "held": [] }))
    }),
    ("get", "/api/v1/kept-aside", [403, 200], |asking| {
        asking.get("/api/v1/kept-aside")
    }),
    ("post", "/api/v1/kept-aside", [403, 200], |asking| {
        asking.post("/api/v1/kept-aside", &json!({ "take": [], "drop": [] }))
    }),
    ("get", "/api/v1/in-shop", [200, 200], |asking| {
        asking.get("/api/v1/in-shop")
    }),
    ("get", "/api/v1/history", [200, 200], Asking::history),
    ("get", "/api/v1/blobs/{sha256}", [200, 200], |asking| {
        asking.get(&format!("/api/v1/blobs/{}", asking.job.blob.sha256))
    }),
    ("put", "/api/v1/blobs/{sha256}", [201, 201], Asking::put_picture),
    ("post", "/api/v1/blobs/missing", [200, 200], |asking| {
        asking.post("/api/v1/blobs/missing", &json!({ "hashes": [] }))
    }),
    ("get", "/api/v1/status", [200, 200], |asking| {
        asking.client.ask_status()
    }),
    ("get", "/api/v1/openapi.json", [200, 200], |asking| {
        asking.get("/api/v1/openapi.json")
    }),
    ("get", "/api/fn/v1/devices", [403, 200], |asking| {
        asking.get("/api/fn/v1/devices")
    }),
    ("post", "/api/fn/v1/shut-out", [403, 200], |asking| {
        asking.client.shut_out(&id(3).to_string())
    }),
    ("get", "/health", [200, 200], |asking| asking.get("/health")),
    ("get", "/health/live", [200, 200], |asking| {
        asking.get("/health/live")
    }),
    ("get", "/health/ready", [200, 200], |asking| {
        asking.get("/health/ready")
    }),
    ("get", "/card/{secret}", [200, 200], |asking| asking.card("")),
    ("get", "/card/{secret}/photo/{sha256}", [200, 200], |asking| {
        asking.card(&format!("/photo/{}", asking.job.blob.sha256))
    }),
    ("get", "/card/{secret}/check.ics", [200, 200], |asking| {
        asking.card("/check.ics")
    }),
    ("get", "/card-style/{name}", [200, 200], Asking::card_style),
];

#[test]
fn each_role_is_answered_what_it_may_ask() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let repairer = server.join(pen.device);
    let helper = helper(&server, id(2));
    server.join(id(3));
    let bytes = picture(9, 2000);
    let job = pen.whole_job(&bytes);
    repairer.push_all(&job.entries);
    repairer.put_picture(&bytes);
    let devices = [(helper, 2), (repairer, 1)].map(|(client, number)| Asking {
        client,
        code: server.code(),
        job: job.clone(),
        number,
    });
    for (method, path, statuses, ask) in ROUTES {
        for (asking, status) in devices.iter().zip(statuses) {
            let answer = ask(asking);
            let what = format!("{method} {path} of device {}", asking.number);
            assert_eq!(answer.status, status, "{what}: {}", answer.text());
            if status == 403 {
                assert_eq!(answer.refusal(403), "for_repairer", "{what}");
            }
        }
    }
}

#[test]
fn every_route_is_in_the_table() {
    let description = description();
    let paths = description["paths"].as_object().unwrap();
    let described: BTreeSet<(&str, &str)> = paths
        .iter()
        .flat_map(|(path, methods)| {
            let methods = methods.as_object().unwrap().keys();
            methods.map(move |method| (method.as_str(), path.as_str()))
        })
        .collect();
    let asked: BTreeSet<_> = ROUTES.iter().map(|(method, path, ..)| (*method, *path)).collect();
    assert_eq!(asked, described);
}

#[test]
fn what_a_helper_is_refused_has_no_effect() {
    let (_folder, server) = server();
    let repairer = server.join(id(1));
    let helper = helper(&server, id(2));
    let before = repairer.devices();
    assert_eq!(helper.shut_out(&id(1).to_string()).refusal(403), "for_repairer");
    assert_eq!(helper.shut_out("nobody").refusal(403), "for_repairer");
    for role in ["helper", "repairer"] {
        let code = helper.post("/api/v1/join-codes", &json!({ "role": role }));
        assert_eq!(code.refusal(403), "for_repairer", "{role}");
    }
    assert_eq!(repairer.devices(), before);
    assert_eq!(repairer.ask_status().status, 200);
}

fn said(out: &[u8]) -> String {
    String::from_utf8_lossy(out).into_owned()
}

/// The role of a device, as it is told with a pull.
fn role_told(client: &Client) -> Role {
    client.pull(None).read::<PullAnswer>(200).role
}

#[test]
fn a_helper_joins_with_a_code_of_the_command_line() {
    let (_folder, server) = server();
    let repairer = server.join(id(1));
    assert!(!said(&server.run(&["join"]).stdout).contains("helper"));
    let shown = said(&server.run(&["join", "--role", "helper"]).stdout);
    assert!(shown.contains("for one helper's device"), "{shown}");
    let code = shown.lines().find_map(|line| line.strip_prefix("Join code: "));
    let answer: JoinAnswer = join(&server.stranger(), code.unwrap(), id(2)).read(200);
    assert_eq!(answer.role, Role::Helper);
    let helper = server.stranger().with_token(answer.token);
    assert_eq!(role_told(&helper), Role::Helper);
    assert_eq!(role_told(&repairer), Role::Repairer);

    let roles: Vec<_> = repairer.devices().into_iter().map(|device| device.role).collect();
    assert_eq!(roles, [Role::Repairer, Role::Helper]);
    let told = said(&server.run(&["devices"]).stdout);
    let line = |number| told.lines().find(|line| line.contains(&id(number).to_string()));
    assert!(line(1).unwrap().contains(" repairer "), "{told}");
    assert!(line(2).unwrap().contains(" helper "), "{told}");
}

#[test]
fn the_command_line_names_the_roles_and_takes_no_other() {
    let (_folder, server) = server();
    let wrong = server.run(&["join", "--role", "owner"]);
    assert_eq!(wrong.status.code(), Some(2));
    let help = server.run(&["join", "--help"]);
    for text in [said(&wrong.stderr), said(&help.stdout)] {
        assert!(text.contains("repairer") && text.contains("helper"), "{text}");
    }
}

#[test]
fn a_device_gets_the_role_of_the_code_each_time_it_joins() {
    let (_folder, server) = server();
    let repairer = server.join(id(1));
    let minted = |role: Role| {
        let asked = JoinCodeRequest { role: role.clone() };
        let code: JoinCode = repairer.post("/api/v1/join-codes", &asked).read(201);
        assert_eq!(code.role, role);
        code.code
    };
    let mut device = server.stranger();
    for role in [Role::Helper, Role::Repairer, Role::Helper] {
        let answer: JoinAnswer = join(&device, &minted(role.clone()), id(2)).read(200);
        assert_eq!((answer.letters.as_str(), &answer.role), ("B", &role));
        device = device.with_token(answer.token);
        assert_eq!(role_told(&device), role);
        let may = device.get("/api/fn/v1/devices").status == 200;
        assert_eq!(may, role == Role::Repairer);
    }
}

/// `waxend join --role helper`, which has to fail.
fn no_code_for_a_helper(server: &Server) {
    let out = server.run(&["join", "--role", "helper"]);
    assert_eq!(out.status.code(), Some(1), "{out:?}");
    assert!(out.stdout.is_empty(), "{out:?}");
    let why = said(&out.stderr);
    assert!(
        why.contains("no repairer's device") && why.contains("`waxend join`"),
        "{why}"
    );
}

#[test]
fn the_first_device_of_a_shop_is_a_repairers() {
    let (_folder, server) = server();
    no_code_for_a_helper(&server);
    let repairer = server.join(id(1));
    assert_eq!(role_told(&repairer), Role::Repairer);
    assert_eq!(role_told(&helper(&server, id(2))), Role::Helper);
}

#[test]
fn the_last_repairers_device_is_neither_shut_out_nor_made_a_helpers_by_a_device() {
    let (_folder, server) = server();
    let (mut first, code) = (server.join(id(1)), helper_code(&server));
    helper(&server, id(2));
    let before = first.devices();
    assert_eq!(first.shut_out(&id(1).to_string()).refusal(409), "last_repairer");
    assert_eq!(join(&first, &code, id(1)).refusal(409), "last_repairer");
    assert_eq!(first.devices(), before);

    // With another one it can be made a helper's, with the same code. Then that one is the last.
    let second = server.join(id(3));
    let answer: JoinAnswer = join(&first, &code, id(1)).read(200);
    assert_eq!(answer.role, Role::Helper);
    first = first.with_token(answer.token);
    assert_eq!(first.get("/api/fn/v1/devices").refusal(403), "for_repairer");
    assert_eq!(second.shut_out(&id(3).to_string()).refusal(409), "last_repairer");
    assert_eq!(second.shut_out(&id(1).to_string()).status, 200);
    assert_eq!(second.ask_status().status, 200);

    // One of two repairers' devices can be shut out, also by itself.
    let third = server.join(id(4));
    assert_eq!(second.shut_out(&id(3).to_string()).status, 200);
    assert_eq!(third.shut_out(&id(4).to_string()).refusal(409), "last_repairer");
}

#[test]
fn the_command_line_shuts_out_the_last_repairers_device_and_says_what_to_do() {
    let (_folder, server) = server();
    let (stolen, unused) = (server.join(id(1)), helper_code(&server));
    let (left, lost) = (helper(&server, id(2)), helper(&server, id(3)));
    let revoke = |letters: &str| {
        let out = server.run(&["devices", "revoke", letters]);
        assert!(out.status.success(), "{out:?}");
        said(&out.stdout)
    };
    let shown = revoke("C");
    assert!(!shown.contains("waxend join"), "{shown}");
    let shown = revoke("A");
    assert!(shown.contains("`waxend join`"), "{shown}");
    for client in [&stolen, &lost] {
        assert_eq!(client.ask_status().refusal(401), "token_revoked");
    }
    assert_eq!(left.ask_status().status, 200, "a helper works on");

    // No helper joins now, but a repairer does, and then a helper again.
    no_code_for_a_helper(&server);
    let stranger = server.stranger();
    assert_eq!(join(&stranger, &unused, id(4)).refusal(409), "last_repairer");
    assert_eq!(role_told(&server.join(id(5))), Role::Repairer);
    let answer: JoinAnswer = join(&stranger, &unused, id(4)).read(200);
    assert_eq!(answer.role, Role::Helper);
}

#[test]
fn requests_of_apps_older_than_roles_are_answered_as_before() {
    let (_folder, server) = server();
    let mut device = server.join(id(1));
    for (number, body) in [(2, ""), (3, "null")] {
        let code: Value = device
            .send("POST", "/api/v1/join-codes", &[], body.as_bytes())
            .read(201);
        assert_eq!(code["role"], "repairer", "{body}");
        assert!(code["expires"].is_i64(), "{code}");
        let request = json!({ "code": code["code"], "device": id(number), "name": "Tablet" });
        let answer: Value = server.stranger().post("/api/v1/join", &request).read(200);
        assert_eq!(answer["role"], "repairer");
        assert_eq!(answer["letters"], if number == 2 { "B" } else { "C" });
        assert!(answer["shop"].is_string(), "{answer}");
        device = device.with_token(answer["token"].as_str().unwrap());
    }
    // The last one, which joined like that, may do everything.
    assert_eq!(device.devices().len(), 3);
    assert_eq!(device.shut_out(&id(2).to_string()).status, 200);
    for body in ["{", "{}", r#"{"role":"owner"}"#] {
        let answer = device.send("POST", "/api/v1/join-codes", &[], body.as_bytes());
        assert_eq!(answer.refusal(400), "malformed", "{body}");
    }
}
