use proptest::prelude::*;

use super::super::slot_assignment::{Choosing, INITIAL_TEMPERATURE};
use super::super::tests::random::any_instance;
use super::super::timetable::Timing;
use super::*;

proptest! {
    /// Every operation once, and as late as the search said it would be.
    #[test]
    fn an_order_costs_what_the_search_says(instance in any_instance(12, 5, 3), seed in 0_u64..1_000, hold: bool) {
        let (problem, _) = PlanProblem::new(&instance);
        prop_assume!(!problem.ops.is_empty());
        let holds: Vec<bool> = problem.ops.iter().map(|op| hold && op.can_be_held()).collect();
        let loads = Loads::new(&problem);
        let mut choosing = Choosing::new(&problem, &loads, seed);
        if choosing.has_any() {
            choosing.run(200, INITIAL_TEMPERATURE);
        }
        let mut beam = Beam::new(&problem, &loads, choosing.prices());
        // In the same room, twice: nothing of the first is left.
        let first = beam.run(choosing.chosen(), &holds, 3, &|| true);
        let order = beam.run(choosing.chosen(), &holds, 3, &|| true);
        prop_assert_eq!(&first, &order);
        let Some(order) = order else { return Ok(()) };
        let mut sorted = order.clone();
        sorted.sort_unstable();
        prop_assert_eq!(sorted, (0..problem.ops.len() as u32).collect::<Vec<_>>());
        let timing = Timing::new(&problem, &order, &holds).expect("it keeps its join windows");
        let (cost, _) = beam.best.unwrap();
        let (out, late) = (timing.value().out as i64, timing.value().late as i64);
        if out == 0 {
            prop_assert_eq!(cost, late);
        } else {
            prop_assert!(cost >= OUT * out);
        }
    }
}
