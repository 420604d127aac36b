use super::*;

#[test]
fn all_usual_work_is_work_on_such_goods_with_a_price() {
    for goods in Goods::KNOWN {
        let codes = usual_work(goods);
        assert!((10..=14).contains(&codes.len()), "{goods}: {}", codes.len());
        for (at, code) in codes.iter().enumerate() {
            let known = operation(code).unwrap_or_else(|| panic!("{goods}: there is no {code}"));
            assert!(known.fits(goods), "{goods}: {code}");
            assert!(norm(code, goods).is_some(), "{goods}: {code} has no price");
            assert!(!codes[..at].contains(code), "{goods}: {code} twice");
        }
    }
    assert_eq!(usual_work(&Goods::from("hat")), ANY_SHOE);
}

#[test]
fn each_kind_has_the_work_that_it_is_brought_for() {
    for (goods, code) in [
        (Goods::DanceShoe, "dance_sole"),
        (Goods::Trainer, "trainer_sole"),
        (Goods::LongBoot, "zip_replacement"),
        (Goods::Orthopaedic, "raise_to_prescription"),
        (Goods::ClimbingShoe, "climbing_resole"),
        (Goods::Belt, "new_hole"),
        (Goods::Bag, "bag_lining"),
    ] {
        assert!(usual_work(&goods).contains(&code), "{goods}");
    }
    let cap = ["half_sole", "resole_cemented", "recement_sole"];
    let first = usual_work(&Goods::SafetyBoot)
        .first()
        .is_some_and(|code| !cap.contains(code));
    assert!(first, "the sole of a safety boot is not the first thing to offer");
}

#[test]
fn suede_is_cleaned_and_not_polished() {
    let work = usual_work_on(&Goods::Boot, &[Material::Suede, Material::RubberSole], &[]);
    assert!(work.contains(&"suede_clean") && !work.contains(&"clean_condition_polish"));
    let at = |code| work.iter().position(|one| *one == code);
    assert!(
        at("suede_clean") < at("small_repair"),
        "it has the place of the polish"
    );
    // All else stands as it stood.
    let rest: Vec<_> = work.iter().filter(|code| **code != "suede_clean").collect();
    let usual: Vec<_> = BOOT
        .iter()
        .filter(|code| **code != "clean_condition_polish")
        .collect();
    assert_eq!(rest, usual);
    assert_eq!(usual_work_on(&Goods::Boot, &[], &[]), BOOT);
    assert_eq!(usual_work_on(&Goods::Boot, &[Material::SmoothLeather], &[]), BOOT);
}

#[test]
fn cream_and_dye_are_for_what_takes_them() {
    let (cream, dye) = ("clean_condition_polish", "strip_and_dye");
    for (material, creamed, dyed) in [
        (Material::SmoothLeather, true, true),
        (Material::Oiled, true, true),
        (Material::Suede, false, false),
        (Material::Patent, false, false),
        (Material::Textile, false, false),
        (Material::Satin, false, false),
        (Material::Coated, false, false),
    ] {
        let only = std::slice::from_ref(&material);
        assert_eq!(suits(cream, only), creamed, "{material}");
        assert_eq!(suits(dye, only), dyed, "{material}");
    }
    let both = [Material::Suede, Material::SmoothLeather];
    assert!(suits(cream, &both), "its smooth leather takes cream");
    let patent = usual_work_on(&Goods::CourtShoe, &[Material::Patent], &[]);
    assert!(patent.contains(&"patent_repair") && !patent.contains(&"colour_touch_up"));
}

#[test]
fn only_edges_of_leather_are_inked() {
    for sole in Material::KNOWN.iter().filter(|one| one.of_sole()) {
        let leather = *sole == Material::LeatherSole;
        assert_eq!(
            suits("edge_trim_ink", std::slice::from_ref(sole)),
            leather,
            "{sole}"
        );
    }
    assert!(
        suits("edge_trim_ink", &[Material::Suede]),
        "the sole is not known"
    );
    let foam = usual_work_on(&Goods::LowShoe, &[Material::EvaSole], &[]);
    assert!(!foam.contains(&"sole_guard") && foam.contains(&"half_sole"));
}

#[test]
fn what_is_seen_on_the_leather_is_answered() {
    let salted = usual_work_on(&Goods::Boot, &[], &[Condition::Salt, Condition::Salt]);
    assert_eq!(salted.iter().filter(|code| **code == "desalting").count(), 1);
    let bag = usual_work_on(&Goods::Bag, &[], &[Condition::Salt]);
    assert_eq!(bag, BAG, "that is work on shoes");
}

#[test]
fn usual_goods_stand_in_the_order_of_all() {
    let all: Vec<_> = Goods::KNOWN
        .iter()
        .filter(|goods| GOODS.contains(goods))
        .collect();
    assert_eq!(all, GOODS.iter().collect::<Vec<_>>());
}
