//! The texts of the trade's tables that differ between British and American usage.

macro_rules! usage {
    ($($british:literal => $american:literal;)+) => {
        /// Each British text with its American one, sorted by the British texts for a search in halves.
        pub(super) const AMERICAN: &[(&str, &str)] = &[$(($british, $american)),+];
    };
}

usage! {
    "A firm insole under the sock lining." => "A firm insole under the sock liner.";
    "A leg that folds over cracks in the fold." => "A shaft that folds over cracks in the fold.";
    "A lift for a leg-length difference, or any change to orthopaedic footwear, is made only to a prescription. \
     Heights stay as prescribed: left and right are never levelled. Ask the prescriber before you change \
     anything. Local rules and the product's own safety sheet come first."
        => "A lift for a leg-length difference, or any change to orthopedic footwear, is made only to a \
            prescription. Heights stay as prescribed: left and right are never leveled. Ask the prescriber before \
            you change anything. Local rules and the product's own safety sheet come first.";
    "A moulded sole can only be cemented or patched, and only while it is clean and sound."
        => "A molded sole can only be cemented or patched, and only while it is clean and sound.";
    "A new cover round the {side} heel." => "A new cover around the {side} heel.";
    "A new moulded sole, heel and all, on the {side} shoe."
        => "A new molded sole, heel and all, on the {side} shoe.";
    "A new sock lining in the {side} shoe." => "A new sock liner in the {side} shoe.";
    "A new sole on the {side} trainer." => "A new sole on the {side} sneaker.";
    "A new welt all round the {side} shoe." => "A new welt all around the {side} shoe.";
    "A separate strip of rubber round the edge, or a seam that is only moulded in."
        => "A separate strip of rubber around the edge, or a seam that is only molded in.";
    "A sole formed on, with a mould line" => "A sole formed on, with a mold line";
    "A strip of rubber runs round the edge, joined to a rubber sole without a seam."
        => "A strip of rubber runs around the edge, joined to a rubber sole without a seam.";
    "A top piece is made to be replaced. What lies above it is not."
        => "A heel cap is made to be replaced. What lies above it is not.";
    "A wall of the sole that stands up round the upper" => "A wall of the sole that stands up around the upper";
    "A welt whose seam to the upper is wide and slanting, close at the waist; no stitches inside."
        => "A welt whose seam to the upper is wide and slanting, close at the shank area; no stitches inside.";
    "A welt with an even seam, all round or ending at the heel, and no stitches inside."
        => "A welt with an even seam, all around or ending at the heel, and no stitches inside.";
    "Boot legs narrower" => "Boot shafts narrower";
    "Boot legs wider" => "Boot shafts wider";
    "Both heels refixed." => "Both heels reattached.";
    "Both soles stuck firmly again where they were open." => "Both soles reglued where they were open.";
    "Burnt" => "Burned";
    "Cement, acetone, turpentine and dye thinner give off vapour that burns and harms. Ventilate; no flame, no \
     spark, no smoking. Wear gloves: some cements and hardeners make skin and lungs allergic. Keep lids on. Rags \
     go wet into a closed metal waste tin. Try dye and acetone on a hidden spot. Solvent softens and dissolves \
     crepe. Vulcanised rubber only swells at its surface: it is roughened and primed. Local rules and the \
     product's own safety sheet come first."
        => "Cement, acetone, turpentine and dye thinner give off vapor that burns and harms. Ventilate; no flame, \
            no spark, no smoking. Wear gloves: some cements and hardeners make skin and lungs allergic. Keep lids \
            on. Rags go wet into a closed metal waste can. Try dye and acetone on a hidden spot. Solvent softens \
            and dissolves crepe. Vulcanized rubber only swells at its surface: it is roughened and primed. Local \
            rules and the product's own safety sheet come first.";
    "Cement, stiffeners and dye need a day to reach their full strength."
        => "Cement, counters, box toes and dye need a day to reach their full strength.";
    "Colour touched up" => "Color touched up";
    "Come back while the top pieces are still thick." => "Come back while the heel caps are still thick.";
    "Court shoe" => "Pump";
    "Elastic gusset" => "Elastic gore";
    "Elastic gussets" => "Elastic gores";
    "Expect the new colour to wear off where the sole treads."
        => "Expect the new color to wear off where the sole treads.";
    "Fibre board" => "Fiberboard";
    "Flammable liquid and vapour" => "Flammable liquid and vapor";
    "Gussets" => "Gores";
    "Heated stiffener cooling" => "Heated counter or box toe cooling";
    "Heels" => "Heel caps";
    "Heels (top pieces)" => "Heel caps (top lifts)";
    "Heights as prescribed, not levelled" => "Heights as prescribed, not leveled";
    "Highly flammable liquid and vapour" => "Highly flammable liquid and vapor";
    "Inside, under the sock lining: is there a row of stitches?"
        => "Inside, under the sock liner: is there a row of stitches?";
    "Inside, under the sock lining: what is under the foot?"
        => "Inside, under the sock liner: what is under the foot?";
    "It burns, and colours and irritates skin and eyes." => "It burns, and colors and irritates skin and eyes.";
    "It had been burnt. What is burnt stays hard, and cracks."
        => "It had been burned. What is burned stays hard, and cracks.";
    "It keeps the stiffener round the heel upright." => "It keeps the counter around the heel upright.";
    "It was measured for the body. It is never levelled with the other shoe."
        => "It was measured for the body. It is never leveled with the other shoe.";
    "It wraps round, with a plug sewn in on top" => "It wraps around, with a plug sewn in on top";
    "Its vapour burns, makes dizzy and harms with the years. Limit for n-hexane in the air: 20 ppm (72 mg/m³) \
     over eight hours. Cement sold to the public must hold less than 0.1 % of toluene; cement for the trade may \
     hold more."
        => "Its vapor burns, makes dizzy and harms with the years. Limit for n-hexane in the air: 20 ppm (72 \
            mg/m³) over eight hours. Cement sold to the public must hold less than 0.1 % of toluene; cement for \
            the trade may hold more.";
    "Keep dry, with air round it, never in a closed bag or box."
        => "Keep dry, with air around it, never in a closed bag or box.";
    "Keep the legs upright with boot trees or rolled paper."
        => "Keep the shafts upright with boot trees or rolled paper.";
    "Laces, inserts and sock linings back" => "Laces, inserts and sock liners back";
    "Long boot" => "Tall boot";
    "Long soles and heels, Blake" => "Full soles and heels, Blake";
    "Long soles and heels, cemented" => "Full soles and heels, cemented";
    "Long soles and heels, hand-welted" => "Full soles and heels, hand-welted";
    "Long soles and heels, machine-welted" => "Full soles and heels, machine-welted";
    "Long soles, Blake" => "Full soles, Blake";
    "Long soles, cemented" => "Full soles, cemented";
    "Long soles, hand-welted" => "Full soles, hand-welted";
    "Long soles, machine-welted" => "Full soles, machine-welted";
    "Long soles, moulded unit" => "Full soles, molded unit";
    "Long soles, wedge" => "Full soles, wedge";
    "Mould" => "Mold";
    "Mould gives off spores that harm lungs and eyes: brush it off outside, with mask, glasses and gloves, away \
     from other work. Sprays against mould and smells, and ozone, irritate too: air the pair well before anyone \
     bends over it. Local rules and the product's own safety sheet come first."
        => "Mold gives off spores that harm lungs and eyes: brush it off outside, with mask, glasses and gloves, \
            away from other work. Sprays against mold and smells, and ozone, irritate too: air the pair well \
            before anyone bends over it. Local rules and the product's own safety sheet come first.";
    "Mould grows again where it is damp and the air stands still."
        => "Mold grows again where it is damp and the air stands still.";
    "Mould taken off the {side} shoe, inside and out, and treated."
        => "Mold taken off the {side} shoe, inside and out, and treated.";
    "Mould taken off, inside and out, and treated." => "Mold taken off, inside and out, and treated.";
    "Mould treatment" => "Mold treatment";
    "Mould, and what is used against mould and smells" => "Mold, and what is used against mold and smells";
    "Mould: outside, mask and gloves." => "Mold: outside, mask and gloves.";
    "Moulded or vulcanised" => "Molded or vulcanized";
    "Narrow leg" => "Narrow shaft";
    "New covers round both heels." => "New covers around both heels.";
    "New moulded soles, heels and all, on both shoes." => "New molded soles, heels and all, on both shoes.";
    "New sock linings in both shoes." => "New sock liners in both shoes.";
    "New soles on both trainers." => "New soles on both sneakers.";
    "New welts all round both shoes." => "New welts all around both shoes.";
    "No joint, and a mould line on the wall" => "No joint, and a mold line on the wall";
    "No point may come through, neither into the shoe nor out of the top piece. Choose the length by direction: \
     it ends inside the heel. The final check is by hand, inside, left and right. Local rules and the product's \
     own safety sheet come first."
        => "No point may come through, neither into the shoe nor out of the heel cap. Choose the length by \
            direction: it ends inside the heel. The final check is by hand, inside, left and right. Local rules \
            and the product's own safety sheet come first.";
    "No point through the top pieces" => "No point through the heel caps";
    "Odour" => "Odor";
    "Odour treatment" => "Odor treatment";
    "Only to a prescription, and never levelled; ask before anything is changed."
        => "Only to a prescription, and never leveled; ask before anything is changed.";
    "Open the zip all the way before you step in." => "Open the zipper all the way before you step in.";
    "Orthopaedic shoe" => "Orthopedic shoe";
    "Pasted stiffener drying" => "Pasted counter or box toe drying";
    "Press stud" => "Snap";
    "Press stud of the {side} shoe renewed." => "Snap of the {side} shoe renewed.";
    "Press stud renewed." => "Snap renewed.";
    "Pull the zip along its line, without force." => "Pull the zipper along its line, without force.";
    "Re-stick" => "Reglue";
    "Re-stick the sole" => "Reglue the sole";
    "Refix the heel" => "Reattach the heel";
    "Shank" => "Shank piece";
    "Slider of the zip of the {side} shoe renewed." => "Slider of the zipper of the {side} shoe renewed.";
    "Slider of the zip renewed." => "Slider of the zipper renewed.";
    "Sock lining" => "Sock liner";
    "Sock linings" => "Sock liners";
    "Sole and edge are one piece without a joint to the upper, with a mould line."
        => "Sole and edge are one piece without a joint to the upper, with a mold line.";
    "Sole mulling" => "Sole tempering";
    "Solvent on vulcanised rubber" => "Solvent on vulcanized rubber";
    "Solvent stiffener hardening" => "Solvent counter or box toe hardening";
    "Some creams change the colour." => "Some creams change the color.";
    "Stiffener" => "Counter";
    "Stiffener rebuild" => "Counter rebuild";
    "Stiffener round the heel" => "Counter around the heel";
    "Strip round the sole" => "Strip around the sole";
    "The colour had run. Wet or rubbed, it comes off again."
        => "The color had run. Wet or rubbed, it comes off again.";
    "The colour is new, and some creams lift it." => "The color is new, and some creams lift it.";
    "The colour is new. Wet or rubbed, some of it comes off until it has settled."
        => "The color is new. Wet or rubbed, some of it comes off until it has settled.";
    "The ground takes off any colour that lies on it." => "The ground takes off any color that lies on it.";
    "The heel above them is new. Worn top pieces would let the ground reach it."
        => "The heel above them is new. Worn heel caps would let the ground reach it.";
    "The leg of the {side} boot made narrower." => "The shaft of the {side} boot made narrower.";
    "The leg of the {side} boot made wider." => "The shaft of the {side} boot made wider.";
    "The legs of both boots made narrower." => "The shafts of both boots made narrower.";
    "The legs of both boots made wider." => "The shafts of both boots made wider.";
    "The loose {side} heel refixed." => "The loose {side} heel reattached.";
    "The sole is a cup round the upper, glued on and mostly stitched through its side wall."
        => "The sole is a cup around the upper, glued on and mostly stitched through its side wall.";
    "The sole stands up round the upper like a cup, mostly with a seam along its wall."
        => "The sole stands up around the upper like a cup, mostly with a seam along its wall.";
    "The sole was injected on to the upper in a mould." => "The sole was injected onto the upper in a mold.";
    "The stiffener at the toe was damaged. It goes soft when it is pressed."
        => "The box of the toe was damaged. It goes soft when it is pressed.";
    "The stiffener at the {side} toe made firm again." => "The box toe of the {side} shoe made firm again.";
    "The stiffener round the heel is new and should keep its shape."
        => "The counter around the heel is new and should keep its shape.";
    "The stiffener round the heel was damaged. A foot pushed in without a horn crushes it."
        => "The counter around the heel was damaged. A foot pushed in without a horn crushes it.";
    "The stiffener round the {side} heel made firm again." => "The counter around the {side} heel made firm again.";
    "The stiffeners at both toes made firm again." => "The box toes of both shoes made firm again.";
    "The stiffeners round both heels made firm again." => "The counters around both heels made firm again.";
    "The strip round the edge of the {side} sole mended." => "The strip around the edge of the {side} sole mended.";
    "The strips round the edges of both soles mended." => "The strips around the edges of both soles mended.";
    "The wall round the upper: how is it made?" => "The wall around the upper: how is it made?";
    "The wood is only a cover round a sole of cork or plastic."
        => "The wood is only a cover around a sole of cork or plastic.";
    "The zip was damaged. Half open, its tape is torn from the seam."
        => "The zipper was damaged. Half open, its tape is torn from the seam.";
    "The {side} sole stuck firmly again where it was open." => "The {side} sole reglued where it was open.";
    "There was mould. Its spores stay, and grow again where it is damp and still."
        => "There was mold. Its spores stay, and grow again where it is damp and still.";
    "There was silicone in the finish. Colour and cement do not hold on it."
        => "There was silicone in the finish. Color and cement do not hold on it.";
    "They were measured for the body. Left and right are never levelled."
        => "They were measured for the body. Left and right are never leveled.";
    "Toe puff" => "Box toe";
    "Toe puff rebuild" => "Box toe rebuild";
    "Toe stiffener" => "Box of the toe";
    "Top piece" => "Heel cap";
    "Trainer" => "Sneaker";
    "Trainer sole" => "Sneaker sole";
    "Trainer soles" => "Sneaker soles";
    "Under the sock lining, a cloth sole is sewn to the edge of the upper."
        => "Under the sock liner, a cloth sole is sewn to the edge of the upper.";
    "Vulcanised" => "Vulcanized";
    "Waist" => "Shank area";
    "Walking boot" => "Hiking boot";
    "What lies above had suffered. A new top piece in time costs far less than a new heel."
        => "What lies above had suffered. A new heel cap in time costs far less than a new heel.";
    "Whether the tube goes all the way or only to the waist."
        => "Whether the tube goes all the way or only to the shank area.";
    "Widen leg" => "Widen shaft";
    "Worn colour made good." => "Worn color made good.";
    "Worn colour of the {side} shoe made good." => "Worn color of the {side} shoe made good.";
    "Zip" => "Zipper";
    "Zip of the {side} shoe renewed." => "Zipper of the {side} shoe renewed.";
    "Zip renewed." => "Zipper renewed.";
    "Zip runs, buckle closes" => "Zipper runs, buckle closes";
    "Zip slider" => "Zipper slider";
}
