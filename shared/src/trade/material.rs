//! What shoes and other goods are made of, as far as care and repair depend on it.
//!
//! Common practice, no source; for the age of PU soles see [`Material::hydrolyses`].

use super::worded::worded;

worded!(
    /// A material of the upper or the sole.
    Material {
        /// Leather with its grain side out.
        SmoothLeather = "smooth_leather", "Smooth leather";
        /// Leather full of oil or wax.
        Oiled = "oiled_leather", "Waxed or oiled leather";
        /// Leather with a nap.
        Suede = "suede", "Suede or nubuck";
        /// Leather under a glossy film.
        Patent = "patent", "Patent";
        /// Dense leather of the horse's rump, glazed, without pores.
        Cordovan = "cordovan", "Cordovan";
        /// Leather of reptile, fish or bird, with scales or quills.
        Exotic = "exotic", "Exotic leather";
        /// Leather or cloth under a layer of plastic, or no leather at all.
        Coated = "coated", "Coated or vegan";
        /// Cloth.
        Textile = "textile", "Textile";
        /// Glossy cloth, on which water leaves rings.
        Satin = "satin", "Satin";
        /// Man-made upper: an older word, for which [`Material::Coated`] is offered.
        Synthetic = "synthetic", "Synthetic";
        /// Sole of leather.
        LeatherSole = "leather_sole", "Leather sole";
        /// Sole of vulcanised rubber.
        RubberSole = "rubber_sole", "Rubber sole";
        /// Sole of crepe.
        CrepeSole = "crepe_sole", "Crepe sole";
        /// Sole of foamed or solid polyurethane.
        PuSole = "pu_sole", "PU sole";
        /// Sole of foamed ethylene vinyl acetate, very light.
        EvaSole = "eva_sole", "EVA sole";
        /// Sole of thermoplastic rubber, which melts where vulcanised rubber chars.
        TprSole = "tpr_sole", "TPR sole";
        /// Light foamed sole of either kind: an older word, for which PU and EVA are offered.
        FoamSole = "foam_sole", "Foam sole (PU, EVA)";
    }
);

impl Material {
    /// The materials to choose from: all known ones but the older words, which are only read.
    pub fn offered() -> impl Iterator<Item = &'static Material> + Clone {
        Material::KNOWN
            .iter()
            .filter(|one| !matches!(one, Material::FoamSole | Material::Synthetic))
    }

    /// Whether it is a material of soles. A word this version does not know counts as one of uppers.
    pub fn of_sole(&self) -> bool {
        matches!(
            self,
            Material::LeatherSole
                | Material::RubberSole
                | Material::CrepeSole
                | Material::PuSole
                | Material::EvaSole
                | Material::TprSole
                | Material::FoamSole
        )
    }

    /// Whether an upper of it takes cream and polish; `None` where each piece is tried first, for soles, and for words
    /// this version does not know. Waxed or oiled leather takes oil or wax instead.
    pub fn takes_cream(&self) -> Option<bool> {
        match self {
            Material::SmoothLeather | Material::Cordovan => Some(true),
            Material::Oiled
            | Material::Suede
            | Material::Patent
            | Material::Coated
            | Material::Textile
            | Material::Satin
            | Material::Synthetic => Some(false),
            _ => None,
        }
    }

    /// Whether a sole of it decays by the damp of the air, or may: polyester polyurethane does so some 8 to 12 years
    /// after it was made, worn or not; EVA does not. Several secondary texts and practice. What is only noted as foam
    /// may be PU.
    pub fn hydrolyses(&self) -> bool {
        matches!(self, Material::PuSole | Material::FoamSole)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn older_words_are_read_but_not_offered() {
        for (code, words) in [("foam_sole", "Foam sole (PU, EVA)"), ("synthetic", "Synthetic")] {
            let old = Material::from(code);
            assert_eq!((old.as_str(), old.words()), (code, words));
            assert!(Material::offered().all(|one| *one != old), "{code}");
        }
        assert_eq!(Material::offered().count() + 2, Material::KNOWN.len());
    }

    #[test]
    fn soles_are_told_from_uppers_by_their_names() {
        for one in Material::KNOWN {
            assert_eq!(one.of_sole(), one.words().contains("sole"), "{one}");
            assert!(!one.of_sole() || one.takes_cream().is_none(), "{one}");
        }
        let newer = Material::from("mushroom");
        assert!(!newer.of_sole() && !newer.hydrolyses());
        assert_eq!(newer.takes_cream(), None);
    }

    #[test]
    fn cream_is_for_grain_only() {
        let takes = |yes| {
            Material::KNOWN
                .iter()
                .filter(move |one| one.takes_cream() == Some(yes))
        };
        assert_eq!(
            takes(true).collect::<Vec<_>>(),
            [&Material::SmoothLeather, &Material::Cordovan]
        );
        assert_eq!(Material::Suede.takes_cream(), Some(false));
        assert_eq!(Material::Exotic.takes_cream(), None, "each piece is tried first");
    }

    /// Several secondary texts, and practice: polyester PU hydrolyses, EVA does not.
    #[test]
    fn pu_decays_with_age_and_eva_does_not() {
        assert!(Material::PuSole.hydrolyses() && Material::FoamSole.hydrolyses());
        for sound in [Material::EvaSole, Material::TprSole, Material::RubberSole] {
            assert!(!sound.hydrolyses(), "{sound}");
        }
    }
}
