//! Opened pairs: one waits for leather, one for its welt to be stitched.

use shared::log::body::{Decision, GiftWhy, KeptFor, Paid, Pays, Seen, Shows, Side, WaitFor};

use crate::demo::cast::{OXFORD, WORK};
use crate::demo::picture::{StoryStage, View, near, shot};
use crate::demo::story::Does::*;
use crate::demo::story::Who::Repairer;
use crate::demo::story::{Find, StoryIfHidden, StoryJob, Ticket, When::Days, line};

pub(super) static TICKETS: &[Ticket] = &[WORK_BOOTS, OXFORDS];

/// Waits for leather.
const WORK_BOOTS: Ticket = Ticket {
    brought: Days(8, 8, 40),
    promised: 6,
    if_hidden: StoryIfHidden::UpTo(6000),
    rush: false,
    paid: &[(Days(8, 8, 48), Paid::Deposit, 4000)],
    jobs: &[StoryJob {
        pair: &WORK,
        tag: "321",
        guessed: "stitchdown",
        came_with: &["laces"],
        agreed: &[
            line("sole_off", 0),
            line("midsole_replacement", 5500),
            line("restitch_sole", 3200),
            line("top_piece_replacement", 2200),
        ],
        brought: &[
            shot(View::Side, StoryStage::Worn),
            shot(View::Back, StoryStage::Worn),
        ],
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
                Photo(Shows::Step, shot(View::Side, StoryStage::Opened)),
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
                Photo(Shows::Damage, near(View::Side, StoryStage::Opened, 300, 590, 2)),
            ),
            (
                Days(3, 14, 50),
                Repairer,
                Waits(WaitFor::Material, None, "Midsole leather, 5 mm"),
            ),
        ],
    }],
};

/// A hand-sewn welt: opened, the holdfast repaired, the stitching still to be done.
const OXFORDS: Ticket = Ticket {
    brought: Days(6, 11, 30),
    promised: 5,
    if_hidden: StoryIfHidden::UpTo(5000),
    rush: false,
    paid: &[(Days(6, 11, 38), Paid::Deposit, 10000)],
    jobs: &[StoryJob {
        pair: &OXFORD,
        tag: "323",
        guessed: "machine_welted",
        came_with: &["trees", "bag"],
        agreed: &[
            line("sole_off", 0),
            line("resole_hand_welted", 22000),
            line("top_piece_replacement", 1600),
            line("edge_trim_ink", 1400),
        ],
        brought: &[
            shot(View::Side, StoryStage::Worn),
            shot(View::Sole, StoryStage::Worn),
        ],
        then: &[
            (Days(2, 9, 15), Repairer, Step("sole_off", 20, "")),
            (Days(2, 9, 40), Repairer, IsBuilt("hand_welted")),
            (
                Days(2, 9, 42),
                Repairer,
                Photo(Shows::Step, shot(View::Inside, StoryStage::Opened)),
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
                Photo(Shows::Damage, near(View::Inside, StoryStage::Opened, 390, 590, 3)),
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
                Photo(Shows::Damage, near(View::Inside, StoryStage::Opened, 570, 216, 3)),
            ),
            (
                Days(2, 9, 54),
                Repairer,
                Gift("shank_replacement", GiftWhy::Needed, 1800),
            ),
            (Days(2, 9, 56), Repairer, Out("shank", KeptFor::Customer)),
            (Days(2, 9, 58), Repairer, Out("sock", KeptFor::Reuse)),
            (Days(2, 15, 0), Repairer, Step("rib_repair", 50, "")),
            (Days(1, 9, 30), Repairer, Step("shank_replacement", 20, "")),
            (
                Days(1, 10, 0),
                Repairer,
                Photo(Shows::Step, shot(View::Inside, StoryStage::Mended)),
            ),
            (
                Days(1, 10, 5),
                Repairer,
                Note("Wet the soles tonight, sew tomorrow morning."),
            ),
        ],
    }],
};
