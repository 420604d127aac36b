//! Work found by what a person types: its own words, the parts it works on, what is wrong with them, and what a customer
//! says at the counter.
//!
//! Common practice, no source.

use words::{Language, speaking};

use crate::trade::component::Component;
use crate::trade::condition::{conditions, remedies};
use crate::trade::operations::{Operation, operation};

/// The letters that a word must have for the ending of a plural to be left out of it.
const LEAST_PLURAL: usize = 4;

/// What a customer says, British and American, and the operations that may be meant. Only what is in none of the
/// trade's own words stands here.
const SAID: &[(&str, &[&str])] = &[
    (
        "bag handbag purse satchel rucksack backpack suitcase briefcase",
        &[
            "restitch_seam",
            "bag_lining",
            "lock",
            "edge_paint",
            "strap_replacement",
            "zip_replacement",
            "zip_slider",
            "press_stud",
            "rivet",
            "buckle_replacement",
        ],
    ),
    (
        "belt",
        &[
            "new_hole",
            "shorten_belt",
            "belt_keeper",
            "new_belt",
            "buckle_replacement",
        ],
    ),
    (
        "handle shoulder",
        &["strap_replacement", "restitch_seam", "rivet", "press_stud"],
    ),
    (
        "stitch stitching sew sewing thread undone unravelled burst split",
        &["restitch_upper", "restitch_seam", "restitch_sole", "apron_seam"],
    ),
    (
        "glue unstuck flapping gaping off loose",
        &["recement_sole", "heel_refix"],
    ),
    (
        "squeak squeaking creak creaking click rattle noise",
        &[
            "recement_sole",
            "shank_replacement",
            "insole_repair",
            "sock_replacement",
            "heel_refix",
        ],
    ),
    (
        "leak leaking wet rain damp",
        &[
            "water_repellent",
            "recement_sole",
            "restitch_sole",
            "half_sole",
            "resole_cemented",
            "resole_welted",
        ],
    ),
    (
        "hole thin",
        &[
            "half_sole",
            "resole_cemented",
            "resole_welted",
            "upper_patch",
            "lining_patch",
        ],
    ),
    (
        "slippery slip grip",
        &["sole_guard", "half_sole", "heel_grip", "pads"],
    ),
    ("protect protector", &["sole_guard"]),
    ("wobbly wobbling wobble", &["heel_refix", "heel_pin"]),
    (
        "stiletto tip",
        &[
            "top_piece_replacement",
            "quarter_tips",
            "toe_piece",
            "toe_plate_flush",
        ],
    ),
    ("sharp poking pricking spike", &["nail_through"]),
    ("tight narrow pinching small bunion", &["stretch"]),
    ("tight calf calves", &["shaft_wider"]),
    ("calf calves slimmer", &["shaft_narrower"]),
    ("big slipping", &["pads", "heel_grip"]),
    ("lace laces lacing ring", &["eyelet_replacement"]),
    ("popper snap button", &["press_stud"]),
    ("stuck runner puller", &["zip_slider", "zip_replacement"]),
    ("stretchy", &["elastic_replacement"]),
    (
        "rip ripped tear dog bitten",
        &["upper_patch", "restitch_upper", "lining_patch"],
    ),
    (
        "scratch scratched faded pale bleached patchy",
        &["colour_touch_up", "strip_and_dye"],
    ),
    ("cream wax shine dull", &["clean_condition_polish"]),
    (
        "dirty dirt mud wash clean",
        &["wet_clean", "suede_clean", "clean_condition_polish"],
    ),
    ("nubuck brush", &["suede_clean"]),
    ("snow winter", &["desalting", "water_repellent"]),
    ("stink stinking sweat sweaty feet", &["odour_treatment"]),
    ("mildew fungus", &["mould_treatment"]),
    (
        "footbed",
        &["insole_repair", "insole_renewal", "sock_replacement"],
    ),
    ("lift height taller leg", &["raise_to_prescription"]),
    ("short shorter", &["heel_lowering", "shorten_belt"]),
];

/// Whether somebody may mean this operation who types this: every word of it begins a word of the operation's name or
/// description, of a part that it works on or puts right, of what is wrong with that part, or of what customers say. The
/// words of British and of American usage count in every shop. Every operation if nothing is typed.
pub fn is_meant(code: &str, typed: &str) -> bool {
    let typed = typed.to_lowercase();
    let mut wanted = in_words(&typed).peekable();
    if wanted.peek().is_none() {
        return true;
    }
    let said = Language::ALL.map(|language| speaking(language, || said_of(code)));
    let said = said.join(" ").to_lowercase();
    let said: Vec<&str> = in_words(&said).collect();
    wanted.all(|word| said.iter().any(|one| one.starts_with(without_plural(word))))
}

fn in_words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
}

/// A word that was typed, as the beginning of what may be meant: `seams` begins `seam`, and `patches` `patch`.
fn without_plural(word: &str) -> &str {
    if word.len() < LEAST_PLURAL {
        return word;
    }
    let hissing = |stem: &&str| ["ch", "sh", "ss", "x"].iter().any(|end| stem.ends_with(end));
    let stem = word.strip_suffix("es").filter(hissing);
    stem.or_else(|| word.strip_suffix('s')).unwrap_or(word)
}

/// All that an operation is found by, in the usage of the moment; for the shop's own operation its name.
fn said_of(code: &str) -> String {
    let Some(known) = operation(code) else {
        return code.to_owned();
    };
    let mut said = vec![known.name(), known.plain(), known.plain_one()];
    said.extend(parts_of(known).flat_map(|part| [part.words(), part.plain()]));
    for part in Component::KNOWN {
        for condition in conditions(part) {
            if remedies(part, condition).contains(&code) {
                said.extend([part.words(), part.plain(), condition.words()]);
            }
        }
    }
    let by_customers = SAID.iter().filter(|(_, codes)| codes.contains(&code));
    said.extend(by_customers.map(|(text, _)| *text));
    said.join(" ")
}

/// The parts that an operation puts on, renews or works on.
fn parts_of(known: &'static Operation) -> impl Iterator<Item = &'static Component> {
    let put_on = known.puts_on.iter().map(|fit| &fit.part);
    put_on.chain(known.mends).chain(known.renews.as_ref())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::operations;

    #[test]
    fn work_is_found_by_any_of_its_words() {
        assert!(is_meant("top_piece_replacement", "heel"));
        assert!(is_meant("top_piece_replacement", " TOP  pie"));
        assert!(is_meant("raise_to_prescription", "prescr"));
        assert!(!is_meant("half_sole", "half zip"));
        assert!(
            !is_meant("zip_replacement", "ip"),
            "only from the beginning of a word"
        );
        assert!(
            is_meant("bell repair", "bell"),
            "the shop's own work by its own words"
        );
        assert!(is_meant("half_sole", " "));
    }

    /// Common practice, no source: what customers say, and what must be among the answers.
    #[test]
    fn work_is_found_by_everyday_words() {
        for (typed, codes) in [
            ("handle", &["restitch_seam", "strap_replacement"][..]),
            ("strap", &["restitch_seam", "restitch_upper", "strap_replacement"]),
            ("seams", &["restitch_seam", "restitch_upper"]),
            ("bag", &["restitch_seam", "bag_lining", "zip_replacement"]),
            ("stitching", &["restitch_seam", "restitch_upper", "restitch_sole"]),
            ("sole", &["half_sole", "resole_cemented", "recement_sole"]),
            ("zip", &["zip_replacement", "zip_slider"]),
            ("zipper", &["zip_replacement", "zip_slider"]),
            ("smell", &["odour_treatment"]),
            ("odor", &["odour_treatment"]),
            ("salt", &["desalting"]),
            ("stretch", &["stretch"]),
            ("tight", &["stretch", "shaft_wider"]),
            ("lace", &["eyelet_replacement"]),
            (
                "heel",
                &["top_piece_replacement", "heel_block_rebuild", "heel_refix"],
            ),
            ("elastic", &["elastic_replacement"]),
            ("gore", &["elastic_replacement"]),
            ("squeak", &["shank_replacement", "recement_sole"]),
            ("leak", &["water_repellent", "recement_sole"]),
            ("tongue", &["restitch_upper", "upper_patch"]),
            ("torn lining", &["lining_patch"]),
            ("hole", &["half_sole", "upper_patch", "new_hole"]),
            ("scratches", &["colour_touch_up"]),
            ("patches", &["upper_patch", "lining_patch"]),
            ("color", &["colour_touch_up"]),
            ("mold", &["mould_treatment"]),
            ("nubuck", &["suede_clean"]),
            ("wobbly heel", &["heel_refix"]),
            ("glue", &["recement_sole"]),
            ("snap", &["press_stud"]),
            ("insole", &["insole_repair", "insole_renewal"]),
        ] {
            for code in codes {
                assert!(is_meant(code, typed), "{typed}: {code}");
            }
            let found = operations().filter(|known| is_meant(known.code, typed)).count();
            assert!(2 * found < operations().count(), "{typed}: {found} are no answer");
        }
        assert!(!is_meant("half_sole", "handle") && !is_meant("zip_replacement", "smell"));
    }

    #[test]
    fn what_customers_say_names_work_of_the_list() {
        for (text, codes) in SAID {
            for code in *codes {
                assert!(operation(code).is_some(), "{text}: {code}");
            }
            assert_eq!(text.to_lowercase(), *text);
        }
    }
}
