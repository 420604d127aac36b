//! The shop's older list, steps of older apps, and what materials cost.

use super::*;
use crate::price::materials::{job_cost, stock};
use crate::price::minor::Minor;

/// The older list of half soles: an eighth of a sheet, a fifth of that wasted.
fn older_list() -> ShopState {
    let line = json!({"material": "rubber sheet", "unit": "sheet", "cost_minor": 2400, "quantity": 0.125, "waste": 0.2});
    let other = json!({"material": "rubber sheet", "unit": "pair", "cost_minor": 300, "quantity": 1.0});
    shop(&[
        ("stock/half_sole", json!([line])),
        ("stock/heel_block", json!([other])),
    ])
}

/// By hand: 1 sheet, less a quarter with a fifth wasted (0.3), less the usual eighth with a fifth wasted (0.15).
#[test]
fn steps_of_an_older_app_take_by_the_name_in_the_older_list() {
    let older = older_list();
    let mut entries = written(0, drafts_from_stock(&older, &Materials::default()));
    let material = entries[0].entry.subject.clone();
    let renamed = Detail {
        field: field::NAME.to_owned(),
        value: json!("Soling, black"),
    };
    let first = Counted {
        difference_thousandths: 1_000,
        on_hand_thousandths: 1_000,
    };
    entries.extend([
        said(20, &material, &Body::Detail(renamed), &[1]),
        said(21, &material, &Body::Counted(first), &[]),
        step(22, Side::Both, by_name("rubber sheet", 250)),
        step(23, Side::Both, Vec::new()),
        step(24, Side::Both, by_name("felt", 250)),
    ]);
    let shelf = shelf(&entries.into_iter().collect(), &older);
    assert_eq!(shelf.rows[0].name(), "Soling, black");
    assert_eq!(shelf.rows[0].on_hand, Some(550));
}

#[test]
fn the_older_list_is_taken_over_once_also_by_two_devices() {
    let older = older_list();
    let drafts = drafts_from_stock(&older, &Materials::default());
    assert_eq!(
        drafts,
        drafts_from_stock(&older, &Materials::default()),
        "the same ids"
    );
    let entries: Entries = written(0, drafts).into_iter().collect();
    let materials = Materials::of(&entries);
    assert_eq!(materials.iter().count(), 1);
    let sheet = materials.named("rubber sheet").unwrap();
    assert_eq!(sheet.id, listed_id("rubber sheet"));
    assert_eq!(
        (sheet.state.unit(), sheet.state.cost()),
        (Some("sheet"), Some(Minor(2_400)))
    );
    assert_eq!(
        sheet.state.operations().collect::<Vec<_>>(),
        ["half_sole"],
        "pairs are no sheets"
    );
    assert_eq!(sheet.state.takes("half_sole"), Some(150));
    assert_eq!(drafts_from_stock(&older, &materials), []);
}

/// By hand: half a sheet at 30.00 and, for the second step, the usual 0.156 of one: 15.00 and 4.68.
#[test]
fn a_job_costs_what_its_materials_cost_now() {
    let more = [
        step(1, Side::Both, of_sheet(500)),
        step(2, Side::Both, Vec::new()),
    ];
    let entries: Entries = opened().into_iter().chain(more).collect();
    let materials = Materials::of(&entries);
    let list = stock_of(&ShopState::default(), &materials, "half_sole");
    assert!((job_cost(&facts(&entries), "half_sole", &list) - 1_968.0).abs() < 1e-9);
    let settings = ShopState::of_values(&shelf_fields(&ShopState::default(), &materials));
    assert_eq!(stock(&settings, "half_sole"), list);
    let of_other = stock(&settings, "heel_block");
    assert_eq!(of_other[0].cost(), 0.0, "no material is usual there");
}
