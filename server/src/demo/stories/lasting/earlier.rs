//! The first three jobs of the pair that is now in for the fourth time.

use shared::log::body::{Paid, Shows};

use crate::demo::cast::DERBY;
use crate::demo::picture::{StoryStage, View, near, shot};
use crate::demo::story::Does::*;
use crate::demo::story::Who::{Helper, Repairer};
use crate::demo::story::{Find, StoryIfHidden, StoryJob, Ticket, When::Days, line};

pub(in crate::demo::stories) static TICKETS: &[Ticket] = &[FIRST, SECOND, THIRD];

const FIRST: Ticket = Ticket {
    brought: Days(2198, 10, 5),
    promised: -2193,
    if_hidden: StoryIfHidden::Ask,
    rush: false,
    paid: &[(Days(2192, 16, 40), Paid::Balance, 2600)],
    jobs: &[StoryJob {
        pair: &DERBY,
        tag: "012",
        guessed: "machine_welted",
        came_with: &[],
        agreed: &[
            line("top_piece_replacement", 1500),
            line("clean_condition_polish", 1100),
        ],
        brought: &[shot(View::Back, StoryStage::Worn)],
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
                Photo(Shows::Finished, shot(View::Back, StoryStage::Finished)),
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
    if_hidden: StoryIfHidden::UpTo(3000),
    rush: false,
    paid: &[
        (Days(1471, 9, 24), Paid::Deposit, 2000),
        (Days(1463, 12, 10), Paid::Balance, 4700),
    ],
    jobs: &[StoryJob {
        pair: &DERBY,
        tag: "087",
        guessed: "machine_welted",
        came_with: &["trees"],
        agreed: &[
            line("half_sole", 3800),
            line("top_piece_replacement", 1600),
            line("edge_trim_ink", 1300),
        ],
        brought: &[shot(View::Sole, StoryStage::Worn)],
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
                Photo(Shows::Finished, shot(View::Sole, StoryStage::Finished)),
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
    if_hidden: StoryIfHidden::Ask,
    rush: false,
    paid: &[(Days(696, 10, 0), Paid::Balance, 3800)],
    jobs: &[StoryJob {
        pair: &DERBY,
        tag: "196",
        guessed: "machine_welted",
        came_with: &["trees"],
        agreed: &[line("lining_patch", 2200), line("top_piece_replacement", 1600)],
        brought: &[near(View::Side, StoryStage::Worn, 640, 400, 2)],
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
                Photo(
                    Shows::Finished,
                    near(View::Side, StoryStage::Finished, 640, 400, 2),
                ),
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
