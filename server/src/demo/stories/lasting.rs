//! A pair on its fourth job in six years.

pub(super) mod earlier;

use shared::log::body::{Decision, GiftWhy, KeptFor, Paid, Pays, Seen, Shows, Side, WaitFor};

use crate::demo::cast::DERBY;
use crate::demo::picture::{StoryStage, View, near, shot};
use crate::demo::story::Does::*;
use crate::demo::story::Who::{Helper, Repairer};
use crate::demo::story::{Find, StoryIfHidden, StoryJob, Ticket, When::Days, line};

/// Its three earlier tickets are in [`earlier`].
pub(super) static TICKETS: &[Ticket] = &[FOURTH];

const FOURTH: Ticket = Ticket {
    brought: Days(9, 10, 15),
    promised: -1,
    if_hidden: StoryIfHidden::UpTo(4000),
    rush: false,
    paid: &[
        (Days(9, 10, 22), Paid::Deposit, 5000),
        (Days(1, 16, 10), Paid::Balance, 10800),
    ],
    jobs: &[StoryJob {
        pair: &DERBY,
        tag: "318",
        guessed: "machine_welted",
        came_with: &["trees", "laces"],
        agreed: &[
            line("sole_off", 0),
            line("resole_welted", 11000),
            line("top_piece_replacement", 1600),
        ],
        brought: &[
            shot(View::Side, StoryStage::Worn),
            shot(View::Sole, StoryStage::Worn),
        ],
        then: &[
            (Days(7, 9, 10), Repairer, Step("sole_off", 15, "")),
            (
                Days(7, 9, 26),
                Repairer,
                Photo(Shows::Step, shot(View::Side, StoryStage::Opened)),
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
                Photo(Shows::Damage, near(View::Inside, StoryStage::Opened, 420, 300, 2)),
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
                Photo(Shows::Damage, near(View::Inside, StoryStage::Opened, 190, 216, 3)),
            ),
            (Days(7, 9, 40), Repairer, Extra("welt_piece", 3200)),
            (Days(7, 9, 44), Repairer, Out("shank", KeptFor::Reuse)),
            (Days(6, 10, 0), Repairer, Step("welt_piece", 45, "")),
            (Days(6, 11, 0), Repairer, Step("filler_replacement", 15, "")),
            (Days(6, 11, 4), Repairer, Back),
            (
                Days(6, 11, 10),
                Repairer,
                Photo(Shows::Step, shot(View::Inside, StoryStage::Mended)),
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
                Photo(Shows::Step, shot(View::Sole, StoryStage::Mended)),
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
                Photo(Shows::Finished, shot(View::Sole, StoryStage::Finished)),
            ),
            (
                Days(4, 15, 6),
                Repairer,
                Photo(Shows::Finished, shot(View::Side, StoryStage::Finished)),
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
