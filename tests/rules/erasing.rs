//! How much a shop erases in a day, and erasures that are asked for two days before.

use server_core::shop::Member;
use shared::log::body::{Erased, ErasureAsked, Retracted, Role};
use shared::log::{Body, DeviceId, Entry, EntryId, ReceivedEntry, SubjectId, SubjectKind, UnixMs};
use shared::sync::messages::{
    ERASURE_WAITS_MS, ERASURES_WITHIN_MS, JoinRequest, MAX_ERASED_BLOBS, MAX_ERASED_SUBJECTS, PushOutcome,
};
use support::memory::{Household, MemoryShop};
use support::sample::{Pen, sha256, unsent};

/// A recent time in ms since 1970.
const NOW: i64 = 1_790_000_000_000;
const BEYOND: &str = "too_many_erasures";

/// A shop with a repairer's device.
struct Erasing {
    household: Household,
    shop: MemoryShop,
    member: Member,
    pen: Pen,
}

async fn erasing() -> Erasing {
    let household = Household::new(1);
    household.world.set(UnixMs(NOW));
    let shop = household.open().await;
    let pen = Pen::new(1);
    let member = join(&shop, pen.device, Role::Repairer).await;
    Erasing {
        household,
        shop,
        member,
        pen,
    }
}

async fn join(shop: &MemoryShop, device: DeviceId, role: Role) -> Member {
    let request = JoinRequest {
        code: shop.join_code(role).await.unwrap().code,
        device,
        name: "Bench phone".to_owned(),
        shop: None,
    };
    let token = shop.join(&request).await.unwrap().token;
    shop.member_of(&token).await.unwrap()
}

impl Erasing {
    fn on(&mut self, subject: SubjectId, body: &Body) -> Entry {
        self.pen.entry(SubjectKind::Customer, subject, body)
    }

    /// Erasures of so many customers of whom nothing is known yet.
    fn erasures(&mut self, count: usize) -> Vec<Entry> {
        (0..count)
            .map(|_| {
                let customer = self.pen.subject();
                self.on(customer, &Body::Erased(Erased::default()))
            })
            .collect()
    }

    /// Requests for erasures of so many customers.
    fn requests(&mut self, count: usize) -> Vec<Entry> {
        (0..count)
            .map(|_| {
                let customer = self.pen.subject();
                self.on(customer, &Body::ErasureAsked(ErasureAsked::default()))
            })
            .collect()
    }

    /// The erasure that fulfils a request.
    fn fulfilment(&mut self, request: &Entry) -> Entry {
        let blob = match Body::of(request) {
            Body::ErasureAsked(asked) => asked.blob,
            other => panic!("{other:?}"),
        };
        self.on(request.subject.id, &Body::Erased(Erased { blob }))
    }

    fn retraction(&mut self, of: &Entry) -> Entry {
        let entry = of.id;
        self.on(of.subject.id, &Body::Retracted(Retracted { entry }))
    }

    async fn push_held(&self, held: Vec<ReceivedEntry>) -> Vec<String> {
        let answer = self.shop.push(&self.member, held.into()).await.unwrap();
        let code = |taken: PushOutcome| match taken {
            PushOutcome::Accepted { .. } => String::new(),
            PushOutcome::Refused(problem) => problem.code.as_str().to_owned(),
        };
        answer.results.into_iter().map(code).collect()
    }

    /// Pushes entries. Returns the code of each refusal, or "".
    async fn push(&self, entries: &[Entry]) -> Vec<String> {
        self.push_held(unsent(entries)).await
    }

    /// Uses up what can be erased today.
    async fn use_up(&mut self) {
        let erasures = self.erasures(MAX_ERASED_SUBJECTS);
        assert_eq!(self.push(&erasures).await, [""; MAX_ERASED_SUBJECTS]);
        let hashes = (0..MAX_ERASED_BLOBS)
            .map(|_| self.blob_erasure())
            .collect::<Vec<_>>();
        assert_eq!(self.push(&hashes).await, [""; MAX_ERASED_BLOBS]);
    }

    /// An erasure of a photograph that nobody has named yet.
    fn blob_erasure(&mut self) -> Entry {
        let job = self.pen.subject();
        let blob = Some(sha256(job.0.as_bytes()));
        self.on(job, &Body::Erased(Erased { blob }))
    }

    /// The requests that a device of this role is to fulfil now.
    async fn due_for(&self, role: &Role) -> Vec<EntryId> {
        let answer = self.shop.pull(role, None, None).await.unwrap();
        assert!(!answer.more);
        assert_eq!(&answer.role, role);
        answer.due.iter().map(|held| held.entry.id).collect()
    }

    async fn due(&self) -> Vec<EntryId> {
        self.due_for(&Role::Repairer).await
    }
}

fn ids(entries: &[Entry]) -> Vec<EntryId> {
    entries.iter().map(|entry| entry.id).collect()
}

#[tokio::test]
async fn a_shop_erases_so_many_subjects_and_blobs_in_a_day() {
    let mut shop = erasing().await;
    let subjects = shop.erasures(MAX_ERASED_SUBJECTS + 2);
    let mut expected = vec![""; MAX_ERASED_SUBJECTS];
    expected.extend([BEYOND; 2]);
    assert_eq!(shop.push(&subjects).await, expected);
    // Blobs are counted apart.
    let blobs: Vec<_> = (0..=MAX_ERASED_BLOBS).map(|_| shop.blob_erasure()).collect();
    let mut expected = vec![""; MAX_ERASED_BLOBS];
    expected.push(BEYOND);
    assert_eq!(shop.push(&blobs).await, expected);

    // What is erased already does not count, also when it is erased by another entry.
    let again = shop.on(subjects[0].subject.id, &Body::Erased(Erased::default()));
    let sent = [subjects[0].clone(), again, subjects[6].clone()];
    assert_eq!(shop.push(&sent).await, ["", "", BEYOND]);
    // Neither another device, nor a `received` of long ago, nor a restart of the server gets round it.
    shop.member = join(&shop.shop, Pen::new(2).device, Role::Repairer).await;
    let long_ago = ReceivedEntry {
        entry: subjects[6].clone(),
        received: Some(UnixMs(1)),
    };
    shop.shop = shop.household.open().await;
    assert_eq!(shop.push_held(vec![long_ago]).await, [BEYOND]);

    // What was refused has erased nothing.
    let customer = subjects[6].subject.id;
    let name = shop.pen.raw(SubjectKind::Customer, customer, "detail", "{}");
    assert_eq!(shop.push(std::slice::from_ref(&name)).await, [""]);
    let held = shop.shop.pull(&Role::Repairer, None, None).await.unwrap().entries;
    assert!(held.iter().any(|held| held.entry == name));

    shop.household.world.advance(ERASURES_WITHIN_MS - 1);
    assert_eq!(shop.push(&subjects[5..]).await, [BEYOND, BEYOND]);
    shop.household.world.advance(1);
    assert_eq!(shop.push(&subjects[5..]).await, ["", ""]);
    assert_eq!(shop.push(&blobs[MAX_ERASED_BLOBS..]).await, [""]);
}

#[tokio::test]
async fn what_was_asked_for_two_days_ago_is_erased_beyond_the_limit() {
    let mut shop = erasing().await;
    let [asked, called_off]: [Entry; 2] = shop.requests(2).try_into().unwrap();
    let (job, blob) = (shop.pen.subject(), Some(sha256(b"picture")));
    let of_blob = shop.on(job, &Body::ErasureAsked(ErasureAsked { blob }));
    let stranger = shop.erasures(1).remove(0);
    let requests = [asked, of_blob, called_off];
    // Whatever time a device claims for it, a request waits from its arrival.
    let held = requests.iter().map(|entry| ReceivedEntry {
        entry: entry.clone(),
        received: Some(UnixMs(1)),
    });
    assert_eq!(shop.push_held(held.collect()).await, [""; 3]);
    let retraction = shop.retraction(&requests[2]);
    assert_eq!(shop.push(std::slice::from_ref(&retraction)).await, [""]);
    let mut fulfilments = Vec::new();
    for request in &requests {
        fulfilments.push(shop.fulfilment(request));
    }
    fulfilments.push(stranger);

    shop.household.world.advance(ERASURE_WAITS_MS - 1);
    shop.use_up().await;
    assert_eq!(shop.due().await, []);
    assert_eq!(shop.push(&fulfilments).await, [BEYOND; 4]);
    shop.household.world.advance(1);
    assert_eq!(shop.due().await, ids(&requests[..2]));
    assert_eq!(shop.due_for(&Role::Helper).await, []);
    assert_eq!(shop.push(&fulfilments).await, ["", "", BEYOND, BEYOND]);
    assert_eq!(shop.due().await, []);

    // Who takes back that it was called off, asks for it again.
    let anew = shop.retraction(&retraction);
    assert_eq!(shop.push(&[anew]).await, [""]);
    assert_eq!(shop.due().await, [requests[2].id]);
    assert_eq!(shop.push(&fulfilments[2..]).await, ["", BEYOND]);
}

#[tokio::test]
async fn the_oldest_requests_are_due_first() {
    let mut shop = erasing().await;
    let requests = shop.requests(MAX_ERASED_SUBJECTS + 2);
    for request in requests.iter().rev() {
        assert_eq!(shop.push(std::slice::from_ref(request)).await, [""]);
        shop.household.world.advance(1);
    }
    let oldest_first: Vec<_> = requests.iter().rev().cloned().collect();
    shop.household.world.advance(ERASURE_WAITS_MS);
    assert_eq!(shop.due().await, ids(&oldest_first[..MAX_ERASED_SUBJECTS]));
    let mut fulfilments = Vec::new();
    for request in &oldest_first[..MAX_ERASED_SUBJECTS] {
        fulfilments.push(shop.fulfilment(request));
    }
    assert_eq!(shop.push(&fulfilments).await, [""; MAX_ERASED_SUBJECTS]);
    assert_eq!(shop.due().await, ids(&oldest_first[MAX_ERASED_SUBJECTS..]));
    // Those that were asked for do not count.
    shop.use_up().await;
}

/// The clock was days ahead when a request came, and was set right.
#[tokio::test]
async fn a_clock_that_is_set_back_shortens_no_wait() {
    let mut shop = erasing().await;
    shop.household.world.set(UnixMs(NOW + 3 * ERASURE_WAITS_MS));
    let request = shop.requests(1).remove(0);
    assert_eq!(shop.push(std::slice::from_ref(&request)).await, [""]);
    for now in [NOW, NOW + 4 * ERASURE_WAITS_MS - 1] {
        shop.household.world.set(UnixMs(now));
        assert_eq!(shop.due().await, []);
    }
    shop.household.world.advance(1);
    assert_eq!(shop.due().await, [request.id]);
}

#[tokio::test]
async fn the_shop_itself_is_not_asked_to_be_erased() {
    let mut shop = erasing().await;
    let own = SubjectId(shop.shop.status().await.unwrap().shop);
    let ask = Body::ErasureAsked(ErasureAsked::default());
    for kind in [SubjectKind::Shop, SubjectKind::Customer] {
        let asks = shop.pen.entry(kind, own, &ask);
        assert_eq!(shop.push(&[asks]).await, ["not_erasable"]);
    }
    // A photograph of the shop can be erased.
    let blob = Some(sha256(b"picture"));
    let asks = shop
        .pen
        .entry(SubjectKind::Shop, own, &Body::ErasureAsked(ErasureAsked { blob }));
    assert_eq!(shop.push(std::slice::from_ref(&asks)).await, [""]);
    shop.household.world.advance(ERASURE_WAITS_MS);
    assert_eq!(shop.due().await, [asks.id]);
}

/// An older database comes back; what its ledger has erased is erased again and counts for nothing.
#[tokio::test]
async fn what_the_ledger_has_erased_does_not_count() {
    let mut shop = erasing().await;
    let before = shop.household.store.snapshot();
    shop.use_up().await;
    shop.household.store.roll_back(&before);
    shop.shop = shop.household.open().await;
    shop.use_up().await;
    let more = shop.erasures(1);
    assert_eq!(shop.push(&more).await, [BEYOND]);
}
