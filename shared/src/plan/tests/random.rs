//! Tests with random instances.

use proptest::prelude::*;

use super::super::bound::lagrangian;
use super::super::problem::PlanProblem;
use super::*;

/// An operation: half of them with a join window, half of those hard; two kinds of set-up.
fn any_operation() -> impl Strategy<Value = PlanOperation> {
    let join = prop::option::weighted(0.35, (0_u32..40, prop::option::of(1_u32..15)));
    let setup = prop::option::of((prop::sample::select(vec!["stitch", "ink"]), 0_u32..10));
    (1_u32..30, prop_oneof![Just(0), 0_u32..60], join, setup).prop_map(|(minutes, wait_min, join, setup)| {
        PlanOperation {
            name: format!("{minutes}"),
            minutes,
            minutes_p90: None,
            wait_min,
            // Most join windows can be kept.
            join_within: join.map(|(more, _)| (wait_min + more).saturating_sub(3)),
            rejoin_minutes: join.and_then(|(_, rejoin)| rejoin),
            setup: setup.map(|(name, _)| name.to_owned()),
            setup_minutes: setup.map_or(0, |(_, minutes)| minutes),
        }
    })
}

fn any_pair(most: usize) -> impl Strategy<Value = PlanPair> {
    let times = (prop::option::of(0_i64..60), prop::option::of(-20_i64..250));
    let begun = (prop::option::weighted(0.2, 0_i64..90), 0_u32..10);
    (
        prop::collection::vec(any_operation(), 1..=most),
        times,
        begun,
        0_u32..5,
    )
        .prop_map(
            |(operations, (ready, due), (join_by, rejoin_minutes), weight)| PlanPair {
                tag: format!("{weight}"),
                ready,
                join_by,
                rejoin_minutes,
                due,
                weight,
                first: false,
                operations,
                hidden: Vec::new(),
            },
        )
}

/// Enough windows for all pairs, some of them short.
fn any_windows() -> impl Strategy<Value = Option<Vec<[i64; 2]>>> {
    prop::option::of(
        prop::collection::vec((0_i64..40, 20_i64..90), 3..7).prop_map(|spans| {
            let mut windows = Vec::new();
            let mut time = 0;
            for (gap, length) in spans {
                windows.push([time + gap, time + gap + length]);
                time += gap + length;
            }
            windows.extend((0..9).map(|day| [time + day * 400, time + day * 400 + 300]));
            windows
        }),
    )
}

pub(in crate::plan) fn any_instance(
    pairs: usize,
    most: usize,
    workers: u32,
) -> impl Strategy<Value = Instance> {
    let pairs = prop::collection::vec(any_pair(most), 1..=pairs);
    (pairs, any_windows(), 1..=workers, 0_i64..30).prop_map(|(pairs, windows, workers, now)| Instance {
        now,
        windows,
        workers,
        pairs,
    })
}

/// The number of cases: `usual`, or the value of `WAXEND_PLANS`.
fn cases(usual: u32) -> u32 {
    let asked = std::env::var("WAXEND_PLANS").ok();
    asked.and_then(|count| count.parse().ok()).unwrap_or(usual)
}

fn agrees(instance: &Instance) {
    let plan = solved(instance, 300, 1);
    let known = exhaustive::best(instance);
    match known {
        Some(best) => {
            let cost = (plan.weighted_tardiness, plan.sum_completion);
            assert!(
                plan.left_out.is_empty() && cost == best,
                "{best:?} {plan:?} {instance:?}"
            );
            let (problem, _) = PlanProblem::new(instance);
            let bound = lagrangian::lower_bound(&problem, best.0);
            assert!(bound <= best.0, "{bound} {best:?} {instance:?}");
        }
        None => assert!(!plan.left_out.is_empty(), "{instance:?}"),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(500)))]

    #[test]
    fn trying_everything_finds_nothing_better_for_one(instance in any_instance(3, 3, 1)) {
        agrees(&instance);
    }

    #[test]
    fn trying_everything_finds_nothing_better_for_two(instance in any_instance(3, 2, 2)) {
        agrees(&instance);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases(120)))]

    /// For larger instances, the checker finds no error, the same seed gives the same plan, and more trials give no
    /// worse plan.
    #[test]
    fn plans_are_sound_and_the_same_again(mut instance in any_instance(14, 6, 3), seed in 0_u64..4) {
        instance.pairs[0].first = seed % 2 == 0;
        let plan = solved(&instance, 600, seed);
        prop_assert_eq!(&solved(&instance, 600, seed), &plan);
        let first = solved(&instance, 0, seed);
        prop_assert!(plan.left_out.len() <= first.left_out.len());
    }

    /// A plan searched for near a known plan is no worse than it, and one near a plan of other pairs is sound.
    #[test]
    fn near_a_plan_that_is_known(instance in any_instance(10, 5, 1), other in any_instance(6, 6, 2), put_off in 0_usize..10) {
        let known = solved(&instance, 300, 1);
        let near = |instance: &Instance, plan: &Plan| {
            let limits = SolveLimits { iterations: Some(10), near: Some(plan), ..SolveLimits::default() };
            let near = solve(instance, &limits).unwrap();
            assert_eq!(checker::wrong(instance, &near), [""; 0], "{instance:?}");
            near
        };
        let plan = near(&instance, &known);
        let holds = |operation: &PlanOperation| operation.rejoin_minutes.is_some();
        let may_hold = instance.pairs.iter().any(|pair| pair.operations.iter().any(holds));
        if known.left_out.is_empty() && !may_hold {
            prop_assert!(plan.left_out.is_empty() && plan.weighted_tardiness <= known.weighted_tardiness);
        }
        near(&other, &known);
        let mut first = instance;
        let pair = put_off % first.pairs.len();
        first.pairs[pair].first = true;
        near(&first, &known);
    }

    /// Pairs that do not fit are left out, and the plan of the rest is sound.
    #[test]
    fn short_horizons_are_sound(mut instance in any_instance(10, 4, 2)) {
        if let Some(windows) = &mut instance.windows {
            windows.truncate(3);
        }
        solved(&instance, 300, 1);
    }

    /// The order in which windows are given does not matter.
    #[test]
    fn windows_in_any_order(instance in any_instance(6, 4, 2)) {
        let plan = solved(&instance, 300, 1);
        let mut turned = instance;
        if let Some(windows) = &mut turned.windows {
            windows.reverse();
        }
        prop_assert_eq!(solved(&turned, 300, 1), plan);
    }
}
