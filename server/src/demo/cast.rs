//! The demo shop's own data: its settings, the people who work there, its customers and their pairs.

use super::story::{Customer, StoryPair};

/// The shop's name.
pub(super) const SHOP: &str = "The Capstan Bench";
/// The shop's address as care cards show it.
pub(super) const CONTACT: &str = "The Capstan Bench, 4 Oakum Steps, Skerrow Haven, telephone 01632 960101";
/// The shop's telephone number.
pub(super) const PHONE: &str = "01632 960101";
/// The shop's terms.
pub(super) const TERMS: &str = "Six months on all sewn and cemented work. Wear is not covered. If something opens, bring \
                                the pair back: we put it right at no charge.";
/// The currency, ISO 4217.
pub(super) const CURRENCY: &str = "GBP";
/// The tax rate that is included in the prices, in thousandths.
pub(super) const TAX: i64 = 200;
/// A line that the shop has added to the usual final check.
pub(super) const OWN_CHECK: &str = "Brushed once more";
/// Prices that differ from the starting price list: operation, goods, price in minor units.
pub(super) const PRICES: &[(&str, &str, i64)] = &[
    ("half_sole", "low_shoe", 4200),
    ("resole_welted", "low_shoe", 11000),
    ("resole_cemented", "walking_boot", 9000),
    ("clean_condition_polish", "boot", 1600),
    ("sole_guard", "low_shoe", 2800),
];
/// Those who work here: first the repairer, then the helper.
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

pub(super) static DERBY: StoryPair = StoryPair {
    owner: &MARA,
    maker: "",
    colour: "chestnut",
    look: "derby",
    goods: "low_shoe",
    materials: &["smooth_leather", "leather_sole"],
};

pub(super) static OXFORD: StoryPair = StoryPair {
    owner: &OTTO,
    maker: "Pryce & Lome",
    colour: "black",
    look: "oxford",
    goods: "low_shoe",
    materials: &["smooth_leather", "leather_sole"],
};

pub(super) static CHELSEA: StoryPair = StoryPair {
    owner: &INES,
    maker: "",
    colour: "oxblood",
    look: "chelsea boot",
    goods: "boot",
    materials: &["smooth_leather", "rubber_sole"],
};

pub(super) static WALKING: StoryPair = StoryPair {
    owner: &BRAM,
    maker: "Fellgarth",
    colour: "olive",
    look: "walking boot",
    goods: "walking_boot",
    materials: &["oiled_leather", "rubber_sole"],
};

pub(super) static CHILD: StoryPair = StoryPair {
    owner: &BRAM,
    maker: "",
    colour: "blue",
    look: "child's boot",
    goods: "child",
    materials: &["smooth_leather", "rubber_sole"],
};

pub(super) static COURT: StoryPair = StoryPair {
    owner: &LOTTE,
    maker: "",
    colour: "cherry",
    look: "court shoe",
    goods: "court_shoe",
    materials: &["smooth_leather", "leather_sole"],
};

pub(super) static DANCE: StoryPair = StoryPair {
    owner: &LOTTE,
    maker: "",
    colour: "fawn",
    look: "dance shoe",
    goods: "dance_shoe",
    materials: &["smooth_leather", "leather_sole"],
};

pub(super) static BELT: StoryPair = StoryPair {
    owner: &LOTTE,
    maker: "",
    colour: "brown",
    look: "belt",
    goods: "belt",
    materials: &["smooth_leather"],
};

pub(super) static WORK: StoryPair = StoryPair {
    owner: &NILS,
    maker: "",
    colour: "tan",
    look: "work boot",
    goods: "boot",
    materials: &["oiled_leather", "rubber_sole"],
};

pub(super) static MOCCASIN: StoryPair = StoryPair {
    owner: &EDDA,
    maker: "",
    colour: "sea green",
    look: "moccasin",
    goods: "low_shoe",
    materials: &["suede", "rubber_sole"],
};

pub(super) static SANDAL: StoryPair = StoryPair {
    owner: &SANNA,
    maker: "",
    colour: "amber",
    look: "sandal",
    goods: "sandal",
    materials: &["smooth_leather", "foam_sole"],
};

pub(super) static ZIP_BOOT: StoryPair = StoryPair {
    owner: &JOSS,
    maker: "",
    colour: "slate",
    look: "ankle boot with zip",
    goods: "boot",
    materials: &["smooth_leather", "rubber_sole"],
};
