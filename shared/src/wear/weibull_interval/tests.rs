use super::super::weibull::Censored;
use super::*;
use proptest::prelude::*;

fn law(intervals: &[(f64, Option<f64>)]) -> Result<Law, InvalidField> {
    let asked = Intervals {
        intervals: intervals.to_vec(),
    };
    asked.calculate()
}

/// The likelihood by its plain formula, as an independent check.
fn likelihood(intervals: &[(f64, Option<f64>)], scale: f64, shape: f64) -> f64 {
    let holds = |time: f64| (-(time / scale).powf(shape)).exp();
    let one = |(good, failed): &(f64, Option<f64>)| (holds(*good) - failed.map_or(0.0, holds)).ln();
    intervals.iter().map(one).sum()
}

/// The data of the NIST/SEMATECH e-Handbook 8.4.1.3 seen at narrow visits: as the visits approach the moment of
/// failure, the fit approaches that of the exact times, and the likelihood approaches the density times the width.
#[test]
fn narrow_visits_come_to_the_exact_times() {
    let failures = [
        54.0, 187.0, 216.0, 240.0, 244.0, 335.0, 361.0, 373.0, 375.0, 386.0,
    ];
    let width = 0.01;
    let mut visits: Vec<_> = failures
        .map(|time| (time - width / 2.0, Some(time + width / 2.0)))
        .to_vec();
    visits.extend([(500.0, None); 10]);
    let exact = Censored {
        failures: failures.to_vec(),
        censored: vec![500.0; 10],
    };
    let (exact, got) = (exact.calculate().unwrap(), law(&visits).unwrap());
    assert!((got.scale - exact.scale).abs() < 1e-4 && (got.shape - exact.shape).abs() < 1e-6);
    let by_width = exact.log_likelihood + 10.0 * f64::ln(width);
    assert!((got.log_likelihood - by_width).abs() < 1e-5);
}

/// Closed form: 40 of 100 have failed by 10 and 80 by 20, which a distribution with two parameters fits exactly.
#[test]
fn two_visits_are_met_exactly() {
    let visits = [
        vec![(0.0, Some(10.0)); 40],
        vec![(10.0, Some(20.0)); 40],
        vec![(20.0, None); 20],
    ]
    .concat();
    let got = law(&visits).unwrap();
    let shape = (0.2_f64.ln() / 0.6_f64.ln()).ln() / 2.0_f64.ln();
    let scale = 10.0 / (-(0.6_f64.ln())).powf(shape.recip());
    assert!(
        (got.shape - shape).abs() < 1e-9 && (got.scale - scale).abs() < 1e-8,
        "{got:?}"
    );
    let expected = 80.0 * 0.4_f64.ln() + 20.0 * 0.2_f64.ln();
    assert!((got.log_likelihood - expected).abs() < 1e-10);
}

#[test]
fn what_no_law_fits_best_is_refused() {
    let wrong: [&[(f64, Option<f64>)]; 9] = [
        &[],
        &[(5.0, None)],
        &[(0.0, Some(5.0))],
        &[(1.0, Some(5.0)), (2.0, Some(6.0)), (3.0, None)],
        &[(0.0, Some(5.0)), (5.0, Some(10.0))],
        &[(0.0, Some(5.0)), (100.0, None)],
        &[(5.0, Some(5.0)), (0.0, Some(9.0))],
        &[(-1.0, Some(5.0)), (6.0, None)],
        &[(0.0, Some(f64::INFINITY)), (6.0, None)],
    ];
    for visits in wrong {
        assert_eq!(
            law(visits).map_err(|refused| refused.field),
            Err("intervals".to_owned()),
            "{visits:?}"
        );
    }
}

proptest! {
    #[test]
    fn no_law_nearby_is_likelier(
        visits in prop::collection::vec((1.0..30.0f64, 1.0..30.0f64, any::<bool>()), 4..40),
        (by, with) in (0.9..1.1f64, 0.9..1.1f64),
    ) {
        let visits: Vec<_> =
            visits.into_iter().map(|(good, more, failed)| (good, failed.then_some(good + more))).collect();
        let Ok(best) = law(&visits) else { return Ok(()) };
        let at_best = likelihood(&visits, best.scale, best.shape);
        prop_assert!((at_best - best.log_likelihood).abs() < 1e-6 * (1.0 + at_best.abs()));
        prop_assert!(likelihood(&visits, best.scale * by, best.shape * with) <= at_best + 1e-7);
    }
}
