//! The hazards of work, by their H-codes and in words, with protection and the instructions that take precedence.
//! [`cautions`](super::cautions) are the short lines at a step; these are the details behind them.
//!
//! Codes: Regulation (EC) 1272/2008 (CLP), their words from memory. Acetone: as on its safety data sheets.
//! Turpentine: translated from the older risk phrases of its entry 650-002-00-6. Solvent cements (n-hexane, toluene),
//! primer and spirit dye: from memory, unverified; what is in the tin is on its own sheet. Hardeners: H334 and H317,
//! and the training duty of REACH Annex XVII, entry 74. Dust has no code: IARC Supplement 7 (1987), p. 232, and
//! Monograph 100C (2012), both group 1.
//!
//! Limits: toluene in adhesives for the public under 0.1 %, REACH Annex XVII, entry 48 (ECHA Q&A 668); n-hexane 20
//! ppm or 72 mg/m³ over eight hours, Directive 2006/15/EC (seen in a secondary listing). Sprays against water: CDC
//! MMWR, mm5517a5 and 00022198. Certified footwear: the information for users of ISO 20345, and the age of PU soles:
//! secondary texts and practice. All else is common practice, no source.

use super::material::Material;
use super::usage::in_usage;

/// An H-code and its text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HazardCode {
    /// The code, such as `H225`.
    pub code: &'static str,
    words: &'static str,
}

impl HazardCode {
    /// The text of the code.
    pub fn words(&self) -> &'static str {
        in_usage(self.words)
    }
}

/// Whose instructions take precedence over this table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Defer {
    /// The product's own safety data sheet, and local rules.
    ProductSheet,
    /// Local rules for workplaces.
    LocalRules,
    /// The person who prescribed the work.
    Prescriber,
    /// The maker of the footwear.
    Maker,
}

/// One hazard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hazard {
    from: &'static str,
    /// Its codes; none where a code does not apply.
    pub codes: &'static [HazardCode],
    does: &'static str,
    protection: &'static str,
    /// Whose instructions take precedence.
    pub defer: Defer,
}

impl Hazard {
    /// Its source.
    pub fn source(&self) -> &'static str {
        in_usage(self.from)
    }

    /// What it does, in words.
    pub fn does(&self) -> &'static str {
        in_usage(self.does)
    }

    /// How to protect against it.
    pub fn protection(&self) -> &'static str {
        in_usage(self.protection)
    }
}

macro_rules! codes {
    ($($name:ident $code:literal $words:literal;)+) => {
        $(const $name: HazardCode = HazardCode { code: $code, words: $words };)+
    };
}

codes! {
    H225 "H225" "Highly flammable liquid and vapour";
    H226 "H226" "Flammable liquid and vapour";
    H302 "H302" "Harmful if swallowed";
    H304 "H304" "May be fatal if swallowed and enters airways";
    H312 "H312" "Harmful in contact with skin";
    H315 "H315" "Causes skin irritation";
    H317 "H317" "May cause an allergic skin reaction";
    H319 "H319" "Causes serious eye irritation";
    H332 "H332" "Harmful if inhaled";
    H334 "H334" "May cause allergy or asthma symptoms or breathing difficulties if inhaled";
    H335 "H335" "May cause respiratory irritation";
    H336 "H336" "May cause drowsiness or dizziness";
    H361 "H361" "Suspected of damaging fertility or the unborn child";
    H373 "H373" "May cause damage to organs through prolonged or repeated exposure";
    H411 "H411" "Toxic to aquatic life with long lasting effects";
    EUH066 "EUH066" "Repeated exposure may cause skin dryness or cracking";
}

/// Cement with solvent.
pub const SOLVENT_CEMENT: Hazard = Hazard {
    from: "Solvent cement",
    codes: &[H225, H304, H315, H336, H361, H373, H411],
    does: "Its vapour burns, makes dizzy and harms with the years. Limit for n-hexane in the air: 20 ppm \
           (72 mg/m³) over eight hours. Cement sold to the public must hold less than 0.1 % of toluene; cement for the \
           trade may hold more.",
    protection: "Ventilate, no flame or spark, gloves, lid on, waste wet into a closed metal bin.",
    defer: Defer::ProductSheet,
};
/// The second part of two-part cement.
pub const HARDENER: Hazard = Hazard {
    from: "Isocyanate hardener, where the cement has one",
    codes: &[H334, H317],
    does: "It makes lungs and skin allergic, for good.",
    protection: "Gloves, extraction, and the training that the law asks for before use.",
    defer: Defer::ProductSheet,
};
/// Primer for vulcanised rubber and TPR.
pub const HALOGENATION_PRIMER: Hazard = Hazard {
    from: "Halogenation primer, for rubber and TPR",
    codes: &[H225, H319, H335, H336],
    does: "It releases chlorine, more of it beside acid, which harms eyes, nose and lungs; its solvent burns.",
    protection: "Ventilate, no flame or spark, gloves, glasses; keep it from acids and cleaners; let it dry out.",
    defer: Defer::ProductSheet,
};
/// Primer for EVA, of which some are set by ultraviolet light. Its codes are those of its solvent, and of isocyanate
/// where it has any.
pub const EVA_PRIMER: Hazard = Hazard {
    from: "Primer for EVA, also one that is set by UV light",
    codes: &[H225, H319, H336, H334, H317],
    does: "Its solvent burns and makes dizzy; isocyanate, where it has any, makes lungs and skin allergic, for good. \
           UV light hurts eyes and skin.",
    protection: "Ventilate, no flame or spark, gloves, glasses; with isocyanate, extraction and the training that the \
                 law asks for before use; never look into a UV lamp.",
    defer: Defer::ProductSheet,
};
/// A spray against water. Its codes are on the can, because its solvents and its film differ.
pub const WATER_REPELLENT: Hazard = Hazard {
    from: "Water-repellent spray",
    codes: &[],
    does: "Breathed in, it can harm the lungs within hours: 172 people were exposed in one outbreak of 2005 to 2006.",
    protection: "Outdoors or under extraction, never in a closed room; away from face and flame, until it is dry.",
    defer: Defer::ProductSheet,
};
/// Thinner and finish remover.
pub const ACETONE: Hazard = Hazard {
    from: "Acetone",
    codes: &[H225, H319, H336, EUH066],
    does: "It takes fire far below room temperature and dries the skin.",
    protection: "Ventilate, no flame or spark, gloves and glasses, try it on a hidden spot.",
    defer: Defer::ProductSheet,
};
/// In wax polish and some thinners.
pub const TURPENTINE: Hazard = Hazard {
    from: "Turpentine, in polish and wax",
    codes: &[H226, H302, H312, H332, H304, H315, H317, H319, H411],
    does: "It burns, irritates and makes skin allergic; rags full of it can take fire by themselves.",
    protection: "Ventilate, gloves, lid on, rags wet into a closed metal bin.",
    defer: Defer::ProductSheet,
};
/// Dye in alcohol.
pub const SPIRIT_DYE: Hazard = Hazard {
    from: "Spirit dye",
    codes: &[H225, H319],
    does: "It burns, and colours and irritates skin and eyes.",
    protection: "Ventilate, no flame or spark, gloves and glasses, try it on a hidden spot.",
    defer: Defer::ProductSheet,
};
/// Dust from sanding and trimming.
pub const DUST: Hazard = Hazard {
    from: "Dust of leather, rubber and unknown old finishes",
    codes: &[],
    does: "Boot and shoe repair, and leather dust, are known to cause cancer in people (IARC group 1).",
    protection: "Extraction on and mask on before the first touch of the wheel.",
    defer: Defer::LocalRules,
};
/// Points of nails.
pub const POINTS: Hazard = Hazard {
    from: "Nails",
    codes: &[],
    does: "A point that comes through hurts the wearer's foot, or whoever feels for it.",
    protection: "The right length for the direction; feel inside by hand before hand-back, left and right.",
    defer: Defer::LocalRules,
};
/// Blades and machines.
pub const BLADES: Hazard = Hazard {
    from: "Knife, awl, needle and machine",
    codes: &[],
    does: "They slip, and pull in what hangs loose.",
    protection: "Cut away from the hand, glasses at the machine, sleeves and hair tied back.",
    defer: Defer::LocalRules,
};
/// Work on the wearer's body.
pub const PRESCRIBED: Hazard = Hazard {
    from: "A change that a body was measured for",
    codes: &[],
    does: "A wrong height harms back, hip and foot.",
    protection: "Only to a prescription, and never levelled; ask before anything is changed.",
    defer: Defer::Prescriber,
};
/// Safety footwear.
pub const CERTIFIED: Hazard = Hazard {
    from: "A repair of safety footwear",
    codes: &[],
    does: "It can end the certification that the wearer relies on at work.",
    protection: "Ask the maker first, fit only an insole that the maker supplies or names, and tell the owner.",
    defer: Defer::Maker,
};
/// Mould, and what is used against it and against smells.
pub const MOULD: Hazard = Hazard {
    from: "Mould, and what is used against mould and smells",
    codes: &[],
    does: "Spores harm lungs and eyes, and some people badly; sprays against them, and ozone, irritate.",
    protection: "Brush it off outside, with mask, glasses and gloves; air the pair before anyone bends over it.",
    defer: Defer::ProductSheet,
};
/// Hot air, by which old soles come off.
pub const HOT_AIR: Hazard = Hazard {
    from: "Hot air on old soles and cement",
    codes: &[],
    does: "It burns, and old PU and unknown foams give off harmful fumes.",
    protection: "Ventilate, gloves, no more heat than loosens the cement; stop at the first smoke or sharp smell.",
    defer: Defer::LocalRules,
};
/// Crepe, which solvent dissolves.
pub const DISSOLVES: Hazard = Hazard {
    from: "Solvent on crepe",
    codes: &[],
    does: "It softens crepe and dissolves it.",
    protection: "Keep solvent off it, or try it where it does not show.",
    defer: Defer::ProductSheet,
};
/// Vulcanised rubber, which solvent only swells.
pub const SWELLS: Hazard = Hazard {
    from: "Solvent on vulcanised rubber",
    codes: &[],
    does: "It swells the surface and does not dissolve it: cement holds only where it is roughened and primed.",
    protection: "Roughen under extraction, prime, and let both dry out before the cement goes on.",
    defer: Defer::ProductSheet,
};
/// Natural rubber.
pub const LATEX: Hazard = Hazard {
    from: "Natural rubber: crepe and latex cement",
    codes: &[],
    does: "Some people are allergic to latex.",
    protection: "Gloves that are not of latex; tell the customer.",
    defer: Defer::ProductSheet,
};
/// Synthetic uppers, which heat damages.
pub const HEAT: Hazard = Hazard {
    from: "Heat on synthetics",
    codes: &[],
    does: "They shrink, melt or give off fumes.",
    protection: "Stay under 70 °C, and ventilate.",
    defer: Defer::ProductSheet,
};
/// Old PU, or foam that may be PU, which crumbles.
pub const CRUMBLES: Hazard = Hazard {
    from: "An old sole of PU, or of a foam that is not known",
    codes: &[],
    does: "PU can crumble at any step some 8 to 12 years after it was made, worn or not; EVA does not.",
    protection: "Press it with a thumb before it is cemented; tell the customer.",
    defer: Defer::LocalRules,
};

/// Cement, and the hardener of two-part cement.
pub(super) const CEMENT_VAPOURS: &[&Hazard] = &[&SOLVENT_CEMENT, &HARDENER];
/// Every primer, for one of which nobody said what it is.
pub(super) const PRIMERS: &[&Hazard] = &[&HALOGENATION_PRIMER, &EVA_PRIMER];
/// Materials that the solvent of cement dissolves.
pub(super) const SOLVENT_VAPOURS: &[&Hazard] = &[&SOLVENT_CEMENT];
/// Finish remover and dye.
pub(super) const DYE_VAPOURS: &[&Hazard] = &[&ACETONE, &SPIRIT_DYE];
/// Wax and polish.
pub(super) const POLISH_VAPOURS: &[&Hazard] = &[&TURPENTINE];

/// The hazard of the primer that a sole of a material asks for before it is cemented; `None` for a material without one.
pub fn primer_of(material: &Material) -> Option<&'static Hazard> {
    match material {
        Material::RubberSole | Material::TprSole => Some(&HALOGENATION_PRIMER),
        Material::EvaSole => Some(&EVA_PRIMER),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Safety data sheets of acetone, and the entry of turpentine in the list of dangerous substances.
    #[test]
    fn codes_of_what_has_a_sheet() {
        let codes = |hazard: &Hazard| hazard.codes.iter().map(|one| one.code).collect::<Vec<_>>();
        assert_eq!(codes(&ACETONE), ["H225", "H319", "H336", "EUH066"]);
        assert_eq!(
            codes(&TURPENTINE),
            [
                "H226", "H302", "H312", "H332", "H304", "H315", "H317", "H319", "H411"
            ]
        );
        for hazard in [
            ACETONE,
            TURPENTINE,
            SOLVENT_CEMENT,
            HARDENER,
            SPIRIT_DYE,
            HALOGENATION_PRIMER,
            EVA_PRIMER,
        ] {
            assert_eq!(hazard.defer, Defer::ProductSheet, "{}", hazard.from);
        }
    }

    /// REACH Annex XVII, entry 48, with ECHA Q&A 668; Directive 2006/15/EC, seen in a secondary listing.
    #[test]
    fn the_limits_of_cement_are_told_with_it() {
        for limit in [
            "n-hexane in the air: 20 ppm (72 mg/m³) over eight hours",
            "less than 0.1 % of toluene",
        ] {
            assert!(SOLVENT_CEMENT.does.contains(limit), "{limit}");
        }
    }

    /// Common practice, no source: what a primer is decides what it does.
    #[test]
    fn each_primer_is_named_by_what_it_is_for_and_what_it_gives_off() {
        for sole in [Material::RubberSole, Material::TprSole] {
            assert_eq!(primer_of(&sole), Some(&HALOGENATION_PRIMER), "{sole}");
        }
        assert_eq!(primer_of(&Material::EvaSole), Some(&EVA_PRIMER));
        assert_eq!(primer_of(&Material::LeatherSole), None);
        let (halogen, eva) = (HALOGENATION_PRIMER, EVA_PRIMER);
        assert!(halogen.source().contains("rubber") && halogen.does().contains("chlorine"));
        assert!(eva.source().contains("EVA") && eva.does().contains("isocyanate"));
        assert!(eva.codes.contains(&H334) && !halogen.codes.contains(&H334));
    }

    /// CDC MMWR, mm5517a5.
    #[test]
    fn a_spray_is_breathed_in_before_it_burns() {
        assert!(WATER_REPELLENT.does.starts_with("Breathed in") && WATER_REPELLENT.does.contains("172"));
        assert!(WATER_REPELLENT.protection.contains("never in a closed room"));
    }

    #[test]
    fn crepe_dissolves_and_vulcanised_rubber_does_not() {
        assert!(DISSOLVES.from.contains("crepe") && !DISSOLVES.from.contains("rubber"));
        assert!(SWELLS.does.contains("does not dissolve"));
    }

    #[test]
    fn who_is_asked_first() {
        assert_eq!(CERTIFIED.defer, Defer::Maker);
        assert_eq!(PRESCRIBED.defer, Defer::Prescriber);
        for hazard in [
            CERTIFIED,
            PRESCRIBED,
            MOULD,
            HOT_AIR,
            HALOGENATION_PRIMER,
            EVA_PRIMER,
            WATER_REPELLENT,
            SWELLS,
            CRUMBLES,
        ] {
            assert!(
                hazard.does.ends_with('.') && hazard.protection.ends_with('.'),
                "{}",
                hazard.from
            );
        }
    }
}
