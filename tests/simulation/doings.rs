//! What people do on a phone, at random: everything the log has a word for. A helper does what helpers do.

use app_core::commands;
use app_core::store::Surroundings;
use app_core::store::{NewBlob, StoreError};
use shared::log::body::{Agreed, Blob, HandedOver, Photo, Role, SameAs, Shows, Side, Step, field};
use shared::log::fold::{AgreedLine, JobLine, PairHistory, ShopState, Summary};
use shared::log::roles::may_write;
use shared::log::{Body, Draft, ReceivedEntry, Subject, SubjectId, SubjectKind};
use shared::price::currency::Currency;
use shared::price::minor::Minor;

use crate::dice::Dice;
use crate::phone::Store;
use crate::remarks;
use crate::repairers;
use crate::saving::keep;
use crate::seen::Seen;

/// How many of the doings at [`on_pair`] are a helper's too.
const OF_HELPERS: u32 = 14;
/// How many there are.
const ALL: u32 = 23;

/// Does one thing, and remembers what was shown as saved.
pub(crate) async fn work(store: &Store, dice: &Dice, seen: &Seen) {
    well_done(something(store, dice, seen).await);
}

/// A repairer has taken in more customers by mistake than can be erased in a day, and erases them all.
pub(crate) async fn clear_out(store: &Store, dice: &Dice, seen: &Seen) {
    well_done(take_in_and_erase(store, dice, seen).await);
}

/// Nothing but the database may fail.
fn well_done(done: Result<(), StoreError>) {
    match done {
        Ok(()) | Err(StoreError::Kv(_)) => {}
        Err(other) => panic!("the store refuses honest work: {other}"),
    }
}

async fn something(store: &Store, dice: &Dice, seen: &Seen) -> Result<(), StoreError> {
    let helps = store.membership().await?.is_helper();
    let pairs = store.in_shop().await?;
    match dice.pick(&pairs) {
        Some(pair) if !dice.once_in(4) => on_pair(store, dice, seen, (pair, pairs.as_slice()), helps).await,
        _ if !helps && dice.once_in(4) => repairers::set_price(store, dice, seen).await,
        _ => take_in(store, dice, seen).await.map(drop),
    }
}

async fn take_in_and_erase(store: &Store, dice: &Dice, seen: &Seen) -> Result<(), StoreError> {
    if store.membership().await?.is_helper() {
        return Ok(());
    }
    let mut customers = Vec::new();
    for _ in 0..dice.between(6, 8) {
        customers.extend(take_in(store, dice, seen).await?);
    }
    for customer in customers {
        repairers::forget(store, seen, customer).await?;
    }
    Ok(())
}

/// Returns the customer.
async fn take_in(store: &Store, dice: &Dice, seen: &Seen) -> Result<Option<SubjectId>, StoreError> {
    let around = store.surroundings();
    let mut derby = commands::PairIn {
        look: "derby".to_owned(),
        ..commands::PairIn::default()
    };
    derby.toggle("half_sole", &ShopState::default());
    for line in &mut derby.lines {
        line.price = "65".to_owned();
    }
    let form = commands::DropOff {
        // A name and a number that nobody else has, so that a scan can tell whether they are gone.
        name: format!("Brack-{:016x}", dice.seed()),
        phone: format!("555{:019}", dice.seed()),
        pairs: vec![derby],
        day: "2027-01-15".to_owned(),
        ..commands::DropOff::default()
    };
    let secret = || around.random().iter().map(|byte| format!("{byte:02x}")).collect();
    let (taken, drafts) = commands::take_in(
        &form,
        (None, Currency::default()),
        || around.new_subject(),
        secret,
    )
    .expect("everything is said");
    keep(store, seen, drafts, Vec::new()).await?;
    Ok(taken.customer)
}

async fn on_pair(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    (pair, pairs): (&Summary, &[Summary]),
    helps: bool,
) -> Result<(), StoreError> {
    let life = store.pair_history(pair.id).await?;
    let Some(job) = dice.pick(&pair.jobs).cloned() else {
        return Ok(());
    };
    match dice.between(1, if helps { OF_HELPERS } else { ALL }) {
        1..=3 => photograph(store, dice, seen, &job).await,
        4 => recolour(store, dice, seen, &life).await,
        5 | 6 => agree_otherwise(store, dice, seen, &life, &job).await,
        7 => step(store, seen, &job).await,
        8 => take_back(store, dice, seen, &life, helps).await,
        9 => publish(store, seen, &life, &job).await,
        10 => keep(store, seen, vec![commands::withdraw(life.id)], Vec::new()).await,
        11 => same_pair(store, dice, seen, &life, pairs).await,
        12 => hand_over(store, seen, &job).await,
        13 | 14 => remarks::remark(store, dice, seen, &life, &job).await,
        15 => repairers::a_newer_app_writes(store, dice, seen, &life).await,
        16 | 17 => repairers::erase(store, dice, seen, &life).await,
        18 => repairers::destroy(store, dice, seen, &life, &job).await,
        19..=21 => remarks::erase_mention(store, dice, seen, &life).await,
        _ => repairers::call_off(store, dice, seen, &life).await,
    }
}

async fn photograph(store: &Store, dice: &Dice, seen: &Seen, job: &JobLine) -> Result<(), StoreError> {
    let (full, thumb) = (picture(dice), picture(dice));
    let photo = Photo::new(full.about.clone(), thumb.about.clone(), Shows::Step);
    keep(
        store,
        seen,
        vec![commands::photo(job.id, photo)],
        vec![full, thumb],
    )
    .await
}

/// Bytes that begin like a JPEG.
fn picture(dice: &Dice) -> NewBlob {
    let bytes = support::sample::picture(dice.between(0, u32::MAX), 40);
    let about: Blob = support::sample::blob_of(&bytes, "image/jpeg");
    NewBlob { about, bytes }
}

async fn recolour(store: &Store, dice: &Dice, seen: &Seen, life: &PairHistory) -> Result<(), StoreError> {
    let colour = format!("brown {}", dice.between(0, 9));
    let subject = Subject::new(SubjectKind::Pair, life.id);
    let drafts = commands::set(subject, &life.pair.details, field::COLOUR, &colour)
        .into_iter()
        .collect();
    keep(store, seen, drafts, Vec::new()).await
}

/// Another price for a line, replacing all versions of it this phone knows; or an extra line.
async fn agree_otherwise(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
    job: &JobLine,
) -> Result<(), StoreError> {
    let lines: &[AgreedLine] = life.jobs.get(&job.id).map_or(&[], |state| &state.agreed);
    let over = match dice.pick(lines) {
        Some(line) if !dice.once_in(4) => line.versions.iter().map(|version| version.entry).collect(),
        _ => Vec::new(),
    };
    let agreed = Agreed::at(
        "counter_rebuild".to_owned(),
        Minor(i64::from(dice.between(0, 9_900))),
    );
    let subject = Subject::new(SubjectKind::Job, job.id);
    keep(
        store,
        seen,
        vec![Draft::new(subject, Body::Agreed(agreed)).over(over)],
        Vec::new(),
    )
    .await
}

async fn step(store: &Store, seen: &Seen, job: &JobLine) -> Result<(), StoreError> {
    let step = Step {
        operation: "half_sole".into(),
        side: Side::Left,
        note: "soft heel seat".to_owned(),
        minutes: None,
        used: Vec::new(),
        line: job.next_lines.get("half_sole").map(|line| line.entry),
        cement: None,
    };
    let draft = Draft::new(Subject::new(SubjectKind::Job, job.id), Body::Step(step));
    keep(store, seen, vec![draft], Vec::new()).await
}

/// Even without a check: what other apps may have written must not upset this one.
async fn hand_over(store: &Store, seen: &Seen, job: &JobLine) -> Result<(), StoreError> {
    let body = Body::HandedOver(HandedOver::default());
    let draft = Draft::new(Subject::new(SubjectKind::Job, job.id), body);
    keep(store, seen, vec![draft], Vec::new()).await
}

/// Undoes any entry of the pair's life, an earlier undoing among them; a helper only what a helper may write.
async fn take_back(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
    helps: bool,
) -> Result<(), StoreError> {
    let history = store.history(life.id).await?;
    let undoable: Vec<_> = history.iter().filter(|held| is_undoable(held, helps)).collect();
    let Some(held) = dice.pick(&undoable) else {
        return Ok(());
    };
    let draft = commands::undo(held.entry.subject.clone(), held.entry.id);
    keep(store, seen, vec![draft], Vec::new()).await
}

/// Requests for an erasure are called off elsewhere.
fn is_undoable(held: &ReceivedEntry, helps: bool) -> bool {
    let entry = &held.entry;
    let kept = ["erased", "erasure_asked"].contains(&entry.kind.as_str());
    !kept && (!helps || may_write(&Role::Helper, &entry.subject.kind, &entry.kind))
}

async fn publish(store: &Store, seen: &Seen, life: &PairHistory, job: &JobLine) -> Result<(), StoreError> {
    let shop = store.shop_state().await?;
    let now = store.surroundings().now();
    let section = commands::compose(
        life,
        job.id,
        &shop,
        "2027-01-16",
        now,
        &commands::AtPickup::default(),
    );
    keep(
        store,
        seen,
        vec![commands::publish(life, job.id, section)],
        Vec::new(),
    )
    .await
}

async fn same_pair(
    store: &Store,
    dice: &Dice,
    seen: &Seen,
    life: &PairHistory,
    pairs: &[Summary],
) -> Result<(), StoreError> {
    let Some(other) = dice.pick(pairs) else {
        return Ok(());
    };
    let body = Body::SameAs(SameAs { other: other.id });
    let draft = Draft::new(Subject::new(SubjectKind::Pair, life.id), body);
    keep(store, seen, vec![draft], Vec::new()).await
}
