//! Compares the estimates from the records with the truth, in eight shops with different truths. The rules of the
//! estimates were chosen on shops with other seeds.

use shared::price::minor::Minor;
use std::collections::BTreeMap;
use std::sync::LazyLock;

use shared::price::allowance::Beta;
use shared::price::job_statistics::JobStatistics;
use shared::price::minutes::{Rules, attended};
use shared::price::profitability::Setting;
use shared::trade::Goods;
use shared::wear::part_life::{PartLives, fitted};

use crate::shop::DAY;
use crate::stays::Stay;
use crate::truth::{CHECK, CONSTRUCTIONS, REPAIRS, TARGET, hiding, repair};
use crate::years::{KEPT, Records, Years, stock};

struct Lived {
    years: Years,
    records: Records,
    statistics: JobStatistics,
}

static SHOPS: LazyLock<Vec<Lived>> = LazyLock::new(|| {
    let lived = |seed| {
        let years = Years::lived(seed);
        let records = years.records();
        let statistics = records.statistics();
        Lived {
            years,
            records,
            statistics,
        }
    };
    (101..=108).map(lived).collect()
});

#[test]
fn minutes_are_within_a_tenth_in_all() {
    for shop in SHOPS.iter() {
        let real: f64 = shop.years.real_kept.values().sum();
        let inferred: f64 = shop.records.attended.iter().map(|one| one.minutes).sum();
        eprintln!(
            "minutes: {} pairs, {} jobs, {} stamps; worked {:.0} h, inferred {:.0} h, {:+.1} %",
            shop.records.by_pair.len(),
            shop.records.facts.len(),
            shop.records.stamps.len(),
            real / 60.0,
            inferred / 60.0,
            (inferred / real - 1.0) * 100.0
        );
        assert!((inferred / real - 1.0).abs() < 0.1, "{}", inferred / real);
    }
}

/// The rule for gaps between stamps is better than both simple ones: to count a gap as no work, or all of it as work.
#[test]
fn a_gap_is_neither_nothing_nor_all_work() {
    let off = |minutes: f64, real: f64| (minutes / real - 1.0).abs();
    let all = Rules {
        limit_min: 1e6,
        usual: &|_| None,
    };
    let mut sums = [0.0; 3];
    for Lived { years, records, .. } in SHOPS.iter() {
        let real: f64 = years.real_kept.values().sum();
        let by = |rules: &Rules<'_>| {
            let attended = attended(&records.stamps, &records.waits, rules);
            attended.iter().map(|one| one.minutes).sum::<f64>()
        };
        let own: f64 = records.attended.iter().map(|one| one.minutes).sum();
        for (sum, minutes) in sums.iter_mut().zip([own, by(&Rules::unknowing()), by(&all)]) {
            *sum += off(minutes, real) / SHOPS.len() as f64;
        }
    }
    eprintln!(
        "minutes: off by {:.1} %; with gaps as nothing {:.1} %, as work {:.1} %",
        sums[0] * 100.0,
        sums[1] * 100.0,
        sums[2] * 100.0
    );
    assert!(sums[0] < sums[1] && sums[0] < sums[2], "{sums:?}");
}

/// The error of each operation, for information: the minutes of short ones are mostly too high, those of long ones
/// mostly too low.
#[test]
fn no_common_operation_is_off_by_a_third() {
    for kind in REPAIRS {
        let (mut real, mut inferred) = (0.0, 0.0);
        for shop in SHOPS.iter() {
            real += shop.years.real_kept.get(kind.code).unwrap_or(&0.0);
            let of_kind = shop
                .records
                .attended
                .iter()
                .filter(|one| one.operation.as_deref() == Some(kind.code));
            inferred += of_kind.map(|one| one.minutes).sum::<f64>();
        }
        eprintln!(
            "minutes: {:24} {:+.1} %",
            kind.code,
            (inferred / real - 1.0) * 100.0
        );
        assert!((inferred / real - 1.0).abs() < 1.0 / 3.0, "{}", kind.code);
    }
}

/// Every rate that the shop estimates: its truth, and its beta distribution.
fn rates(shop: &Lived) -> Vec<(f64, Beta)> {
    let mut all = Vec::new();
    for kind in REPAIRS {
        for (guessed, _) in CONSTRUCTIONS {
            let known = shop
                .statistics
                .hidden(kind.code, Some(&guessed), &Goods::LowShoe, &|_, _, _| None);
            for (part, ..) in hiding(kind.code, &Goods::LowShoe) {
                let truth = shop.years.rates.needed(kind.code, &guessed, part);
                let law = known.iter().find(|(one, _)| one == part).expect("it is opened").1;
                all.push((truth, law));
            }
        }
    }
    all
}

/// A group with at least this many pairs, including the prior's weight, is mainly estimated from its own pairs.
const SPEAKS: f64 = 60.0;

/// The intervals of groups that are mainly estimated from their own pairs must contain the truth as often as they say,
/// within three binomial errors; those of all groups, at least as often. A group with few pairs follows the prior,
/// which is wider because it is the same for all groups, so that its interval contains the truth more often than it
/// says. Each truth is in several groups, so only half of the groups are counted.
#[test]
fn intervals_hold_the_truth_as_often_as_they_say() {
    let all: Vec<_> = SHOPS.iter().flat_map(rates).collect();
    let speaking: Vec<_> = all
        .iter()
        .copied()
        .filter(|(_, law)| law.weight() > SPEAKS)
        .collect();
    for (low, high) in [(0.025, 0.975), (0.1, 0.9)] {
        let nominal: f64 = high - low;
        let off = |groups: &[(f64, Beta)], which: &str| {
            let holds =
                |(truth, law): &&(f64, Beta)| law.quantile(low) <= *truth && *truth <= law.quantile(high);
            let many = groups.len() as f64;
            let share = groups.iter().filter(holds).count() as f64 / many;
            eprintln!(
                "hidden damage: {:.0} % intervals hold the truth in {:.1} % of {many} {which}",
                nominal * 100.0,
                share * 100.0
            );
            (share - nominal) / (nominal * (1.0 - nominal) / (many / 2.0)).sqrt()
        };
        assert!(off(&speaking, "groups that speak").abs() < 3.0);
        assert!(off(&all, "groups") > -3.0);
    }
}

/// The prices for the fourth year, from the records of three years.
fn prices(shop: &Lived) -> BTreeMap<(&'static str, Goods), Minor> {
    let setting = Setting {
        target: Some(TARGET),
        tax: None,
        stock: &stock,
        stated_rates: &|_, _, _| None,
    };
    let mut all = BTreeMap::new();
    for kind in REPAIRS {
        for goods in [Goods::LowShoe, Goods::Boot] {
            let profitability = shop
                .statistics
                .profitability(kind.code, &goods, &setting)
                .expect("sound amounts");
            all.insert((kind.code, goods), profitability.needed.expect("a target"));
        }
    }
    all
}

/// The real cost of a stay for one repair, at the target.
fn cost(shop: &Lived, at: usize, stay: &Stay) -> f64 {
    let minutes =
        stay.takes[0] + shop.years.real.tidying.get(&at).unwrap_or(&0.0) + f64::midpoint(CHECK.0, CHECK.1);
    minutes / 60.0 * TARGET.as_f64() + repair(stay.asked[0]).material as f64
}

#[test]
fn the_truths_prices_meet_the_target_more_often_than_the_old_list() {
    let mut met: BTreeMap<&str, [usize; 3]> = BTreeMap::new();
    for shop in SHOPS.iter() {
        let prices = prices(shop);
        for (at, stay) in shop.years.stays.iter().enumerate() {
            let fourth = stay.brought >= KEPT as f64 * DAY && shop.years.real.ready.contains_key(&at);
            if !fourth || stay.asked.len() != 1 {
                continue;
            }
            let (code, pair) = (stay.asked[0], &shop.years.pairs[stay.pair]);
            let cost = cost(shop, at, stay);
            let [old, new] = [crate::price(code, pair), prices[&(code, pair.goods.clone())]]
                .map(|price| price.as_f64() >= cost);
            for row in [code, "all"] {
                let row = met.entry(row).or_default();
                row[0] += 1;
                row[1] += usize::from(old);
                row[2] += usize::from(new);
            }
        }
    }
    let share = |part: usize, all: usize| part as f64 / all as f64;
    for (code, [all, old, new]) in &met {
        eprintln!(
            "target met: {code:24} {all:6} jobs, old list {:.0} %, new {:.0} %",
            share(*old, *all) * 100.0,
            share(*new, *all) * 100.0
        );
        assert!(share(*new, *all) > 0.7, "{code}");
    }
    let [all, old, new] = met["all"];
    assert!(share(new, all) > share(old, all) + 0.1 && share(new, all) > 0.8);
}

/// The median life of parts that are fitted often is within a tenth of the truth over all shops, and within a quarter
/// in each shop.
#[test]
fn lives_are_recovered_although_returns_are_late_and_lost() {
    for kind in REPAIRS {
        let Some((scale, shape)) = kind.life else { continue };
        let truth = scale * 2.0f64.ln().powf(shape.recip());
        let mut found = Vec::new();
        for shop in SHOPS.iter() {
            let mut lives = PartLives::default();
            for (pair, jobs) in &shop.records.by_pair {
                let seen = jobs.iter().filter_map(|job| job.opened_at?.day()).max();
                lives.add(&shop.years.pairs[*pair].goods, &fitted(jobs), seen);
            }
            // The life over all kinds of goods: the shop has no sandals, so there are none of their own.
            if let Some(life) = lives.life(kind.code, &Goods::Sandal) {
                found.push((life.law.median / truth, life.parts));
            }
        }
        let mean = found.iter().map(|(ratio, _)| ratio).sum::<f64>() / found.len() as f64;
        let parts = found.iter().map(|(_, parts)| parts).sum::<usize>() / found.len();
        eprintln!(
            "lives: {:24} truth {truth:.0} days, {:+.1} % from {parts} parts a shop",
            kind.code,
            (mean - 1.0) * 100.0
        );
        assert!(
            (mean - 1.0).abs() < if parts > 50 { 0.1 } else { 0.15 },
            "{}",
            kind.code
        );
        if parts > 50 {
            assert!(
                found.iter().all(|(ratio, _)| (ratio - 1.0).abs() < 0.25),
                "{} {found:?}",
                kind.code
            );
        }
    }
}
