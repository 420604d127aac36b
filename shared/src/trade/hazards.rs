//! The hazards of work, by their H-codes and in words, with protection and the instructions that take precedence.
//! [`cautions`](super::cautions) are the short lines at a step; these are the details behind them.
//!
//! Codes: Regulation (EC) 1272/2008 (CLP), their words from memory. Acetone: as on its safety data sheets. Turpentine:
//! translated from the older risk phrases of its entry 650-002-00-6. Solvent cements (n-hexane, toluene) and spirit dye: from memory,
//! unverified; what is in the tin is on its own sheet. Hardeners: H334 and H317, and the training duty of REACH Annex XVII,
//! entry 74. Dust has no code: IARC Supplement 7 (1987), p. 232, and Monograph 100C (2012), both group 1.

/// An H-code and its text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HazardCode {
    /// The code, such as `H225`.
    pub code: &'static str,
    /// The text of the code.
    pub words: &'static str,
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
}

/// One hazard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hazard {
    /// Its source.
    pub from: &'static str,
    /// Its codes; none where a code does not apply.
    pub codes: &'static [HazardCode],
    /// What it does, in words.
    pub does: &'static str,
    /// How to protect against it.
    pub protection: &'static str,
    /// Whose instructions take precedence.
    pub defer: Defer,
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
    does: "Its vapour burns, makes dizzy and harms with the years.",
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
    protection: "Only to a prescription; ask before anything is changed.",
    defer: Defer::Prescriber,
};
/// Crepe and rubber, which solvent dissolves.
pub const DISSOLVES: Hazard = Hazard {
    from: "Solvent on crepe or rubber",
    codes: &[],
    does: "It dissolves them.",
    protection: "Keep solvent off them, or try it where it does not show.",
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
/// Old foam, which crumbles.
pub const CRUMBLES: Hazard = Hazard {
    from: "An old foam sole",
    codes: &[],
    does: "It can crumble at any step, worn or not.",
    protection: "Press it with a thumb before it is cemented; tell the customer.",
    defer: Defer::LocalRules,
};

/// Cement, and the hardener of two-part cement.
pub(super) const CEMENT_VAPOURS: &[&Hazard] = &[&SOLVENT_CEMENT, &HARDENER];
/// Materials that the solvent of cement dissolves.
pub(super) const SOLVENT_VAPOURS: &[&Hazard] = &[&SOLVENT_CEMENT];
/// Finish remover and dye.
pub(super) const DYE_VAPOURS: &[&Hazard] = &[&ACETONE, &SPIRIT_DYE];
/// Wax and polish.
pub(super) const POLISH_VAPOURS: &[&Hazard] = &[&TURPENTINE];

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
        for hazard in [ACETONE, TURPENTINE, SOLVENT_CEMENT, HARDENER, SPIRIT_DYE] {
            assert_eq!(hazard.defer, Defer::ProductSheet, "{}", hazard.from);
        }
    }
}
