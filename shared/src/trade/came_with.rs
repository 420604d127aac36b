//! What comes with a pair and must go back with it.

use super::worded::worded;

worded!(
    /// Something that came with the pair.
    CameWith {
        /// Laces.
        Laces = "laces", "Laces";
        /// Shoe trees.
        Trees = "trees", "Shoe trees";
        /// Loose insoles, orthotic or not.
        Inserts = "inserts", "Inserts";
        /// A bag or cloth sack.
        Bag = "bag", "Bag";
        /// A box.
        Carton = "box", "Box";
        /// Anything else, named in a note.
        SomethingElse = "other", "Something else";
    }
);
