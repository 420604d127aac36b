//! What shoes and other goods are made of, as far as care depends on it.

use super::worded::worded;

worded!(
    /// A material of the upper or the sole.
    Material {
        /// Leather with its grain side out.
        SmoothLeather = "smooth_leather", "Smooth leather";
        /// Leather with a nap.
        Suede = "suede", "Suede or nubuck";
        /// Leather full of oil or wax.
        Oiled = "oiled_leather", "Oiled or waxed leather";
        /// Leather under a glossy film.
        Patent = "patent", "Patent";
        /// Cloth.
        Textile = "textile", "Textile";
        /// Man-made upper.
        Synthetic = "synthetic", "Synthetic";
        /// Sole of leather.
        LeatherSole = "leather_sole", "Leather sole";
        /// Sole of rubber.
        RubberSole = "rubber_sole", "Rubber sole";
        /// Sole of crepe.
        CrepeSole = "crepe_sole", "Crepe sole";
        /// Light foamed sole.
        FoamSole = "foam_sole", "Foam sole (PU, EVA)";
    }
);
