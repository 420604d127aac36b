//! What is in the invented shop.

use serde_json::json;
use shared::log::body::{
    Agreed, CardLink, CardPhoto, Detail, HandedOver, Opened, Photo, Published, Section, Shows, Side, Step,
    field,
};
use shared::log::{Body, SubjectId, SubjectKind};
use shared::trade::operation;
use uuid::Uuid;

use super::Demo;
use super::draw::Look;
use super::pen::Pen;
use crate::world::World;

/// One invented pair and its stay in the shop.
struct Story {
    customer: &'static str,
    colour: &'static str,
    look: &'static str,
    tag: &'static str,
    upper: [u8; 3],
    agreed: &'static [(&'static str, i64)],
    done: usize,
    found: &'static [&'static str],
    advice: &'static [&'static str],
    handed_over: bool,
}

const SHOP: &str = "The Corner Bench, 3 Example Yard";
const TERMS: &str = "Six months on sewn and cemented work. Wear is not covered.";
const BENCH: [u8; 3] = [206, 190, 168];

const STORIES: [Story; 3] = [
    Story {
        customer: "Mara Tolle",
        colour: "chestnut",
        look: "derby",
        tag: "101",
        upper: [128, 74, 44],
        agreed: &[("half_sole", 3800), ("top_piece_replacement", 1600)],
        done: 2,
        found: &["The heel's lowest lift was worn through at the back: replaced."],
        advice: &[
            "Use a shoe horn: it keeps the counters upright.",
            "Come back before the wear reaches the heel block.",
        ],
        handed_over: true,
    },
    Story {
        customer: "Otto Ferrand",
        colour: "black",
        look: "ankle boot",
        tag: "102",
        upper: [52, 50, 54],
        agreed: &[("elastic_replacement", 4200), ("clean_condition_polish", 1200)],
        done: 1,
        found: &[],
        advice: &[],
        handed_over: false,
    },
    Story {
        customer: "Ines Vell",
        colour: "oxblood",
        look: "loafer",
        tag: "103",
        upper: [112, 32, 38],
        agreed: &[("resole_welted", 9500)],
        done: 0,
        found: &[],
        advice: &[],
        handed_over: false,
    },
];

/// The invented shop, as it looks now.
pub(super) fn demo(world: &dyn World, shop: Uuid) -> Demo {
    let mut pen = Pen::new(world, 6);
    let shop = SubjectId(shop);
    detail(&mut pen, SubjectKind::Shop, shop, field::NAME, "The Corner Bench");
    detail(&mut pen, SubjectKind::Shop, shop, field::TERMS, TERMS);
    // The story with a card comes last, so that its link is the one shown.
    for story in STORIES.iter().rev() {
        tell(&mut pen, story);
    }
    pen.done()
}

fn tell(pen: &mut Pen<'_>, story: &Story) {
    let [customer, pair, ticket, job] = [(); 4].map(|()| pen.subject());
    let opened = |pair, ticket, customer| {
        Body::Opened(Opened {
            pair,
            ticket,
            customer,
        })
    };
    pen.write(SubjectKind::Customer, customer, &opened(None, None, None));
    detail(pen, SubjectKind::Customer, customer, field::NAME, story.customer);
    pen.write(SubjectKind::Pair, pair, &opened(None, None, Some(customer)));
    let secret = pen.secret();
    pen.write(SubjectKind::Pair, pair, &Body::CardLink(CardLink { secret }));
    detail(pen, SubjectKind::Pair, pair, field::COLOUR, story.colour);
    detail(pen, SubjectKind::Pair, pair, field::LOOK, story.look);
    pen.write(SubjectKind::Ticket, ticket, &opened(None, None, Some(customer)));
    let promised = pen.day(8);
    detail(pen, SubjectKind::Ticket, ticket, field::DAY, &promised);
    pen.write(SubjectKind::Job, job, &opened(Some(pair), Some(ticket), None));
    detail(pen, SubjectKind::Job, job, field::TAG, story.tag);
    for (operation, price_minor) in story.agreed {
        let agreed = Agreed::at(*operation, *price_minor);
        pen.write(SubjectKind::Job, job, &Body::Agreed(agreed));
    }
    work(pen, story, pair, job);
}

/// The photographs and steps, and the hand-over.
fn work(pen: &mut Pen<'_>, story: &Story, pair: SubjectId, job: SubjectId) {
    let mut shown = Vec::new();
    shown.extend(photograph(
        pen,
        story,
        job,
        Shows::DropOff,
        1.0,
        "Before: the heels worn down at the back",
    ));
    for (operation, _) in &story.agreed[..story.done] {
        let step = Step {
            operation: (*operation).to_owned(),
            side: Side::Both,
            note: String::new(),
            minutes: Some(25),
        };
        pen.write(SubjectKind::Job, job, &Body::Step(step));
    }
    if !story.handed_over {
        return;
    }
    shown.extend(photograph(
        pen,
        story,
        job,
        Shows::Finished,
        0.0,
        "After: new top pieces and soles",
    ));
    let section = section(pen, story, shown);
    pen.write(
        SubjectKind::Job,
        job,
        &Body::Published(Published {
            pair,
            section,
            seen: Vec::new(),
        }),
    );
    pen.write(SubjectKind::Job, job, &Body::HandedOver(HandedOver::default()));
}

fn photograph(
    pen: &mut Pen<'_>,
    story: &Story,
    job: SubjectId,
    shows: Shows,
    worn: f32,
    caption: &str,
) -> Option<CardPhoto> {
    let look = Look {
        upper: story.upper,
        bench: BENCH,
        worn,
    };
    let (full, thumb) = (pen.picture(look, 960)?, pen.picture(look, 320)?);
    let photo = Photo::new(full.clone(), thumb, shows);
    pen.write(SubjectKind::Job, job, &Body::Photo(photo));
    Some(CardPhoto {
        blob: full,
        caption: caption.to_owned(),
    })
}

fn section(pen: &Pen<'_>, story: &Story, photos: Vec<CardPhoto>) -> Section {
    let lines = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect();
    Section {
        title: format!("{} {}", story.colour, story.look),
        day: pen.day(0),
        done: story
            .agreed
            .iter()
            .filter_map(|(code, _)| operation(code))
            .map(|known| known.plain.to_owned())
            .collect(),
        found: lines(story.found),
        gifts: lines(&["Edges trimmed and inked."]),
        advice: lines(story.advice),
        wait_hours: Some(24),
        next_check: Some(pen.day(180)),
        terms: TERMS.to_owned(),
        price: None,
        shop: SHOP.to_owned(),
        photos,
    }
}

fn detail(pen: &mut Pen<'_>, kind: SubjectKind, subject: SubjectId, field: &str, value: &str) {
    pen.write(
        kind,
        subject,
        &Body::Detail(Detail {
            field: field.to_owned(),
            value: json!(value),
        }),
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_demo_speaks_the_words_of_the_trade_list() {
        for (code, _) in STORIES.iter().flat_map(|story| story.agreed) {
            assert!(operation(code).is_some(), "{code}");
        }
    }
}
