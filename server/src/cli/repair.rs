//! `waxend check --repair`.

use std::fs;

use super::check::{checked, opened, still_gone, tell};
use super::{CliError, doing, locked, may_begin, one_line, say};
use crate::config::Cli;
use crate::data::DataFolder;
use crate::http::Home;
use crate::put_aside;
use server_core::error::Error;
use server_core::ledger::FileLedger;
use server_core::shop::{Mended, mend_database};
use server_core::world::{RealWorld, World};

/// What is said where the database cannot be mended.
const BEYOND_REPAIR: &str = "the database cannot be mended; nothing was changed. Restore a backup: devices bring what it \
    lacks";

/// Mends what can be mended, and reports what is still wrong.
pub(super) async fn repair(cli: &Cli) -> Result<(), CliError> {
    // A server must not run meanwhile.
    let (data, _lock) = locked(cli)?;
    may_begin(&data)?;
    if data.is_empty() {
        return Err(CliError::NoShop(cli.data.clone()));
    }
    let mended = mend(&data).await?;
    tell_of_mended(&mended);
    let shop = opened(&data).await?;
    let done = mend_rest(&shop, &data).await;
    let wrong = match done {
        Ok(()) => checked(&shop, &data).await,
        Err(error) => Err(error),
    };
    shop.store().close().await;
    let mut wrong = wrong?;
    if mended.gone > 0 {
        wrong.push(format!(
            "entries that are gone: {}; a device that has them brings them again",
            mended.gone
        ));
    }
    tell(&wrong)?;
    say("All is well.");
    Ok(())
}

/// Says what was mended in the database, and what became of what could not be.
fn tell_of_mended(mended: &Mended) {
    let Mended {
        mended,
        taken_out,
        aside,
        shut_out,
        tokens,
        join_codes,
        gone: _,
    } = mended;
    mended.iter().for_each(|line| say(&format!("mended: {line}")));
    if *taken_out > 0 {
        say(&format!(
            "taken out: damaged entries: {taken_out}. Devices that have them bring them again."
        ));
    }
    if *aside > 0 {
        say(&format!(
            "taken out: damaged entries that were kept aside: {aside}."
        ));
    }
    for device in shut_out {
        say(&format!(
            "shut out: the device {} ({}), because what was noted of it is damaged. It joins again with `waxend join`, and \
             has the letters {} then.",
            device.id,
            one_line(&device.name),
            device.letters
        ));
    }
    if *tokens > 0 {
        say(&format!(
            "deleted: damaged tokens: {tokens}. Their devices join again with `waxend join`."
        ));
    }
    if *join_codes > 0 {
        say(&format!("deleted: damaged join codes: {join_codes}."));
    }
}

/// Mends the database. The shop is not open meanwhile, since damage can prevent that.
async fn mend(data: &DataFolder) -> Result<Mended, CliError> {
    let world: &dyn World = &RealWorld;
    let store = data.open_store().await?;
    let keep = |lines: &[String]| put_aside::keep_damaged(data.root(), lines, world.now());
    let mended = mend_database(&store, world, keep).await;
    store.close().await;
    mended.map_err(|error| {
        if matches!(error, Error::Store(_)) {
            say(&format!("WRONG: {BEYOND_REPAIR}"));
        }
        error.into()
    })
}

/// Mends what the database does not tell about: photographs, the ledger, and what was put aside and is needed no more.
async fn mend_rest(shop: &Home, data: &DataFolder) -> Result<(), CliError> {
    for line in shop.mend_rest().await? {
        say(&format!("mended: {line}"));
    }
    mend_ledger(data)?;
    for file in put_aside::damaged(data.root()).map_err(doing("reading the data folder"))? {
        if still_gone(shop, &file).await? == 0 {
            fs::remove_file(&file).map_err(doing("removing what was put aside"))?;
            say(&format!(
                "mended: all of {} has come back, and it is deleted",
                file.display()
            ));
        }
    }
    Ok(())
}

/// Leaves the damaged lines of the ledger out. Opening the shop has added what the database knows and the ledger lacked.
fn mend_ledger(data: &DataFolder) -> Result<(), CliError> {
    let world: &dyn World = &RealWorld;
    let ledger = FileLedger::new(&data.ledger());
    let read = ledger.read().map_err(doing("reading the erasure ledger"))?;
    if read.is_some_and(|read| read.damaged > 0) {
        let damaged = data
            .ledger()
            .with_added_extension(format!("damaged-{}", world.now().0));
        let is_kept = ledger
            .mend(&damaged)
            .map_err(doing("mending the erasure ledger"))?;
        if is_kept {
            say(&format!(
                "mended: the erasure ledger; as it was it is in {}",
                damaged.display()
            ));
        } else {
            say("mended: the erasure ledger");
        }
    }
    Ok(())
}
