use std::collections::{BTreeMap, BTreeSet};

use image::{ImageFormat, ImageReader};
use shared::log::body::{Blob, Shows};
use shared::log::fold::{Card, PairHistory, PairHistoryLoader, Summary, bench};
use shared::log::{Body, SubjectKind, about};
use shared::trade::formulas::instant::Instant;
use shared::trade::{Component, Condition, Construction, Material, Station, operation};
use uuid::Uuid;

use super::*;
use server_core::world::RealWorld;

const HOUR_MS: i64 = 3_600_000;

fn demo() -> &'static Demo {
    static DEMO: std::sync::OnceLock<Demo> = std::sync::OnceLock::new();
    DEMO.get_or_init(|| Demo::now(&RealWorld, SubjectId(Uuid::nil())))
}

fn bodies() -> impl Iterator<Item = (&'static ReceivedEntry, Body)> {
    demo().entries.iter().map(|held| (held, Body::of(&held.entry)))
}

fn life(pair: SubjectId) -> PairHistory {
    let mut gather = PairHistoryLoader::pair(pair);
    loop {
        let wanted = gather.wanted();
        if wanted.is_empty() {
            return gather.finish();
        }
        for id in wanted {
            let entries = demo()
                .entries
                .iter()
                .filter(|held| about(&held.entry).contains(&id));
            gather.give(id, entries.cloned());
        }
    }
}

/// Every pair's history, by the pair's look.
fn lives() -> BTreeMap<String, PairHistory> {
    let pairs: BTreeSet<SubjectId> = bodies()
        .filter(|(held, _)| held.entry.subject.kind == SubjectKind::Pair)
        .map(|(held, _)| held.entry.subject.id)
        .collect();
    pairs
        .into_iter()
        .map(life)
        .map(|life| (life.pair.look().unwrap_or_default().to_owned(), life))
        .collect()
}

#[test]
fn the_demo_speaks_the_words_of_the_trade() {
    let known_operation = |code: &str| assert!(operation(code).is_some(), "{code}");
    for (_, body) in bodies() {
        match body {
            Body::Agreed(line) => known_operation(&line.operation),
            Body::Step(step) => known_operation(&step.operation),
            Body::Complaint(complaint) => known_operation(&complaint.operation),
            Body::Damage(damage) => {
                let part = Component::from(damage.part.as_str());
                let condition = Condition::from(damage.condition.as_str());
                assert!(!matches!(part, Component::Other(_)), "{part}");
                assert!(!matches!(condition, Condition::Other(_)), "{condition}");
                let usual = shared::trade::conditions(&part);
                assert!(usual.contains(&condition), "{part} is not offered as {condition}");
            }
            Body::TakenOut(out) => assert!(Component::from(out.part.as_str()).goes_back(), "{}", out.part),
            Body::Question(question) => {
                assert!((2..=3).contains(&question.choices.len()) && question.photo.is_some());
                let named = question
                    .choices
                    .iter()
                    .filter_map(|choice| choice.operation.as_deref());
                named.for_each(known_operation);
            }
            Body::Unknown => panic!("an entry that this version cannot read"),
            _ => {}
        }
    }
}

#[test]
fn every_pair_is_described_in_known_words_and_its_work_fits_it() {
    for (look, life) in lives() {
        let goods = life.pair.goods().expect("a kind of goods");
        assert!(goods.class().is_some(), "{look}: {goods}");
        for material in life.pair.materials() {
            assert!(!matches!(material, Material::Other(_)), "{look}: {material}");
        }
        for job in life.jobs.values() {
            let constructions = [
                job.construction_guessed(),
                job.construction_opened(),
                job.construction_left(),
            ];
            for construction in constructions.into_iter().flatten() {
                assert!(
                    !matches!(construction, Construction::Other(_)),
                    "{look}: {construction}"
                );
            }
            for line in job.agreed.iter().flat_map(|line| &line.versions) {
                let known = operation(&line.body.operation).unwrap();
                assert!(known.fits(&goods), "{} on {goods}", known.code);
            }
        }
    }
}

#[test]
fn no_two_tags_are_equal() {
    let mut seen = BTreeSet::new();
    for (look, life) in lives() {
        for job in life.jobs.values() {
            let tag = job.tag().unwrap_or_default().to_owned();
            assert!(!tag.is_empty() && seen.insert(tag.clone()), "{look}: {tag}");
        }
    }
}

/// The real world, with its clock stopped.
struct Stopped(shared::log::UnixMs);

impl World for Stopped {
    fn now(&self) -> shared::log::UnixMs {
        self.0
    }

    fn fill(&self, bytes: &mut [u8]) {
        RealWorld.fill(bytes);
    }
}

#[test]
fn no_day_is_promised_on_which_the_shop_is_closed() {
    let friday = Instant::parse("2026-11-27T12:00:00Z").unwrap();
    let world = Stopped(shared::log::UnixMs(friday.unix_s() * 1_000));
    let pen = pen::Pen::new(&world);
    let days: Vec<String> = (0..4).map(|days| pen.working_day(days)).collect();
    // The 29th is a Sunday.
    assert_eq!(days, ["2026-11-27", "2026-11-28", "2026-11-30", "2026-11-30"]);
    assert_eq!(pen.working_day(-5), "2026-11-23");
}

/// Where the Bench shows a pair, in one word.
fn place(summary: &Summary, now: i64) -> String {
    let Some(job) = summary.jobs.iter().find(|job| job.open) else {
        return "collected".to_owned();
    };
    let held = [
        (job.asked, "asked"),
        (job.material.is_some(), "material"),
        (job.dry_at.is_some_and(|at| at.0 > now + 6 * HOUR_MS), "drying"),
        (
            job.ready_at.is_some() && job.shelf.is_some() && job.left.is_empty(),
            "ready",
        ),
    ];
    if let Some((_, word)) = held.iter().find(|(holds, _)| *holds) {
        return (*word).to_owned();
    }
    let next = job.left.first().and_then(|code| operation(code));
    next.map_or("nowhere", |known| known.station.as_str()).to_owned()
}

#[test]
fn every_pair_stands_where_it_was_meant_to() {
    let now = RealWorld.now().0;
    let places: BTreeMap<String, String> = lives()
        .into_iter()
        .map(|(look, life)| (look, place(&Summary::of(&life), now)))
        .collect();
    let meant = [
        ("derby", "collected"),
        ("oxford", Station::Stitch.as_str()),
        ("chelsea boot", "drying"),
        ("walking boot", Station::Cement.as_str()),
        ("child's boot", Station::BuildHeel.as_str()),
        ("court shoe", "asked"),
        ("dance shoe", Station::Ink.as_str()),
        ("belt", Station::Trim.as_str()),
        ("work boot", "material"),
        ("moccasin", "ready"),
        ("sandal", Station::Cement.as_str()),
        ("ankle boot with zip", Station::Strip.as_str()),
    ];
    let meant: BTreeMap<String, String> = meant
        .iter()
        .map(|(look, place)| ((*look).to_owned(), (*place).to_owned()))
        .collect();
    assert_eq!(places, meant);
}

#[test]
fn one_complaint_one_rush_one_part_out_and_a_ticket_of_three() {
    let lives = lives();
    let summaries: Vec<Summary> = lives.values().map(Summary::of).collect();
    let open = || {
        summaries
            .iter()
            .flat_map(|pair| &pair.jobs)
            .filter(|job| job.open)
    };
    assert_eq!(open().filter(|job| job.complaint).count(), 1);
    assert_eq!(open().filter(|job| job.rush).count(), 1);
    let mut on_ticket: BTreeMap<_, usize> = BTreeMap::new();
    for job in open() {
        *on_ticket.entry(job.ticket).or_default() += 1;
    }
    assert_eq!(on_ticket.values().max(), Some(&3));
    let out = lives.values().flat_map(|life| life.jobs.values());
    assert_eq!(out.flat_map(bench::parts_out).count(), 1);
}

/// What a line, a part and a note can say is seen somewhere in the shop.
#[test]
fn the_demo_shows_materials_variants_kept_parts_and_a_note_for_the_card() {
    let lives = lives();
    let moccasin = &lives["moccasin"];
    assert!(moccasin.pair.materials().any(|one| one == Material::Suede));
    let Card::Sections(sections) = Card::of(moccasin) else {
        panic!("no card");
    };
    assert_eq!(sections[0].section.notes.len(), 1);
    let of = |look: &str| lives[look].jobs.values().next().expect("a job");
    let zips = bench::agreed(of("ankle boot with zip"))
        .find(|line| line.body.operation == "zip_replacement")
        .expect("zips");
    assert_eq!((zips.body.variant(), zips.body.pieces()), (Some("plastic"), 2));
    for line in lives
        .values()
        .flat_map(|life| life.jobs.values())
        .flat_map(bench::agreed)
    {
        let known = operation(&line.body.operation).expect("an operation");
        let variant = line.body.variant();
        assert!(
            variant.is_none_or(|code| known.variant(code).is_some()),
            "{variant:?}"
        );
    }
    let oxford = of("oxford");
    let kept: Vec<_> = bench::parts_for_customer(oxford)
        .map(|out| out.body.part.as_str())
        .collect();
    let reused: Vec<_> = bench::parts_out(oxford)
        .map(|out| out.body.part.as_str())
        .collect();
    assert_eq!((kept, reused), (vec!["shank"], vec!["sock"]));
}

#[test]
fn the_card_that_is_shown_first_is_full() {
    let life = &lives()["derby"];
    assert_eq!(life.pair.links[0].body.secret, demo().card);
    let Card::Sections(sections) = Card::of(life) else {
        panic!("no card");
    };
    assert_eq!(sections.len(), 4, "four jobs in six years");
    let newest = &sections[0].section;
    for lines in [&newest.done, &newest.found, &newest.advice] {
        assert!(lines.len() >= 2, "{lines:?}");
    }
    assert_eq!(newest.gifts.len(), 2);
    assert_eq!(newest.wait_hours, Some(24));
    assert!(!newest.new_parts.is_empty(), "the drawing has a part to tint");
    for photo in sections.iter().flat_map(|shown| &shown.section.photos) {
        assert!(!photo.caption.is_empty());
    }
}

#[test]
fn every_picture_is_there_and_is_a_jpeg_of_the_stated_size() {
    let stored: BTreeMap<&str, &[u8]> = demo()
        .blobs
        .iter()
        .map(|(sha256, bytes)| (sha256.as_str(), bytes.as_slice()))
        .collect();
    let check = |blob: &Blob, size: (u32, u32)| {
        let bytes = stored[blob.sha256.as_str()];
        assert_eq!(
            (blob.bytes, blob.width, blob.height),
            (bytes.len() as u64, size.0, size.1)
        );
        let reader = ImageReader::with_format(std::io::Cursor::new(bytes), ImageFormat::Jpeg);
        let picture = reader.decode().unwrap();
        assert_eq!((picture.width(), picture.height()), size);
    };
    let taken: usize = stories::all()
        .flat_map(|ticket| ticket.jobs)
        .map(|job| teller::pictures(job).count())
        .sum();
    let mut photos = 0;
    for (_, body) in bodies() {
        if let Body::Photo(photo) = body {
            check(&photo.full, (960, 720));
            check(&photo.thumb, (320, 240));
            assert_eq!(photo.shows == Shows::Damage, photo.of.is_some());
            assert_eq!(photo.shows == Shows::Step, photo.operation.is_some());
            photos += 1;
        }
    }
    assert_eq!(photos, taken, "a picture has no file");
}

#[test]
fn entries_are_numbered_in_the_order_of_time_and_none_is_of_tomorrow() {
    let now = RealWorld.now();
    let entries = &demo().entries;
    for (number, held) in (1..).zip(entries) {
        assert_eq!(held.entry.device_seq, number);
        assert_eq!(held.entry.check(), Ok(()));
        assert!(held.entry.made_at.utc <= now);
    }
    assert!(entries.is_sorted_by_key(|held| held.entry.stamp));
}

#[test]
fn every_picture_file_is_shown() {
    let shown: BTreeSet<String> = stories::all()
        .flat_map(|ticket| ticket.jobs)
        .flat_map(teller::pictures)
        .flat_map(|name| [".jpg", ".small.jpg"].map(|end| [name.as_str(), end].concat()))
        .collect();
    assert_eq!(album::files(), shown);
}
