use crate::price::minor::Minor;
use serde_json::{Value, json};
use uuid::{Builder, Uuid};

use super::*;
use crate::log::body::*;
use crate::log::fold::{JobState, PairHistory, PairState, SubjectMap, TicketState};
use crate::log::{
    DeviceId, Entry, EntryId, MadeAt, PersonId, ReceivedEntry, Stamp as Mark, Subject, SubjectId,
    SubjectKind, UnixMs,
};
use crate::trade::{Component, Goods, Material};

const MINUTE: i64 = 60_000;
/// 2025-03-01T08:00:00Z.
const MORNING: i64 = 1_740_816_000_000;

fn uuid(n: u8) -> Uuid {
    Builder::from_unix_timestamp_millis(1_000 + u64::from(n), &[n; 10]).into_uuid()
}

fn entry_id(n: u8) -> EntryId {
    EntryId(uuid(n))
}

const fn person(n: u128) -> PersonId {
    PersonId(Uuid::from_u128(n))
}

/// The n-th entry of a job, so many minutes after eight.
fn nth_entry(n: u8, minute: i64, body: &Body) -> ReceivedEntry {
    let at = UnixMs(MORNING + minute * MINUTE);
    ReceivedEntry {
        entry: Entry {
            id: entry_id(n),
            subject: Subject::new(SubjectKind::Job, SubjectId(uuid(0))),
            stamp: Mark { ms: at, counter: 0 },
            made_at: MadeAt {
                utc: at,
                offset_min: 60,
            },
            device: DeviceId(Uuid::from_u128(1)),
            device_seq: u64::from(n) + 1,
            person: Some(person(7)),
            over: Vec::new(),
            kind: body.kind().unwrap().to_owned(),
            version: 1,
            body: body.to_text().unwrap(),
        },
        received: None,
    }
}

fn read(kind: &str, body: &Value) -> Body {
    let mut held = nth_entry(1, 0, &Body::HandedOver(HandedOver::default()));
    held.entry.kind = kind.to_owned();
    held.entry.body = body.to_string();
    Body::of(&held.entry)
}

fn detail(field: &str, value: impl Into<Value>) -> Body {
    Body::Detail(Detail {
        field: field.to_owned(),
        value: value.into(),
    })
}

/// A resole: a broken shank found and replaced at no charge, a scuff repaired by choice, one step made twice.
fn resole() -> JobState {
    let step = |operation: &str| read("step", &json!({"operation": operation, "side": "both"}));
    let damage = |part: &str, condition: &str, pays: &str| {
        let body = json!({"part": part, "condition": condition, "side": "left", "seen": "inside", "decision": "replace", "pays": pays});
        read("damage", &body)
    };
    let gift = |operation: &str, why: &str, damage: u8| {
        let gift = json!({"why": why, "worth_minor": 1800});
        let body = json!({"operation": operation, "side": "both", "price_minor": 0, "gift": gift, "damage": entry_id(damage)});
        read("agreed", &body)
    };
    JobState::of(&[
        nth_entry(1, 0, &read("opened", &json!({"ticket": uuid(90)}))),
        nth_entry(2, 1, &detail(field::CONSTRUCTION_GUESSED, "machine_welted")),
        nth_entry(
            3,
            2,
            &read(
                "agreed",
                &json!({"operation": "resole_welted", "side": "both", "price_minor": 9500}),
            ),
        ),
        nth_entry(
            4,
            2,
            &read(
                "agreed",
                &json!({"operation": "stretch", "side": "both", "price_minor": 1200}),
            ),
        ),
        nth_entry(5, 3, &read("skipped", &json!({"operation": "stretch"}))),
        nth_entry(6, 30, &step("sole_off")),
        nth_entry(7, 31, &damage("shank", "broken", "shop_needed")),
        nth_entry(8, 31, &gift("shank_replacement", "needed", 7)),
        nth_entry(9, 32, &damage("upper", "scuffed", "shop_choice")),
        nth_entry(10, 32, &gift("colour_touch_up", "my_choice", 9)),
        nth_entry(11, 40, &step("shank_replacement")),
        nth_entry(12, 41, &read("wait", &json!({"what": "drying", "minutes": 15}))),
        nth_entry(13, 90, &step("resole_welted")),
        nth_entry(
            14,
            95,
            &read("redo", &json!({"step": entry_id(13), "scrap": "a sole"})),
        ),
        nth_entry(
            15,
            160,
            &read(
                "step",
                &json!({"operation": "resole_welted", "side": "both", "minutes": 55, "used": [{"material": "sole, 9 iron", "thousandths": 2000}]}),
            ),
        ),
        nth_entry(16, 170, &read("checked", &json!({"ticked": []}))),
        nth_entry(17, 600, &read("handed_over", &json!({}))),
    ])
}

fn facts(job: &JobState) -> JobFacts {
    let ticket = TicketState::of(&[nth_entry(1, 0, &detail(field::TAX, json!(190)))]);
    let pair = PairState::of(&[nth_entry(1, 0, &detail(field::GOODS, json!("boot")))]);
    JobFacts::of(SubjectId(uuid(0)), job, Some(&ticket), &pair)
}

#[test]
fn a_job_is_told_by_what_was_agreed_found_and_done() {
    let got = facts(&resole());
    assert_eq!(
        (&got.goods, got.tax, got.price()),
        (&Goods::Boot, Some(190), Minor(9500))
    );
    assert_eq!(got.guessed.as_ref().unwrap().as_str(), "machine_welted");
    assert_eq!(got.lines.len(), 3, "what was skipped is not charged");
    assert_eq!(
        (0..3).map(|at| got.is_needed(at)).collect::<Vec<_>>(),
        [true, false, false]
    );
    let of_resole: Vec<_> = got
        .steps
        .iter()
        .filter(|step| step.operation == "resole_welted")
        .collect();
    assert_eq!(
        of_resole.iter().map(|step| step.redone).collect::<Vec<_>>(),
        [true, false]
    );
    assert_eq!(
        (of_resole[0].scrap.as_str(), of_resole[1].minutes),
        ("a sole", Some(55))
    );
    assert_eq!(got.person(of_resole[1]), Some(person(7)));
    assert!(got.ready_at < got.handed_over_at && !got.unrepaired);
}

#[test]
fn what_a_step_took_can_be_said_afterwards_and_it_stays_when_it_was() {
    let step = read("step", &json!({"operation": "half_sole", "side": "both"}));
    let spent = |minutes: u32| {
        read(
            "spent",
            &json!({"step": entry_id(1), "minutes": minutes, "used": [{"material": "rubber", "thousandths": 500}]}),
        )
    };
    let job = JobState::of(&[
        nth_entry(1, 30, &step),
        nth_entry(2, 400, &spent(35)),
        nth_entry(3, 401, &spent(45)),
    ]);
    let got = facts(&job);
    assert_eq!(
        (got.steps[0].minutes, got.steps[0].used[0].thousandths),
        (Some(45), 500)
    );
    let all = stamps(SubjectId(uuid(0)), &job);
    assert_eq!(all.len(), 1, "saying so is no work");
    assert_eq!(
        (all[0].at, all[0].noted),
        (At(MORNING + 30 * MINUTE, 60), Some(45))
    );
}

#[test]
fn a_step_keeps_its_cement_and_a_job_the_materials_of_the_soles() {
    let step = json!({"operation": "half_sole", "side": "both", "cement": "neoprene"});
    let job = JobState::of(&[nth_entry(1, 30, &read("step", &step))]);
    let materials = json!(["smooth_leather", "rubber_sole", "leather_sole"]);
    let pair = PairState::of(&[nth_entry(1, 0, &detail(field::MATERIALS, materials))]);
    let got = JobFacts::of(SubjectId(uuid(0)), &job, None, &pair);
    assert_eq!(got.steps[0].cement.as_deref(), Some("neoprene"));
    assert_eq!(got.soles, [Material::RubberSole, Material::LeatherSole]);
    let text = serde_json::to_string(&got).unwrap();
    assert_eq!(serde_json::from_str::<JobFacts>(&text).unwrap(), got);
}

#[test]
fn minutes_and_a_cement_that_two_devices_noted_at_once_are_both_kept() {
    let made = json!({"operation": "half_sole", "side": "both", "cement": "polyurethane"});
    let minutes = json!({"step": entry_id(1), "minutes": 35});
    let cement = json!({"step": entry_id(1), "cement": "neoprene"});
    for said in [[&minutes, &cement], [&cement, &minutes]] {
        let job = JobState::of(&[
            nth_entry(1, 30, &read("step", &made)),
            nth_entry(2, 400, &read("spent", said[0])),
            nth_entry(3, 401, &read("spent", said[1])),
        ]);
        let got = facts(&job);
        let step = &got.steps[0];
        assert_eq!(
            (step.minutes, step.cement.as_deref()),
            (Some(35), Some("neoprene"))
        );
    }
}

#[test]
fn a_part_counts_as_opened_when_somebody_has_seen_it() {
    let got = facts(&resole());
    for part in [
        Component::Welt,
        Component::Rib,
        Component::Shank,
        Component::Upper,
    ] {
        assert!(got.parts.contains(&part), "{part}");
    }
    let agreed_only = facts(&JobState::of(&[nth_entry(
        1,
        0,
        &read(
            "agreed",
            &json!({"operation": "resole_welted", "side": "both", "price_minor": 9500}),
        ),
    )]));
    assert!(
        agreed_only.parts.is_empty(),
        "a sole that was not taken off hides what it hid"
    );
    let looked_at = facts(&JobState::of(&[nth_entry(
        1,
        0,
        &detail(field::CONSTRUCTION_OPENED, "cemented"),
    )]));
    assert!(looked_at.parts.contains(&Component::Insole));
}

#[test]
fn the_bench_and_the_counter_are_told_apart() {
    let job = resole();
    let all = stamps(SubjectId(uuid(0)), &job);
    assert!(all.windows(2).all(|two| two[0].at <= two[1].at));
    let at = |minute: i64| At(MORNING + minute * MINUTE, 60);
    let of = |minute| {
        all.iter()
            .filter(|stamp| stamp.at == at(minute))
            .collect::<Vec<_>>()
    };
    assert!(
        of(0)
            .iter()
            .chain(&of(2))
            .chain(&of(600))
            .all(|stamp| stamp.counter)
    );
    assert!(
        [30, 31, 32, 40, 95, 170]
            .iter()
            .flat_map(|minute| of(*minute))
            .all(|stamp| !stamp.counter)
    );
    assert_eq!(
        (of(95)[0].operation.as_deref(), of(160)[0].noted),
        (Some("resole_welted"), Some(55))
    );
    let dried = waits(SubjectId(uuid(0)), &job);
    assert_eq!(dried.len(), 1);
    assert_eq!(dried[0].until.0 - dried[0].from.0, 15 * MINUTE);
}

#[test]
fn nothing_is_lost_on_the_way_to_the_table_and_back() {
    let (facts, stamps) = (facts(&resole()), stamps(SubjectId(uuid(0)), &resole()));
    let text = serde_json::to_string(&facts).unwrap();
    assert!(text.len() < 1_300, "{} bytes", text.len());
    assert_eq!(serde_json::from_str::<JobFacts>(&text).unwrap(), facts);
    let text = serde_json::to_string(&stamps).unwrap();
    assert_eq!(serde_json::from_str::<Vec<WorkStamp>>(&text).unwrap(), stamps);
}

#[test]
fn a_pair_is_kept_small_and_says_the_same_afterwards() {
    let job = resole();
    let (id, ticket) = (SubjectId(uuid(0)), SubjectId(uuid(90)));
    let paid = nth_entry(
        20,
        600,
        &read("payment", &json!({"minor": 9500, "what": "balance"})),
    );
    let history = PairHistory {
        id: SubjectId(uuid(91)),
        same: [SubjectId(uuid(91))].into(),
        pair: PairState::of(&[nth_entry(1, 0, &detail(field::GOODS, json!("boot")))]),
        jobs: [(id, job.clone())].into(),
        tickets: [(
            ticket,
            TicketState::of(&[paid, nth_entry(21, 1, &detail(field::TAX, json!(190)))]),
        )]
        .into_iter()
        .collect(),
        customers: SubjectMap::default(),
        read: [].into(),
    };
    let kept = PairFacts::of(&history);
    assert_eq!(
        (kept.jobs[0].tax, kept.tickets[0].money[0].minor),
        (Some(190), Minor(9500))
    );
    assert_eq!(kept.stamps().collect::<Vec<_>>(), stamps(id, &job));
    assert_eq!(kept.waits().collect::<Vec<_>>(), waits(id, &job));
    assert_eq!(kept.months().into_iter().collect::<Vec<_>>(), ["2025-03"]);
    let text = serde_json::to_string(&kept).unwrap();
    assert!(text.len() < 2_200, "{} bytes", text.len());
    assert_eq!(serde_json::from_str::<PairFacts>(&text).unwrap(), kept);
}

#[test]
fn amounts_and_clocks_that_cannot_be_count_for_nothing() {
    for absurd in [-10_000_000_001, i64::MAX, i64::MIN] {
        let line = json!({"operation": "half_sole", "side": "both", "price_minor": absurd});
        let got = facts(&JobState::of(&[nth_entry(1, 0, &read("agreed", &line))]));
        assert_eq!(got.price(), Minor(0));
        let paid = json!({"minor": absurd.min(0), "what": "refund"});
        let ticket = TicketFacts::of(
            SubjectId(uuid(0)),
            &TicketState::of(&[nth_entry(1, 0, &read("payment", &paid))]),
        );
        assert_eq!(ticket.money[0].minor, Minor(0));
        let sold = json!({"what": "laces", "count": 1, "price_minor": absurd});
        let state = TicketState::of(&[nth_entry(1, 0, &read("sold", &sold))]);
        assert_eq!(
            TicketFacts::of(SubjectId(uuid(0)), &state).sold[0].minor,
            Minor(0)
        );
    }
    assert_eq!(At(MORNING, 60).month(), Some((2025, 3)));
    assert_eq!(
        At(1_740_783_600_000, 60).day().unwrap().to_string(),
        "2025-03-01",
        "midnight here, 23:00 in UTC"
    );
    for wrong in [0, i64::MAX, 631_151_999_999, 4_102_444_800_000] {
        assert_eq!(At(wrong, 0).day(), None, "{wrong}");
    }
}

#[test]
fn a_pair_that_goes_back_earns_nothing_and_a_complaint_what_is_paid_on_it() {
    let line = nth_entry(
        1,
        0,
        &read(
            "agreed",
            &json!({"operation": "half_sole", "side": "both", "price_minor": 3800}),
        ),
    );
    let back = nth_entry(2, 1, &read("handed_over", &json!({"unrepaired": true})));
    let again = nth_entry(
        2,
        1,
        &read(
            "complaint",
            &json!({"job": uuid(3), "operation": "half_sole", "cause": "material"}),
        ),
    );
    assert_eq!(
        facts(&JobState::of(std::slice::from_ref(&line))).price(),
        Minor(3800)
    );
    assert_eq!(facts(&JobState::of(&[line.clone(), back])).price(), Minor(0));
    let complaint = facts(&JobState::of(&[line, again]));
    assert_eq!(
        (complaint.price(), complaint.complaint.unwrap().cause),
        (Minor(3800), Some(Cause::Material))
    );
}
