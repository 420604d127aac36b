use super::*;

#[test]
fn every_part_has_damages_and_every_damage_a_remedy_of_the_list() {
    for part in Component::KNOWN {
        let known = conditions(part);
        assert!(!known.is_empty() && known.len() <= 8, "{part}: four taps must do");
        for (at, condition) in known.iter().enumerate() {
            assert!(!known[..at].contains(condition), "{part} {condition} twice");
            let answers = remedies(part, condition);
            assert!(!answers.is_empty(), "{part} {condition}");
            assert!(
                answers.iter().all(|code| operation(code).is_some()),
                "{part} {condition}: {answers:?}"
            );
        }
    }
}

/// The usual hidden damage at teardown: common practice, no source.
#[test]
fn the_usual_hidden_damage_can_be_recorded_and_answered() {
    use Component as P;
    use Condition as C;
    let usual = [
        (P::HeelBase, C::WornDown, "heel_block_rebuild"),
        (P::HeelBase, C::PinHoleBroken, "heel_block_rebuild"),
        (P::HeelBase, C::BoardUnderLeather, "heel_block_rebuild"),
        (P::Counter, C::Crushed, "counter_rebuild"),
        (P::Welt, C::Loose, "welt_piece"),
        (P::Welt, C::Cracked, "welt_piece"),
        (P::Welt, C::Rotten, "rewelt"),
        (P::Welt, C::HoldsNothing, "restitch_sole"),
        (P::Outsole, C::WornThrough, "half_sole"),
        (P::Shank, C::Broken, "shank_replacement"),
        (P::Filler, C::WetSoft, "filler_replacement"),
        (P::Filler, C::Gone, "filler_replacement"),
        (P::Insole, C::Cracked, "insole_repair"),
        (P::Insole, C::CutByOldStitch, "insole_repair"),
        (P::Rib, C::Torn, "rib_repair"),
        (P::HeelSeat, C::WetSoft, "heel_block_rebuild"),
        (P::HeelSeat, C::BentNails, "heel_block_rebuild"),
        (P::LastingMargin, C::Torn, "upper_patch"),
        (P::Zip, C::Rotten, "zip_replacement"),
        (P::Upper, C::FinishCracked, "strip_and_dye"),
        (P::Upper, C::Silicone, "strip_and_dye"),
        (P::Upper, C::Stained, "wet_clean"),
        (P::Vamp, C::Salt, "desalting"),
        (P::Lining, C::Mould, "mould_treatment"),
        (P::Sock, C::Odour, "odour_treatment"),
        (P::Counter, C::Chewed, "counter_rebuild"),
        (P::Outsole, C::Crumbling, "resole_unit"),
        (P::SoleGuard, C::WornThrough, "sole_guard"),
    ];
    for (part, condition, first) in usual {
        assert!(conditions(&part).contains(&condition), "{part} {condition}");
        assert_eq!(
            remedies(&part, &condition).first(),
            Some(&first),
            "{part} {condition}"
        );
    }
}

#[test]
fn what_is_sound_is_no_damage_and_needs_nothing() {
    assert!(!Condition::Sound.is_damage() && Condition::from("sound") == Condition::Sound);
    for part in Component::KNOWN {
        assert!(conditions(part).iter().all(Condition::is_damage), "{part}");
        assert!(remedies(part, &Condition::Sound).is_empty(), "{part}");
    }
    assert!(Condition::from("humming").is_damage());
}

/// Every condition but one can be tapped somewhere.
#[test]
fn every_damage_is_offered_for_some_part() {
    for condition in Condition::KNOWN.iter().filter(|one| one.is_damage()) {
        let offered = Component::KNOWN
            .iter()
            .any(|part| conditions(part).contains(condition));
        assert!(offered, "{condition}");
    }
}

#[test]
fn the_shops_own_words_can_be_used_but_are_not_guessed_at() {
    assert!(!conditions(&Component::from("bell")).is_empty());
    assert!(remedies(&Component::from("bell"), &Condition::Broken).is_empty());
    assert!(remedies(&Component::Shank, &Condition::from("humming")).is_empty());
}

/// An open seam is sewn, and what is loose is held again, before a new part is put on.
#[test]
fn what_has_come_off_is_held_again_before_it_is_replaced() {
    use Component as P;
    use Condition as C;
    let (shoe, bag) = (Goods::Sandal, Goods::Bag);
    for (part, condition, goods, first, then) in [
        (
            P::Strap,
            C::SeamOpen,
            &shoe,
            "restitch_upper",
            "strap_replacement",
        ),
        (P::Strap, C::SeamOpen, &bag, "restitch_seam", "strap_replacement"),
        (P::Strap, C::SeamOpen, &Goods::Belt, "restitch_seam", "new_belt"),
        (P::Zip, C::SeamOpen, &shoe, "restitch_upper", "zip_replacement"),
        (P::Zip, C::SeamOpen, &bag, "restitch_seam", "zip_replacement"),
        (
            P::Elastic,
            C::SeamOpen,
            &shoe,
            "restitch_upper",
            "elastic_replacement",
        ),
        (P::Buckle, C::Loose, &bag, "restitch_seam", "rivet"),
        (P::Sock, C::Loose, &shoe, "small_repair", "sock_replacement"),
        (P::HeelCover, C::Loose, &shoe, "small_repair", "heel_cover"),
        (
            P::TopPiece,
            C::Loose,
            &shoe,
            "small_repair",
            "top_piece_replacement",
        ),
        (P::Lift, C::Loose, &shoe, "heel_refix", "cement_lifts"),
        (P::Shank, C::Loose, &shoe, "small_repair", "shank_replacement"),
    ] {
        assert!(conditions(&part).contains(&condition), "{part} {condition}");
        let answers: Vec<_> = remedies_on(&part, &condition, Some(goods)).collect();
        assert_eq!(answers[..2], [first, then], "{part} {condition} {goods}");
    }
}

/// What begins a new part; a welt is the exception, of which a loose piece is cut out and replaced.
#[test]
fn no_open_seam_and_no_loose_part_is_answered_by_a_new_part_first() {
    for part in Component::KNOWN.iter().filter(|part| **part != Component::Welt) {
        for condition in [Condition::SeamOpen, Condition::Loose] {
            if !conditions(part).contains(&condition) {
                continue;
            }
            let first = remedies(part, &condition)[0];
            let renews = operation(first).and_then(|known| known.renews.clone());
            assert_eq!(renews, None, "{part} {condition}: {first}");
        }
    }
}

#[test]
fn remedies_are_those_that_can_be_done_to_the_goods() {
    let seam = |goods| remedies_on(&Component::Seam, &Condition::SeamOpen, goods).next();
    assert_eq!(seam(Some(&Goods::Bag)), Some("restitch_seam"));
    assert_eq!(seam(Some(&Goods::Boot)), Some("restitch_upper"));
    assert_eq!(seam(None), Some("restitch_upper"), "it counts as a shoe");
    let belt: Vec<_> = remedies_on(&Component::Strap, &Condition::Torn, Some(&Goods::Belt)).collect();
    assert_eq!(belt, ["new_belt"]);
    for goods in [Goods::Bag, Goods::OtherGoods] {
        for part in Component::OF_PLAIN_ITEMS {
            for condition in conditions(part) {
                let known = remedies_on(part, condition, Some(&goods)).next();
                assert!(known.is_some(), "{goods}: {part} {condition}");
            }
        }
    }
}

/// An operation that is the first answer for the likeliest damage of a part names that part in the books.
#[test]
fn a_small_repair_is_not_the_usual_remedy_of_any_part() {
    for part in Component::KNOWN {
        let usual = remedies(part, &conditions(part)[0])[0];
        assert_ne!(usual, "small_repair", "{part}");
    }
}
