//! Tests of the places of jobs, and of scanned texts.

use super::*;
use shared::trade::OwnCements;
use shared::trade::formulas::day::Day;
use shared::week::CementTimes;
use uuid::Uuid;

const NOW: UnixMs = UnixMs(1_000_000_000);

fn job(n: u128, next: &str) -> JobLine {
    let blank = serde_json::json!({ "id": Uuid::from_u128(n), "opened_at": 0, "open": true });
    let mut job: JobLine = serde_json::from_value(blank).expect("a job line");
    job.left = [next]
        .iter()
        .filter(|one| !one.is_empty())
        .map(|code| (*code).into())
        .collect();
    job
}

fn pair(job: JobLine) -> Summary {
    Summary {
        id: job.id,
        title: String::new(),
        customer: String::new(),
        phone: String::new(),
        face: None,
        goods: String::new(),
        materials: Vec::new(),
        notes: String::new(),
        logged: String::new(),
        jobs: vec![job],
    }
}

fn laid_out(jobs: Vec<JobLine>, now: UnixMs) -> Vec<(String, Vec<u128>)> {
    let number = |row: &StationRow| row.job.id.0.as_u128();
    sections(jobs.into_iter().map(pair).collect(), now, &[])
        .iter()
        .map(|section| {
            (
                section.place.words().to_owned(),
                section.rows.iter().map(number).collect(),
            )
        })
        .collect()
}

#[test]
fn the_first_operation_left_decides_the_station_and_what_holds_a_job_comes_first() {
    let asked = JobLine {
        asked: true,
        dry_at: Some(UnixMs(NOW.0 + 1)),
        ..job(1, "half_sole")
    };
    let ordered = JobLine {
        material: Some("zip".into()),
        ..job(2, "zip_replacement")
    };
    let drying = JobLine {
        dry_at: Some(UnixMs(NOW.0 + 1)),
        ..job(3, "half_sole")
    };
    let dry = JobLine {
        dry_at: Some(NOW),
        ..job(4, "half_sole")
    };
    let ready = JobLine {
        ready_at: Some(UnixMs(1)),
        ..job(5, "")
    };
    let jobs = vec![
        asked,
        ordered,
        drying,
        dry,
        ready,
        job(6, ""),
        job(7, "ring the bell"),
        job(8, "sole_off"),
    ];
    let expected = [
        ("Strip", 8),
        ("Cement", 4),
        ("Other work", 7),
        ("Final check", 6),
        ("Drying", 3),
        ("Waiting for the customer", 1),
        ("Waiting for material", 2),
        ("Ready to collect", 5),
    ];
    let expected: Vec<_> = expected.map(|(name, id)| (name.to_owned(), vec![id])).into();
    assert_eq!(laid_out(jobs, NOW), expected);
}

#[test]
fn a_plan_orders_stations_and_the_pairs_in_them() {
    let jobs = vec![
        job(1, "half_sole"),
        job(2, "half_sole"),
        job(3, "sole_off"),
        job(4, "sole_off"),
        job(5, ""),
    ];
    let order = [2, 5, 4, 3].map(|n| SubjectId(Uuid::from_u128(n)));
    let sections = sections(jobs.into_iter().map(pair).collect(), NOW, &order);
    let laid: Vec<(&str, Vec<u128>)> = sections
        .iter()
        .map(|section| {
            (
                section.place.words(),
                section.rows.iter().map(|row| row.job.id.0.as_u128()).collect(),
            )
        })
        .collect();
    assert_eq!(
        laid,
        [
            ("Cement", vec![2, 1]),
            ("Final check", vec![5]),
            ("Strip", vec![4, 3])
        ]
    );
}

#[test]
fn rush_first_then_the_day_and_what_dries_by_its_end() {
    let on = |n, day: &str| JobLine {
        day: Day::parse(day),
        ..job(n, "half_sole")
    };
    let rush = JobLine {
        rush: true,
        ..on(3, "2027-03-01")
    };
    let jobs = vec![on(1, ""), on(2, "2027-02-01"), rush, on(4, "2027-01-31")];
    assert_eq!(laid_out(jobs, NOW), [("Cement".to_owned(), vec![3, 4, 2, 1])]);

    let dries = |n, at| JobLine {
        dry_at: Some(UnixMs(NOW.0 + at)),
        rush: n == 5,
        ..job(n, "half_sole")
    };
    assert_eq!(
        laid_out(vec![dries(5, 9), dries(6, 3)], NOW),
        [("Drying".to_owned(), vec![6, 5])]
    );
}

#[test]
fn a_pair_leaves_drying_by_itself_when_its_time_is_over() {
    let dries = || {
        vec![JobLine {
            dry_at: Some(UnixMs(NOW.0 + 60_000)),
            ..job(1, "half_sole")
        }]
    };
    let place = |now| laid_out(dries(), now)[0].0.clone();
    assert_eq!(
        (place(NOW), place(UnixMs(NOW.0 + 60_000))),
        ("Drying".into(), "Cement".into())
    );
}

#[test]
fn a_scanned_text_means_a_pair_a_job_a_whole_ticket_or_a_number() {
    let ticket = SubjectId(Uuid::from_u128(77));
    let on = |n, tag: &str| JobLine {
        tag: tag.into(),
        ticket: Some(ticket),
        ..job(n, "")
    };
    let shop = || in_shop(vec![pair(on(1, "A1")), pair(on(2, "A2")), pair(job(3, ""))]);
    let meant = |text: &str| -> Vec<u128> {
        answering(shop(), text)
            .iter()
            .map(|row| row.job.id.0.as_u128())
            .collect()
    };
    assert_eq!(meant(" a2 "), [2]);
    assert_eq!(meant(&format!("https://shop.example/ticket/{ticket}")), [1, 2]);
    assert_eq!(meant(&Uuid::from_u128(3).to_string()), [3]);
    assert_eq!(meant("A"), [0; 0]);
    assert_eq!(meant(""), [0; 0]);
}

#[test]
fn a_scanned_text_is_a_number_and_an_id_the_number_its_pair_bears() {
    let on = JobLine {
        tag: "A1".into(),
        ..job(1, "")
    };
    let number = |text: &str| number_meant(in_shop(vec![pair(on.clone())]), text);
    assert_eq!(number(" 0417 ").as_deref(), Some("0417"));
    assert_eq!(number(&Uuid::from_u128(1).to_string()).as_deref(), Some("A1"));
    assert_eq!(number(&Uuid::from_u128(2).to_string()), None);
}

/// What is glued on an EVA sole is glued with polyurethane cement, which dries longer than contact cement.
#[test]
fn a_planned_job_takes_the_materials_of_its_pair_along() {
    let times = |materials: &[Material]| {
        let made_of = Summary {
            materials: materials.to_vec(),
            ..pair(job(1, "resole_cemented"))
        };
        let rows: Vec<StationRow> = in_shop(vec![made_of]).collect();
        let jobs = planned(&rows);
        assert_eq!(jobs[0].materials, materials);
        CementTimes::of("resole_cemented", &jobs[0].materials, &OwnCements::default())
    };
    let leather = times(&[Material::SmoothLeather, Material::LeatherSole]);
    let eva = times(&[Material::Suede, Material::EvaSole]);
    assert_eq!([leather, times(&[])], [CementTimes::usual(); 2]);
    assert_eq!(eva, CementTimes { dry: 15, closed: 45 });
}
