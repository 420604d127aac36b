//! What screens read of the shelf: the materials, what steps took of them, and what waits for them. Nothing of it is
//! read at start, only by the screens that show it.

use std::rc::Rc;

use shared::analytics::months_back;
use shared::log::SubjectId;
use shared::log::body::OperationCode;
use shared::log::fold::ShopState;
use shared::shelf::{KeptMaterial, MaterialUse, Materials, Shelf, UsualTakes, uses_in_rows};

use crate::device::lazy::lazy;
use crate::device::{DeviceError, Phone, has_read_everything};
use crate::parts::today;
use crate::session::{LiveQuery, use_live_query};
use crate::shop::use_shop;
use app_core::commands::shelf::{WaitingJob, pairs_that_wait, waiting_jobs};
use app_core::stations::{StationRow, in_shop};

/// Suggestions at a step go by the work of so many months…
const RECENT_MONTHS: usize = 4;
/// …and of the months that bring it to so many pairs.
const RECENT_PAIRS: usize = 150;

/// The materials, and what steps have taken of them.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialUses {
    /// The materials.
    pub materials: Materials,
    /// What steps took.
    pub usage: Vec<MaterialUse>,
    /// The shelf that follows from both.
    pub shelf: Shelf,
}

impl MaterialUses {
    fn of(materials: Materials, rows: &[String], shop: &ShopState) -> Self {
        let usage = uses_in_rows(rows, &UsualTakes::of(&materials, shop));
        Self {
            shelf: Shelf::of(&materials, &usage),
            materials,
            usage,
        }
    }
}

/// All that the screen of the shelf shows.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelfShown {
    /// The materials, and everything that was taken of them since the shop began to keep account.
    pub uses: MaterialUses,
    /// The waits for materials of the shelf.
    pub waiting: Vec<WaitingJob>,
    /// Whether this device has read everything that the shop's server has, so that what it shows is right.
    pub whole: bool,
}

impl ShelfShown {
    /// The waits for a material, by its canonical id.
    pub fn waiting_for(&self, material: SubjectId) -> impl Iterator<Item = &WaitingJob> {
        self.waiting.iter().filter(move |one| one.material == material)
    }
}

/// All that the screen of the shelf shows, kept up to date; `None` until it is read.
pub type ShelfQuery = LiveQuery<Option<Rc<ShelfShown>>>;

/// Reads the shelf. It reads every pair that was worked on since the shop began to keep account: for the screens that
/// show what is there.
#[must_use]
pub fn use_shelf() -> ShelfQuery {
    let shop = use_shop();
    use_live_query(move |phone| {
        let known = shop.is_read().then(|| shop.state());
        async move {
            let Some(state) = known else { return Ok(None) };
            Ok(Some(Rc::new(shelf_shown(&phone, &state).await?)))
        }
    })
}

async fn shelf_shown(phone: &Phone, shop: &ShopState) -> Result<ShelfShown, DeviceError> {
    let materials = phone.materials().await?;
    let rows = match materials.begun() {
        Some(since) => phone.used_since(since).await?,
        None => Vec::new(),
    };
    Ok(ShelfShown {
        waiting: waiting(phone, &materials).await?,
        whole: has_read_everything(phone).await?,
        uses: MaterialUses::of(materials, &rows, shop),
    })
}

/// The waits for materials of the shelf, of jobs in the shop.
async fn waiting(phone: &Phone, materials: &Materials) -> Result<Vec<WaitingJob>, DeviceError> {
    if materials.is_empty() {
        return Ok(Vec::new());
    }
    let rows: Vec<StationRow> = in_shop(phone.in_shop().await?).collect();
    let histories = phone.pair_histories(&pairs_that_wait(&rows)).await?;
    Ok(waiting_jobs(materials, &rows, &histories))
}

/// Reads the materials and what the steps of the last months took of them: enough to suggest what a step took, but not
/// to say what is there. `None` until it is read.
#[must_use]
pub fn use_recent_uses() -> LiveQuery<Option<Rc<MaterialUses>>> {
    let shop = use_shop();
    use_live_query(move |phone| {
        let known = shop.is_read().then(|| shop.state());
        async move {
            let Some(state) = known else { return Ok(None) };
            let materials = phone.materials().await?;
            let rows = match materials.is_empty() {
                true => Vec::new(),
                false => {
                    phone
                        .books(&months_back(&today(), RECENT_MONTHS), RECENT_PAIRS)
                        .await?
                }
            };
            Ok(Some(Rc::new(MaterialUses::of(materials, &rows, &state))))
        }
    })
}

/// A material that a pair can wait for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MaterialOffer {
    /// The material.
    pub id: SubjectId,
    /// Its name.
    pub name: String,
    /// The operations that usually take it.
    pub operations: Vec<OperationCode>,
}

impl MaterialOffer {
    /// `None` for a material that is no longer kept, or has no name.
    fn of(material: &KeptMaterial) -> Option<Self> {
        let name = material.state.name().filter(|_| !material.state.is_retired())?;
        Some(Self {
            id: material.id,
            name: name.to_owned(),
            operations: material.state.operations().map(OperationCode::from).collect(),
        })
    }
}

lazy! {
    /// The materials that a pair can wait for, by name. The Bench offers them too, so they are read by a part of the
    /// app that the first screen does not wait for.
    pub fn materials_to_wait_for(phone: Phone) -> Vec<MaterialOffer> {
        let materials = phone.materials().await?;
        let mut all: Vec<MaterialOffer> = materials.iter().filter_map(MaterialOffer::of).collect();
        all.sort_by_key(|one| one.name.to_lowercase());
        Ok(all)
    }
}
