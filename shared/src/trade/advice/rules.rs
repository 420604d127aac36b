//! The rules of the card's advice: first by what was found or done, then by the kind of goods, by material and by
//! construction, then what is true of every pair. The first rule whose conditions hold decides the advice on its topic.
//!
//! A rule is true of one shoe as well as of both, because it is not known which of them was damaged or repaired.

use super::Is::{
    Built, Damaged, Done, Kind, NotDone, NotKind, NotOf, Of, On, SoleBy, SoleDone, SoleNotDone, WornAfter,
};
use super::{Advice, AdviceTopic, Rule};
use crate::trade::component::Component as P;
use crate::trade::condition::Condition as C;
use crate::trade::construction::{Construction as K, SoleHeldBy};
use crate::trade::kinds::{Class, Goods as G};
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

/// Uppers that take cream, oil or wax, each in its own way.
const CONDITIONED: &[M] = &[M::SmoothLeather, M::Oiled, M::Cordovan, M::Exotic];
/// Uppers that take neither.
const UNCONDITIONED: &[M] = &[M::Suede, M::Patent, M::Coated, M::Textile, M::Satin, M::Synthetic];

/// Shoes into which shoe trees go.
const TREED: &[G] = &[G::LowShoe, G::Boot, G::WalkingBoot, G::CourtShoe];
/// Shoes into which the heel slides along a horn.
const HORNED: &[G] = &[
    G::LowShoe,
    G::Boot,
    G::LongBoot,
    G::CourtShoe,
    G::Child,
    G::Orthopaedic,
];
/// Shoes whose laces are opened wide.
const LACED: &[G] = &[G::Trainer, G::WalkingBoot, G::SafetyBoot];
/// Shoes for which a horn and a day of rest are nonsense.
const SLIPPED_ON: &[G] = &[G::Sandal, G::Clog, G::ClimbingShoe];

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

    // What only the maker or the prescriber may say. Safety footwear: the information for users of ISO 20345, read in
    // secondary texts.
    Safety if [Kind(&[G::SafetyBoot])]: "Ask the maker whether they still count as safety footwear."
        because "A repair, above all of sole or toe cap, can end the certification.";
    Inside if [Kind(&[G::SafetyBoot])]: "Use only an insole that the maker supplies or names."
        because "Any other can end the certification.";
    Height if [Done(&["raise_to_prescription"])]:
        "Leave the height as prescribed. Ask the prescriber before any change."
        because "It was measured for the body. It is never levelled with the other shoe.";
    Height if [Kind(&[G::Orthopaedic])]: "Leave all heights as prescribed. Ask the prescriber before any change."
        because "They were measured for the body. Left and right are never levelled.";

    // By what was found.
    ShoeHorn if [Damaged(&[P::Counter], &[]), NotKind(SLIPPED_ON)]: "Use a shoe horn every time."
        because "The stiffener round the heel was damaged. A foot pushed in without a horn crushes it.";
    ShoeHorn if [
        Damaged(&[P::HeelGrip, P::Lining, P::Backseam, P::Topline], &[]), On(Class::FOOTWEAR), NotKind(SLIPPED_ON)
    ]: "Open any laces, and use a shoe horn."
        because "The heel was worn inside, where the foot rubs on its way in.";
    Salt if [Damaged(&[], &[C::Salt]), Of(&[M::Suede])]:
        "Brush salt off dry suede, then use a salt remover made for suede."
        because "There was salt in it. Rubbed wet the line spreads, and cream flattens the nap.";
    Salt if [Damaged(&[], &[C::Salt]), Of(&[M::Satin])]: "Do not rub salt off satin: bring it in."
        because "There was salt in it, and water leaves rings on satin.";
    Salt if [Damaged(&[], &[C::Salt]), Of(&[M::Patent, M::Coated, M::Textile, M::Synthetic])]:
        "Wipe salt off with a damp cloth, and let it dry away from heat."
        because "There was salt on it. Left there, it leaves lines and eats at the seams.";
    Salt if [Damaged(&[], &[C::Salt]), Of(&[M::SmoothLeather])]:
        "Wipe salt off with a damp cloth, let the leather dry, then condition it."
        because "There was salt in the leather. Left there, it makes leather hard.";
    Salt if [Damaged(&[], &[C::Salt]), Of(&[M::Oiled, M::Cordovan, M::Exotic])]:
        "Wipe salt off with a damp cloth, and let the leather dry before anything goes on it."
        because "There was salt in the leather. Left there, it makes leather hard.";
    Salt if [Damaged(&[], &[C::Salt])]: "Have salt taken off soon, before it dries in."
        because "There was salt in it. Left there, it leaves lines that stay.";
    Age if [Damaged(&[P::Midsole, P::Outsole], &[C::Crumbling]), SoleNotDone(SoleWork::Renewed)]:
        "Look at the soles before a long walk."
        because "This kind of sole crumbles with age, worn or not.";
    // Wet leather soles dry on their sides: two shoe-care publications of 2016 and later; practice.
    Drying if [
        Damaged(
            &[P::Insole, P::Filler, P::Midsole, P::Outsole, P::HeelSeat, P::Lift],
            &[C::WetSoft, C::Rotten]
        ),
        Of(&[M::LeatherSole]),
        On(Class::FOOTWEAR)
    ]: "Dry wet soles with the shoes on their sides, for 24 to 48 hours, away from heat and sun."
        because "They had been damp inside for long, and had gone soft.";
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
        because "What lies above had suffered. A new top piece in time costs far less than a new heel.";
    Sole if [Damaged(&[P::SoleGuard], &[])]: "Have a guard renewed when its pattern is gone."
        because "Worn through, it no longer guards what lies above it.";
    Sole if [Damaged(&[P::Outsole], &[C::WornThrough]), On(Class::FOOTWEAR)]:
        "Come back while the sole is still whole."
        because "It was worn through. What lies above it then wears, and costs more.";
    Waist if [Damaged(&[P::Shank], &[]), On(Class::FOOTWEAR)]:
        "Come back at once if a shoe bends under the arch."
        because "The stiff strip under the arch was damaged. Without it the sole and the foot give way.";
    Seam if [
        Damaged(&[P::Welt, P::Rib, P::LastingMargin], &[C::Rotten, C::Torn, C::Cracked, C::Loose]),
        On(Class::FOOTWEAR)
    ]: "Brush dirt out of the seam, and come back as soon as it opens."
        because "What the sole is sewn to had suffered. Dirt and wet left in the seam rot it.";
    Trees if [Damaged(&[P::Puff], &[]), Kind(TREED)]: "Put shoe trees in, and put nothing on top of them."
        because "The stiffener at the toe was damaged. It goes soft when it is pressed.";
    Trees if [Damaged(&[P::Puff], &[]), On(Class::FOOTWEAR)]: "Put nothing on top of them."
        because "The stiffener at the toe was damaged. It goes soft when it is pressed.";
    Inside if [Damaged(&[], &[C::Odour])]: "Air well after use, and let dry right through, away from heat."
        because "There was a smell. It comes of damp that never quite dries.";
    Inside if [Damaged(&[P::Insole, P::Sock], &[C::Cracked, C::WornThrough, C::Loose]), On(Class::FOOTWEAR)]:
        "Let them dry open, and keep the insides clean."
        because "They were worn inside. Sweat and grit wear what the foot stands on.";
    Inside if [Damaged(&[P::Lining], &[]), On(&[Class::Bag])]: "Keep pens, keys and tools in a pocket or case."
        because "The lining was worn through from inside.";
    Fastening if [Damaged(&[P::Zip], &[]), On(Class::FOOTWEAR)]: "Open the zip all the way before you step in."
        because "The zip was damaged. Half open, its tape is torn from the seam.";
    Fastening if [Damaged(&[P::Elastic], &[]), On(Class::FOOTWEAR)]: "Pull them on by the loops, not by the elastic."
        because "The elastic was worn. Pulled on every day, it goes slack.";
    Fastening if [Damaged(&[P::Facing, P::Eyelet, P::Tongue], &[]), On(Class::FOOTWEAR)]:
        "Open the laces all the way before you step in."
        because "It was torn at the laces. Pulling on a laced shoe tears it again.";
    Fastening if [Damaged(&[P::Buckle, P::Strap], &[])]: "Close it without pulling at the seam."
        because "Strap or buckle was damaged. The seam there carries all the pull.";
    Keeping if [Damaged(&[], &[C::Mould])]: "Keep dry, with air round it, never in a closed bag or box."
        because "There was mould. Its spores stay, and grow again where it is damp and still.";
    Keeping if [Damaged(&[], &[C::Chewed])]: "Keep out of reach of the dog."
        because "It had been chewed. A dog comes back to what it has tasted.";
    Keeping if [Damaged(&[], &[C::Burnt])]: "Keep away from heaters, stoves and fires."
        because "It had been burnt. What is burnt stays hard, and cracks.";
    Finish if [Damaged(&[], &[C::Silicone])]: "Use no spray or sponge with silicone."
        because "There was silicone in the finish. Colour and cement do not hold on it.";
    Finish if [Damaged(&[], &[C::DyeBleed])]: "Keep from rain, and from light cloth."
        because "The colour had run. Wet or rubbed, it comes off again.";
    Finish if [Damaged(&[], &[C::Stained])]: "Dab spots dry at once, and do not rub."
        because "There were stains. Rubbed wet, they go deeper and wider.";
    Care if [Damaged(&[], &[C::Peeling])]: "Wipe with a soft, damp cloth, and do not pick at the coating."
        because "What peels is a coating. It cannot be conditioned, and picking lifts more of it.";
    Care if [
        Damaged(&[P::Upper, P::Vamp, P::Quarter], &[C::Cracked, C::Dry, C::FinishCracked]),
        Of(&[M::SmoothLeather]),
        NotOf(UNCONDITIONED)
    ]: "Brush, then condition the leather sparingly, a few times a year."
        because "The leather was dry. Dry leather cracks where the foot bends.";
    Care if [
        Damaged(&[P::Upper, P::Vamp, P::Quarter], &[C::Cracked, C::Dry, C::FinishCracked]),
        Of(&[M::Oiled]),
        NotOf(UNCONDITIONED)
    ]: "Brush, then oil or wax the leather sparingly, a few times a year."
        because "The leather was dry. Dry leather cracks where the foot bends.";

    // By what was done.
    ShoeHorn if [Done(&["counter_rebuild"]), NotKind(SLIPPED_ON)]: "Use a shoe horn every time."
        because "The stiffener round the heel is new and should keep its shape.";
    ShoeHorn if [Done(&["lining_patch", "heel_grip"]), On(Class::FOOTWEAR), NotKind(SLIPPED_ON)]:
        "Open any laces, and use a shoe horn."
        because "The lining at the heel is new. Rubbing on the way in wears it through.";
    Heel if [Done(&["raise_to_prescription"])]: "Come back as soon as the raise wears or opens."
        because "Worn, it no longer has the height that was prescribed.";
    Heel if [Done(&["heel_block_rebuild", "cement_lifts"])]: "Come back while the top pieces are still thick."
        because "The heel above them is new. Worn top pieces would let the ground reach it.";
    Heel if [Done(&["top_piece_replacement"])]: "Come back before the wear reaches the heel block."
        because "A top piece is made to be replaced. What lies above it is not.";
    // A guard is renewed at 0.8 to 1.0 mm.
    Sole if [Done(&["sole_guard"])]: "Have a guard renewed when its pattern is gone."
        because "Worn through, it no longer guards what lies above it.";
    // Half soles are usually rubber and need no guard.
    NewSole if [SoleDone(SoleWork::Renewed), Of(&[M::LeatherSole]), NotDone(&["sole_guard"])]:
        "Wear them two or three times in the dry, then have new leather soles protected."
        because "Thin rubber holds best on leather soles that were worn a little, and makes them last.";
    Seam if [SoleDone(SoleWork::Stitched)]:
        "Come back as soon as a stitch opens."
        because "One stitch is soon sewn. Left open, the seam runs on.";
    Seam if [SoleDone(SoleWork::Cemented)]:
        "Come back as soon as an edge opens."
        because "A small gap is soon closed. Left open, it lets in water and dirt.";
    Fastening if [Done(&["zip_replacement"]), On(Class::FOOTWEAR)]:
        "Open the zip all the way before you step in."
        because "Half open, its tape is torn from the seam.";
    Fastening if [Done(&["zip_replacement"])]: "Pull the zip along its line, without force."
        because "Pulled sideways, its teeth spread and its tape tears.";
    Fastening if [Done(&["elastic_replacement"])]: "Pull them on by the loops."
        because "Elastic that is pulled on every day goes slack.";
    Fit if [Done(&["stretch"])]: "Wear them an hour or two at a time at first."
        because "What was stretched settles to the foot while it is worn.";
    Water if [Done(&["water_repellent"])]: "Have the treatment renewed when water no longer rolls off."
        because "The treatment wears off. It keeps water away, but does not make anything waterproof.";
    Keeping if [Done(&["mould_treatment"])]: "Keep dry, with air round it, never in a closed bag or box."
        because "Mould grows again where it is damp and the air stands still.";
    Inside if [Done(&["odour_treatment"])]: "Air well after use, and let dry right through, away from heat."
        because "A smell comes back with damp that never quite dries.";
    Fit if [Done(&["new_belt"])]: "Begin with the middle hole."
        because "A new belt gives a little, and then the next hole is there.";
    Inside if [Done(&["bag_lining"])]: "Keep pens, keys and tools in a pocket or case."
        because "They stain a new lining, and go through it.";
    Sole if [Done(&["dance_sole"]), On(Class::FOOTWEAR)]: "Brush the suede soles with a wire brush, and keep them dry."
        because "Floor wax and damp close the nap, and it glides no more.";
    Finish if [Done(&["strip_and_dye", "colour_touch_up"]), Of(CONDITIONED), NotOf(UNCONDITIONED)]:
        "Try any cream on a hidden spot first."
        because "The colour is new, and some creams lift it.";
    Finish if [Done(&["strip_and_dye", "colour_touch_up"])]: "Keep from rain, and from light cloth, at first."
        because "The colour is new. Wet or rubbed, some of it comes off until it has settled.";
    Finish if [Done(&["sole_paint"]), On(Class::FOOTWEAR)]: "Expect the new colour to wear off where the sole treads."
        because "The ground takes off any colour that lies on it.";

    // By the kind of goods.
    Drying if [Kind(&[G::ClimbingShoe])]: "Air them open after every climb, away from heat and sun."
        because "Heat loosens rubber and cement. Shut in, sweat stays and smells.";
    Sole if [Kind(&[G::ClimbingShoe])]: "Come back before the toe is worn down to the rand."
        because "Resoled in time, rand and shape are saved.";
    Sole if [Kind(&[G::DanceShoe])]: "Wear them on the dance floor only."
        because "Grit and wet from the street soon ruin a thin sole.";
    Trees if [Kind(&[G::LongBoot])]: "Keep the legs upright with boot trees or rolled paper."
        because "A leg that folds over cracks in the fold.";
    Inside if [Kind(&[G::Orthopaedic])]: "Take inserts out to dry, and put each back in its own shoe."
        because "Left and right differ, and damp shut in under them rots the shoe.";
    Inside if [Kind(&[G::Trainer, G::WalkingBoot])]: "Take the insoles out to dry."
        because "Damp shut in under them smells, and loosens cement.";
    ShoeHorn if [Kind(LACED)]: "Open the laces wide before you step in."
        because "A heel that is trodden down does not come up again.";

    // By material.
    // Wet leather soles dry on their sides: two shoe-care publications of 2016 and later; practice.
    Drying if [Of(&[M::LeatherSole]), Kind(TREED)]:
        "Dry wet soles on their sides for 24 to 48 hours, off heat, with trees in once they are only damp."
        because "A leather sole dries from below too. One that dries fast goes hard and cracks.";
    Drying if [Of(&[M::LeatherSole]), On(Class::FOOTWEAR)]:
        "Dry wet soles with the shoes on their sides, for 24 to 48 hours, away from heat and sun."
        because "A leather sole dries from below too. One that dries fast goes hard and cracks.";
    Care if [Of(CONDITIONED), Of(UNCONDITIONED)]: "Keep cream, oil and wax on the plain leather, and off all the rest."
        because "On suede and cloth they leave marks, and into a coating they do not go.";
    Care if [Of(&[M::Suede])]: "Brush with a suede brush. No cream."
        because "Cream flattens the nap and leaves dark spots.";
    Care if [Of(&[M::Satin])]: "Dust with a soft, dry brush. No water, no cream."
        because "Water leaves rings on satin, and cream leaves stains.";
    Care if [Of(&[M::Coated])]: "Wipe with a damp cloth. No cream, no solvent."
        because "A coating takes no cream, and solvent lifts it.";
    Care if [Of(&[M::Patent])]: "Wipe with a soft, damp cloth, and keep from heat and frost."
        because "Patent has a film on it that no cream goes through and cold makes brittle.";
    Care if [Of(&[M::Textile])]: "Let dirt dry, brush it off, then wipe with a damp cloth. No cream."
        because "Cream leaves stains on cloth.";
    Care if [Of(&[M::Synthetic])]: "Wipe with a damp cloth. No cream, no solvent, no heat."
        because "Cream does not go in, and solvent and heat soften the surface.";
    Care if [Of(&[M::Cordovan])]: "Brush long and often, and use very little cream."
        because "Cordovan is full of fat. It is the brush that smooths its folds and makes it shine.";
    Care if [Of(&[M::Exotic])]: "Use a little of a cream made for this skin, worked in the way the skin lies."
        because "Thin skins dry out, scales lift, and common polish clogs them.";
    Care if [Of(&[M::Oiled])]: "Brush, then oil or wax it sparingly."
        because "Oiled leather lives on oil and wax. Shiny polish closes and cracks it.";
    // Breathing it in is the first hazard of such a spray: CDC MMWR, mm5517a5.
    Water if [Of(&[M::Suede])]: "Spray suede with a repellent made for it, outdoors, never in a room."
        because "It keeps rain off the nap. Breathed in, such a spray harms the lungs.";

    // Soles of polyester PU hydrolyse some 8 to 12 years after they were made, worn or not, and EVA does not: several
    // secondary texts; practice.
    Age if [Of(&[M::PuSole]), On(Class::FOOTWEAR)]: "Look at the soles before a long walk after a long rest."
        because "Many PU soles crumble 8 to 12 years after they were made, worn or not.";
    Age if [Of(&[M::FoamSole]), On(Class::FOOTWEAR)]: "Look at the soles before a long walk after a long rest."
        because "Foam soles may crumble with age, worn or not.";
    Sole if [Of(&[M::EvaSole]), On(Class::FOOTWEAR)]: "Keep the soles from heat, as in a parked car."
        because "EVA does not crumble with age, but it shrinks in heat.";
    Sole if [Of(&[M::TprSole]), On(Class::FOOTWEAR)]: "Keep the soles from heat and solvent."
        because "Heat and solvent soften this rubber.";
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
    Water if [Built(&[K::WoodenClog]), On(Class::FOOTWEAR)]: "Keep wooden soles from heat and standing water."
        because "Wood that dries fast cracks, and wet wood lets go of its nails.";
    Seam if [Built(&[K::WoodenClog]), On(Class::FOOTWEAR)]: "Come back as soon as a nail or staple stands out."
        because "One is soon put back. The upper tears at the next ones.";
    Seam if [Built(&[K::Nailed]), On(Class::FOOTWEAR)]: "Come back as soon as a point can be felt or the sole opens."
        because "Nails and pegs work loose as the sole wears, and a point may come through.";
    Seam if [Built(&[K::Cupsole]), On(Class::FOOTWEAR)]:
        "Come back as soon as the sole's edge or the seam along it opens."
        because "Seam and cement hold the sole together. Where one goes, the other follows.";
    Seam if [Built(&[K::Vulcanised]), On(Class::FOOTWEAR)]:
        "Come back as soon as the rubber strip at the edge lifts."
        because "It can be cemented only while what lies behind it is clean and sound.";
    Seam if [Built(&[K::Moulded, K::Injected]), On(Class::FOOTWEAR)]: "Come back as soon as an edge lifts."
        because "A moulded sole can only be cemented or patched, and only while it is clean and sound.";
    Seam if [Built(&[K::Moccasin]), On(Class::FOOTWEAR)]: "Come back as soon as the seam on top opens."
        because "It holds the plug and gives the shoe its shape.";
    Seam if [SoleBy(SoleHeldBy::Stitch), On(Class::FOOTWEAR)]: "Come back as soon as a stitch opens."
        because "One stitch is soon sewn. Left open, the seam runs on.";
    Seam if [SoleBy(SoleHeldBy::Cement), On(Class::FOOTWEAR)]: "Come back as soon as an edge opens."
        because "A small gap is soon closed. Left open, it lets in water and dirt.";

    // What is true of every pair, belt and bag, and of smooth leather, of which most are.
    Trees if [Kind(TREED)]: "Put shoe trees in after wear."
        because "They keep the shape while the shoes dry.";
    Rest if [On(Class::FOOTWEAR), NotKind(SLIPPED_ON), NotKind(&[G::Orthopaedic])]:
        "Let them rest 24 to 48 hours between wears."
        because "They need that long to give back the damp of the foot.";
    Drying if [On(Class::FOOTWEAR)]:
        "When wet, dry them for 24 to 48 hours, stuffed with paper, away from heat and sun."
        because "Dried fast, leather goes hard and cracks, and cement lets go.";
    Keeping if [On(&[Class::Belt])]: "Hang it by the buckle."
        because "Bent in one place for long, a belt cracks there.";
    Keeping if [On(&[Class::Bag])]: "Keep it stuffed, standing and dry."
        because "Folded for long, a bag cracks in the fold.";
    Keeping if [On(&[Class::Other])]: "Keep it dry, away from heat and sun."
        because "Damp and heat harm leather, cloth and cement alike.";
    Care if [Of(&[M::SmoothLeather])]:
        "Brush, then condition the leather sparingly once it is dry to the touch."
        because "Dirt rubbed in scratches, and too much cream closes the leather.";
    ShoeHorn if [Kind(HORNED)]: "Use a shoe horn."
        because "It keeps the stiffener round the heel upright.";
    Finish if [Of(CONDITIONED), NotOf(UNCONDITIONED)]: "Try any cream on a hidden spot first."
        because "Some creams change the colour.";
}
