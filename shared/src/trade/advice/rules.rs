//! The rules of the card's advice: first by what was found or done, then by material, then what is true of every pair.
//! The first rule whose conditions hold decides the advice on its topic.

use super::Is::{Built, Damaged, Done, NotDone, Of, On, SoleBy, SoleDone, WornAfter};
use super::{Advice, AdviceTopic, Rule};
use crate::trade::component::Component as P;
use crate::trade::condition::Condition as C;
use crate::trade::construction::{Construction as K, SoleHeldBy};
use crate::trade::kinds::Class;
use crate::trade::material::Material as M;
use crate::trade::operations::SoleWork;

/// The damage that comes of wearing a worn shoe for too long.
const SUFFERED: &[C] = &[
    C::WornDown,
    C::WornThrough,
    C::WetSoft,
    C::PinHoleBroken,
    C::BentNails,
    C::Loose,
    C::Crushed,
    C::Cracked,
];

macro_rules! rules {
    ($($about:ident if [$($is:expr),+]: $say:literal because $because:literal;)+) => {
        /// Every rule, most specific first.
        pub(super) const RULES: &[Rule] = &[$(Rule {
            about: AdviceTopic::$about,
            when: &[$($is),+],
            advice: Advice { say: $say, because: $because },
        }),+];
    };
}

rules! {
    // After the latest work, which can still be spoilt.
    FirstWear if [WornAfter(24), On(Class::FOOTWEAR)]: "Wait 24 hours before the first wear."
        because "Cement, stiffeners and dye need a day to reach their full strength.";
    FirstWear if [WornAfter(12), On(Class::FOOTWEAR)]: "Wait 12 hours before the first wear."
        because "The work needs half a day to set and dry.";
    FirstWear if [WornAfter(24)]: "Wait 24 hours before using it."
        because "The work needs a day to set and dry.";
    FirstWear if [WornAfter(12)]: "Wait 12 hours before using it."
        because "The work needs half a day to set and dry.";

    // By what was found.
    ShoeHorn if [Damaged(&[P::Counter], &[])]: "Use a shoe horn every time."
        because "The stiffener round the heel was damaged. A foot pushed in without a horn crushes it.";
    ShoeHorn if [Damaged(&[P::HeelGrip, P::Lining, P::Backseam, P::Topline], &[]), On(Class::FOOTWEAR)]:
        "Open the laces and use a shoe horn."
        because "The heel was worn inside, where the foot rubs on its way in.";
    Salt if [Damaged(&[], &[C::Salt])]: "Wipe salt off with a damp cloth, let the leather dry, then feed it."
        because "There was salt in the leather. Left there, it makes leather hard.";
    Age if [Damaged(&[P::Midsole, P::Outsole], &[C::Crumbling])]: "Look at the soles before a long walk."
        because "This kind of sole crumbles with age, worn or not.";
    Drying if [
        Damaged(
            &[P::Insole, P::Filler, P::Midsole, P::Outsole, P::HeelSeat, P::Lift],
            &[C::WetSoft, C::Rotten]
        ),
        On(Class::FOOTWEAR)
    ]: "When wet, dry them for 24 to 48 hours, stuffed with paper, away from heat and sun."
        because "They had been damp inside for long, and had gone soft.";
    Heel if [Damaged(&[P::HeelBase], &[C::BoardUnderLeather]), NotDone(&["heel_block_rebuild"])]:
        "Come back while the top pieces are still thick."
        because "The heel is board under its leather. Worn into or wet, it falls apart.";
    Heel if [Damaged(&[P::HeelBase, P::HeelSeat, P::Lift], SUFFERED)]:
        "Come back while the top pieces are still thick."
        because "The heel above them had suffered. New top pieces in time cost far less than a new heel.";
    Sole if [Damaged(&[P::Outsole], &[C::WornThrough]), On(Class::FOOTWEAR)]:
        "Come back while the soles are still whole."
        because "They were worn through. What lies above them then wears, and costs more.";
    Waist if [Damaged(&[P::Shank], &[]), On(Class::FOOTWEAR)]:
        "Come back at once if they bend under the arch."
        because "The stiff strip under the arch was damaged. Without it the sole and the foot give way.";
    Seam if [
        Damaged(&[P::Welt, P::Rib, P::LastingMargin], &[C::Rotten, C::Torn, C::Cracked, C::Loose]),
        On(Class::FOOTWEAR)
    ]: "Brush dirt out of the seam, and come back as soon as it opens."
        because "What the sole is sewn to had suffered. Dirt and wet left in the seam rot it.";
    Trees if [Damaged(&[P::Puff], &[]), On(Class::FOOTWEAR)]: "Put shoe trees in, and put nothing on top of them."
        because "The stiffener at the toe was damaged. It goes soft when it is pressed.";
    Inside if [Damaged(&[P::Insole, P::Sock], &[C::Cracked, C::WornThrough, C::Loose]), On(Class::FOOTWEAR)]:
        "Let them dry open, and keep the insides clean."
        because "They were worn inside. Sweat and grit wear what the foot stands on.";
    Fastening if [Damaged(&[P::Zip], &[]), On(Class::FOOTWEAR)]: "Open the zip all the way before you step in."
        because "The zip was damaged. Half open, its tape is torn from the leather.";
    Fastening if [Damaged(&[P::Elastic], &[]), On(Class::FOOTWEAR)]: "Pull them on by the loops, not by the elastic."
        because "The elastic was worn. Pulled on every day, it goes slack.";
    Fastening if [Damaged(&[P::Facing, P::Eyelet, P::Tongue], &[]), On(Class::FOOTWEAR)]:
        "Open the laces all the way before you step in."
        because "The leather at the laces was torn. Pulling on a laced shoe tears it again.";
    Fastening if [Damaged(&[P::Buckle, P::Strap], &[])]: "Close it without pulling at the seam."
        because "Strap or buckle was damaged. The seam there carries all the pull.";
    HiddenSpot if [Damaged(&[], &[C::Silicone])]: "Use no spray with silicone."
        because "There was silicone in the finish. Cream and dye do not hold on it.";
    HiddenSpot if [Damaged(&[], &[C::Stained])]: "Dab spots dry at once, and do not rub."
        because "There were stains. Rubbed wet, they go deeper and wider.";
    Care if [
        Damaged(&[P::Upper, P::Vamp, P::Quarter], &[C::Cracked, C::Dry, C::FinishCracked]),
        Of(&[M::SmoothLeather, M::Oiled])
    ]: "Brush, then feed the leather sparingly, a few times a year."
        because "The leather was dry. Dry leather cracks where the foot bends.";

    // By what was done.
    ShoeHorn if [Done(&["counter_rebuild"])]: "Use a shoe horn every time."
        because "The stiffener round the heel is new and should keep its shape.";
    ShoeHorn if [Done(&["lining_patch", "heel_grip"])]: "Open the laces and use a shoe horn."
        because "The lining at the heel is new. Rubbing on the way in wears it through.";
    Heel if [Done(&["heel_block_rebuild", "cement_lifts"])]: "Come back while the top pieces are still thick."
        because "The heel above them is new. Worn top pieces would let the ground reach it.";
    Heel if [Done(&["top_piece_replacement"])]: "Come back before the wear reaches the heel block."
        because "Top pieces are made to be replaced. The heel above them is not.";
    // Half soles are usually rubber and need no guard.
    NewSole if [SoleDone(SoleWork::Renewed), Of(&[M::LeatherSole]), NotDone(&["sole_guard"])]:
        "Wear them two or three times in the dry, then have the soles protected."
        because "Thin rubber holds best on leather soles that were worn a little, and makes them last.";
    Seam if [SoleDone(SoleWork::Stitched)]:
        "Come back as soon as a stitch opens."
        because "One stitch is soon sewn. Left open, the seam runs on.";
    Seam if [SoleDone(SoleWork::Cemented)]:
        "Come back as soon as an edge opens."
        because "A small gap is soon closed. Left open, it lets in water and dirt.";
    Fastening if [Done(&["zip_replacement"]), On(Class::FOOTWEAR)]:
        "Open the zip all the way before you step in."
        because "Half open, its tape is torn from the leather.";
    Fastening if [Done(&["zip_replacement"])]: "Pull the zip along its line, without force."
        because "Pulled sideways, its teeth spread and its tape tears.";
    Fastening if [Done(&["elastic_replacement"])]: "Pull them on by the loops."
        because "Elastic that is pulled on every day goes slack.";
    Fit if [Done(&["stretch"])]: "Wear them an hour or two at a time at first."
        because "Stretched leather settles to the foot while it is worn.";
    Water if [Done(&["water_repellent"])]: "Have the treatment renewed when water no longer rolls off."
        because "The treatment wears off. It keeps water away, but does not make leather waterproof.";
    HiddenSpot if [Done(&["strip_and_dye", "colour_touch_up"])]: "Try any cream on a hidden spot first."
        because "The colour is new, and some creams lift it.";

    // By material.
    Drying if [Of(&[M::LeatherSole]), On(Class::FOOTWEAR)]:
        "When wet, dry them flat for 24 to 48 hours, away from heat and sun."
        because "A leather sole that dries fast goes hard and cracks.";
    Care if [Of(&[M::Suede])]: "Brush with a suede brush. No cream."
        because "Cream flattens the nap and leaves dark spots.";
    Care if [Of(&[M::Oiled])]: "Brush, then oil or wax it sparingly."
        because "Oiled leather lives on oil and wax. Shiny polish closes and cracks it.";
    Care if [Of(&[M::Patent])]: "Wipe with a soft, damp cloth, and keep from heat and frost."
        because "Patent has a film on it that cream cannot feed and cold makes brittle.";
    Care if [Of(&[M::Textile])]: "Let dirt dry, brush it off, then wipe with a damp cloth. No cream."
        because "Cream leaves stains on cloth.";
    Care if [Of(&[M::Synthetic])]: "Wipe with a damp cloth. No solvent, no heat."
        because "Both soften the surface.";

    Age if [Of(&[M::FoamSole]), On(Class::FOOTWEAR)]: "Look at the soles before a long walk after a long rest."
        because "Foam soles can crumble with age, worn or not.";
    Sole if [Of(&[M::CrepeSole]), On(Class::FOOTWEAR)]: "Keep the soles from heat, oil and solvent."
        because "All three soften crepe and make it run.";
    Sole if [Of(&[M::RubberSole]), On(Class::FOOTWEAR)]: "Come back while the tread still shows."
        because "Worn through, the soles let the layers above them wear.";

    // By construction.
    Water if [Built(&[K::Blake, K::Bologna, K::Moccasin, K::Turned]), On(Class::FOOTWEAR)]:
        "Keep them for dry days where you can."
        because "Their seam goes through to the inside, and water follows it.";
    Water if [Built(&[K::Norwegian, K::Stitchdown]), On(Class::FOOTWEAR)]:
        "Brush dirt out of the outer seams before it is wet."
        because "Their seams lie outside. Dirt in them draws water and wears the thread.";
    Seam if [Built(&[K::Nailed]), On(Class::FOOTWEAR)]: "Come back as soon as a point can be felt or the sole opens."
        because "Nails and pegs work loose as the sole wears, and a point may come through.";
    Seam if [Built(&[K::Moulded]), On(Class::FOOTWEAR)]: "Come back as soon as an edge lifts."
        because "A moulded sole can only be cemented or patched, and only while it is clean and sound.";
    Seam if [Built(&[K::Moccasin]), On(Class::FOOTWEAR)]: "Come back as soon as the seam on top opens."
        because "It holds the plug and gives the shoe its shape.";
    Seam if [SoleBy(SoleHeldBy::Stitch), On(Class::FOOTWEAR)]: "Come back as soon as a stitch opens."
        because "One stitch is soon sewn. Left open, the seam runs on.";
    Seam if [SoleBy(SoleHeldBy::Cement), On(Class::FOOTWEAR)]: "Come back as soon as an edge opens."
        because "A small gap is soon closed. Left open, it lets in water and dirt.";

    // What is true of every pair, belt and bag.
    Trees if [On(Class::FOOTWEAR)]: "Put shoe trees in after wear."
        because "They keep the shape while the leather dries.";
    Rest if [On(Class::FOOTWEAR)]: "Let them rest 24 to 48 hours between wears."
        because "Leather needs that long to give back the damp of the foot.";
    Drying if [On(Class::FOOTWEAR)]:
        "When wet, dry them for 24 to 48 hours, stuffed with paper, away from heat and sun."
        because "Leather that dries fast goes hard and cracks.";
    Keeping if [On(&[Class::Belt])]: "Hang it by the buckle."
        because "Leather bent in one place for long cracks there.";
    Keeping if [On(&[Class::Bag])]: "Keep it stuffed, standing and dry."
        because "Leather folded for long cracks in the fold.";
    Care if [On(Class::ANY)]: "Brush, then feed the leather sparingly once it is dry to the touch."
        because "Dirt rubbed in scratches, and too much cream closes the leather.";
    ShoeHorn if [On(Class::FOOTWEAR)]: "Use a shoe horn."
        because "It keeps the stiffener round the heel upright.";
    HiddenSpot if [On(Class::ANY)]: "Try any cream on a hidden spot first."
        because "Some creams change the colour.";
}
