//! Instances whose optimal plan is known from other sources, and rules that every plan must obey.

use super::*;

/// Single machine, one operation a pair: minutes, due, weight.
fn jobs(jobs: &[(u32, i64, u32)]) -> Instance {
    let pairs = jobs.iter().zip(1..);
    instance(
        None,
        pairs
            .map(|((minutes, due, weight), number)| {
                pair(&format!("{number}"), *due, *weight, &[(*minutes, 0)])
            })
            .collect(),
    )
}

/// Textbook examples of total tardiness and weighted tardiness on one machine (the first is in Pinedo, Scheduling;
/// instances from memory, optima by trying all orders).
#[test]
fn the_classics() {
    let ones = jobs(&[
        (121, 260, 1),
        (79, 266, 1),
        (147, 266, 1),
        (83, 336, 1),
        (130, 337, 1),
    ]);
    assert_eq!(solved(&ones, 1000, 1).weighted_tardiness, 370);
    let weights = jobs(&[(12, 16, 4), (8, 26, 1), (15, 25, 5), (9, 27, 5)]);
    assert_eq!(solved(&weights, 1000, 1).weighted_tardiness, 73);
    let short = jobs(&[(4, 8, 1), (2, 4, 1), (6, 15, 1), (1, 4, 1), (3, 9, 1)]);
    assert_eq!(solved(&short, 1000, 1).weighted_tardiness, 2);
    // Smith 1956: without due times, the shortest first.
    let mut free = short;
    for pair in &mut free.pairs {
        pair.due = None;
    }
    assert_eq!(solved(&free, 1000, 1).sum_completion, 36);
}

/// Four pairs with waits: optima by a constraint solver (OR-Tools CP-SAT), by trying everything and, with windows, by
/// `PyJobShop`.
#[test]
fn four_pairs_with_waits() {
    let pairs = vec![
        pair("J1", 150, 3, &[(20, 30), (15, 60), (10, 0)]),
        pair("J2", 30, 1, &[(10, 0)]),
        pair("J3", 200, 2, &[(30, 120), (20, 0)]),
        pair("J4", 90, 2, &[(15, 20), (15, 0)]),
    ];
    let open = instance(None, pairs.clone());
    let plan = solved(&open, 1000, 1);
    assert_eq!((plan.weighted_tardiness, plan.lower_bound), (70, 70));
    let windows = [[0, 60], [90, 150], [200, 260], [300, 360]];
    let plan = solved(&instance(Some(&windows), pairs.clone()), 1000, 1);
    assert_eq!((plan.weighted_tardiness, plan.lower_bound), (300, 300));
    let free: Vec<PlanPair> = pairs
        .into_iter()
        .map(|pair| PlanPair { due: None, ..pair })
        .collect();
    assert_eq!(solved(&instance(None, free.clone()), 1000, 1).sum_completion, 470);
    assert_eq!(
        solved(&instance(Some(&windows), free), 1000, 1).sum_completion,
        540
    );
}

/// Thirty pairs, as `tests/oracle/weeks.py 102 30` draws them. OR-Tools CP-SAT has a plan of 40,726 after two minutes on two
/// cores (22,868 on another day), and the best ever found here is 15,765. A phone's plan is within 2 % of that.
#[test]
fn a_week_of_thirty_pairs() {
    let week: Instance = serde_json::from_str(include_str!("week.json")).unwrap();
    let plan = solved(&week, 2_500, 1);
    assert!(plan.weighted_tardiness <= 16_080, "{}", plan.weighted_tardiness);
    assert!(plan.lower_bound <= 15_765, "{}", plan.lower_bound);
}

/// Weighted tardiness on one machine, 40 jobs: of the 125 instances wt40 of the OR-Library (J. E. Beasley, MIT
/// licence) every tenth from the second on, with the published optima of wtopt40. Nearly all are met, none undercut.
#[test]
fn published_instances_of_weighted_tardiness() {
    #[derive(serde::Deserialize)]
    struct Published {
        instance: u32,
        optimum: u64,
        minutes: Vec<u32>,
        weights: Vec<u32>,
        due: Vec<i64>,
    }
    let all: Vec<Published> = serde_json::from_str(include_str!("wt40.json")).unwrap();
    let mut missed = Vec::new();
    for one in &all {
        let each = one.minutes.iter().zip(&one.due).zip(&one.weights);
        let list: Vec<_> = each
            .map(|((minutes, due), weight)| (*minutes, *due, *weight))
            .collect();
        let plan = solved(&jobs(&list), 100_000, 1);
        assert!(
            plan.weighted_tardiness >= one.optimum,
            "below the optimum of {}",
            one.instance
        );
        assert!(plan.lower_bound <= one.optimum);
        if plan.weighted_tardiness > one.optimum {
            missed.push(one.instance);
        }
    }
    assert!(missed.len() <= 1, "{missed:?} of {}", all.len());
}

#[test]
fn what_cannot_be_planned_is_named_and_the_rest_is_planned() {
    let mut joined = pair("joined", 900, 1, &[(10, 0), (55, 0)]);
    joined.operations[0].join_within = Some(5);
    let mut never = pair("never", 900, 1, &[(10, 20), (5, 0)]);
    never.operations[0].join_within = Some(15);
    let long = pair("long", 900, 1, &[(10, 5), (61, 0)]);
    let late = PlanPair {
        ready: Some(260),
        ..pair("late", 900, 1, &[(10, 0)])
    };
    let good = pair("good", 900, 1, &[(10, 100), (10, 0)]);
    let windows = [[0, 60], [200, 260]];
    let plan = solved(
        &instance(Some(&windows), vec![joined, never, long, late, good]),
        500,
        1,
    );
    let reasons: Vec<_> = plan
        .left_out
        .iter()
        .map(|left| (left.tag.as_str(), left.operation, left.reason))
        .collect();
    assert_eq!(
        reasons,
        [
            ("joined", 1, Reason::JoinWindow),
            ("never", 1, Reason::JoinWindow),
            ("long", 1, Reason::TooLong),
            ("late", 0, Reason::Horizon),
        ]
    );
    assert_eq!(plan.pairs[0].done, 210);
    let shut = solved(&instance(Some(&[]), vec![pair("shut", 9, 1, &[(1, 0)])]), 500, 1);
    assert_eq!((shut.left_out.len(), shut.blocks.len()), (1, 0));
}

/// The windows have room for three of these four pairs: the one with the least weight is left out.
#[test]
fn of_too_much_the_lightest_is_left_out() {
    let pairs = [3, 1, 2, 3].map(|weight| pair(&weight.to_string(), 0, weight, &[(20, 0)]));
    let plan = solved(&instance(Some(&[[0, 60]]), pairs.to_vec()), 500, 1);
    let left: Vec<_> = plan.left_out.iter().map(|left| left.tag.as_str()).collect();
    assert_eq!(left, ["1"]);
}

/// A pair that is to be done first comes first, however small its weight and however late it makes the others.
#[test]
fn what_is_to_be_done_first_is_done_first() {
    let mut pairs: Vec<PlanPair> = (0..12)
        .map(|number| pair(&number.to_string(), 60, 5, &[(20, 30), (10, 0)]))
        .collect();
    pairs[7].first = true;
    pairs[7].weight = 1;
    pairs[7].due = None;
    let plan = solved(&instance(None, pairs), 500, 1);
    let of_it: Vec<_> = plan.blocks.iter().filter(|block| block.pair == 7).collect();
    assert_eq!((of_it[0].start, of_it[1].start), (0, 50));
}

#[test]
fn nothing_is_a_plan_for_nothing() {
    assert_eq!(solved(&instance(None, Vec::new()), 500, 1), Plan::default());
}

/// A run without setting up again beats changing the set-up repeatedly.
#[test]
fn operations_of_a_station_are_done_in_a_run() {
    let mut pairs: Vec<PlanPair> = (0..8)
        .map(|number| pair(&number.to_string(), 0, 1, &[(10, 0)]))
        .collect();
    for (pair, setup) in pairs.iter_mut().zip(["black", "brown"].iter().cycle()) {
        pair.operations[0].setup = Some((*setup).to_owned());
        pair.operations[0].setup_minutes = 30;
    }
    let plan = solved(&instance(None, pairs), 2000, 1);
    let minutes: u32 = plan.blocks.iter().map(|block| block.setup_minutes).sum();
    assert_eq!(minutes, 30);
}
