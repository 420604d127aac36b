//! Work half done: two pairs of one family, and a pair whose dye dries.

use shared::log::body::{Decision, GiftWhy, Outcome, Paid, Pays, Seen, Shows, Side, WaitFor};

use crate::demo::cast::{CHELSEA, CHILD, WALKING};
use crate::demo::picture::{StoryStage, View, near, shot};
use crate::demo::story::Does::*;
use crate::demo::story::Who::{Helper, Repairer};
use crate::demo::story::{Find, StoryIfHidden, StoryJob, Ticket, When::Days, When::Minutes, line};

pub(super) static TICKETS: &[Ticket] = &[BOOTS_OF_TWO, CHELSEAS];

/// Two pairs of one family on one ticket.
const BOOTS_OF_TWO: Ticket = Ticket {
    brought: Days(5, 16, 5),
    promised: 3,
    if_hidden: StoryIfHidden::Ask,
    rush: false,
    paid: &[(Days(5, 16, 14), Paid::Deposit, 5000)],
    jobs: &[
        StoryJob {
            pair: &WALKING,
            tag: "325",
            guessed: "cemented",
            came_with: &["laces", "inserts"],
            agreed: &[
                line("sole_off", 0),
                line("resole_cemented", 9000),
                line("rand_repair", 4800),
            ],
            brought: &[
                shot(View::Side, StoryStage::Worn),
                shot(View::Sole, StoryStage::Worn),
            ],
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
                    Photo(Shows::Damage, near(View::Side, StoryStage::Opened, 280, 580, 2)),
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
                    Photo(Shows::Step, shot(View::Inside, StoryStage::Mended)),
                ),
            ],
        },
        StoryJob {
            pair: &CHILD,
            tag: "326",
            guessed: "",
            came_with: &["laces"],
            agreed: &[line("recement_sole", 1400), line("top_piece_replacement", 1000)],
            brought: &[shot(View::Side, StoryStage::Worn)],
            then: &[
                (Days(1, 11, 0), Helper, Step("recement_sole", 20, "")),
                (
                    Days(1, 11, 25),
                    Helper,
                    Photo(Shows::Step, shot(View::Side, StoryStage::Mended)),
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

/// The dye is drying.
const CHELSEAS: Ticket = Ticket {
    brought: Days(4, 12, 30),
    promised: 1,
    if_hidden: StoryIfHidden::Ask,
    rush: false,
    paid: &[(Days(4, 12, 36), Paid::Deposit, 5000)],
    jobs: &[StoryJob {
        pair: &CHELSEA,
        tag: "328",
        guessed: "machine_welted",
        came_with: &["bag"],
        agreed: &[
            line("elastic_replacement", 4200),
            line("strip_and_dye", 7000),
            line("clean_condition_polish", 1600),
        ],
        brought: &[
            shot(View::Side, StoryStage::Worn),
            near(View::Side, StoryStage::Worn, 470, 300, 3),
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
                Photo(Shows::Damage, near(View::Side, StoryStage::Worn, 700, 160, 4)),
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
                Photo(Shows::Step, shot(View::Side, StoryStage::Mended)),
            ),
            (
                Minutes(95),
                Repairer,
                Waits(WaitFor::Drying, Some(720), "strip_and_dye"),
            ),
        ],
    }],
};
