use proptest::prelude::*;
use serde_json::{Map, Value, json};

use super::*;
use crate::log::fold::ShopState;
use crate::trade::formulas::ready::DryingKind;
use crate::trade::hazards::{CRUMBLES, HARDENER, LATEX, SOLVENT_CEMENT};

fn guide(sole: &Material, upper: &Material) -> CementAnswer {
    cement_way(Some(sole), Some(upper), &OwnCements::default())
}

fn cement(sole: &Material, upper: &Material) -> Option<CementKind> {
    guide(sole, upper).way.map(|way| way.cement)
}

fn own(fields: &[(&str, Value)]) -> OwnCements {
    let values: Map<String, Value> = fields
        .iter()
        .map(|(name, value)| ((*name).to_owned(), value.clone()))
        .collect();
    OwnCements::of(&ShopState::of_values(&values))
}

/// The texts of the steps of one name.
fn step(answer: &CementAnswer, name: &str) -> Vec<String> {
    let steps = answer.steps().into_iter();
    steps
        .filter(|step| step.name == name)
        .map(|step| step.text)
        .collect()
}

fn pairs() -> impl Iterator<Item = (&'static Material, &'static Material)> {
    let known = Material::KNOWN.iter();
    known.flat_map(|sole| Material::KNOWN.iter().map(move |upper| (sole, upper)))
}

#[test]
fn every_pair_has_an_answer_or_says_what_to_do() {
    for (sole, upper) in pairs() {
        let answer = guide(sole, upper);
        assert!(!answer.steps().is_empty(), "{sole} on {upper}");
        assert_eq!(
            answer.first().last().unwrap(),
            words::cement::sheet_first(),
            "{sole} on {upper}"
        );
        assert_eq!(answer.cautions.last(), Some(&Caution::Dust), "{sole} on {upper}");
        match answer.verdict() {
            CementVerdict::Sure => {
                let steps: Vec<_> = answer.steps().iter().map(|step| step.name).collect();
                for name in [
                    words::cement::step_prepare(),
                    words::cement::step_wipe(),
                    words::cement::step_cement(),
                    words::cement::step_wait(),
                    words::cement::step_join(),
                    words::cement::step_press(),
                    words::cement::step_trim(),
                    words::cement::step_strength(),
                ] {
                    assert!(steps.contains(&name), "{sole} on {upper}: {name}");
                }
            }
            CementVerdict::AskFirst => {
                let foam = [sole, upper].contains(&&Material::FoamSole);
                assert!(foam && answer.find_out == [FindOut::PuOrEva], "{sole} on {upper}");
                assert_eq!(drying(&answer), None, "{sole} on {upper}: not told as sure");
                let take = step(&answer, words::cement::step_cement()).concat();
                assert!(
                    take.is_empty() || take.starts_with("Whichever"),
                    "{sole} on {upper}: {take}"
                );
            }
            // A layer of leather must then really be a way out.
            CementVerdict::NotAdvised => {
                for side in [sole, upper] {
                    let to_leather = guide(side, &Material::LeatherSole);
                    assert_eq!(to_leather.verdict(), CementVerdict::Sure, "{sole} on {upper}");
                }
            }
        }
    }
}

#[test]
fn a_cement_is_named_only_where_both_sides_take_it_and_turning_them_changes_nothing() {
    for (sole, upper) in pairs() {
        assert_eq!(cement(sole, upper), cement(upper, sole), "{sole} on {upper}");
        if let Some(way) = guide(sole, upper).way {
            assert_eq!(way.against, [], "{sole} on {upper}");
        }
    }
}

#[test]
fn every_offered_material_is_known_and_soles_come_first_where_they_are_glued_on() {
    let (on, to) = (glued_on_choices(), glued_to_choices());
    assert!(on[0].of_sole() && !to[0].of_sole());
    assert_eq!(on.len(), to.len());
    assert_eq!(on.len(), Material::offered().count());
    for material in &on {
        assert_eq!(guide(material, material).find_out, [], "{material}");
    }
}

#[test]
fn crepe_never_gets_solvent_cement_of_neoprene() {
    for other in Material::KNOWN {
        let answer = guide(&Material::CrepeSole, other);
        let named = answer.way.iter().map(|way| way.cement);
        for kind in named.chain(answer.others.iter().copied()) {
            assert_eq!(kind, CementKind::RubberSolution, "on {other}");
        }
    }
    let answer = guide(&Material::CrepeSole, &Material::Suede);
    assert_eq!(answer.verdict(), CementVerdict::Sure);
    assert!(answer.hazards.contains(&&DISSOLVES) && answer.hazards.contains(&&LATEX));
    let patent = guide(&Material::CrepeSole, &Material::Patent);
    assert_eq!(patent.verdict(), CementVerdict::NotAdvised);
    assert!(patent.cautions.contains(&Caution::Solvent) && patent.hazards.contains(&&DISSOLVES));
    let leather = guide(&Material::LeatherSole, &Material::Suede);
    assert!(
        !leather.others.contains(&CementKind::RubberSolution),
        "too weak for others"
    );
}

#[test]
fn pu_and_eva_differ() {
    let pu = guide(&Material::PuSole, &Material::SmoothLeather);
    let eva = guide(&Material::EvaSole, &Material::SmoothLeather);
    assert_eq!(pu.sides[0].prime, None, "PU is wiped, not primed");
    assert_eq!(pu.sides[0].wipe, words::cement::wipe_pu());
    assert_eq!(eva.sides[0].prime, Some(words::cement::prime_eva()));
    assert_ne!(pu.sides[0].prepare, eva.sides[0].prepare);
    assert!(pu.hazards.contains(&&CRUMBLES) && !eva.hazards.contains(&&CRUMBLES));
    assert!(eva.others.contains(&CementKind::Neoprene) && !pu.others.contains(&CementKind::Neoprene));
}

/// Common practice, no source.
#[test]
fn what_each_material_asks_for() {
    use CementKind::{Neoprene, Polyurethane};
    let leather = &Material::SmoothLeather;
    for (sole, upper, kind) in [
        (&Material::LeatherSole, leather, Neoprene),
        (&Material::RubberSole, leather, Neoprene),
        (&Material::RubberSole, &Material::Oiled, Polyurethane),
        (&Material::RubberSole, &Material::Patent, Polyurethane),
        (&Material::RubberSole, &Material::Coated, Polyurethane),
        (&Material::TprSole, leather, Polyurethane),
        (&Material::EvaSole, leather, Polyurethane),
        (&Material::PuSole, &Material::Textile, Polyurethane),
    ] {
        assert_eq!(cement(sole, upper), Some(kind), "{sole} on {upper}");
    }
    for primed in [Material::TprSole, Material::RubberSole, Material::EvaSole] {
        let answer = guide(&primed, leather);
        assert_eq!(step(&answer, words::cement::step_prime()).len(), 1, "{primed}");
        let primer = primer_of(&primed).expect("it is primed");
        assert!(answer.hazards.contains(&primer), "{primed}");
        assert!(answer.cautions.contains(&Caution::Primer), "{primed}");
    }
    assert_eq!(guide(&Material::RubberSole, &Material::Textile).sides[1].coats, 2);
    let unprimed = guide(&Material::LeatherSole, leather).hazards;
    assert!(PRIMERS.iter().all(|primer| !unprimed.contains(primer)));
    // What the guide primes has its primer's hazard, and nothing else has one.
    for material in Material::KNOWN {
        let asks = row(material).is_some_and(|row| row.prime.is_some());
        assert_eq!(primer_of(material).is_some(), asks, "{material}");
    }
}

#[test]
fn a_soft_side_is_not_hammered_and_hazards_follow_the_cement() {
    for (sole, upper) in pairs() {
        let answer = guide(sole, upper);
        let Some(way) = &answer.way else { continue };
        let soft = [Material::PuSole, Material::EvaSole, Material::CrepeSole];
        let is_soft = soft.contains(sole) || soft.contains(upper);
        assert_eq!(way.press == Press::Soft, is_soft, "{sole} on {upper}");
        let hardener = way.cement == CementKind::Polyurethane;
        assert_eq!(answer.hazards.contains(&&HARDENER), hardener, "{sole} on {upper}");
        assert!(answer.hazards.contains(&&SOLVENT_CEMENT), "{sole} on {upper}");
        for (at, one) in answer.hazards.iter().enumerate() {
            assert!(
                !answer.hazards[..at].contains(one),
                "{sole} on {upper}: {}",
                one.source()
            );
        }
        assert_eq!(answer.limits().len(), 2, "{sole} on {upper}");
    }
    let plain = guide(&Material::LeatherSole, &Material::SmoothLeather);
    assert!(!plain.hazards.contains(&&HEAT) && !plain.hazards.contains(&&DISSOLVES));
}

/// A shoemaking handbook wiki and a trade association's class on bonding, both secondary: at least 45 minutes before it
/// is sanded or trimmed, better overnight; full strength in 24 to 48 hours.
#[test]
fn trimming_and_full_strength_as_published() {
    for (sole, upper) in pairs() {
        let answer = guide(sole, upper);
        let Some(way) = &answer.way else { continue };
        assert_eq!((way.trim_after_min, way.full_strength_h), (45, (24, 48)));
        let trim = step(&answer, words::cement::step_trim()).concat();
        assert!(trim.contains("45") && trim.contains("overnight") && trim.contains("secondary"));
        let strength = step(&answer, words::cement::step_strength()).concat();
        assert!(strength.contains("24 to 48") && strength.contains("secondary"));
    }
}

/// The directive gives mg/m³ at 20 °C and 101.3 kPa: 20 ppm of n-hexane (86.18 g/mol) in a molar volume of 24.055 l.
#[test]
fn the_two_figures_for_hexane_are_one_amount() {
    let mg_m3 = f64::from(HEXANE_PPM) * 86.18 / 24.055;
    assert!((mg_m3 - f64::from(HEXANE_MG_M3)).abs() < 0.5, "{mg_m3}");
    assert!(CementKind::WaterBased.limits().is_empty());
}

#[test]
fn an_unknown_side_is_asked_about_and_no_cement_is_told_as_right() {
    let none = OwnCements::default();
    let rubber = Material::RubberSole;
    let answer = cement_way(Some(&rubber), None, &none);
    assert_eq!(answer.find_out, [FindOut::GluedTo]);
    assert_eq!(
        (answer.verdict(), drying(&answer)),
        (CementVerdict::AskFirst, None)
    );
    assert_eq!(answer.sides.len(), 1, "what is known is answered");
    assert_eq!(answer.others[0], CementKind::Neoprene);
    assert_eq!(step(&answer, words::cement::step_prepare()).len(), 1);
    assert!(step(&answer, words::cement::step_cement())[0].contains("Choose when the other is known"));

    let shops = Material::from("birch bark");
    let answer = cement_way(Some(&rubber), Some(&shops), &none);
    assert_eq!(answer.find_out, [FindOut::Unlisted(shops)]);
    assert!(answer.first()[0].contains("birch bark"));

    let answer = cement_way(None, None, &none);
    assert_eq!(answer.find_out, [FindOut::GluedOn, FindOut::GluedTo]);
    assert_eq!(answer.verdict(), CementVerdict::AskFirst);
    assert!(answer.steps().is_empty() && answer.others.is_empty());
}

#[test]
fn the_shops_own_changes_win() {
    let way = cement_way_field(&Material::RubberSole, &Material::SmoothLeather);
    let own = own(&[
        (
            "cement/polyurethane",
            json!({"product": "Grey tin", "wait_min": 12, "open_min": 8, "coats": 3}),
        ),
        (
            &way,
            json!({"kind": "polyurethane", "prime": "Wash with soap", "note": "Two days in the clamp"}),
        ),
    ]);
    let answer = cement_way(Some(&Material::RubberSole), Some(&Material::SmoothLeather), &own);
    assert_eq!(answer.verdict(), CementVerdict::Sure);
    assert_eq!(drying(&answer), Some((Minutes::of(12, 12), Minutes::of(8, 8))));
    assert!(answer.sides.iter().all(|side| side.coats == 3));
    assert!(step(&answer, words::cement::step_cement())[0].contains("Grey tin"));
    assert_eq!(step(&answer, words::cement::step_prime()), ["Wash with soap"]);
    assert!(answer.first()[0].contains("Two days in the clamp"));
    // The other way round is another pair.
    let turned = cement_way(Some(&Material::SmoothLeather), Some(&Material::RubberSole), &own);
    assert_eq!(turned.way.unwrap().cement, CementKind::Neoprene);
}

#[test]
fn a_way_of_the_shops_own_that_the_guide_would_not_take_is_told() {
    let crepe = (&Material::CrepeSole, &Material::Suede);
    let other = Material::from("birch bark");
    let own = own(&[
        (&cement_way_field(crepe.0, crepe.1), json!({"kind": "neoprene"})),
        (
            &cement_way_field(&Material::LeatherSole, &other),
            json!({"kind": "two_part"}),
        ),
    ]);
    let answer = cement_way(Some(crepe.0), Some(crepe.1), &own);
    assert_eq!(answer.verdict(), CementVerdict::AskFirst);
    assert!(answer.first()[0].contains("does not usually take"));
    let answer = cement_way(Some(&Material::LeatherSole), Some(&other), &own);
    assert_eq!(
        answer.verdict(),
        CementVerdict::AskFirst,
        "the other side is still not known"
    );
    assert_eq!(drying(&answer).unwrap().0, CementKind::TwoPart.wait());
    assert_eq!(answer.way.unwrap().press, Press::Clamp);
}

#[test]
fn what_cannot_be_read_is_ignored() {
    let own = own(&[
        (
            "cement/neoprene",
            json!({"product": 7, "wait_min": -1, "open_min": 20, "coats": 99}),
        ),
        ("cement/moonshine", json!({"product": "Blue tin"})),
        ("cement/two_part", json!("Red tin")),
        ("cement/water_based", Value::Null),
        (
            "cement_way/rubber_sole/suede",
            json!({"kind": "moonshine", "note": "Slowly"}),
        ),
        ("cement_way/rubber_sole", json!({"kind": "two_part"})),
        ("cement_way/rubber_sole/patent", json!([1])),
    ]);
    let neoprene = OwnCement {
        open_min: Some(20),
        ..OwnCement::default()
    };
    assert_eq!(own.product(CementKind::Neoprene), Some(&neoprene));
    for kind in [CementKind::TwoPart, CementKind::WaterBased] {
        assert_eq!(own.product(kind), None, "{kind:?}");
    }
    assert_eq!(own.ways().count(), 1);
    let slowly = own.way(&Material::RubberSole, &Material::Suede).unwrap();
    assert_eq!((slowly.kind, slowly.note.as_deref()), (None, Some("Slowly")));
}

#[test]
fn the_usual_times_are_those_of_the_calculation() {
    for (kind, usual) in [
        (CementKind::Neoprene, DryingKind::ContactCement),
        (CementKind::WaterBased, DryingKind::WaterCement),
    ] {
        assert_eq!(
            join_window(kind.wait(), kind.open()),
            usual.usual().minutes,
            "{kind:?}"
        );
    }
}

#[test]
fn an_operation_tells_the_likely_sides() {
    let pair = [Material::Suede, Material::LeatherSole];
    let sides = |code: &str| likely_sides(code, &pair);
    let some = |material: &Material| Some(material.clone());
    assert_eq!(sides("recement_sole"), (some(&pair[1]), some(&pair[0])));
    assert_eq!(sides("half_sole"), (some(&pair[1]), some(&pair[1])));
    assert_eq!(sides("sole_guard"), (Some(Material::RubberSole), some(&pair[1])));
    assert_eq!(sides("upper_patch"), (None, some(&pair[0])));
    assert_eq!(sides("top_piece_replacement"), (None, None));
    assert_eq!(sides("bell repair"), (None, None));
    assert!(uses_cement("half_sole") && uses_cement("resole_blake"));
    assert!(!uses_cement("stretch") && !uses_cement("bell repair"));
}

proptest! {
    /// What a shop writes is read as it was written.
    #[test]
    fn own_values_come_back(
        product in prop::option::of("[a-z]{1,9}"), wait_min in prop::option::of(0..=MOST_MINUTES),
        open_min in prop::option::of(0..=MOST_MINUTES), coats in prop::option::of(1..=MOST_COATS),
        kind in prop::sample::select(CementKind::ALL.to_vec()), prime in prop::option::of("[a-z]{1,9}"),
    ) {
        let written = OwnCement { product, wait_min, open_min, coats };
        let way = OwnWay { kind: Some(kind), prime, note: None };
        let pair = (Material::EvaSole, Material::from("birch bark"));
        let read = own(&[
            (&cement_field(kind), written.value()),
            (&cement_way_field(&pair.0, &pair.1), way.value()),
        ]);
        prop_assert_eq!(read.product(kind).cloned().unwrap_or_default(), written);
        prop_assert_eq!(read.way(&pair.0, &pair.1), Some(&way));
    }
}
