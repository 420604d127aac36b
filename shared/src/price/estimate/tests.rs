use proptest::prelude::*;

use super::*;

fn line(p50: f64, p90: f64, materials: f64) -> EstimateLine {
    EstimateLine {
        minutes: Spread { p50, p90 },
        materials,
    }
}

fn job(lines: Vec<EstimateLine>, hidden: Vec<HiddenDamage>) -> EstimateJob {
    EstimateJob {
        rate_per_hour: 60.0,
        lines,
        hidden,
        price: None,
        seed: None,
        draws: None,
    }
}

fn hidden(alpha: f64, beta: f64, p50: f64, p90: f64) -> HiddenDamage {
    HiddenDamage {
        alpha,
        beta,
        minutes: Spread { p50, p90 },
        materials: 0.0,
    }
}

/// At 60 an hour a minute is one. The costs of the worked lognormal example: median 24.464144, mean 28.101786, 80th
/// percentile 38.105537; with Beta(5.4, 18.6) before it, 0.225 of it is 6.3229. All closed form.
#[test]
fn the_worked_example_as_hidden_damage() {
    let got = job(
        vec![line(0.0, 0.0, 50.0)],
        vec![hidden(5.4, 18.6, 24.464_144, 48.038_488)],
    )
    .calculate()
    .unwrap();
    assert!(
        (got.allowance_mean - 6.3229).abs() < 5e-5,
        "{}",
        got.allowance_mean
    );
    assert!((got.mean - 56.3229).abs() < 5e-5);
    assert!(
        (got.drawn_mean - got.mean).abs() < 4.0 * got.standard_error,
        "{got:?}"
    );
    assert_eq!(got.p50, 50.0, "three in four have none");
}

/// One line alone has closed quantiles: median · exp(sigma z). Five standard errors of a quantile, from the density there.
#[test]
fn quantiles_of_one_line_within_their_sampling_error() {
    let draws = 200_000;
    let spread = Spread { p50: 40.0, p90: 70.0 };
    let one = EstimateJob {
        draws: Some(draws),
        price: Some(70.0),
        ..job(vec![line(40.0, 70.0, 0.0)], vec![])
    };
    let got = one.calculate().unwrap();
    // scipy 1.17, norm.ppf and norm.pdf.
    for (quantile, share, z, density) in [
        (got.p50, 0.5, 0.0, 0.398_942_280),
        (got.p80, 0.8, 0.841_621_234, 0.279_961_930),
        (got.p95, 0.95, 1.644_853_627, 0.103_135_641),
    ] {
        let expected = spread.at(z);
        let error =
            (share * (1.0f64 - share) / f64::from(draws)).sqrt() * spread.sigma() * expected / density;
        assert!(
            (quantile - expected).abs() < 5.0 * error,
            "{quantile} {expected} {error}"
        );
    }
    let loss = got.loss_chance.unwrap();
    assert!(
        (loss - 0.1).abs() < 5.0 * f64::sqrt(0.1 * 0.9 / f64::from(draws)),
        "{loss}"
    );
}

#[test]
fn what_is_sure_is_exact() {
    let sure = EstimateJob {
        price: Some(35.0),
        ..job(vec![line(30.0, 30.0, 5.0)], vec![])
    };
    let got = sure.calculate().unwrap();
    assert_eq!(
        (got.mean, got.p50, got.p95, got.standard_error),
        (35.0, 35.0, 35.0, 0.0)
    );
    assert_eq!(
        got.loss_chance,
        Some(0.0),
        "a price that just covers it loses nothing"
    );
    let less = EstimateJob {
        price: Some(34.99),
        ..sure
    };
    assert_eq!(less.calculate().unwrap().loss_chance, Some(1.0));
    let nothing = job(vec![], vec![]).calculate().unwrap();
    assert_eq!((nothing.mean, nothing.p95, nothing.loss_chance), (0.0, 0.0, None));
}

/// The same seed gives the same result on every device.
#[test]
fn the_same_seed_is_the_same_answer() {
    let with = |seed| EstimateJob {
        seed: Some(seed),
        ..job(vec![line(30.0, 60.0, 5.0)], vec![hidden(1.0, 4.0, 20.0, 30.0)])
    };
    assert_eq!(with(4).calculate(), with(4).calculate());
    assert_ne!(with(4).calculate().unwrap().p80, with(5).calculate().unwrap().p80);
}

#[test]
fn what_cannot_be_is_named() {
    let refused = |job: EstimateJob| job.calculate().unwrap_err().field;
    let good = || job(vec![line(30.0, 60.0, 5.0)], vec![hidden(1.0, 4.0, 20.0, 30.0)]);
    assert_eq!(
        refused(EstimateJob {
            rate_per_hour: -1.0,
            ..good()
        }),
        "rate_per_hour"
    );
    assert_eq!(
        refused(EstimateJob {
            rate_per_hour: f64::NAN,
            ..good()
        }),
        "rate_per_hour"
    );
    assert_eq!(
        refused(job(vec![line(30.0, 20.0, 5.0)], vec![])),
        "lines.minutes.p90"
    );
    assert_eq!(
        refused(job(vec![line(30.0, 60.0, -5.0)], vec![])),
        "lines.materials"
    );
    assert_eq!(
        refused(job(vec![], vec![hidden(0.0, 4.0, 20.0, 30.0)])),
        "hidden.alpha"
    );
    assert_eq!(
        refused(job(vec![], vec![hidden(1.0, 1e9, 20.0, 30.0)])),
        "hidden.beta"
    );
    assert_eq!(
        refused(EstimateJob {
            price: Some(-0.5),
            ..good()
        }),
        "price"
    );
    assert_eq!(
        refused(EstimateJob {
            draws: Some(0),
            ..good()
        }),
        "draws"
    );
    assert_eq!(
        refused(EstimateJob {
            seed: Some(u64::MAX),
            ..good()
        }),
        "seed"
    );
    assert_eq!(refused(job(vec![line(1.0, 2.0, 0.0); 201], vec![])), "lines");
}

proptest! {
    #[test]
    fn dearer_is_never_below_cheaper_and_the_mean_is_the_draws_mean(
        lines in prop::collection::vec((0.01..300.0f64, 1.0..3.0f64, 0.0..100.0f64), 0..5),
        damage in prop::collection::vec((0.1..9.0f64, 0.1..9.0f64, 0.01..100.0f64, 1.0..3.0f64), 0..5),
        seed in 0u64..1000,
    ) {
        let lines = lines.into_iter().map(|(p50, by, materials)| line(p50, p50 * by, materials)).collect();
        let damage = damage.into_iter().map(|(alpha, beta, p50, by)| hidden(alpha, beta, p50, p50 * by)).collect();
        let asked = EstimateJob { seed: Some(seed), draws: Some(2_000), ..job(lines, damage) };
        let got = asked.calculate().unwrap();
        prop_assert!(got.p50 <= got.p80 && got.p80 <= got.p95);
        prop_assert!(got.allowance_mean <= got.mean + 1e-9);
        prop_assert!((got.drawn_mean - got.mean).abs() <= 7.0 * got.standard_error + 1e-9, "{:?}", got);
    }
}
