//! Who and what: the shop, those who work there, those who bring shoes, and the shoes.

use super::draw::{Colour, Shoe, Silhouette};
use super::story::{Customer, StoryPair};

/// The shop's name.
pub(super) const SHOP: &str = "The Capstan Bench";
/// How to reach it, as the card says it.
pub(super) const CONTACT: &str = "The Capstan Bench, 4 Oakum Steps, Skerrow Haven, telephone 01632 960101";
/// Its telephone.
pub(super) const PHONE: &str = "01632 960101";
/// Its terms.
pub(super) const TERMS: &str = "Six months on all sewn and cemented work. Wear is not covered. If something opens, bring \
                                the pair back: we put it right at no charge.";
/// The currency, ISO 4217.
pub(super) const CURRENCY: &str = "GBP";
/// Tax in the prices, in thousandths.
pub(super) const TAX: i64 = 200;
/// A line of the final check that the shop added to the usual ones.
pub(super) const OWN_CHECK: &str = "Brushed once more";
/// Prices that differ from the starting list: operation, goods, minor units.
pub(super) const PRICES: &[(&str, &str, i64)] = &[
    ("half_sole", "low_shoe", 4200),
    ("resole_welted", "low_shoe", 11000),
    ("resole_cemented", "walking_boot", 9000),
    ("clean_condition_polish", "boot", 1600),
    ("sole_guard", "low_shoe", 2800),
];
/// Those who work here: the repairer, the helper.
pub(super) const PEOPLE: [&str; 2] = ["Hanne Brook", "Tomas Reed"];

pub(super) static MARA: Customer = customer("Mara Tolle", "07700 900118");
pub(super) static OTTO: Customer = customer("Otto Ferrand", "01632 960274");
pub(super) static INES: Customer = customer("Ines Vell", "07700 900336");
pub(super) static BRAM: Customer = customer("Bram Oskarson", "07700 900481");
pub(super) static LOTTE: Customer = customer("Lotte Quill", "07700 900562");
pub(super) static NILS: Customer = customer("Nils Corrie", "01632 960607");
pub(super) static EDDA: Customer = customer("Edda Marsh", "01632 960753");
pub(super) static SANNA: Customer = customer("Sanna Wray", "07700 900829");
pub(super) static JOSS: Customer = customer("Joss Tarrant", "07700 900945");

const fn customer(name: &'static str, phone: &'static str) -> Customer {
    Customer { name, phone }
}

const fn shoe(kind: Silhouette, upper: Colour, sole: Colour, thread: Colour, laces: Colour) -> Shoe {
    Shoe {
        kind,
        upper,
        sole,
        thread,
        laces,
    }
}

const fn rgb(red: u8, green: u8, blue: u8) -> Colour {
    Colour::of(red, green, blue)
}

/// For what has no laces.
const NO_LACES: Colour = rgb(0, 0, 0);

pub(super) static DERBY: StoryPair = StoryPair {
    owner: &MARA,
    maker: "",
    colour: "chestnut",
    look: "derby",
    goods: "low_shoe",
    materials: &["smooth_leather", "leather_sole"],
    shoe: shoe(
        Silhouette::Derby,
        rgb(134, 76, 42),
        rgb(72, 46, 30),
        rgb(226, 200, 150),
        rgb(92, 56, 34),
    ),
};

pub(super) static OXFORD: StoryPair = StoryPair {
    owner: &OTTO,
    maker: "Pryce & Lome",
    colour: "black",
    look: "oxford",
    goods: "low_shoe",
    materials: &["smooth_leather", "leather_sole"],
    shoe: shoe(
        Silhouette::Oxford,
        rgb(44, 42, 46),
        rgb(40, 32, 28),
        rgb(120, 116, 112),
        rgb(34, 32, 34),
    ),
};

pub(super) static CHELSEA: StoryPair = StoryPair {
    owner: &INES,
    maker: "",
    colour: "oxblood",
    look: "chelsea boot",
    goods: "boot",
    materials: &["smooth_leather", "rubber_sole"],
    shoe: shoe(
        Silhouette::Chelsea,
        rgb(112, 34, 38),
        rgb(58, 34, 28),
        rgb(150, 80, 70),
        rgb(40, 30, 32),
    ),
};

pub(super) static WALKING: StoryPair = StoryPair {
    owner: &BRAM,
    maker: "Fellgarth",
    colour: "olive",
    look: "walking boot",
    goods: "walking_boot",
    materials: &["oiled_leather", "rubber_sole"],
    shoe: shoe(
        Silhouette::WalkingBoot,
        rgb(104, 84, 58),
        rgb(52, 50, 48),
        rgb(214, 190, 140),
        rgb(168, 52, 40),
    ),
};

pub(super) static CHILD: StoryPair = StoryPair {
    owner: &BRAM,
    maker: "",
    colour: "blue",
    look: "child's boot",
    goods: "child",
    materials: &["smooth_leather", "rubber_sole"],
    shoe: shoe(
        Silhouette::ChildsBoot,
        rgb(40, 72, 110),
        rgb(206, 180, 140),
        rgb(236, 224, 190),
        rgb(214, 160, 60),
    ),
};

pub(super) static COURT: StoryPair = StoryPair {
    owner: &LOTTE,
    maker: "",
    colour: "cherry",
    look: "court shoe",
    goods: "court_shoe",
    materials: &["smooth_leather", "leather_sole"],
    shoe: shoe(
        Silhouette::Court,
        rgb(132, 28, 44),
        rgb(60, 36, 30),
        rgb(160, 60, 70),
        NO_LACES,
    ),
};

pub(super) static DANCE: StoryPair = StoryPair {
    owner: &LOTTE,
    maker: "",
    colour: "fawn",
    look: "dance shoe",
    goods: "dance_shoe",
    materials: &["smooth_leather", "leather_sole"],
    shoe: shoe(
        Silhouette::Dance,
        rgb(196, 158, 112),
        rgb(150, 112, 76),
        rgb(232, 206, 160),
        NO_LACES,
    ),
};

pub(super) static BELT: StoryPair = StoryPair {
    owner: &LOTTE,
    maker: "",
    colour: "brown",
    look: "belt",
    goods: "belt",
    materials: &["smooth_leather"],
    shoe: shoe(
        Silhouette::Belt,
        rgb(96, 56, 32),
        NO_LACES,
        rgb(220, 190, 130),
        NO_LACES,
    ),
};

pub(super) static WORK: StoryPair = StoryPair {
    owner: &NILS,
    maker: "",
    colour: "tan",
    look: "work boot",
    goods: "boot",
    materials: &["oiled_leather", "rubber_sole"],
    shoe: shoe(
        Silhouette::WorkBoot,
        rgb(176, 120, 62),
        rgb(112, 74, 46),
        rgb(240, 226, 190),
        rgb(96, 60, 34),
    ),
};

pub(super) static MOCCASIN: StoryPair = StoryPair {
    owner: &EDDA,
    maker: "",
    colour: "sea green",
    look: "moccasin",
    goods: "low_shoe",
    materials: &["suede", "rubber_sole"],
    shoe: shoe(
        Silhouette::Moccasin,
        rgb(66, 92, 92),
        rgb(70, 56, 46),
        rgb(226, 216, 190),
        NO_LACES,
    ),
};

pub(super) static SANDAL: StoryPair = StoryPair {
    owner: &SANNA,
    maker: "",
    colour: "amber",
    look: "sandal",
    goods: "sandal",
    materials: &["smooth_leather", "foam_sole"],
    shoe: shoe(
        Silhouette::Sandal,
        rgb(150, 94, 50),
        rgb(184, 140, 92),
        rgb(232, 206, 150),
        NO_LACES,
    ),
};

pub(super) static ZIP_BOOT: StoryPair = StoryPair {
    owner: &JOSS,
    maker: "",
    colour: "slate",
    look: "ankle boot with zip",
    goods: "boot",
    materials: &["smooth_leather", "rubber_sole"],
    shoe: shoe(
        Silhouette::ZipBoot,
        rgb(62, 66, 76),
        rgb(48, 42, 40),
        rgb(110, 112, 120),
        NO_LACES,
    ),
};
