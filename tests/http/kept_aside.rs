//! What a helper's device may not write waits on the server until a repairer takes or drops it.

use std::slice;

use std::collections::BTreeMap;
use std::path::Path;

use shared::log::body::{CardLink, Erased};
use shared::log::{Body, Entry, EntryId, ReceivedEntry, SubjectKind};
use shared::sync::messages::{KeptAsideDecided, KeptAsideDecision, PushOutcome};
use support::sample::Pen;

use crate::erasure::at_rest;
use crate::roles_push::{Bench, EARLY, KEPT, bench, code, codes, received};

/// The repairer decides. Returns the code of each refusal of what was to be taken, or "".
fn decide(bench: &Bench, take: &[EntryId], drop: &[EntryId]) -> Vec<(EntryId, String)> {
    let decision = KeptAsideDecision {
        take: take.to_vec(),
        drop: drop.to_vec(),
    };
    let answer: KeptAsideDecided = bench.repairer.post("/api/v1/kept-aside", &decision).read(200);
    let word = |(id, taken): &(EntryId, PushOutcome)| (*id, code(taken));
    answer.taken.iter().map(word).collect()
}

#[test]
fn a_repairer_takes_or_drops_what_is_kept_aside() {
    let mut bench = bench();
    let shop = bench.shop;
    let mut detail = |body| bench.helpers_pen.raw(SubjectKind::Shop, shop, "detail", body);
    let [taken, dropped, left] = ["{\"a\":1}", "{\"b\":1}", "{\"c\":1}"].map(&mut detail);
    let held = ReceivedEntry {
        entry: taken.clone(),
        received: Some(EARLY),
    };
    bench.helper.push(vec![held]);
    assert_eq!(
        codes(&bench.helper, &[dropped.clone(), left.clone()]),
        [KEPT, KEPT]
    );
    assert_eq!(bench.kept(), [taken.clone(), dropped.clone(), left.clone()]);

    let unknown = bench.job.entries[0].id;
    let decided = decide(&bench, &[taken.id, unknown, taken.id], &[dropped.id, unknown]);
    assert_eq!(decided, [(taken.id, String::new())]);
    assert_eq!(bench.kept(), slice::from_ref(&left));
    assert_eq!(bench.records().last(), Some(&taken));
    assert!(
        received(&bench.helper, &taken) > EARLY,
        "it was received when it was taken"
    );
    assert_eq!(
        codes(&bench.helper, &[dropped.clone(), left.clone()]),
        ["dropped_by_repairer", KEPT]
    );
    assert_eq!(bench.kept(), slice::from_ref(&left));
    // A decision that comes twice changes nothing, and a repairer's device can still send what was dropped.
    assert_eq!(decide(&bench, &[taken.id, dropped.id], &[taken.id]), []);
    assert_eq!(codes(&bench.repairer, slice::from_ref(&dropped)), [""]);
    assert_eq!(codes(&bench.helper, &[dropped]), [""]);
    let other_content = Entry {
        body: "{\"d\":1}".to_owned(),
        ..left.clone()
    };
    assert_eq!(codes(&bench.helper, &[other_content]), ["id_taken"]);
    assert_eq!(bench.kept(), [left]);

    let decision = KeptAsideDecision {
        take: vec![taken.id; 2_000],
        drop: vec![taken.id],
    };
    let too_much = bench.repairer.post("/api/v1/kept-aside", &decision);
    assert_eq!(too_much.refusal(413), "too_large");
}

#[test]
fn what_is_kept_aside_takes_no_card_link() {
    let mut bench = bench();
    let later = bench.pen.whole_job(b"later");
    let link = Body::CardLink(CardLink {
        secret: later.secret.clone(),
    });
    let mut other = Pen::new(3);
    let pair = other.subject();
    let theirs = other.entry(SubjectKind::Pair, pair, &link);
    assert_eq!(codes(&bench.helper, slice::from_ref(&theirs)), [KEPT]);
    bench.repairer.push_all(&later.entries);
    let card = format!("/card/{}", later.secret);
    assert_eq!(bench.server.stranger().get(&card).status, 200);
    let taken = decide(&bench, &[theirs.id], &[]);
    assert_eq!(taken, [(theirs.id, "link_taken".to_owned())]);
    assert_eq!(bench.kept(), [], "what is refused is not kept either");
}

#[test]
fn an_erasure_deletes_what_is_kept_aside_about_its_subject() {
    let mut bench = bench();
    let customer = bench.job.customer;
    let mut written = |kind| {
        let body = r#"{"text":"Ada Example calls"}"#;
        bench.helpers_pen.raw(SubjectKind::Customer, customer, kind, body)
    };
    let [kept, dropped, late] = ["hologram"; 3].map(&mut written);
    assert_eq!(
        codes(&bench.helper, &[kept.clone(), dropped.clone()]),
        [KEPT, KEPT]
    );
    decide(&bench, &[], &[dropped.id]);
    let erased = Body::Erased(Erased::default());
    bench
        .repairer
        .push_all(&[bench.pen.entry(SubjectKind::Customer, customer, &erased)]);
    assert_eq!(bench.kept(), []);
    assert_eq!(codes(&bench.helper, &[kept, late]), ["erased", "erased"]);
    assert_eq!(bench.kept(), []);
    assert!(!at_rest(&bench.server.data, b"Ada Example"));
    assert!(bench.server.run(&["check"]).status.success());
}

/// How many entries each device has pushed, by the letters of the device; "" stands for no device.
fn pushers(data: &Path) -> BTreeMap<String, i64> {
    let database = format!("sqlite://{}", data.join("waxend.db").display());
    let counted = "SELECT coalesce(d.letters, ''), count(*) FROM entries e LEFT JOIN devices d ON d.id = e.pushed_by \
                   GROUP BY 1";
    tokio::runtime::Runtime::new().unwrap().block_on(async {
        let pool = sqlx::SqlitePool::connect(&database).await.unwrap();
        let rows: Vec<(String, i64)> = sqlx::query_as(counted).fetch_all(&pool).await.unwrap();
        pool.close().await;
        rows.into_iter().collect()
    })
}

#[test]
fn the_server_notes_who_has_pushed_an_entry() {
    let mut bench = bench();
    let own = bench.note("Own");
    let taken = bench
        .helpers_pen
        .raw(SubjectKind::Shop, bench.shop, "detail", "{}");
    assert_eq!(codes(&bench.helper, &[own.clone(), taken.clone()]), ["", KEPT]);
    decide(&bench, &[taken.id], &[]);
    // Pushing again what another device has pushed changes nothing.
    bench.repairer.push_all(&[own]);
    let jobs = bench.job.entries.len() as i64;
    let expected = [("A", jobs + 1), ("B", 1)].map(|(letters, count)| (letters.to_owned(), count));
    assert_eq!(pushers(&bench.server.data), BTreeMap::from(expected));
}
