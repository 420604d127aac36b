//! Tests of the plan that stands.

use super::*;
use crate::week::facts::PlanFact;

/// Five minutes after the opening nothing has been noted: the run is the same, and begins now.
#[test]
fn five_minutes_after_the_opening_the_run_begins_now() {
    let mut jobs: Vec<Job> = (1..=3).map(|n| job(n, &["small_repair"], FRIDAY)).collect();
    jobs.extend((4..=5).map(|n| job(n, &["half_sole"], FRIDAY)));
    asked(json!({}), |given| {
        let day = DayPlan::opened(jobs.into_iter().map(|job| (job.id, job)).collect(), given);
        let later = WeekInput {
            now: UnixMs(NOW.0 + 5 * MINUTE),
            ..*given
        };
        let told = [given, &later].map(|given| run_told(&day, given));
        let of = |told: &WeekPlan| {
            (
                told.runs[0].place.clone(),
                told.runs[0].jobs.clone(),
                told.runs[0].now,
            )
        };
        assert_eq!(of(&told[0]), of(&told[1]), "{told:?}");
        assert!(told[1].runs[0].now, "{told:?}");
        let days = |told: &WeekPlan| {
            told.order
                .iter()
                .map(|one| (one.job, one.done.clone()))
                .collect::<Vec<_>>()
        };
        assert_eq!(days(&told[0]), days(&told[1]));
    });
}

/// While the cement of the pair on top dries, nobody is idle.
#[test]
fn while_the_pair_on_top_dries_the_others_go_on() {
    let mut jobs: Vec<Job> = (1..=3).map(|n| job(n, &["small_repair"], FRIDAY)).collect();
    let coated = Job {
        first: true,
        ..job(7, &["half_sole"], TODAY)
    };
    jobs.push(coated.clone());
    asked(json!({}), |given| {
        let mut day = DayPlan::opened(jobs.into_iter().map(|job| (job.id, job)).collect(), given);
        let at = |minutes: i64| UnixMs(NOW.0 + minutes * MINUTE);
        let mut take = |minutes, job: Job| {
            let fact = PlanFact {
                at: at(minutes),
                jobs: [(job.id, Some(job))].into(),
            };
            day.take(
                &fact,
                &WeekInput {
                    now: at(minutes),
                    ..*given
                },
            );
            run_told(
                &day,
                &WeekInput {
                    now: at(minutes),
                    ..*given
                },
            )
        };
        let dries = Job {
            dry: Some((at(20), Some("half_sole".to_owned()))),
            ..coated
        };
        take(10, dries.clone());
        let told = take(
            11,
            Job {
                first: false,
                ..dries
            },
        );
        assert!(
            told.runs[0].now && number(told.runs[0].jobs[0].job) < 7,
            "{told:?}"
        );
    });
}

/// Whoever begins a run elsewhere goes there first; whoever stays does not. The first run of the day takes no longer.
#[test]
fn the_run_at_another_station_takes_the_minutes_of_going_there() {
    let minutes = |second: &str| {
        let jobs = [job(1, &["small_repair"], TODAY), job(2, &[second], FRIDAY)];
        asked(json!({}), |given| {
            let now = WeekInput {
                now: UnixMs(NOW.0 + 15 * MINUTE),
                ..*given
            };
            let mut day = DayPlan::opened(jobs.clone().map(|job| (job.id, job)).into(), given);
            assert_eq!(number(day.runs[0].jobs[0].0), 1);
            let gone = PlanFact {
                at: now.now,
                jobs: [(jobs[0].id, None)].into(),
            };
            day.take(&gone, &now);
            let alone = DayPlan::opened([(jobs[1].id, jobs[1].clone())].into(), &now);
            [day, alone].map(|day| {
                let (_, plan) = day.shown(&now);
                plan.blocks[0].end - plan.blocks[0].start
            })
        })
    };
    let [elsewhere, fresh] = minutes("half_sole");
    // Eight minutes, lengthened by the counter's share of the day.
    assert_eq!(elsewhere - fresh, 11);
    let [there, fresh] = minutes("small_repair");
    assert_eq!(there, fresh);
}
