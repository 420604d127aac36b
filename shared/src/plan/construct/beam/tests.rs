use proptest::prelude::*;

use super::*;
use crate::plan::construct::timetable::Timetable;
use crate::plan::search::slot_assignment::{INITIAL_TEMPERATURE, SlotAssignment};
use crate::plan::tests::random::any_instance;

proptest! {
    /// The order has every operation once, and is as late as the search said.
    #[test]
    fn an_order_costs_what_the_search_says(instance in any_instance(12, 5, 3), seed in 0_u64..1_000, hold: bool) {
        let (problem, _) = PlanProblem::new(&instance);
        prop_assume!(!problem.ops.is_empty());
        let holds: Vec<bool> = problem.ops.iter().map(|op| hold && op.can_be_held()).collect();
        let model = CapacityModel::new(&problem);
        let mut assignment = SlotAssignment::new(&problem, &model, seed);
        if assignment.has_any() {
            assignment.run(200, INITIAL_TEMPERATURE);
        }
        let mut beam = Beam::new(&problem, &model, assignment.prices());
        // The second run in the same memory must not depend on the first.
        let first = beam.run(assignment.chosen(), &holds, 3, &|| true);
        let order = beam.run(assignment.chosen(), &holds, 3, &|| true);
        prop_assert_eq!(&first, &order);
        let Some(order) = order else { return Ok(()) };
        let mut sorted = order.clone();
        sorted.sort_unstable();
        prop_assert_eq!(sorted, (0..problem.ops.len() as u32).collect::<Vec<_>>());
        let timetable = Timetable::new(&problem, &order, &holds).expect("it keeps its join windows");
        let (cost, _) = beam.best.unwrap();
        let (out, late) = (timetable.value().out as i64, timetable.value().late as i64);
        if out == 0 {
            prop_assert_eq!(cost, late);
        } else {
            prop_assert!(cost >= OUT * out);
        }
    }
}
