use super::*;

/// Because an answer only leads forward, every path ends, after six questions at most.
#[test]
fn every_way_ends_soon() {
    fn longest(question: usize) -> usize {
        let onwards = QUESTIONS[question]
            .answers
            .iter()
            .map(|answer| match answer.then {
                Ask(next) => {
                    assert!(next > question, "{}", answer.say);
                    longest(next)
                }
                End(_) | Open => 0,
            });
        1 + onwards.max().unwrap()
    }
    assert!(longest(0) <= 6);
}

#[test]
fn every_offered_construction_is_an_end_and_every_end_is_reached() {
    let reached: Vec<_> = QUESTIONS
        .iter()
        .flat_map(|question| question.answers)
        .filter_map(|answer| match answer.then {
            End(guess) => Some(&guess.construction),
            Ask(_) | Open => None,
        })
        .collect();
    assert_eq!(GUESSES.len(), Construction::offered().count());
    for construction in Construction::offered() {
        assert!(reached.contains(&construction), "{construction}");
        assert_eq!(
            GUESSES
                .iter()
                .filter(|one| one.construction == *construction)
                .count(),
            1,
            "{construction}"
        );
    }
}

/// One way through the key: the questions with the answers given, and the guess at its end if there is one.
type Way = (Vec<(&'static str, &'static str)>, Option<&'static Guess>);

/// Every way through the key from a question on.
fn ways(question: usize) -> Vec<Way> {
    let asked = &QUESTIONS[question];
    let mut all = Vec::new();
    for answer in asked.answers {
        let onwards = match answer.then {
            Ask(next) => ways(next),
            End(guess) => vec![(vec![], Some(guess))],
            Open => vec![(vec![], None)],
        };
        for (mut said, end) in onwards {
            said.insert(0, (asked.ask, answer.say));
            all.push((said, end));
        }
    }
    all
}

/// A closed channel, a guard and a half sole hide a seam: construction articles of two makers; practice.
#[test]
fn no_sole_is_called_cemented_before_what_may_hide_its_seam_is_ruled_out() {
    let hides = |ask: &str| {
        let covers = ["closed channel", "half sole", "guard"];
        covers.iter().all(|cover| ask.contains(cover))
    };
    let all = ways(0);
    let cemented: Vec<_> = all
        .iter()
        .filter(|(_, end)| end.is_some_and(|guess| guess.construction == Construction::Cemented))
        .collect();
    assert!(cemented.len() > 1);
    for (said, _) in cemented {
        assert!(
            said.iter().any(|(ask, say)| hides(ask) && *say == BARE),
            "{said:?}"
        );
    }
    let unseen = |said: &[(&str, &str)], say: &str| said.iter().any(|(ask, one)| hides(ask) && *one == say);
    for say in ["Yes", "Cannot tell"] {
        assert!(all.iter().any(|(said, _)| unseen(said, say)), "{say}");
    }
}

/// A welt of 270 degrees ends at the heel: construction articles of two makers; practice.
#[test]
fn a_welt_that_ends_at_the_heel_is_no_sign_of_an_imitation() {
    assert!(MACHINE_WELTED.speaks_for.contains("ending at the heel"));
    for guess in [&MACHINE_WELTED, &HAND_WELTED, &STORM_WELTED] {
        assert!(!guess.speaks_against.contains("heel"), "{}", guess.construction);
    }
}

#[test]
fn the_ways_that_are_gone_most_often() {
    let end_of = |answers: &[&str]| {
        let found = ways(0).into_iter().find(|(said, _)| {
            let said: Vec<_> = said.iter().map(|(_, say)| *say).collect();
            said == answers
        });
        found.unwrap().1.map(|guess| &guess.construction)
    };
    let strip = ["A strip with a seam", "No", "It does not come out underneath"];
    assert_eq!(
        end_of(&[&strip[..], &[BARE]].concat()),
        Some(&Construction::Cemented)
    );
    assert_eq!(end_of(&[&strip[..], &["Yes"]].concat()), None);
    let plain = [
        "No seam",
        "Neither",
        "Yes",
        "No stitches to be seen",
        "It ends at the sole",
    ];
    assert_eq!(end_of(&plain), None);
    let trainer = [
        "No seam",
        "Neither",
        BARE,
        "A cloth sole, sewn to the upper's edge",
    ];
    assert_eq!(end_of(&trainer), Some(&Construction::Strobel));
    let wall = "A wall of the sole that stands up round the upper";
    let seam = "One piece with the sole, with a seam along it";
    assert_eq!(end_of(&[wall, seam]), Some(&Construction::Cupsole));
}

#[test]
fn every_question_can_be_left_open_and_every_guess_is_one() {
    let asked: Vec<_> = QUESTIONS.iter().flat_map(|question| question.answers).collect();
    for (at, question) in QUESTIONS.iter().enumerate().skip(1) {
        assert!(
            asked.iter().any(|answer| answer.then == Ask(at)),
            "{}",
            question.ask
        );
    }
    for question in QUESTIONS {
        assert!(question.ask.ends_with('?'));
        assert_eq!(
            question.answers.last().map(|answer| answer.say),
            Some("Cannot tell"),
            "{}",
            question.ask
        );
    }
    for guess in GUESSES {
        for text in [
            guess.speaks_for,
            guess.speaks_against,
            guess.resole,
            guess.before_opening,
        ] {
            assert!(text.ends_with('.') && text.len() <= 110, "{text}");
        }
    }
}
