use proptest::prelude::*;

use super::*;

const HOUR: Hour = Hour {
    minor: Minor(4_800),
    tax: None,
};

/// The currency of a shop that has set none: two decimals.
fn usual() -> Currency {
    Currency::default()
}

fn made(say: &str, price: &str, lasts: &str) -> Choice {
    choice(usual(), say, None, price, lasts)
        .expect("good")
        .expect("says something")
}

/// By hand: 65.00 over four years is 16.25 a year; 24.00 over eight months is 36.00 a year.
#[test]
fn each_way_is_one_sentence() {
    let choices = [
        made("New counter", "65", "48"),
        made("Top pieces", "24", "8"),
        made("Leave as it is", "", ""),
        made("Both", "65", ""),
        made("A look", "", "18"),
    ];
    assert_eq!(
        sentences(&choices, |amount| usual().format(amount)),
        [
            "New counter: 65.00, lasts about 4 years, 16.25 a year.",
            "Top pieces: 24.00, lasts about 8 months, 36.00 a year.",
            "Leave as it is: no charge.",
            "Both: 65.00.",
            "A look: no charge, lasts about 1 year 6 months.",
        ]
    );
    assert_eq!(a_year(&choices).1, Some(0));
    assert_eq!(
        a_year(&choices[1..]).1,
        None,
        "one alone is not the cheapest of any"
    );
    assert_eq!(a_year(&[]), (Vec::new(), None));
}

/// By hand: three quarters of an hour at 48.00 are 36.00; with 3.50 of material 39.50; with 19 % in the price 47.01 (47.005).
#[test]
fn a_price_is_time_and_material_with_the_tax_that_is_in_prices() {
    assert_eq!(worked_out(HOUR, usual(), "45", "3,50"), Ok(Minor(3_950)));
    let taxed = |rate| Hour {
        tax: Some(rate),
        ..HOUR
    };
    assert_eq!(worked_out(taxed(190), usual(), "45", "3.50"), Ok(Minor(4_701)));
    assert_eq!(
        worked_out(taxed(-190), usual(), "45", "3.50"),
        Ok(Minor(3_950)),
        "put on at the counter"
    );
    assert_eq!(worked_out(HOUR, usual(), "", ""), Ok(Minor(0)));
}

#[test]
fn what_cannot_be_is_said_and_nothing_is_made_of_it() {
    for minutes in ["-5", "soon", "1e9", "NaN", "inf"] {
        assert_eq!(
            worked_out(HOUR, usual(), minutes, ""),
            Err(words::commands::ask_for_minutes()),
            "{minutes}"
        );
    }
    for material in ["-5", "four", "1.234", "99999999999"] {
        assert_eq!(
            worked_out(HOUR, usual(), "5", material),
            Err(words::commands::ask_for_material()),
            "{material}"
        );
    }
    for lasts in ["0", "-3", "1201", "1.5", "long", "99999999999"] {
        assert_eq!(
            choice(usual(), "Mend", None, "5", lasts),
            Err(words::commands::ask_for_months()),
            "{lasts}"
        );
    }
    for price in ["-5", "dear", "1.234", "99999999999"] {
        assert_eq!(
            choice(usual(), "Mend", None, price, ""),
            Err(words::commands::ask_for_price()),
            "{price}"
        );
    }
    assert_eq!(
        choice(usual(), "  ", None, "dear", "long"),
        Ok(None),
        "a way that says nothing is no way"
    );
}

/// ISO 4217: the yen has no minor unit, the dinar of Kuwait a thousandth.
#[test]
fn amounts_have_the_decimals_of_the_currency() {
    let of = |code| Currency::of(code).expect("of ISO 4217");
    let hour = |minor| Hour { minor, tax: None };
    assert_eq!(
        worked_out(hour(Minor(6_000)), of("JPY"), "30", "450"),
        Ok(Minor(3_450))
    );
    assert_eq!(
        worked_out(hour(Minor(6_000)), of("JPY"), "30", "4.50"),
        Err(words::commands::ask_for_material())
    );
    assert_eq!(
        worked_out(hour(Minor(6_000)), of("KWD"), "30", "0.450"),
        Ok(Minor(3_450))
    );
    assert_eq!(typed(of("JPY"), Minor(3_450)), "3450");
    assert_eq!(typed(of("KWD"), Minor(3_450)), "3.450");
    let dear = choice(of("KWD"), "Mend", None, "3.450", "12")
        .expect("good")
        .expect("a way");
    assert_eq!(dear.price_minor, Minor(3_450));
}

#[test]
fn norms_stand_where_the_trade_has_them() {
    assert_eq!(
        (usual_minutes("counter_rebuild"), usual_months("counter_rebuild")),
        ("90".to_owned(), "48".to_owned())
    );
    assert_eq!(
        (usual_minutes("bell repair"), usual_months("bell repair")),
        (String::new(), String::new())
    );
}

proptest! {
    #[test]
    fn whatever_is_typed_no_sentence_is_without_sense(price in ".{0,8}", lasts in ".{0,5}", minutes in ".{0,8}", material in ".{0,8}", minor in any::<i64>()) {
        let _: Result<Minor, _> = worked_out(Hour { minor: Minor(minor), tax: Some(minor) }, usual(), &minutes, &material);
        if let Ok(Some(choice)) = choice(usual(), "Mend", None, &price, &lasts) {
            let said = sentences(&[choice], |amount| usual().format(amount)).concat();
            prop_assert!(!said.contains("NaN") && !said.contains("inf") && !said.contains('-'), "{said}");
        }
    }

    #[test]
    fn a_year_times_its_years_is_the_price(minor in 1_i64..100_000_000, lasts in 1_u32..=1_200) {
        let choice = Choice { say: "Mend".to_owned(), operation: None, price_minor: Minor(minor), life_months: Some(lasts) };
        let (years, _) = a_year(&[choice]);
        let year = years[0].expect("a price and a life");
        // The cost per year is rounded to a minor unit.
        let back = year.as_f64() * f64::from(lasts) / 12.0;
        prop_assert!((back - minor as f64).abs() <= 0.5 * f64::from(lasts) / 12.0 + 1e-6);
    }
}
