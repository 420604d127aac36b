mod cards;
mod never;

use super::*;
use crate::trade::operations::operations;
use proptest::prelude::*;

fn said(facts: &Facts<'_>) -> Vec<&'static str> {
    advice(facts).map(|advice| advice.say).collect()
}

fn first_with(facts: &Facts<'_>, words: &str) -> &'static Advice {
    advice(facts)
        .find(|advice| advice.say.contains(words))
        .expect(words)
}

#[test]
fn a_crushed_counter_asks_for_a_shoe_horn_and_says_why() {
    let damages = [(Component::Counter, Condition::Crushed)];
    let facts = Facts {
        damages: &damages,
        operations: &["counter_rebuild"],
        ..Facts::default()
    };
    let horn = first_with(&facts, "shoe horn every time");
    assert!(
        horn.because.contains("was damaged"),
        "what was found tells more than what was done"
    );
    assert!(said(&facts)[0].contains("24 hours before the first wear"));
    let general = Facts::default();
    assert!(first_with(&general, "shoe horn").because.contains("upright"));
}

#[test]
fn new_leather_soles_are_protected_after_dry_wears_unless_they_already_are() {
    let materials = [Material::SmoothLeather, Material::LeatherSole];
    let facts = Facts {
        materials: &materials,
        operations: &["resole_welted"],
        ..Facts::default()
    };
    let lines = said(&facts);
    assert!(
        lines
            .iter()
            .any(|line| line.contains("two or three times in the dry")),
        "{lines:?}"
    );
    assert!(
        lines.iter().any(|line| line.contains("on their sides")),
        "{lines:?}"
    );
    let operations = ["resole_welted", "sole_guard"];
    let facts = Facts {
        operations: &operations,
        ..facts
    };
    assert!(
        !said(&facts)
            .iter()
            .any(|line| line.contains("two or three times"))
    );
}

#[test]
fn top_pieces_come_back_before_the_heel_block_is_reached() {
    let facts = Facts {
        operations: &["top_piece_replacement"],
        ..Facts::default()
    };
    assert!(said(&facts)[0].contains("before the wear reaches the heel block"));
}

#[test]
fn a_board_heel_is_named_unless_it_was_rebuilt() {
    let damages = [(Component::HeelBase, Condition::BoardUnderLeather)];
    let facts = Facts {
        damages: &damages,
        operations: &["top_piece_replacement"],
        ..Facts::default()
    };
    assert!(first_with(&facts, "top pieces").because.contains("board"));
    let facts = Facts {
        operations: &["heel_block_rebuild", "top_piece_replacement"],
        ..facts
    };
    assert!(first_with(&facts, "top pieces").because.contains("is new"));
}

#[test]
fn suede_gets_a_brush_and_never_cream() {
    let facts = Facts {
        materials: &[Material::Suede],
        ..Facts::default()
    };
    let lines = said(&facts);
    assert!(lines.iter().any(|line| line.contains("suede brush")), "{lines:?}");
    assert!(
        !lines.iter().any(|line| line.contains("condition the leather")),
        "{lines:?}"
    );
}

#[test]
fn what_opens_depends_on_what_holds_the_sole() {
    let stitched = Facts {
        construction: Some(&Construction::HandWelted),
        ..Facts::default()
    };
    let cemented = Facts {
        construction: Some(&Construction::Cemented),
        ..Facts::default()
    };
    assert!(first_with(&stitched, "opens").say.contains("stitch"));
    assert!(first_with(&cemented, "opens").say.contains("edge"));
}

#[test]
fn the_hours_are_those_of_the_longest_operation() {
    let facts = Facts {
        operations: &["welt_piece", "half_sole", "top_piece_replacement"],
        ..Facts::default()
    };
    assert!(said(&facts)[0].contains("24 hours"));
    let facts = Facts {
        operations: &["welt_piece"],
        ..Facts::default()
    };
    assert!(said(&facts)[0].contains("12 hours"));
    for known in operations() {
        let spoken_of = RULES.iter().any(|rule| {
            rule.when
                .iter()
                .any(|is| matches!(is, Is::WornAfter(hours) if *hours == known.wear_after_h))
        });
        assert!(known.wear_after_h == 0 || spoken_of, "{}", known.code);
    }
}

#[test]
fn a_belt_is_not_told_about_shoe_trees() {
    let facts = Facts {
        goods: Some(&Goods::Belt),
        operations: &["new_hole", "strip_and_dye"],
        ..Facts::default()
    };
    let lines = said(&facts);
    assert!(lines.iter().any(|line| line.contains("buckle")), "{lines:?}");
    let of_shoes = ["tree", "shoe", "wear", "them"];
    assert!(
        lines
            .iter()
            .all(|line| of_shoes.iter().all(|word| !line.contains(word))),
        "{lines:?}"
    );
}

#[test]
fn every_rule_is_written_for_reading() {
    for rule in RULES {
        let Advice { say, because } = rule.advice;
        assert!(say.len() <= 100 && because.len() <= 100, "{say} {because}");
        assert!(say.ends_with('.') && because.ends_with('.'), "{say} {because}");
        for is in rule.when {
            let codes = match is {
                Is::Done(codes) | Is::NotDone(codes) => *codes,
                _ => continue,
            };
            assert!(codes.iter().all(|code| operation(code).is_some()), "{codes:?}");
        }
    }
}

/// The smallest facts for which a rule holds: one part, one condition, one operation of each kind it asks for.
fn least_for(rule: &Rule, goods: &Goods) -> Vec<&'static str> {
    let (mut damages, mut done, mut materials, mut construction) = (vec![], vec![], vec![], None);
    for is in rule.when {
        match is {
            Is::WornAfter(hours) => {
                let one = operations().find(|known| known.wear_after_h == *hours && known.fits(goods));
                done.extend(one.map(|known| known.code));
            }
            Is::Damaged(parts, conditions) => damages.push((
                parts.first().unwrap_or(&Component::Upper).clone(),
                conditions.first().unwrap_or(&Condition::Torn).clone(),
            )),
            Is::Done(codes) => done.push(codes[0]),
            Is::SoleDone(work) => {
                let one = operations().find(|known| known.sole_work.contains(work));
                done.extend(one.map(|known| known.code));
            }
            Is::Of(known) => materials.push(known[0].clone()),
            Is::Built(known) => construction = Some(known[0].clone()),
            Is::SoleBy(held) => {
                let one = Construction::KNOWN
                    .iter()
                    .rfind(|one| one.sole_held_by() == Some(*held));
                construction = construction.or(one.cloned());
            }
            Is::NotDone(_) | Is::SoleNotDone(_) | Is::NotOf(_) | Is::On(_) | Is::Kind(_) | Is::NotKind(_) => {
            }
        }
    }
    let facts = Facts {
        goods: Some(goods),
        construction: construction.as_ref(),
        materials: &materials,
        damages: &damages,
        operations: &done,
    };
    advice(&facts).map(|advice| advice.because).collect()
}

#[test]
fn no_rule_is_hidden_behind_the_others() {
    for rule in RULES {
        let heard = Goods::KNOWN
            .iter()
            .any(|goods| least_for(rule, goods).contains(&rule.advice.because));
        assert!(heard, "{} {}", rule.advice.say, rule.advice.because);
    }
}

#[test]
fn what_is_true_of_every_pair_comes_last() {
    let of_a_class = |rule: &Rule| rule.when.iter().all(|is| matches!(is, Is::On(_)));
    let first_general = RULES.iter().position(of_a_class).unwrap();
    // A kind of goods and a material say nothing of this pair alone.
    let general = |is: &Is| {
        matches!(
            is,
            Is::On(_) | Is::Kind(_) | Is::NotKind(_) | Is::Of(_) | Is::NotOf(_)
        )
    };
    assert!(
        RULES[first_general..]
            .iter()
            .all(|rule| rule.when.iter().all(general))
    );
}

fn any_facts() -> impl Strategy<Value = (Vec<&'static str>, Vec<(Component, Condition)>, Vec<Material>)> {
    let codes: Vec<_> = operations().map(|known| known.code).collect();
    let part = prop::sample::select(Component::KNOWN.to_vec());
    let condition = prop::sample::select(Condition::KNOWN.to_vec());
    let materials = prop::sample::subsequence(Material::KNOWN.to_vec(), 0..3);
    (
        prop::sample::subsequence(codes, 0..6),
        prop::collection::vec((part, condition), 0..4),
        materials,
    )
}

proptest! {
    #[test]
    fn a_card_is_short_and_says_nothing_twice(
        (operations, damages, materials) in any_facts(),
        construction in prop::option::of(prop::sample::select(Construction::KNOWN.to_vec())),
        goods in prop::option::of(prop::sample::select(Goods::KNOWN.to_vec())),
    ) {
        let facts = Facts {
            goods: goods.as_ref(),
            construction: construction.as_ref(),
            materials: &materials,
            damages: &damages,
            operations: &operations,
        };
        let lines = said(&facts);
        prop_assert!(!lines.is_empty() && lines.len() <= MOST_LINES);
        for (at, line) in lines.iter().enumerate() {
            prop_assert!(!lines[..at].contains(line), "{line}");
        }
    }

    #[test]
    fn other_goods_are_never_spoken_of_as_shoes(
        (operations, _, materials) in any_facts(),
        goods in prop::sample::select(vec![Goods::Belt, Goods::Bag, Goods::OtherGoods]),
        part in prop::sample::select(Component::OF_PLAIN_ITEMS),
        condition in prop::sample::select(Condition::KNOWN),
    ) {
        let operations: Vec<_> =
            operations.into_iter().filter(|code| operation(code).is_some_and(|known| known.fits(&goods))).collect();
        let damages = [(part, condition)];
        let facts = Facts {
            goods: Some(&goods),
            construction: None,
            materials: &materials,
            damages: &damages,
            operations: &operations,
        };
        for line in said(&facts) {
            for word in ["shoe", "tree", "wear", "laces", "them", "heel"] {
                prop_assert!(!line.contains(word), "{line}");
            }
        }
    }
}

/// Whether a card has advice beyond what is true of every pair.
fn in_particular(facts: &Facts<'_>) -> bool {
    let general: Vec<_> = advice(&Facts::default()).map(|advice| advice.because).collect();
    advice(facts).any(|advice| !general.contains(&advice.because))
}

#[test]
fn every_construction_and_every_material_has_advice_of_its_own() {
    for construction in Construction::KNOWN {
        let facts = Facts {
            construction: Some(construction),
            ..Facts::default()
        };
        assert!(in_particular(&facts), "{construction}");
    }
    for material in Material::KNOWN {
        let facts = Facts {
            materials: std::slice::from_ref(material),
            ..Facts::default()
        };
        assert!(in_particular(&facts), "{material}");
    }
}

/// The usual damage of the trade, at the counter and at teardown: common practice, no source.
#[test]
fn the_usual_damage_has_advice_of_its_own() {
    use Component as P;
    use Condition as C;
    for damage in [
        (P::HeelBase, C::WornDown),
        (P::HeelBase, C::PinHoleBroken),
        (P::HeelBase, C::BoardUnderLeather),
        (P::HeelSeat, C::WetSoft),
        (P::HeelSeat, C::BentNails),
        (P::Counter, C::Crushed),
        (P::Puff, C::Crushed),
        (P::Welt, C::Loose),
        (P::Welt, C::Cracked),
        (P::Welt, C::Rotten),
        (P::Rib, C::Torn),
        (P::LastingMargin, C::Torn),
        (P::Outsole, C::WornThrough),
        (P::Outsole, C::Crumbling),
        (P::Shank, C::Broken),
        (P::Filler, C::WetSoft),
        (P::Insole, C::Cracked),
        (P::Zip, C::Rotten),
        (P::Elastic, C::Slack),
        (P::Facing, C::Torn),
        (P::Buckle, C::Broken),
        (P::Upper, C::Silicone),
        (P::Upper, C::Stained),
        (P::Upper, C::Salt),
        (P::Lining, C::WornThrough),
    ] {
        let damages = [damage];
        let facts = Facts {
            damages: &damages,
            ..Facts::default()
        };
        assert!(in_particular(&facts), "{damages:?}");
    }
}
