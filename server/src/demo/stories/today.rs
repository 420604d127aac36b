//! Pairs brought in during the last days: with an open question, with work half done, with a complaint, in a rush.

use shared::log::body::{Cause, Outcome, Paid, Seen, Shows, Side};

use crate::demo::cast::{BELT, COURT, DANCE, SANDAL, ZIP_BOOT};
use crate::demo::picture::{StoryStage, View, near, shot};
use crate::demo::story::Does::*;
use crate::demo::story::Who::{Helper, Repairer};
use crate::demo::story::{Find, StoryIfHidden, StoryJob, Ticket, When::Days, When::Minutes, line};

pub(super) static TICKETS: &[Ticket] = &[THREE_THINGS, SANDALS_BEFORE, SANDALS_AGAIN, IN_A_HURRY];

/// Three things of one customer: one with an open question, one nearly done, and a belt.
const THREE_THINGS: Ticket = Ticket {
    brought: Days(3, 9, 50),
    promised: 2,
    if_hidden: StoryIfHidden::Ask,
    rush: false,
    paid: &[(Days(3, 9, 59), Paid::Deposit, 3000)],
    jobs: &[
        StoryJob {
            pair: &COURT,
            tag: "329",
            guessed: "cemented",
            came_with: &["box"],
            agreed: &[line("top_piece_replacement", 1000), line("heel_cover", 3200)],
            brought: &[
                shot(View::Side, StoryStage::Worn),
                shot(View::Back, StoryStage::Worn),
            ],
            then: &[
                (
                    Days(1, 13, 0),
                    Repairer,
                    Found(Find {
                        part: "heel_base",
                        condition: "board_under_leather",
                        side: Side::Both,
                        seen: Seen::Inside,
                        decided: None,
                        note: "Under the leather the heels are board, and both are split.",
                    }),
                ),
                (
                    Days(1, 13, 2),
                    Repairer,
                    Photo(Shows::Damage, near(View::Side, StoryStage::Opened, 720, 530, 3)),
                ),
                (
                    Days(1, 13, 6),
                    Repairer,
                    Asks(
                        "Under the leather the heels are board, and both are split. How shall we go on?",
                        &[
                            ("New heel blocks, covered again", "heel_block_rebuild", 3500),
                            ("Glue and pin the board; it may hold a year", "heel_refix", 1800),
                            ("New top pieces only", "", 0),
                        ],
                    ),
                ),
                (Days(1, 15, 30), Helper, Hears(Outcome::NoAnswer, None)),
            ],
        },
        StoryJob {
            pair: &DANCE,
            tag: "330",
            guessed: "cemented",
            came_with: &[],
            agreed: &[line("resole_cemented", 5000), line("edge_trim_ink", 1200)],
            brought: &[shot(View::Side, StoryStage::Worn)],
            then: &[
                (Days(1, 9, 45), Repairer, IsBuilt("cemented")),
                (
                    Days(1, 11, 30),
                    Repairer,
                    Step("resole_cemented", 70, "Chrome suede, 2 mm"),
                ),
                (
                    Days(1, 11, 50),
                    Repairer,
                    Photo(Shows::Step, shot(View::Sole, StoryStage::Mended)),
                ),
            ],
        },
        StoryJob {
            pair: &BELT,
            tag: "331",
            guessed: "",
            came_with: &[],
            agreed: &[line("buckle_replacement", 1200), line("new_hole", 300)],
            brought: &[shot(View::Side, StoryStage::Worn)],
            then: &[
                (
                    Days(1, 16, 0),
                    Helper,
                    Step("buckle_replacement", 15, "Brass, 35 mm"),
                ),
                (
                    Days(1, 16, 4),
                    Helper,
                    Photo(Shows::Step, shot(View::Side, StoryStage::Mended)),
                ),
            ],
        },
    ],
};

const SANDALS_BEFORE: Ticket = Ticket {
    brought: Days(39, 10, 40),
    promised: -36,
    if_hidden: StoryIfHidden::Ask,
    rush: false,
    paid: &[(Days(36, 17, 5), Paid::Balance, 1600)],
    jobs: &[StoryJob {
        pair: &SANDAL,
        tag: "302",
        guessed: "cemented",
        came_with: &[],
        agreed: &[line("recement_sole", 1600)],
        brought: &[near(View::Side, StoryStage::Opened, 330, 560, 2)],
        then: &[
            (Days(37, 14, 0), Helper, Step("recement_sole", 20, "")),
            (
                Days(37, 14, 30),
                Helper,
                Photo(Shows::Finished, shot(View::Side, StoryStage::Finished)),
            ),
            (Days(37, 14, 40), Repairer, Checked("A2")),
            (
                Days(37, 14, 45),
                Repairer,
                Publishes(
                    "Before: the sole had come away at the straps",
                    "After: cemented again",
                    180,
                ),
            ),
            (Days(36, 17, 7), Repairer, HandedOver),
        ],
    }],
};

/// The same damage has come back: a complaint.
const SANDALS_AGAIN: Ticket = Ticket {
    brought: Days(1, 17, 10),
    promised: 1,
    if_hidden: StoryIfHidden::Nothing,
    rush: false,
    paid: &[],
    jobs: &[StoryJob {
        pair: &SANDAL,
        tag: "333",
        guessed: "cemented",
        came_with: &[],
        agreed: &[line("recement_sole", 0)],
        brought: &[shot(View::Side, StoryStage::Opened)],
        then: &[(
            Days(1, 17, 14),
            Repairer,
            Complains(
                "recement_sole",
                Cause::OurWork,
                "Opened again on the left after four weeks, in the same place.",
            ),
        )],
    }],
};

const IN_A_HURRY: Ticket = Ticket {
    brought: Minutes(75),
    promised: 1,
    if_hidden: StoryIfHidden::UpTo(3000),
    rush: true,
    paid: &[(Minutes(68), Paid::Deposit, 6000)],
    jobs: &[StoryJob {
        pair: &ZIP_BOOT,
        tag: "334",
        guessed: "",
        came_with: &[],
        agreed: &[
            line("sole_off", 0),
            line("resole_cemented", 7000),
            // One zip in each boot.
            line("zip_replacement", 9600).done_with("plastic", 2),
            line("water_repellent", 800),
        ],
        brought: &[
            shot(View::Side, StoryStage::Worn),
            near(View::Side, StoryStage::Worn, 560, 260, 2),
        ],
        then: &[(
            Minutes(72),
            Repairer,
            Find::accepted("vamp", "salt", "White lines of salt, accepted as they are."),
        )],
    }],
};
