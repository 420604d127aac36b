//! A pair on its fourth job in six years.

use shared::log::body::{Decision, GiftWhy, Paid, Pays, Seen, Shows, Side, WaitFor};

use crate::demo::cast::DERBY;
use crate::demo::draw::{Stage, View};
use crate::demo::story::Does::*;
use crate::demo::story::Who::{Helper, Repairer};
use crate::demo::story::{Find, IfHidden, Job, Ticket, When::Days, near, shot};

pub(super) static TICKETS: &[Ticket] = &[FIRST, SECOND, THIRD, FOURTH];

const FIRST: Ticket = Ticket {
    brought: Days(2198, 10, 5),
    promised: -2193,
    if_hidden: IfHidden::Ask,
    rush: false,
    paid: &[(Days(2192, 16, 40), Paid::Balance, 2600)],
    jobs: &[Job {
        pair: &DERBY,
        tag: "012",
        guessed: "machine_welted",
        came_with: &[],
        agreed: &[("top_piece_replacement", 1500), ("clean_condition_polish", 1100)],
        brought: &[shot(View::Back, Stage::Worn)],
        then: &[
            (Days(2194, 11, 0), Repairer, Step("top_piece_replacement", 20, "")),
            (
                Days(2194, 14, 30),
                Repairer,
                Step("clean_condition_polish", 25, ""),
            ),
            (
                Days(2194, 15, 0),
                Repairer,
                Photo(Shows::Finished, shot(View::Back, Stage::Finished)),
            ),
            (Days(2194, 15, 5), Repairer, Checked("A1")),
            (
                Days(2194, 15, 10),
                Repairer,
                Publishes(
                    "Before: heels worn down at the outer corner",
                    "After: level again",
                    180,
                ),
            ),
            (Days(2192, 16, 42), Repairer, HandedOver),
        ],
    }],
};

const SECOND: Ticket = Ticket {
    brought: Days(1471, 9, 20),
    promised: -1464,
    if_hidden: IfHidden::UpTo(3000),
    rush: false,
    paid: &[
        (Days(1471, 9, 24), Paid::Deposit, 2000),
        (Days(1463, 12, 10), Paid::Balance, 4700),
    ],
    jobs: &[Job {
        pair: &DERBY,
        tag: "087",
        guessed: "machine_welted",
        came_with: &["trees"],
        agreed: &[
            ("half_sole", 3800),
            ("top_piece_replacement", 1600),
            ("edge_trim_ink", 1300),
        ],
        brought: &[shot(View::Sole, Stage::Worn)],
        then: &[
            (
                Days(1467, 10, 0),
                Repairer,
                Step("half_sole", 40, "Rubber, 4 mm, splice at the waist"),
            ),
            (
                Days(1467, 11, 10),
                Repairer,
                Step("top_piece_replacement", 20, ""),
            ),
            (Days(1466, 9, 15), Repairer, Step("edge_trim_ink", 25, "")),
            (
                Days(1466, 10, 0),
                Repairer,
                Photo(Shows::Finished, shot(View::Sole, Stage::Finished)),
            ),
            (Days(1466, 10, 5), Repairer, Checked("B2")),
            (
                Days(1466, 10, 10),
                Repairer,
                Publishes(
                    "Before: worn through under the ball of the foot",
                    "After: new half soles",
                    365,
                ),
            ),
            (Days(1463, 12, 12), Repairer, HandedOver),
        ],
    }],
};

const THIRD: Ticket = Ticket {
    brought: Days(702, 15, 30),
    promised: -697,
    if_hidden: IfHidden::Ask,
    rush: false,
    paid: &[(Days(696, 10, 0), Paid::Balance, 3800)],
    jobs: &[Job {
        pair: &DERBY,
        tag: "196",
        guessed: "machine_welted",
        came_with: &["trees"],
        agreed: &[("lining_patch", 2200), ("top_piece_replacement", 1600)],
        brought: &[near(View::Side, Stage::Worn, 640, 450, 2)],
        then: &[
            (
                Days(702, 15, 33),
                Repairer,
                Find::accepted("vamp", "scuffed", "Toes scuffed, accepted as they are."),
            ),
            (Days(699, 9, 40), Helper, Step("lining_patch", 35, "")),
            (Days(698, 9, 0), Repairer, Step("top_piece_replacement", 20, "")),
            (
                Days(698, 9, 30),
                Repairer,
                Photo(Shows::Finished, near(View::Side, Stage::Finished, 640, 450, 2)),
            ),
            (Days(698, 9, 35), Repairer, Checked("A4")),
            (
                Days(698, 9, 40),
                Repairer,
                Publishes(
                    "Before: lining rubbed through at the heel",
                    "After: lining patched, new top pieces",
                    365,
                ),
            ),
            (Days(696, 10, 2), Repairer, HandedOver),
        ],
    }],
};

const FOURTH: Ticket = Ticket {
    brought: Days(9, 10, 15),
    promised: -1,
    if_hidden: IfHidden::UpTo(4000),
    rush: false,
    paid: &[
        (Days(9, 10, 22), Paid::Deposit, 5000),
        (Days(1, 16, 10), Paid::Balance, 10800),
    ],
    jobs: &[Job {
        pair: &DERBY,
        tag: "318",
        guessed: "machine_welted",
        came_with: &["trees", "laces"],
        agreed: &[
            ("sole_off", 0),
            ("resole_welted", 11000),
            ("top_piece_replacement", 1600),
        ],
        brought: &[shot(View::Side, Stage::Worn), shot(View::Sole, Stage::Worn)],
        then: &[
            (Days(7, 9, 10), Repairer, Step("sole_off", 15, "")),
            (
                Days(7, 9, 26),
                Repairer,
                Photo(Shows::Step, shot(View::Side, Stage::Opened)),
            ),
            (Days(7, 9, 28), Repairer, IsBuilt("machine_welted")),
            (
                Days(7, 9, 30),
                Repairer,
                Found(Find {
                    part: "filler",
                    condition: "wet_soft",
                    side: Side::Both,
                    seen: Seen::Inside,
                    decided: Some((Decision::Replace, Pays::ShopNeeded)),
                    note: "The cork under the foot was wet and had crumbled.",
                }),
            ),
            (
                Days(7, 9, 32),
                Repairer,
                Photo(Shows::Damage, near(View::Inside, Stage::Opened, 420, 300, 2)),
            ),
            (
                Days(7, 9, 33),
                Repairer,
                Gift("filler_replacement", GiftWhy::Needed, 1200),
            ),
            (
                Days(7, 9, 36),
                Repairer,
                Found(Find {
                    part: "welt",
                    condition: "cracked",
                    side: Side::Left,
                    seen: Seen::Inside,
                    decided: Some((Decision::Replace, Pays::Customer)),
                    note: "A hand's breadth of the welt was cracked at the left toe.",
                }),
            ),
            (
                Days(7, 9, 38),
                Repairer,
                Photo(Shows::Damage, near(View::Inside, Stage::Opened, 190, 216, 3)),
            ),
            (Days(7, 9, 40), Repairer, Extra("welt_piece", 3200)),
            (Days(7, 9, 44), Repairer, Out("shank")),
            (Days(6, 10, 0), Repairer, Step("welt_piece", 45, "")),
            (Days(6, 11, 0), Repairer, Step("filler_replacement", 15, "")),
            (Days(6, 11, 4), Repairer, Back),
            (
                Days(6, 11, 10),
                Repairer,
                Photo(Shows::Step, shot(View::Inside, Stage::Mended)),
            ),
            (
                Days(6, 15, 0),
                Helper,
                Waits(WaitFor::Drying, Some(600), "Sole mulling"),
            ),
            (Days(5, 9, 0), Repairer, WaitOver),
            (
                Days(5, 10, 30),
                Repairer,
                Step(
                    "resole_welted",
                    130,
                    "Oak bark sole, 5 mm, 8 stitches to the inch",
                ),
            ),
            (
                Days(5, 11, 0),
                Repairer,
                Photo(Shows::Step, shot(View::Sole, Stage::Mended)),
            ),
            (Days(4, 9, 30), Helper, Step("top_piece_replacement", 20, "")),
            (
                Days(4, 9, 50),
                Repairer,
                Gift("edge_trim_ink", GiftWhy::MyChoice, 1400),
            ),
            (Days(4, 10, 30), Repairer, Step("edge_trim_ink", 25, "")),
            (Days(4, 15, 0), Repairer, Left("machine_welted")),
            (
                Days(4, 15, 4),
                Repairer,
                Photo(Shows::Finished, shot(View::Sole, Stage::Finished)),
            ),
            (
                Days(4, 15, 6),
                Repairer,
                Photo(Shows::Finished, shot(View::Side, Stage::Finished)),
            ),
            (Days(4, 15, 10), Repairer, Checked("B1")),
            (
                Days(4, 15, 20),
                Repairer,
                Publishes(
                    "Before: soles worn through, heels down",
                    "After: new stitched soles and top pieces",
                    270,
                ),
            ),
            (Days(1, 16, 12), Repairer, HandedOver),
        ],
    }],
};
