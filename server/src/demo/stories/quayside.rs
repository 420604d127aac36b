//! In the shop for some days: mid-repair, drying, waiting.

use shared::log::body::{Decision, GiftWhy, Outcome, Paid, Pays, Seen, Shows, Side, WaitFor};

use crate::demo::cast::{CHELSEA, CHILD, OXFORD, WALKING, WORK};
use crate::demo::draw::{Stage, View};
use crate::demo::story::Does::*;
use crate::demo::story::Who::{Helper, Repairer};
use crate::demo::story::{Find, IfHidden, Job, Ticket, When::Days, When::Minutes, near, shot};

pub(super) static TICKETS: &[Ticket] = &[WORK_BOOTS, OXFORDS, BOOTS_OF_TWO, CHELSEAS];

/// Waits for leather.
const WORK_BOOTS: Ticket = Ticket {
    brought: Days(8, 8, 40),
    promised: 6,
    if_hidden: IfHidden::UpTo(6000),
    rush: false,
    paid: &[(Days(8, 8, 48), Paid::Deposit, 4000)],
    jobs: &[Job {
        pair: &WORK,
        tag: "321",
        guessed: "stitchdown",
        came_with: &["laces"],
        agreed: &[
            ("sole_off", 0),
            ("midsole_replacement", 5500),
            ("restitch_sole", 3200),
            ("top_piece_replacement", 2200),
        ],
        brought: &[shot(View::Side, Stage::Worn), shot(View::Back, Stage::Worn)],
        then: &[
            (
                Days(8, 8, 45),
                Repairer,
                Find::accepted("upper", "dry_hard", "Leather dry, white lines at the folds."),
            ),
            (Days(3, 14, 0), Repairer, Step("sole_off", 20, "")),
            (
                Days(3, 14, 22),
                Repairer,
                Photo(Shows::Step, shot(View::Side, Stage::Opened)),
            ),
            (Days(3, 14, 24), Repairer, IsBuilt("stitchdown")),
            (
                Days(3, 14, 30),
                Repairer,
                Found(Find {
                    part: "outsole",
                    condition: "stitch_holds_nothing",
                    side: Side::Both,
                    seen: Seen::Inside,
                    decided: Some((Decision::Mend, Pays::Customer)),
                    note: "The seam round the sole held nothing any more.",
                }),
            ),
            (
                Days(3, 14, 33),
                Repairer,
                Photo(Shows::Damage, near(View::Side, Stage::Opened, 300, 590, 2)),
            ),
            (
                Days(3, 14, 50),
                Repairer,
                Waits(WaitFor::Material, None, "Midsole leather, 5 mm"),
            ),
        ],
    }],
};

/// A welt sewn by hand: opened, the holdfast mended, the long seam to come.
const OXFORDS: Ticket = Ticket {
    brought: Days(6, 11, 30),
    promised: 5,
    if_hidden: IfHidden::UpTo(5000),
    rush: false,
    paid: &[(Days(6, 11, 38), Paid::Deposit, 10000)],
    jobs: &[Job {
        pair: &OXFORD,
        tag: "323",
        guessed: "machine_welted",
        came_with: &["trees", "bag"],
        agreed: &[
            ("sole_off", 0),
            ("resole_hand_welted", 22000),
            ("top_piece_replacement", 1600),
            ("edge_trim_ink", 1400),
        ],
        brought: &[shot(View::Side, Stage::Worn), shot(View::Sole, Stage::Worn)],
        then: &[
            (Days(2, 9, 15), Repairer, Step("sole_off", 20, "")),
            (Days(2, 9, 40), Repairer, IsBuilt("hand_welted")),
            (
                Days(2, 9, 42),
                Repairer,
                Photo(Shows::Step, shot(View::Inside, Stage::Opened)),
            ),
            (
                Days(2, 9, 44),
                Repairer,
                Found(Find {
                    part: "rib",
                    condition: "torn",
                    side: Side::Right,
                    seen: Seen::Inside,
                    decided: Some((Decision::Mend, Pays::Customer)),
                    note: "The holdfast was torn at the right joint.",
                }),
            ),
            (
                Days(2, 9, 46),
                Repairer,
                Photo(Shows::Damage, near(View::Inside, Stage::Opened, 330, 520, 3)),
            ),
            (Days(2, 9, 48), Repairer, Extra("rib_repair", 3500)),
            (
                Days(2, 9, 52),
                Repairer,
                Found(Find {
                    part: "shank",
                    condition: "broken",
                    side: Side::Both,
                    seen: Seen::Inside,
                    decided: Some((Decision::Replace, Pays::ShopNeeded)),
                    note: "Both shanks were rusted through.",
                }),
            ),
            (
                Days(2, 9, 53),
                Repairer,
                Photo(Shows::Damage, near(View::Inside, Stage::Opened, 570, 216, 3)),
            ),
            (
                Days(2, 9, 54),
                Repairer,
                Gift("shank_replacement", GiftWhy::Needed, 1800),
            ),
            (Days(2, 9, 58), Repairer, Out("sock")),
            (Days(2, 15, 0), Repairer, Step("rib_repair", 50, "")),
            (Days(1, 9, 30), Repairer, Step("shank_replacement", 20, "")),
            (
                Days(1, 10, 0),
                Repairer,
                Photo(Shows::Step, shot(View::Inside, Stage::Mended)),
            ),
            (
                Days(1, 10, 5),
                Repairer,
                Note("Wet the soles tonight, sew tomorrow morning."),
            ),
        ],
    }],
};

/// Two pairs of one family on one ticket.
const BOOTS_OF_TWO: Ticket = Ticket {
    brought: Days(5, 16, 5),
    promised: 3,
    if_hidden: IfHidden::Ask,
    rush: false,
    paid: &[(Days(5, 16, 14), Paid::Deposit, 5000)],
    jobs: &[
        Job {
            pair: &WALKING,
            tag: "325",
            guessed: "cemented",
            came_with: &["laces", "inserts"],
            agreed: &[("sole_off", 0), ("resole_cemented", 9000), ("rand_repair", 4800)],
            brought: &[shot(View::Side, Stage::Worn), shot(View::Sole, Stage::Worn)],
            then: &[
                (Days(4, 9, 0), Repairer, Step("sole_off", 20, "")),
                (Days(4, 9, 22), Repairer, IsBuilt("cemented")),
                (
                    Days(4, 9, 24),
                    Repairer,
                    Found(Find {
                        part: "midsole",
                        condition: "crumbling",
                        side: Side::Both,
                        seen: Seen::Inside,
                        decided: Some((Decision::Replace, Pays::Customer)),
                        note: "The foam between boot and sole fell to crumbs.",
                    }),
                ),
                (
                    Days(4, 9, 26),
                    Repairer,
                    Photo(Shows::Damage, near(View::Side, Stage::Opened, 280, 580, 2)),
                ),
                (
                    Days(4, 9, 32),
                    Repairer,
                    Asks(
                        "The foam midsole crumbles. A new sole would not hold on it.",
                        &[
                            ("New midsoles, then the new soles", "midsole_replacement", 5500),
                            ("Give them back as they are", "", 0),
                        ],
                    ),
                ),
                (Days(4, 13, 20), Helper, Hears(Outcome::NoAnswer, None)),
                (Days(3, 10, 10), Helper, Hears(Outcome::Yes, Some(0))),
                (Days(3, 10, 11), Helper, Extra("midsole_replacement", 5500)),
                (
                    Days(2, 16, 0),
                    Repairer,
                    Step("midsole_replacement", 50, "EVA, 8 mm; one cut too short"),
                ),
                (Days(2, 16, 5), Repairer, Redo("One midsole, 8 mm")),
                (Days(1, 14, 0), Repairer, Step("midsole_replacement", 30, "")),
                (
                    Days(1, 14, 10),
                    Repairer,
                    Photo(Shows::Step, shot(View::Inside, Stage::Mended)),
                ),
            ],
        },
        Job {
            pair: &CHILD,
            tag: "326",
            guessed: "",
            came_with: &["laces"],
            agreed: &[("recement_sole", 1400), ("top_piece_replacement", 1000)],
            brought: &[shot(View::Side, Stage::Worn)],
            then: &[
                (Days(1, 11, 0), Helper, Step("recement_sole", 20, "")),
                (
                    Days(1, 11, 25),
                    Helper,
                    Photo(Shows::Step, shot(View::Side, Stage::Mended)),
                ),
                (
                    Days(1, 11, 30),
                    Helper,
                    Note("Growing fast: leave room in the price for a next size."),
                ),
            ],
        },
    ],
};

/// The dye dries.
const CHELSEAS: Ticket = Ticket {
    brought: Days(4, 12, 30),
    promised: 1,
    if_hidden: IfHidden::Ask,
    rush: false,
    paid: &[(Days(4, 12, 36), Paid::Deposit, 5000)],
    jobs: &[Job {
        pair: &CHELSEA,
        tag: "328",
        guessed: "machine_welted",
        came_with: &["bag"],
        agreed: &[
            ("elastic_replacement", 4200),
            ("strip_and_dye", 7000),
            ("clean_condition_polish", 1600),
        ],
        brought: &[
            shot(View::Side, Stage::Worn),
            near(View::Side, Stage::Worn, 470, 300, 3),
        ],
        then: &[
            (
                Days(4, 12, 34),
                Repairer,
                Find::accepted("quarter", "scuffed", "Scratches at the left heel, accepted."),
            ),
            (
                Days(2, 11, 0),
                Repairer,
                Step("elastic_replacement", 45, "Black, 60 mm"),
            ),
            (
                Days(2, 11, 15),
                Repairer,
                Found(Find {
                    part: "lining",
                    condition: "worn_through",
                    side: Side::Both,
                    seen: Seen::Inside,
                    decided: Some((Decision::Mend, Pays::ShopChoice)),
                    note: "The lining was rubbed through at both heels.",
                }),
            ),
            (
                Days(2, 11, 17),
                Repairer,
                Photo(Shows::Damage, near(View::Side, Stage::Worn, 700, 260, 3)),
            ),
            (
                Days(2, 11, 18),
                Repairer,
                Gift("lining_patch", GiftWhy::MyChoice, 2400),
            ),
            (Days(1, 15, 30), Helper, Step("lining_patch", 30, "")),
            (
                Minutes(130),
                Repairer,
                Step("strip_and_dye", 60, "Spirit dye, two coats"),
            ),
            (
                Minutes(100),
                Repairer,
                Photo(Shows::Step, shot(View::Side, Stage::Mended)),
            ),
            (
                Minutes(95),
                Repairer,
                Waits(WaitFor::Drying, Some(720), "strip_and_dye"),
            ),
        ],
    }],
};
