//! The description of the API, compared with the routes and with real responses.

use std::collections::BTreeSet;
use std::path::Path;

use app::server_functions::{AskDevices, ShutOut};
use leptos::server_fn::ServerFn;
use serde_json::{Value, json};
use shared::log::SubjectKind;
use shared::sync::messages::{KeptAsideAnswer, KeptAsideDecided, PullAnswer};
use support::running::{Answer, Client};
use support::sample::{Pen, picture, unsent};

use crate::shut_out::{id, join};
use crate::{helper, helper_code, server};

/// The description as it is in the repository.
pub(super) fn description() -> Value {
    serde_json::from_str(include_str!("../../server/openapi.json")).unwrap()
}

/// Collects the path of every `.route(…)` in the server's sources.
fn routes(folder: &Path, found: &mut BTreeSet<String>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            routes(&path, found);
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let paths = text
            .split(".route(")
            .skip(1)
            .filter_map(|rest| rest.trim_start().strip_prefix('"'));
        found.extend(paths.filter_map(|rest| Some(rest.split_once('"')?.0.to_owned())));
    }
}

#[test]
fn every_route_is_described_and_nothing_else_is() {
    let mut found = BTreeSet::new();
    routes(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src/http"),
        &mut found,
    );
    let api = |path: &String| {
        !path.starts_with("/card") && !path.starts_with("/api/fn") && !path.starts_with("/health")
    };
    let mut found: BTreeSet<_> = found
        .iter()
        .map(|path| {
            if api(path) {
                format!("/api/v1{path}")
            } else {
                path.clone()
            }
        })
        .collect();
    // Server functions share one route, but each has a path of its own.
    let questions = [AskDevices::PATH, ShutOut::PATH].map(str::to_owned);
    assert!(found.remove("/api/fn/{*question}"));
    found.extend(questions);
    let described: BTreeSet<_> = description()["paths"]
        .as_object()
        .unwrap()
        .keys()
        .cloned()
        .collect();
    assert_eq!(found, described);
}

/// Checks a response against the schema that the description gives for this operation and status.
fn holds(document: &Value, method: &str, path: &str, answer: &Answer) {
    let status = answer.status.to_string();
    let described = &document["paths"][path][method]["responses"][&status];
    assert!(
        described.is_object(),
        "{method} {path} answers {status}, which is not described"
    );
    let Some(content) = described.get("content") else {
        assert!(answer.body.is_empty());
        return;
    };
    let kind = answer
        .header("content-type")
        .split(';')
        .next()
        .unwrap()
        .to_owned();
    assert!(
        content.get(&kind).is_some(),
        "{method} {path} {status} is {kind}: {content}"
    );
    if let Some(schema) = content[&kind].get("schema") {
        // References in the schema are relative to the document, so its components are passed along.
        let whole = json!({ "allOf": [schema], "components": document["components"] });
        let validator = jsonschema::options()
            .should_validate_formats(true)
            .build(&whole)
            .unwrap();
        let body: Value = serde_json::from_slice(&answer.body).unwrap();
        let faults: Vec<_> = validator
            .iter_errors(&body)
            .map(|error| error.to_string())
            .collect();
        assert!(faults.is_empty(), "{method} {path} {status}: {faults:?}\n{body}");
    }
}

#[test]
fn real_answers_are_as_described() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let stranger = server.stranger();
    let document: Value = stranger.get("/api/v1/openapi.json").read(200);
    assert_eq!(document, description());
    let bytes = picture(1, 2000);
    let job = pen.whole_job(&bytes);
    let blob = format!("/api/v1/blobs/{}", job.blob.sha256);
    let picture_type = [("content-type", "image/jpeg")];
    let pushed = json!({ "entries": [unsent(&job.entries[..1])[0], { "not": "an entry" }] });
    let join = |code: &str| json!({ "code": code, "device": Pen::new(2).device, "name": "Tablet" });
    let check = |method: &str, path: &str, answer: Answer| {
        holds(&document, method, path, &answer);
        answer
    };
    check("post", "/api/v1/entries", device.post("/api/v1/entries", &pushed));
    device.push_all(&job.entries);
    check(
        "put",
        "/api/v1/blobs/{sha256}",
        device.send("PUT", &blob, &picture_type, &bytes),
    );
    check(
        "put",
        "/api/v1/blobs/{sha256}",
        device.send("PUT", &blob, &picture_type, &bytes),
    );
    check(
        "put",
        "/api/v1/blobs/{sha256}",
        device.send("PUT", &blob, &picture_type, b""),
    );
    check(
        "put",
        "/api/v1/blobs/{sha256}",
        device.send("PUT", &blob, &picture_type, &picture(9, 99)),
    );
    check("get", "/api/v1/blobs/{sha256}", device.get(&blob));
    check(
        "post",
        "/api/v1/blobs/missing",
        device.post("/api/v1/blobs/missing", &json!({ "hashes": [job.blob.sha256] })),
    );
    check(
        "post",
        "/api/v1/join",
        stranger.post("/api/v1/join", &join(&server.code())),
    );
    check(
        "post",
        "/api/v1/join",
        stranger.post("/api/v1/join", &join("no such code")),
    );
    check("post", "/api/v1/join", stranger.post("/api/v1/join", &json!({})));
    let large = vec![b' '; 2_000_001];
    for path in [
        "/api/v1/join",
        "/api/v1/join-codes",
        "/api/v1/entries",
        "/api/v1/entries/missing",
        "/api/v1/kept-aside",
        "/api/v1/blobs/missing",
        "/api/v1/shut-out",
        "/api/fn/v1/shut-out",
    ] {
        let refused = check("post", path, device.send("POST", path, &[], &large));
        assert_eq!(refused.status, 413, "{path}");
    }
    check(
        "post",
        "/api/v1/join-codes",
        device.post("/api/v1/join-codes", &()),
    );
    let pulled: Value = check("get", "/api/v1/entries", device.get("/api/v1/entries")).read(200);
    let (epoch, seq) = (
        pulled["cursor"]["epoch"].as_str().unwrap(),
        &pulled["cursor"]["seq"],
    );
    let lost = format!("?epoch={epoch}&seq={seq}&mark={epoch}");
    check(
        "get",
        "/api/v1/entries",
        device.get(&format!("/api/v1/entries{lost}")),
    );
    check("get", "/api/v1/entries", device.get("/api/v1/entries?seq=x"));
    check("get", "/api/v1/entries", stranger.get("/api/v1/entries"));
    let held = json!({ "held": [{ "id": job.entries[0].id, "received": 1 }] });
    check(
        "post",
        "/api/v1/entries/missing",
        device.post("/api/v1/entries/missing", &held),
    );
    for query in [
        "".to_owned(),
        "?paged=true".to_owned(),
        "?paged=maybe".to_owned(),
        format!("{lost}&paged=true&before_subject=1&before_seq=1"),
    ] {
        let path = format!("/api/v1/in-shop{query}");
        check("get", "/api/v1/in-shop", device.get(&path));
    }
    let start = format!(
        "?epoch={epoch}&seq={seq}&mark={}",
        pulled["cursor"]["mark"].as_str().unwrap()
    );
    check(
        "get",
        "/api/v1/history",
        device.get(&format!("/api/v1/history{start}")),
    );
    check(
        "get",
        "/api/v1/history",
        device.get(&format!("/api/v1/history{lost}")),
    );
    check(
        "get",
        "/api/v1/openapi.json",
        stranger.get("/api/v1/openapi.json"),
    );
    for path in ["/health", "/health/live", "/health/ready"] {
        check("get", path, stranger.get(path));
    }
    let card = format!("/card/{}", job.secret);
    check("get", "/card/{secret}", stranger.get(&card));
    check("get", "/card/{secret}", stranger.get("/card/nothing"));
    check(
        "get",
        "/card/{secret}/check.ics",
        stranger.get(&format!("{card}/check.ics")),
    );
    check("get", "/api/fn/v1/devices", device.get("/api/fn/v1/devices"));
    check("get", "/api/v1/status", device.ask_status());
    let other = Pen::new(2).device.to_string();
    for named in [other.as_str(), "nobody"] {
        check("post", "/api/fn/v1/shut-out", device.shut_out(named));
    }
    check("get", "/api/fn/v1/devices", device.get("/api/fn/v1/devices"));
}

/// Sends a request and checks the answer against the description.
fn described(client: &Client, method: &str, path: &str, body: &Value) -> Answer {
    let bytes = match body {
        Value::Null => Vec::new(),
        body => serde_json::to_vec(body).unwrap(),
    };
    let answer = client.send(&method.to_uppercase(), path, &[], &bytes);
    holds(&description(), method, path, &answer);
    answer
}

#[test]
fn answers_to_helpers_and_about_roles_are_as_described() {
    let (_folder, server) = server();
    let repairer = server.join(id(1));
    let unused = helper_code(&server);
    let helper = helper(&server, id(2));
    for (method, path) in [
        ("post", "/api/v1/join-codes"),
        ("get", "/api/v1/kept-aside"),
        ("post", "/api/v1/kept-aside"),
        ("get", "/api/fn/v1/devices"),
        ("post", "/api/fn/v1/shut-out"),
    ] {
        let refused = described(&helper, method, path, &Value::Null);
        assert_eq!(refused.refusal(403), "for_repairer", "{method} {path}");
    }
    described(&helper, "get", "/api/v1/entries", &Value::Null);
    described(&repairer, "get", "/api/fn/v1/devices", &Value::Null);
    for (role, status) in [("repairer", 201), ("helper", 201), ("owner", 400)] {
        let answer = described(&repairer, "post", "/api/v1/join-codes", &json!({ "role": role }));
        assert_eq!(answer.status, status, "{role}");
    }
    let last = repairer.shut_out(&id(1).to_string());
    holds(&description(), "post", "/api/fn/v1/shut-out", &last);
    assert_eq!(last.refusal(409), "last_repairer");
    let last = join(&repairer, &unused, id(1));
    holds(&description(), "post", "/api/v1/join", &last);
    assert_eq!(last.refusal(409), "last_repairer");
    let joined = join(&server.stranger(), &unused, id(3));
    holds(&description(), "post", "/api/v1/join", &joined);
    assert_eq!(joined.status, 200);
}

#[test]
fn answers_about_what_is_kept_aside_are_as_described() {
    let (_folder, server) = server();
    let repairer = server.join(id(1));
    let mut pen = Pen::new(2);
    let helper = helper(&server, pen.device);
    let subject = pen.subject();
    let mut erasure = || pen.raw(SubjectKind::Customer, subject, "erased", "{}");
    let pushed = json!({ "entries": unsent(&[erasure(), erasure()]) });
    described(&helper, "post", "/api/v1/entries", &pushed);
    let path = "/api/v1/kept-aside";
    let kept: KeptAsideAnswer = described(&repairer, "get", path, &Value::Null).read(200);
    let ids: Vec<_> = kept.entries.iter().map(|kept| kept.entry.entry.id).collect();
    assert_eq!(ids.len(), 2);
    let decision = json!({ "take": [ids[0]], "drop": [ids[1]] });
    let decided: KeptAsideDecided = described(&repairer, "post", path, &decision).read(200);
    assert_eq!(decided.taken.len(), 1);
    let wrong = described(&repairer, "post", path, &json!({ "take": 3 }));
    assert_eq!(wrong.refusal(400), "malformed");
    // One has been taken, the other dropped.
    described(&helper, "post", "/api/v1/entries", &pushed);
}

#[test]
fn answers_to_a_device_that_was_shut_out_are_as_described() {
    let (_folder, server) = server();
    let (first, second) = (server.join(id(1)), server.join(id(2)));
    let cursor = second.pull(None).read::<PullAnswer>(200).cursor;
    let question = json!({ "device": id(2), "nonce": id(7), "cursor": cursor, "pushed": cursor });
    let ask = |question: &Value| described(&server.stranger(), "post", "/api/v1/shut-out", question);
    assert_eq!(ask(&question).refusal(404), "not_found");
    assert_eq!(first.shut_out(&id(2).to_string()).status, 200);
    assert_eq!(ask(&question).status, 200);
    assert_eq!(ask(&json!({ "device": id(2) })).refusal(400), "malformed");
}
