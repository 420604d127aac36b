//! A pair that is ready to be collected.

use shared::log::body::{Decision, GiftWhy, Pays, Seen, Shows, Side};

use crate::demo::cast::MOCCASIN;
use crate::demo::picture::{StoryStage, View, near, shot};
use crate::demo::story::Does::*;
use crate::demo::story::Who::{Helper, Repairer};
use crate::demo::story::{Find, StoryIfHidden, StoryJob, Ticket, When::Days, line};

pub(super) static TICKETS: &[Ticket] = &[Ticket {
    brought: Days(7, 14, 10),
    promised: 0,
    if_hidden: StoryIfHidden::UpTo(2000),
    rush: false,
    paid: &[],
    jobs: &[StoryJob {
        pair: &MOCCASIN,
        tag: "322",
        guessed: "moccasin",
        came_with: &["bag"],
        agreed: &[
            line("restitch_upper", 1400),
            line("recement_sole", 1800),
            line("suede_clean", 1600),
        ],
        brought: &[
            shot(View::Side, StoryStage::Worn),
            near(View::Side, StoryStage::Worn, 250, 530, 3),
        ],
        then: &[
            (Days(4, 10, 0), Repairer, IsBuilt("moccasin")),
            (
                Days(4, 10, 30),
                Repairer,
                Step("restitch_upper", 30, "Through the old holes"),
            ),
            (
                Days(4, 10, 40),
                Repairer,
                Found(Find {
                    part: "sock",
                    condition: "loose",
                    side: Side::Both,
                    seen: Seen::Inside,
                    decided: Some((Decision::Replace, Pays::ShopChoice)),
                    note: "The socks were loose and curled.",
                }),
            ),
            (
                Days(4, 10, 42),
                Repairer,
                Gift("sock_replacement", GiftWhy::MyChoice, 1000),
            ),
            (Days(3, 11, 0), Helper, Step("recement_sole", 25, "")),
            (Days(3, 11, 10), Helper, Step("sock_replacement", 15, "")),
            (
                Days(2, 10, 0),
                Helper,
                Step("suede_clean", 25, "Brushed, no cream"),
            ),
            (
                Days(2, 10, 10),
                Repairer,
                Remark("The new thread is a little lighter than the old one, and darkens with wear."),
            ),
            (
                Days(2, 10, 20),
                Helper,
                Photo(Shows::Finished, shot(View::Back, StoryStage::Finished)),
            ),
            (
                Days(2, 10, 22),
                Helper,
                Photo(Shows::Finished, shot(View::Side, StoryStage::Finished)),
            ),
            (Days(2, 10, 30), Repairer, Left("moccasin")),
            (Days(2, 10, 34), Repairer, Checked("B3")),
            (
                Days(2, 10, 40),
                Repairer,
                Publishes(
                    "Before: the seam open round the toes",
                    "After: sewn, cemented and brushed",
                    365,
                ),
            ),
        ],
    }],
}];
