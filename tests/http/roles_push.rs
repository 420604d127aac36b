//! What a helper's device may write. What it may not write is kept aside and has no effect until a repairer takes it.

use std::slice;

use shared::log::body::{Erased, ErasureAsked, Retracted, Role, SameAs};
use shared::log::fold::ShopState;
use shared::log::{Body, Entry, EntryId, ReceivedEntry, SubjectId, SubjectKind, UnixMs, roles};
use shared::sync::messages::{
    Holding, KeptAsideAnswer, MissingEntries, MissingEntriesAnswer, PushOutcome, Status,
};
use support::running::{Client, Server};
use support::sample::{Pen, WholeJob, unsent};
use tempfile::TempDir;

use crate::server;

pub(super) const KEPT: &str = "kept_for_repairer";
/// A time before every test.
pub(super) const EARLY: UnixMs = UnixMs(1_700_000_000_500);

/// A shop with a repairer's and a helper's device, and a job that the repairer has taken in.
pub(super) struct Bench {
    pub(super) server: Server,
    pub(super) repairer: Client,
    pub(super) helper: Client,
    pub(super) pen: Pen,
    pub(super) helpers_pen: Pen,
    pub(super) shop: SubjectId,
    pub(super) job: WholeJob,
    _folder: TempDir,
}

pub(super) fn bench() -> Bench {
    let (folder, server) = server();
    let (mut pen, helpers_pen) = (Pen::new(1), Pen::new(2));
    let repairer = server.join(pen.device);
    let helper = server.join_with(&repairer.code_for(Role::Helper), helpers_pen.device);
    let shop = SubjectId(repairer.ask_status().read::<Status>(200).shop);
    let job = pen.whole_job(b"");
    repairer.push_all(&job.entries);
    Bench {
        server,
        repairer,
        helper,
        pen,
        helpers_pen,
        shop,
        job,
        _folder: folder,
    }
}

impl Bench {
    /// Everything in the shop, as the repairer's device reads it.
    pub(super) fn records(&self) -> Vec<Entry> {
        let (held, _) = self.repairer.pull_all();
        held.into_iter().map(|held| held.entry).collect()
    }

    /// What is kept aside, in the order in which the repairer reads it.
    pub(super) fn kept(&self) -> Vec<Entry> {
        let answer: KeptAsideAnswer = self.repairer.get("/api/v1/kept-aside").read(200);
        assert!(!answer.more);
        let device = self.helpers_pen.device;
        assert!(answer.entries.iter().all(|kept| kept.device == device));
        answer.entries.into_iter().map(|kept| kept.entry.entry).collect()
    }

    /// The server asks the helper's device for this entry, which the device has with this `received`.
    fn is_asked_for(&self, id: EntryId, received: Option<UnixMs>) {
        let held = vec![Holding { id, received }];
        let answer = self
            .helper
            .post("/api/v1/entries/missing", &MissingEntries { held });
        assert_eq!(answer.read::<MissingEntriesAnswer>(200).missing, [id]);
    }

    /// An entry of the helper on the repairer's job.
    pub(super) fn note(&mut self, text: &str) -> Entry {
        note(&mut self.helpers_pen, self.job.job, text)
    }

    fn retraction(&mut self, entry: EntryId) -> Entry {
        let retracts = Body::Retracted(Retracted { entry });
        self.helpers_pen.entry(SubjectKind::Job, self.job.job, &retracts)
    }
}

fn note(pen: &mut Pen, job: SubjectId, text: &str) -> Entry {
    pen.raw(SubjectKind::Job, job, "note", &format!(r#"{{"text":"{text}"}}"#))
}

/// The code with which an entry was refused; "" if it was accepted.
pub(super) fn code(taken: &PushOutcome) -> String {
    match taken {
        PushOutcome::Accepted { .. } => String::new(),
        PushOutcome::Refused(problem) => problem.code.as_str().to_owned(),
    }
}

pub(super) fn codes(client: &Client, entries: &[Entry]) -> Vec<String> {
    client.push(unsent(entries)).iter().map(code).collect()
}

/// Pushes one entry that the device says was received [`EARLY`], and that is accepted. Returns when it was received
/// according to the server.
pub(super) fn received(client: &Client, entry: &Entry) -> UnixMs {
    let held = ReceivedEntry {
        entry: entry.clone(),
        received: Some(EARLY),
    };
    match &client.push(vec![held])[..] {
        [PushOutcome::Accepted { received }] => *received,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_helper_writes_the_work_and_neither_the_shop_nor_people_nor_erasures() {
    let mut bench = bench();
    let mut expected_records = bench.records();
    let first = bench.note("Mine");
    assert_eq!(codes(&bench.helper, slice::from_ref(&first)), [""]);
    let (mut entries, mut expected) = (Vec::new(), Vec::new());
    for kind in Body::KINDS.iter().copied().chain(["hologram"]) {
        let supplier = SubjectKind::from("supplier");
        for subject in SubjectKind::KNOWN.iter().cloned().chain([supplier]) {
            let about_shop = subject == SubjectKind::Shop;
            // The repairer sends them all at the end, and the shop erases five subjects in a day.
            if kind == "erased" && subject == SubjectKind::from("supplier") {
                continue;
            }
            expected.push(match kind {
                "erased" | "erasure_asked" | "mention_erased" if about_shop => "not_erasable",
                _ if roles::may_write(&Role::Helper, &subject, kind) => "",
                _ => KEPT,
            });
            let body = match kind {
                "retracted" => format!(r#"{{"entry":"{}"}}"#, first.id),
                "same_as" => format!(r#"{{"other":"{}"}}"#, bench.job.customer),
                _ => "{}".to_owned(),
            };
            let pen = &mut bench.helpers_pen;
            let id = if about_shop { bench.shop } else { pen.subject() };
            entries.push(pen.raw(subject, id, kind, &body));
        }
    }
    assert_eq!(codes(&bench.helper, &entries), expected);

    let of = |word: &str| -> Vec<Entry> {
        let both = entries.iter().zip(&expected);
        let those = both.filter(|(_, expected)| **expected == word);
        those.map(|(entry, _)| entry.clone()).collect()
    };
    let (accepted, refused) = (of(""), of(KEPT));
    assert!(accepted.len() > 100 && refused.len() > 50);
    expected_records.push(first);
    expected_records.extend(accepted);
    assert_eq!(
        bench.records(),
        expected_records,
        "and nothing of them is changed"
    );
    assert_eq!(bench.kept(), refused);
    // Sent again, each is answered as before and kept once.
    assert_eq!(codes(&bench.helper, &entries), expected);
    assert_eq!(bench.kept(), refused);

    // A repairer's device may send the same.
    bench.repairer.push_all(&refused);
    expected_records.extend(refused);
    assert_eq!(bench.records(), expected_records);
    assert_eq!(bench.kept(), []);
    assert!(bench.server.run(&["check"]).status.success());
}

#[test]
fn a_helper_hides_and_joins_only_what_it_may_write() {
    let mut bench = bench();
    let (shop, job, customer) = (bench.shop, bench.job.job, bench.job.customer);
    let pen = &mut bench.pen;
    let [gone, own_shop] = [pen.subject(), pen.subject()];
    let price = pen.raw(
        SubjectKind::Shop,
        shop,
        "detail",
        r#"{"field":"prices","value":[1200]}"#,
    );
    let person = pen.raw(SubjectKind::Shop, shop, "person", "{}");
    let disguised = pen.raw(SubjectKind::Customer, shop, "detail", "{}");
    // What a device has written about the shop before it joined has a subject of its own.
    let before_joining = pen.raw(SubjectKind::Shop, own_shop, "detail", "{}");
    let erased = pen.entry(SubjectKind::Customer, gone, &Body::Erased(Erased::default()));
    let asks = Body::ErasureAsked(ErasureAsked::default());
    let asked = pen.entry(SubjectKind::Customer, customer, &asks);
    let calls_off = Body::Retracted(Retracted { entry: asked.id });
    let called_off = pen.entry(SubjectKind::Customer, customer, &calls_off);
    let newer = pen.raw(SubjectKind::Job, job, "hologram", "{}");
    let [remark, mistaken] = ["A remark", "A mistake"].map(|text| note(pen, job, text));
    let hides = Body::Retracted(Retracted { entry: mistaken.id });
    let undone = pen.entry(SubjectKind::Job, job, &hides);
    let written = [
        price,
        person,
        disguised,
        before_joining,
        erased,
        asked,
        called_off,
        newer,
        remark,
        mistaken,
        undone,
    ];
    bench.repairer.push_all(&written);
    let ids = written.each_ref().map(|entry| entry.id);
    let [
        price,
        person,
        disguised,
        before_joining,
        erased,
        asked,
        called_off,
        newer,
        remark,
        _,
        undone,
    ] = ids;
    let [own, kept, never_sent] = ["Own", "Kept", "Never sent"].map(|text| bench.note(text));
    let kept = Entry {
        kind: "hologram".to_owned(),
        ..kept
    };
    assert_eq!(codes(&bench.helper, &[own.clone(), kept.clone()]), ["", KEPT]);
    let mut expected_records = bench.records();

    for (what, id, expected) in [
        ("a remark of the repairer", remark, ""),
        ("what has hidden a remark", undone, ""),
        ("an entry of its own", own.id, ""),
        ("a price", price, KEPT),
        ("a person", person, KEPT),
        ("what is about the shop under another kind", disguised, KEPT),
        (
            "what is about the shop, from before joining",
            before_joining,
            KEPT,
        ),
        ("an erasure", erased, KEPT),
        ("a request for an erasure", asked, KEPT),
        ("what has called off such a request", called_off, KEPT),
        ("a kind of a newer app", newer, KEPT),
        ("what is kept aside itself", kept.id, KEPT),
        ("what the server does not have", never_sent.id, KEPT),
    ] {
        let mut over = bench.note("Instead");
        over.over = vec![id];
        let mut over_two = bench.note("Instead of two");
        over_two.over = vec![remark, id];
        let sent = [over, over_two, bench.retraction(id)];
        assert_eq!(codes(&bench.helper, &sent), [expected; 3], "{what}");
        if expected.is_empty() {
            expected_records.extend(sent);
        }
    }
    for (what, other, expected) in [
        ("another customer", gone, ""),
        ("the shop", shop, KEPT),
        ("the shop, from before joining", own_shop, KEPT),
    ] {
        let same = Body::SameAs(SameAs { other });
        let same = bench.helpers_pen.entry(SubjectKind::Customer, customer, &same);
        assert_eq!(codes(&bench.helper, slice::from_ref(&same)), [expected], "{what}");
        if expected.is_empty() {
            expected_records.push(same);
        }
    }
    assert_eq!(bench.records(), expected_records);
    let (held, _) = bench.repairer.pull_all();
    let own = held.iter().filter(|held| held.entry.subject.id == shop);
    let prices = ShopState::of(own).details.value("prices").cloned();
    assert_eq!(prices, Some(serde_json::json!([1200])), "no price is hidden");
}

/// Each retracts the one before it. The server follows sixteen of them to what they hide in the end.
#[test]
fn a_long_chain_of_retractions_hides_nothing_from_the_server() {
    let mut bench = bench();
    let first = bench.note("Undone and done again");
    let mut chain = vec![first];
    for _ in 0..18 {
        let last = chain[chain.len() - 1].id;
        let next = bench.retraction(last);
        chain.push(next);
    }
    let mut expected = vec![""; 17];
    expected.extend([KEPT; 2]);
    assert_eq!(codes(&bench.helper, &chain), expected);
    // The same when they are stored already.
    let again = [bench.retraction(chain[15].id), bench.retraction(chain[16].id)];
    assert_eq!(codes(&bench.helper, &again), ["", KEPT]);
}

#[test]
fn what_a_helper_sends_for_others_counts_only_if_it_was_asked_for_it() {
    let mut bench = bench();
    let mut other = Pen::new(3);
    let theirs = note(&mut other, bench.job.job, "Of a third device");
    let theirs_too = other.raw(SubjectKind::Shop, bench.shop, "detail", "{}");
    assert_eq!(
        codes(&bench.helper, &[theirs.clone(), theirs_too.clone()]),
        [KEPT, KEPT]
    );
    bench.is_asked_for(theirs.id, Some(EARLY));
    bench.is_asked_for(theirs_too.id, Some(EARLY));
    assert_eq!(received(&bench.helper, &theirs), EARLY);
    assert_eq!(codes(&bench.helper, slice::from_ref(&theirs_too)), [KEPT]);
    assert_eq!(
        bench.kept(),
        [theirs_too],
        "what was accepted is kept aside no longer"
    );

    // When its own entries were received is for the server to say, also when they are sent again.
    let own = bench.note("Own");
    let first = received(&bench.helper, &own);
    assert!(first > EARLY);
    assert_eq!(received(&bench.helper, &own), first);
    bench.is_asked_for(own.id, Some(EARLY));
    assert_eq!(received(&bench.helper, &own), EARLY);
    // A repairer's device is believed.
    let remark = note(&mut bench.pen, bench.job.job, "A remark");
    assert_eq!(received(&bench.repairer, &remark), EARLY);
}
