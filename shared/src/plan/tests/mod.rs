use super::*;

fn operation(minutes: u32, wait_min: u32) -> Operation {
    Operation {
        minutes,
        wait_min,
        ..Operation::default()
    }
}

fn pair(tag: &str, due: i64, weight: u32, chain: &[(u32, u32)]) -> Pair {
    Pair {
        tag: tag.to_owned(),
        ready: None,
        due: Some(due),
        weight,
        first: false,
        operations: chain
            .iter()
            .map(|(minutes, wait)| operation(*minutes, *wait))
            .collect(),
    }
}

fn instance(windows: Option<&[[i64; 2]]>, pairs: Vec<Pair>) -> Instance {
    Instance {
        now: 0,
        windows: windows.map(<[_]>::to_vec),
        workers: 1,
        pairs,
    }
}

#[test]
fn what_cannot_be_planned_is_named_and_the_rest_is_planned() {
    let mut joined = pair("joined", 900, 1, &[(10, 0), (55, 0)]);
    joined.operations[0].join_within = Some(5);
    let mut long = pair("long", 900, 1, &[(10, 0), (61, 0)]);
    long.operations[0].wait_min = 5;
    let late = Pair {
        ready: Some(360),
        ..pair("late", 900, 1, &[(10, 0)])
    };
    let good = pair("good", 900, 1, &[(10, 100), (10, 0)]);
    let windows = [[0, 60], [200, 260]];
    let plan = solve(
        &instance(Some(&windows), vec![joined, long, late, good]),
        &Limits::default(),
    )
    .unwrap();
    let reasons: Vec<_> = plan
        .left_out
        .iter()
        .map(|left| (left.tag.as_str(), left.operation, left.reason))
        .collect();
    assert_eq!(
        reasons,
        [
            ("joined", 1, Reason::JoinWindow),
            ("long", 1, Reason::TooLong),
            ("late", 0, Reason::Horizon)
        ]
    );
    assert_eq!(plan.blocks.len(), 2);
    assert_eq!(plan.pairs[0].done, 210);
}
