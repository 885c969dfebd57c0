"""The one table of sentences. A phrase's code finds its template, its values fill the braces."""

from __future__ import annotations

ENGLISH: dict[str, str] = {
    "quote": "{text}",
    "notice": (
        "Advice, not permission: local code as adopted, the door's own listing and licensed practice decide. {adoption}"
    ),
    # measures
    "measure.about": "about {text}",
    "measure.level": "level",
    # summary
    "summary.go": "{setting} {leaf}",
    "summary.go_with_trim": "{setting} {leaf}",
    "summary.go.beside": "{setting} {leaf} Still to ask, apart from the door: {first}",
    "summary.go_with_trim.beside": "{setting} {leaf} Still to ask, apart from the door: {first}",
    "summary.hold.leaf.setting": "Hold the frame and the leaf. {first} As things stand: {setting} {leaf}",
    "summary.hold.leaf": "Hold the leaf. {first} As things stand: {setting} {leaf}",
    "summary.hold.setting": "Hold the frame. {first} As things stand: {setting} {leaf}",
    "summary.hold.beside": "{setting} {leaf} Still to decide, apart from the door: {first}",
    "summary.conflict.leaf.setting": "Don't set or cut anything yet. {first} Closest possible: {setting} {leaf}",
    "summary.conflict.leaf": "Don't cut anything yet. {first} Closest possible: {setting} {leaf}",
    "summary.conflict.setting": "Don't set anything yet. {first} Closest possible: {setting} {leaf}",
    "summary.conflict.beside": "{setting} {leaf} Still to decide, apart from the door: {first}",
    "waits.first": "First of {count}: {first}",
    "set.stand": "Stand both legs on the subfloor.",
    "set.stand.as_set": "The frame is set with its legs on the subfloor.",
    "set.block": "Stand both legs on {height} blocks.",
    "set.block.as_set": "The frame is set with its legs {height} above the subfloor.",
    "set.cut": "Cut {height} off both legs: the unit stands too high for these floors.",
    "set.cut.head_line": "Cut {height} off both legs to keep the head on the head line.",
    "set.cut.as_set": "The frame is set too high: its legs would have to be {height} shorter.",
    "set.cut.low_header": "Cut {height} off both legs; the header is too low for them.",
    "set.ordered": "Order the unit with {undercut} undercut. {setting}",
    "set.ordered.low_header": (
        "Have the header raised and order the unit with {undercut} undercut. The present header allows {present} at "
        "most; with that: {setting}"
    ),
    "set.ordered.lost": (
        "Don't order yet: the present header allows {present} undercut at most, and with {undercut} another rule would "
        "be missed. With that header: {setting}"
    ),
    "set.taken": "Assumed until it is measured: {setting}",
    "set.listed": "Only if the listing of the labelled frame allows it: {setting}",
    "set.uneven": "Out of level: {one}, {other}.",
    "set.uneven.as_set": "The subfloor is out of level; as set, {one}, {other}.",
    "set.uneven.low_header": "Out of level, and the header is too low: {one}, {other}.",
    "leg.stand": "stand the {leg} on the subfloor",
    "leg.stand.as_set": "the {leg} stands on the subfloor",
    "leg.block": "block the {leg} up {height}",
    "leg.block.as_set": "the {leg} stands {height} above the subfloor under it",
    "leg.cut": "cut {height} off the {leg}",
    "leg.cut.as_set": "the {leg} would have to be {height} shorter",
    "leg.hinge": "hinge leg",
    "leg.strike": "strike leg",
    "leg.first_hinge": "first hinge leg",
    "leg.second_hinge": "second hinge leg",
    "leaves.one": "the leaf",
    "leaves.each": "each leaf",
    "cut.none": "Leave {leaves} uncut; its bottom ends {bottom} above {subfloor}.",
    "cut.before_hanging": (
        "Cut {trim} off {leaves} on the bench, before hanging; the bottom ends {bottom} above {subfloor}."
    ),
    "cut.before_floor": (
        "Cut {trim} off {leaves}, already hung, before the floors are laid; the bottom ends {bottom} above {subfloor}."
    ),
    "cut.after_floor": "Leave {leaves} long for now; make any cut once the floors are down.",
    "cut.now_and_later": (
        "Cut {trim} off {leaves} on the bench: every possible floor needs that. Cut the rest once the floors are down."
    ),
    "cut.listed": "If its listing allows it, cut {trim} off {leaves}; the bottom ends {bottom} above {subfloor}.",
    "cut.below": "The leaf would end {below} below the subfloor: it can't hang here under this header.",
    "cut.unknown": (
        "The leaf's bottom should end {bottom} above {subfloor}; measure the undercut to know how much to cut."
    ),
    # order, leaf
    "order.undecided": "A floor is undecided: order when both are known.",
    "order.wanted": "A unit with {undercut} undercut, legs on the subfloor, leaves {leaves} uncut over either floor.",
    "order.lined": "A unit with {undercut} undercut keeps the head line.",
    "order.weighed": "A unit with {undercut} undercut takes the least work over all possible floors.",
    "order.short": (
        "A unit with {undercut} undercut leaves {leaves} uncut over these floors, and needs a rough opening of {hole}."
    ),
    "order.tight": (
        "A unit with {undercut} undercut leaves {leaves} uncut over these floors and goes in under the present header, "
        "with {room} to shim; a rough opening of {hole} would give the room that is wanted."
    ),
    "order.tight.weighed": (
        "A unit with {undercut} undercut takes the least work over all possible floors and goes in under the present "
        "header, with {room} to shim; a rough opening of {hole} would give the room that is wanted."
    ),
    "order.lower": (
        "A unit with {undercut} undercut leaves {leaves} uncut over these floors, and needs a rough opening of {hole}; "
        "the present header allows {present} at most. Get the framer's answer before you order."
    ),
    "order.short.weighed": (
        "A unit with {undercut} undercut takes the least work over all possible floors, and needs a rough opening of "
        "{hole}."
    ),
    "order.lower.weighed": (
        "A unit with {undercut} undercut takes the least work over all possible floors, and needs a rough opening of "
        "{hole}; the present header allows {present} at most. Get the framer's answer before you order."
    ),
    "order.lost": (
        "A unit with {undercut} undercut, legs on the subfloor, would leave {leaves} uncut but still miss rules: see "
        "the conflicts before you order."
    ),
    "order.on_line": (
        "Rules are missed for the sake of the head line, not for this unit's {present} undercut: see the conflicts. "
        "One with {undercut}, by itself on the subfloor, would leave {leaves} uncut."
    ),
    "order.lacks": (
        "This unit's {present} undercut misses rules; see the conflicts. One with {undercut}, legs on the subfloor, "
        "would leave {leaves} uncut."
    ),
    "order.sawn": (
        "This unit has {present} undercut; one with {undercut}, legs on the subfloor, would leave {leaves} uncut."
    ),
    "order.shortened": "This unit has {present} undercut; one with {undercut} would leave its legs and {leaves} uncut.",
    "order.blocked": "This unit's {present} undercut will do; one with {undercut} could stand on the subfloor, uncut.",
    "order.open": (
        "This unit's {present} undercut will do but leaves a wider gap than wanted; one with {undercut} would leave "
        "less."
    ),
    "order.will_do": "This unit's {present} undercut will do; don't order another.",
    "leaf.uncut": "With the legs at this height, the undercut puts the bottom {bottom} above {subfloor}.",
    "leaf.before_hanging.bench": (
        "Cut {trim} on the bench before hanging: both floors are known and the unit isn't set yet."
    ),
    "leaf.before_floor.in_place": (
        "Cut {trim} with {leaves} hung and held open; the blocks mark the line for the guide rail."
    ),
    "leaf.before_floor.off_hinges": (
        "Mark {trim} from the blocks, then take {leaves} off its hinges to cut it: there is no room for a saw below."
    ),
    "leaf.after_floor.in_place": (
        "A floor isn't certain: leave {leaves} long. Once both are laid, and if the cut is still {trim}, make it with "
        "{leaves} hung and held open."
    ),
    "leaf.after_floor.off_hinges": (
        "A floor isn't certain: leave {leaves} long. Once both are laid, and if the cut is still {trim}, mark it from "
        "the blocks and take {leaves} off its hinges: there is no room for a saw below."
    ),
    "leaf.now": "Cut {trim} on the bench before hanging: every possible floor needs that and no more.",
    "leaf.now_at_least": "Cut {trim} on the bench before hanging: every possible floor needs that, and some need more.",
    "leaf.now_and_later": (
        "Cut {trim} on the bench before hanging: every possible floor needs that. Cut the rest once the floors are "
        "down."
    ),
    "leaf.listed": (
        "Cut {trim} only if the listing of this labelled leaf allows it; don't trim it on this advice alone."
    ),
    "leaf.after_floor": "A floor is undecided: leave {leaves} long and cut it once the floor is down.",
    "leaf.left_whole": (
        "Or leave {leaves} whole with the legs {stands}: the bottom ends {bottom} above {subfloor}, and all you give "
        "up is {wishes}."
    ),
    "leaf.unknown": "Measure the undercut first: what has to come off depends on it.",
    # floors that may change
    "outlook.foot": "Legs {stands}: {cost} {cut}",
    "outlook.set": "The unit is set, its legs {stands}: {cost} {cut}",
    "outlook.ordered": "Order {undercut} undercut: {cost} {cut}",
    "outlook.let_in": "Under the present header, {undercut} undercut: {cost} {cut}",
    "outlook.work": "{work} of expected work, the least of all settings.",
    "outlook.work.shared": (
        "{work} of expected work, because of what the house shares; alone this opening would take {least}."
    ),
    "outlook.counted": "{work} of expected work, {minutes} counting each wish given up, the least of all settings.",
    "outlook.counted.shared": (
        "{work} of expected work, {minutes} counting each wish given up, because of what the house shares; alone this "
        "opening would take {least}."
    ),
    "outlook.trim_now": "Cut {trim} off {leaves} now: every possible floor needs that.",
    "outlook.long": "Leave {leaves} uncut until the floors are certain.",
    "part.stands.on": "on the subfloor",
    "part.stands.above": "{height} above the highest subfloor under them",
    "part.stands.cut": "cut {height} shorter in all",
    "listed_only": "Only if the listing of a labelled leaf allows it: {text}",
    "part.floor_at": "{floor} ({marks})",
    "part.floor_thick": "{title}, {height} in all",
    "part.floor_floating": "{floor}, floating",
    "part.floor_glued": "{floor}, glued down",
    "part.floor_heated": "{floor}, heated",
    "part.floor_top": "{floor}, its top layer {height}",
    "part.floor_on": "{floor}, on {height} of topping or panel",
    "part.floor_between": "{floor}, {least} to {greatest}",
    "part.quoted": "“{text}”",
    "part.missed_by": "“{text}”, by {amount}",
    "part.pull": "pull",
    "part.push": "push",
    "part.at_side": "{mark}, {side} side",
    "part.exact": "no grid",
    "part.floors_and": "{first}; {then}",
    "tip.above": "If “{floor}” {place} is more than {weight} likely, {then}",
    "tip.below": "If “{floor}” {place} is less than {weight} likely, {then}",
    "tip.legs": "legs {stands} are best.",
    "tip.undercut": "{undercut} undercut is best.",
    "outcome.and": "{first} {then}",
    "outcome.nothing": "Nothing more to do.",
    "outcome.again": "Take the unit out and set it again with its legs {stands}.",
    "outcome.exchange": "Exchange the unit for one with {height} undercut.",
    "outcome.trim.bench": "Cut {trim} off {leaves} while the unit is out.",
    "outcome.trim.in_place": "Cut {trim} off {leaves}, hung in place.",
    "outcome.trim.off_hinges": "Take {leaves} off the hinges and cut off {trim}.",
    "outcome.filled": "The legs end {shows} too high for the floor to hide them: scribe fillers under them.",
    "outcome.covered": "The legs end {shows} too high for the floor to hide them: return the piece around them.",
    "outcome.shows": "The legs end {shows} too high for the floor to hide them, even at best.",
    "outcome.lower": (
        "The legs would end {shows} too high for the floor to hide them: set them lower if this floor is known by "
        "then; if not, scribe fillers under them (not counted here)."
    ),
    "outcome.wishes": "Given up: {rules}.",
    "outcome.missed": "Not met by any setting: {rules}.",
    "outcome.ramp_needed": "The change in level is then {drop} and needs a ramp at least {run} long: ask first.",
    "outcome.ramp_built": "The two finishes are then {step} apart, more than ready-made pieces take: ask first.",
    "outcome.little_air": "Too little air passes the closed door: {rules}.",
    # flooring, transition
    "flooring.undecided": "The floor on the {side} side is undecided; nothing to undercut yet.",
    "flooring.carpet": "The carpet tucks into the {room} under the legs and casing; cut nothing.",
    "flooring.carpet_low": (
        "The legs end {room} above the subfloor: tuck the carpet under as far as it goes, or trim it and tuck it "
        "against them."
    ),
    "flooring.carpet_low.bed": (
        "The legs end {room} above what carpet and cushion lie on: tuck the carpet under as far as it goes, or trim it "
        "and tuck it against them."
    ),
    "flooring.carpet_apart": (
        "One leg ends {room} above the subfloor below it, the other {most}: tuck the carpet under as far as it goes, "
        "or trim it and tuck it against them."
    ),
    "flooring.carpet_apart.bed": (
        "One leg ends {room} above what carpet and cushion lie on, the other {most}: tuck the carpet under as far as "
        "it goes, or trim it and tuck it against them."
    ),
    "flooring.carpet_level": (
        "The legs end level with what carpet and cushion lie on; trim the carpet and tuck it against them."
    ),
    "flooring.carpet_in": (
        "Carpet and cushion lie on layers {bed} thick, and the legs end {below} below their top: lay those layers "
        "around the legs, or undercut legs and casing for them first. Trim the carpet and tuck it against the legs."
    ),
    "flooring.carpet_down": "The legs stand on the subfloor; trim the carpet and tuck it against them.",
    "flooring.undercut": "Undercut legs and casing {cut} above the subfloor: the floor plus a little for the saw.",
    "flooring.undercut_one.shows": (
        "One leg ends {shows} above the finish and daylight shows: fit a scribed filler or lower the frame. Undercut "
        "the other and its casing {cut} above the subfloor: the floor plus a little for the saw."
    ),
    "flooring.shows": (
        "The legs end {shows} above the finish and daylight shows: fit a scribed filler or lower the frame."
    ),
    "flooring.undercut_one.filled": (
        "One leg ends {shows} above the finish, which a filler hides. Undercut the other and its casing {cut} above "
        "the subfloor: the floor plus a little for the saw."
    ),
    "flooring.undercut_one.covered": (
        "One leg ends {shows} above the finish, which the piece hides. Undercut the other and its casing {cut} above "
        "the subfloor: the floor plus a little for the saw."
    ),
    "flooring.labelled": "Cut the legs of this labelled frame only if its listing allows that. {text}",
    "flooring.raised": (
        "For {marks} this floor is to be laid {layer} higher, which isn't counted here: ask again with the higher "
        "floor before anything is cut. {text}"
    ),
    "flooring.filled": "The legs end {shows} above the finish, which fillers hide; cut nothing.",
    "flooring.covered": "The legs end {shows} above the finish, which the piece hides; cut nothing.",
    "flooring.bare": "The slab or deck itself is the floor here; there is nothing to lay or cut.",
    "flooring.clear": "The floor passes under the legs; cut nothing.",
    "transition.floating": (
        "{piece}. The floor floats: check its instructions on whether it needs a break in this doorway. A moulding "
        "over a break sticks up under the leaf."
    ),
    "transition.plain": "{piece} over a step of {step}.",
    "transition.bevel": "{piece}: bevel the whole {drop} change in level over a length of at least {run}.",
    "transition.bevel.upper": (
        "{piece}: of the {drop} change in level {upright} may stand upright; bevel the upper {rise} over a length of "
        "at least {run}."
    ),
    "transition.bevel.open": (
        "{piece}: of the {drop} change in level bevel the upper {rise}; no rule here says how steep."
    ),
    "transition.ramp": "{piece}: a change of {drop} needs a ramp at least {run} long.",
    "transition.spared": (
        "{made} It takes the place of the usual piece here ({usual}): with room for the leaf to close over that one, "
        "its gap would be wider than allowed by {rules}."
    ),
    # air
    "way.grille": "Add a transfer grille of {free} free area in the wall (about {face} of face in metal louvres).",
    "way.prescribed": (
        "Use the prescribed way: a grille of {area} (free area, to be safe), plus {clear} clear under the leaf."
    ),
    "way.jump_duct": "Or run a jump duct {size} in diameter, up to {length} long, with square grilles of {grille}.",
    "wall.fire": (
        "{text} Make no opening in the labelled leaf. Where the wall is rated for fire, the opening in it needs a fire "
        "damper: ask the authority having jurisdiction first."
    ),
    "wall.smoke": (
        "{text} Make no opening in the leaf of a smoke door. Where the wall has to hold back smoke, the opening in it "
        "needs a smoke damper: ask the authority having jurisdiction first."
    ),
    "way.ducted_return": "Or bring a ducted return to the room.",
    "way.ducted_supply": "Or supply the room with the air its fan exhausts.",
    "way.raise_header": "Raise the header, or use a shorter door.",
    "way.cut_leaf": (
        "Leave the header as it is, order {undercut} undercut, and cut {trim} off {leaves} on the bench, before "
        "hanging; the bottom ends {bottom} above {subfloor}."
    ),
    "way.leave_line": "Take this opening off its head line; it is then set as it would be alone.",
    "way.set_again": "Take the unit out and set it again; recheck it as it stands to find out where.",
    "way.other_unit": "Exchange the unit for one with {undercut} undercut.",
    # conflicts
    "conflict.against": "“{rule}” is missed by {amount}; it conflicts with: {against}.",
    "conflict.pressure": (
        "“{rule}” is missed by {amount}. The gap alone would have to be {gap}; carry the rest another way."
    ),
    "conflict.pressure_capped": (
        "“{rule}” is missed by {amount}. The gap alone would have to be {gap}; it conflicts with: {against}."
    ),
    "conflict.pressure.beyond": (
        "“{rule}” isn't met: the gap under the closed leaf is too small. The gap alone would have to be {gap}; carry "
        "the rest another way."
    ),
    "conflict.pressure_capped.beyond": (
        "“{rule}” isn't met: the gap under the closed leaf is too small. The gap alone would have to be {gap}; it "
        "conflicts with: {against}."
    ),
    "conflict.alone": "“{rule}” is missed by {amount}.",
    "conflict.prohibited": "“{rule}”: what this opening is asked to do isn't allowed.",
    "conflict.unmet": "“{rule}” isn't met by this opening.",
    # events
    "event.unit-delivered": "{place}: unit delivered",
    "event.opening-framed": "{place}: opening framed",
    "event.floor-laid": "{place}: floor laid",
    # questions
    "place.pull_side": "on the pull side",
    "place.push_side": "on the push side",
    "place.room": "in {room}",
    "ask.floor_undecided": "Which floor, layer by layer, goes {place}?",
    "ask.floor_may_change": (
        "Which floor goes {place}: {floors}? Until it is certain, nothing is cut for it but what all of them need."
    ),
    "ask.floor_may_change.alike": (
        "Which floor goes {place}? What is listed is one and the same: {floors}. Until it is certain, "
        "nothing is cut for it but what that needs."
    ),
    "ask.floor_unconfirmed": "Who confirms the floor {place}: {floors}? Nothing is cut for it until then.",
    "ask.narrow": (
        "Who widens the rough opening? It is {short} narrower than the {needed} that the frame and its shims need."
    ),
    "ask.ramp_needed": (
        "A change in level of {drop} is too high for a bevel here: who builds a ramp at least {run} long, and on which "
        "side? It must stay out of the space kept clear for using the door, and where the leaf swings over it, it "
        "raises what the leaf has to clear; the local code decides. Once agreed, name the ramp as the piece to fit. Or "
        "bring the two finishes, with the piece on them, closer together."
    ),
    "ask.ramp_built": (
        "The two finishes are {step} apart, more than ready-made pieces take: is that intended? If so, who builds a "
        "ramp, how long, and on which side? Where the leaf swings over it, it raises what the leaf has to clear; the "
        "local code may ask more. Once agreed, name the ramp as the piece to fit. Or bring the two finishes closer "
        "together."
    ),
    "ask.piece_finishes": (
        "{piece}: per the table of pieces, it doesn't join {high} and {low}. Which piece will be fitted?"
    ),
    "ask.piece_rise": (
        "{piece}: but something between {high} and {low} is said to stand {rise} above the floor. Which piece will be "
        "fitted?"
    ),
    "ask.piece_step": (
        "{piece}: per the table of pieces, it doesn't take a step of {step} between {high} and {low}. Which piece will "
        "be fitted?"
    ),
    "ask.piece_floating": (
        "{piece}: per the table of pieces, it doesn't go with a floating floor, and {high} or {low} is one. Which "
        "piece will be fitted?"
    ),
    "ask.subfloor": "Is the subfloor level under the legs and inside the swing? It was assumed to be level.",
    "ask.survey": "How high is the subfloor where the gauge blocks stand? The nearest survey point is too far away.",
    "ask.undercut": "What is this unit's undercut, leaf bottom to frame bottom?",
    "ask.undercut_to_order": (
        "This unit isn't bought yet. May it be ordered with {undercut} undercut in place of {present}, so that nobody "
        "has to cut {leaves}?"
    ),
    "ask.room_floors": (
        "Openings of “{room}” name different floors: {floors}. Is that meant so, or did a change not reach all of them?"
    ),
    "ask.foot": "How high above the highest subfloor do this frame's legs stand? It was assumed to stand as advised.",
    "ask.frame_label.floor": (
        "May the legs of this labelled frame be undercut for the floor? Its listing and its label decide. If not, it "
        "has to stand on the finished floor: ask before you set it."
    ),
    "ask.frame_label.set": (
        "May the legs of this labelled frame, which is set, be undercut for the floor? Its listing and its label "
        "decide. If not, leave them whole and end the floor at them, or set the frame again on the finished floor: ask "
        "before the floor is laid."
    ),
    "ask.frame_label": "May the legs of this labelled frame be cut? Its listing and its label decide.",
    "ask.thickness": "How thick will the {layer} be? A typical thickness was assumed.",
    "ask.unusual": (
        "Is the {layer} really {given} thick? Such a layer is commonly {least} to {greatest}. If yes, state its least "
        "and greatest too."
    ),
    "ask.fixing": (
        "Is the carpet {place} glued down, or does it get a cushion? Until one is stated, the leaf is held to the "
        "height for carpet on a cushion."
    ),
    "ask.coating": (
        "Will the concrete be coated, and how thick? A usual coating was assumed; heights are counted from the top of "
        "the slab."
    ),
    "ask.rough_opening": "How high is the rough opening above the subfloor? The header wasn't checked.",
    "ask.fire_minutes": "How many minutes is this leaf rated for, and what does its listing allow at the bottom edge?",
    "ask.supply_flow": "How much air is supplied to the room, or exhausted from it, with this door closed?",
    "ask.air_duty": (
        "A flow of air is stated and no duty for it: does it return by this door (transfer_air), or make up for "
        "exhaust (exhaust_makeup)? Until that is listed, no rule on such air is read here."
    ),
    "ask.air_short": (
        "Of {supply}, this closed door and what is stated beside it carry {passes} at {limit}: which way do the other "
        "{short} go?"
    ),
    "ask.pressure_limit": "What pressure across the closed door does the air design allow?",
    "ask.pressure_limit.at": (
        "What pressure across the closed door does the air design allow? At {supply} it is {pressure} here."
    ),
    "ask.pressure_limit.beyond": (
        "What pressure across the closed door does the air design allow? At {supply} it would be over {most} here: so "
        "little is open. Which other way does that air go?"
    ),
    # house
    "house.summary": (
        "{openings}: {ready} can be set as advised, {hold} on hold, {conflict} in conflict, {refused} refused. "
        "{lines}Block sizes: {sizes}. Settings and cuts take {minutes}, counting wishes given up."
    ),
    "part.openings": "{count} openings",
    "part.opening": "1 opening",
    "house.unproven": (
        "{summary} There were too many possible block sizes to try them all: other settings may take fewer minutes."
    ),
    "house.lines": "Head lines kept: {held} of {lines}. ",
    "house.blocks": "Block sizes: {sizes}; if each opening were decided alone, {alone}. The minutes are the same.",
    "house.blocks.saves": "Block sizes: {sizes}; if each opening were decided alone, {alone}. That saves {minutes}.",
    "house.blocks.takes": (
        "Block sizes: {sizes}; if each opening were decided alone, {alone}. That takes {minutes} more."
    ),
    "house.ties": (
        "Among settings that tie: least worst case, then fewest wishes given up, fewest cuts, feet nearest the "
        "subfloor, then fewest and smallest blocks. The order of the openings never counts."
    ),
    "house.notice": (
        "Advice, not permission: local code as adopted, each door's own listing and licensed practice decide."
    ),
    "line.free": "All heads at {height}, each set as it would be alone.",
    "line.strained": "All heads at {height}, for {minutes} more than alone. Set differently than alone: {marks}.",
    "line.without": "{text} Without {mark} the line costs the others {minutes}.",
    "line.none": (
        "No single height suits {marks}, because of headers, frames already set or rules. Each is set on its own."
    ),
    "line.empty": "Nothing on this line can be set yet.",
    "line.unpriced": "Its undercut or foot isn't known: measure it first.",
    "line.refused": "No opening that could be read has this mark.",
    # house, its doors set
    "house.rechecked": (
        "{openings}: fine as found {fine}, only wishes missed {live_with}, to mend {work}, on hold {hold}, in conflict "
        "{conflict}, refused {refused}. {open}{lines}The work planned takes {minutes} min at {mended} of them; "
        "waiting for an answer there: {held}."
    ),
    "house.rechecked.nothing": (
        "{openings}: fine as found {fine}, only wishes missed {live_with}, to mend {work}, on hold {hold}, in conflict "
        "{conflict}, refused {refused}. {open}{lines}No work is planned."
    ),
    "house.rechecked.open": "Openings where somebody answers or decides before there is any work: {count}. ",
    "house.rechecked.lines": "Head lines that first remedies take heads off: {left} of {lines}. ",
    "house.planned": "With its head line it is set otherwise: {work}",
    "left.unlawful": "By law or standard not to be left so: {marks}.",
    "left.rest": "Something firmer than a wish is missed, or isn't known yet: {marks}.",
    "left.live_with": "Only wishes are missed: {marks}.",
    "left.fine": "Fine as found: {marks}.",
    "left.none": "No opening could be rechecked.",
    "line.as_set.none": "No opening on this line could be read.",
    "line.as_set.stays": "{found} The first remedies move no head.",
    "line.found.level": "As found all heads stand at {height}.",
    "line.found.apart": "As found heads stand between {least} and {most}.",
    "line.together": (
        "{found} All units are set again, their heads together at {height}, which takes {minutes} min; each by itself "
        "they would stand between {least} and {most} and take {alone} min."
    ),
    "line.kept": (
        "{found} To keep the line all heads are set at {height}, which takes {minutes} min; each by itself they would "
        "stand between {least} and {most} and take {alone} min."
    ),
    "line.keeping": (
        "{told} To keep the line, all heads at {height}, takes {minutes} min in place of {alone}; the work at "
        "{openings} then differs."
    ),
    "line.no_keeping": "{told} Nothing known here keeps all its heads at one height.",
    "line.then.level": "After the first remedies all stand at {height}.",
    "line.then.apart": "After the first remedies they stand between {least} and {most}.",
    "line.off.above": "The first remedy sets opening {mark} above the line by {off}.",
    "line.off.below": "The first remedy sets opening {mark} below the line by {off}.",
    "line.off.other": "{text} Another keeps its head where it is, {minutes} min: {remedy}",
    "line.off.no_other": "{text} No other that leaves nothing firm missed keeps its head where it is.",
    "line.off.by_word": "{text} That it may is taken as answered, on the word of {by}; nothing of it was checked here.",
    "part.off.above": "{mark} ({off} above it)",
    "part.off.below": "{mark} ({off} below it)",
    "ask.head_line.keeping": "{ask} To keep it, all heads at {height}, takes {minutes} min in place of {alone}.",
    "ask.head_line": "May heads leave the line “{line}”? The first remedies set some off it: {heads}.",
    # recheck
    "summary.recheck.fine": "Everything is fine as it stands: {stands}",
    "summary.recheck.live_with": ("Only wishes are missed ({count}), which can stay so. {wish} As it stands, {stands}"),
    "summary.recheck.live_with.one": "Only one wish is missed, which can stay so. {wish} As it stands, {stands}",
    "summary.recheck.asked": "Leave it as it stands until this is answered: {ask} Apart from that: {text}",
    "summary.recheck.asked_too": "{text} To be answered first: {ask}",
    "summary.recheck.beside": "{text} Still to ask, apart from the door: {ask}",
    "summary.recheck.work": "{first} Least work, {minutes} min: {remedy}",
    "summary.recheck.work_open": (
        "{first} No remedy known here fixes all that is missed (firm rules: {count}); see what each one leaves."
    ),
    "summary.recheck.work_unmended": "{first} No remedy known here mends anything of it (firm rules missed: {count}).",
    "summary.recheck.conflict_open": (
        "{first} Don't cut or fit anything yet: no remedy known here fixes what must not stay as it is (firm rules "
        "missed: {count})."
    ),
    "summary.recheck.hold_cut": "A floor isn't certain yet: don't cut. {first} Least work, {minutes} min: {remedy}",
    "summary.recheck.hold_asked": "Ask before you cut. {first} Least work, {minutes} min: {remedy}",
    "summary.recheck.hold": "A floor isn't named yet: don't cut or move anything. {first}",
    "summary.recheck.nothing_yet": "As far as can be told, nothing is missed.",
    "summary.recheck.stands": (
        "the leaf clears the floor {pull_floor} by {pull} and the one {push_floor} by {push}, and {legs}."
    ),
    "summary.recheck.legs.stand": "the legs stand on the subfloor",
    "summary.recheck.legs.alike": "the legs end {low} above the subfloor",
    "summary.recheck.legs.one_stands": "one leg stands on the subfloor, the other ends {high} above it",
    "summary.recheck.legs.apart": "the legs end {low} and {high} above the subfloor",
    "place.beside": "on the “{room}” side",
    "place.piece": "over the transition piece",
    "place.doorway": "in the doorway",
    "place.top.floor": "the floor {where}",
    "place.top.piece": "the transition piece",
    "place.top.doorway": "the floor in the doorway",
    "place.subfloor.level": "the subfloor",
    "place.subfloor.uneven": "the highest subfloor under the legs",
    "finding.rubs": "The leaf ends {amount} below the top of {top}: it rubs.",
    "finding.touches": "The leaf ends level with the top of {top}: it touches.",
    "finding.tight": "Only {gap} is left under the leaf {where}: “{rule}” is missed by {amount}.",
    "finding.wide": "Up to {actual} is open under the leaf {where}: “{rule}” is exceeded by {amount}.",
    "finding.much_air": (
        "Up to {actual} is open under the leaf {where}, {amount} too much for smoke, fire or air: “{rule}”."
    ),
    "finding.shows": "The legs end {amount} above the finish {where}: daylight shows.",
    "finding.shows_leg": "The {leg} ends {amount} above the finish {where}: daylight shows.",
    "finding.little_air": "Too little air passes the closed door: “{rule}” is missed by {amount}.",
    "finding.edge": "The change in level in the doorway isn't right: “{rule}” is missed by {amount}.",
    "finding.overcut": (
        "{amount} more is cut off the leaf than “{rule}” allows: fit a new bottom rail or hang another leaf, unless "
        "the door supplier says that what is left holds."
    ),
    "finding.overcut.listed": (
        "{amount} more is cut off the leaf than “{rule}” allows. Whether its label still holds is for its listing to "
        "say: ask the door supplier, and expect another leaf."
    ),
    "finding.other": "“{rule}” is missed by {amount}.",
    "finding.unmet": "“{rule}” isn't met.",
    "remedy.trim.in_place": (
        "Cut {trim} off {leaves}, hung in place, along a guide rail; the bottom ends {bottom} above {subfloor}."
    ),
    "remedy.trim.off_hinges": (
        "Take {leaves} off its hinges and cut off {trim}; the bottom ends {bottom} above {subfloor}."
    ),
    "remedy.trim.off_hinges_two": (
        "With two people, take {leaves} off its hinges; cut off {trim}; the bottom ends {bottom} above {subfloor}."
    ),
    "remedy.listed": "Only if the listing of this labelled door allows it: {text}",
    "remedy.when_certain": "Only once both floors are certain: {text}",
    "remedy.opens_for_air": (
        "{text} This is the last resort: the gap under a fire or smoke door stays as small as practicable, so ask "
        "first whether the air may pass through the wall, by a grille or duct with its damper."
    ),
    "remedy.reset.stand": (
        "Take the unit out and set it again with its legs on the subfloor; {leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.reset.floor": (
        "Take the unit out and set it again with its legs on the floor already laid; {leaves} ends {bottom} above "
        "{subfloor}."
    ),
    "remedy.reset.block": (
        "Take the unit out and set it again with its legs {amount} above the subfloor; {leaves} ends {bottom} above "
        "{subfloor}."
    ),
    "remedy.reset.cut": (
        "Take the unit out, cut {amount} off its legs and set it again; {leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.reset.apart": (
        "Take the unit out and set it again with {first} and {second}; {leaves} ends {bottom} above {subfloor}."
    ),
    "leg.again.stand": "the {leg} on its subfloor",
    "leg.again.block": "the {leg} {amount} above its subfloor",
    "leg.again.cut": "the {leg} cut {amount} shorter",
    "remedy.reset.labelled": "{text} Fix it and fill around it as the instructions of this labelled frame say.",
    "remedy.reset.and_trim": "{text} Cut {trim} off {leaves} on the bench while it is out.",
    "remedy.other_leaf.whole": (
        "Replace {leaves} with another of its size as made, fitted to the hinges and lock of this frame; its bottom "
        "ends {bottom} above {subfloor}."
    ),
    "remedy.other_leaf.cut": (
        "Replace {leaves} with another of its size as made, fitted to the hinges and lock of this frame, with {trim} "
        "cut off it on the bench; its bottom ends {bottom} above {subfloor}."
    ),
    "remedy.other_leaf.labelled": "{text} It must bear the label or certificate that this opening needs.",
    "remedy.other_leaf.cut_labelled": (
        "{text} It must bear the label or certificate that this opening needs; cut it only if its listing allows that."
    ),
    "remedy.other_unit.stand": (
        "Take the unit out and set another in its place, made with {undercut} undercut, its legs on the subfloor; "
        "{leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.other_unit.floor": (
        "Take the unit out and set another in its place, made with {undercut} undercut, its legs on the floor already "
        "laid; {leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.other_unit.block": (
        "Take the unit out and set another in its place, made with {undercut} undercut, its legs {amount} above the "
        "subfloor; {leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.other_unit.cut": (
        "Take the unit out and set another in its place, made with {undercut} undercut, its legs cut {amount} shorter; "
        "{leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.other_unit.apart": (
        "Take the unit out and set another in its place, made with {undercut} undercut, {first} and {second}; "
        "{leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.other_unit.labelled": "{text} It must bear the label or certificate that this opening needs.",
    "remedy.other_unit": "{text} What the unit costs isn't counted in the minutes.",
    "remedy.fill_legs": "Scribe fillers under both legs and their casing, where they end {shows} above the finish.",
    "remedy.fill_legs.apart": (
        "Scribe fillers under both legs and their casing, where they end up to {shows} above the finish."
    ),
    "remedy.fill_legs.tuck": "Lengthen both legs and their casing with fillers that reach into the floor.",
    "remedy.cover_legs": "Return the piece ({piece}) around both legs to hide the {shows} below them.",
    "remedy.cover_legs.apart": (
        "Return the piece ({piece}) around both legs to hide what shows below them, up to {shows}."
    ),
    "remedy.raise_floor": "Lay the floor {where} {layer} higher on a thicker underlayment.",
    "remedy.change_piece": "Fit another piece: {piece}, which stands {rise} above the higher finish.",
    "remedy.change_piece.level": "Fit another piece: {piece}, level with the higher finish.",
    "remedy.bottom_seal": "Fit a seal to the bottom of {leaves}; it closes at most {reach}.",
    "remedy.bottom_seal.listed": (
        "Fit the seal that this door's listing names to the bottom of {leaves}; it was assumed to close at most "
        "{reach}."
    ),
    "remedy.bottom_seal.if_listed": (
        "Only if this labelled door's listing names a seal for a gap this wide: fit that seal to the bottom of "
        "{leaves}. Until the listing says so, the gap counts as open."
    ),
    "need.listing": "Does the listing of this labelled leaf allow its bottom to be cut, and by how much?",
    "need.leaf_label": (
        "Which leaf bears the label or certificate that this opening needs, and what may be cut into it on site for "
        "its hinges and lock?"
    ),
    "need.unit_label": "Which unit, leaf and frame, bears the label or certificate that this opening needs?",
    "need.frame_label": "Does the listing of this labelled frame allow its legs to be cut or lengthened?",
    "need.frame_instructions": (
        "What do the listing and the installation instructions of this labelled frame ask for when it is taken out and "
        "set again: anchors, joint, filling?"
    ),
    "need.seal_listing": "Which bottom seal does this labelled door's listing name, and for how wide a gap?",
    "need.smoke_seal": "Which threshold seal does this smoke door's certificate name, and how wide a gap may it close?",
    "need.authority": "Does the authority allow a grille beside this door, and which damper does the wall need?",
    "need.floors_certain": "Both floors must be certain; see the questions. Start nothing before.",
    "need.floor_not_laid": "Is the floor {where} still to be laid? Only then can it be laid higher.",
    "nothing.fine": "Nothing needs doing.",
    "nothing.wish": "It can stay as it is: only one wish is missed.",
    "nothing.wishes": "It can stay as it is: only wishes are missed.",
    "nothing.asked_too": "{text} And whether it can stay as it is depends on the answer to this: {ask}",
    "nothing.asked": "Whether it can stay as it is depends on the answer to this: {ask}",
    "nothing.firm": "Rules known here don't forbid leaving it as it is; {count} firmer than a wish stay missed.",
    "nothing.firm.one": "Rules known here don't forbid leaving it as it is; one firmer than a wish stays missed.",
    "nothing.rubs": "It can't stay as it is: the leaf rubs.",
    "nothing.unlawful": "It can't stay as it is: “{rule}” is missed.",
    "nothing.undecided": "What leaving it as it is would mean can't be told until both floors are named.",
    "caution.cut_wall": (
        "Before you cut a wall, look for cables, pipes and framing in it; old paint may contain lead. Don't cut a "
        "rated wall without its authority's approval."
    ),
    "caution.wall_opening": "There is a grille or a duct through the wall beside this door.",
    "caution.small_parts": (
        "Cut fillers and pieces with the guard in place and the work clamped; keep hands off the line, and protect "
        "eyes and ears."
    ),
    "caution.floor_raised": (
        "For {marks} the floor of “{room}” is to be laid {layer} higher. It then lies higher at this opening too, "
        "whose answer doesn't count that: ask again with the higher floor before it is laid."
    ),
    "assumed.untrimmed": "Leaf assumed never trimmed, so its undercut is {value}.",
    "assumed.leaf_bottom": "Leaf's bottom worked out as {value} above {subfloor}, from the gap and the floor below it.",
    "task.trim": "Trim the leaf and seal the cut edge",
    "task.trim.each": "Trim each leaf and seal its cut edge",
    "task.reset": "Take the unit out and set it again",
    "task.other_leaf": "Fit another leaf to the frame and hang it",
    "task.other_leaf.each": "Fit two other leaves to the frame and hang them",
    "task.other_unit": "Take the unit out and set another in its place",
    "task.fill_legs": "Scribe and fix fillers under both legs",
    "task.cover_legs": "Return the transition piece around both legs",
    "task.raise_floor": "Lay a thicker underlayment",
    "task.change_piece": "Fit another transition piece",
    "task.bottom_seal": "Fit a seal to the leaf's bottom",
    "task.bottom_seal.each": "Fit a seal to the bottom of each leaf",
    "task.transfer_grille": "Cut in and fix the transfer grille",
    # handling
    "caution.lift_one": "This leaf weighs about {mass}, at most {greatest}. {off}",
    "caution.lift_two": "This leaf weighs about {mass}, up to {greatest}: two people lift it. {off}",
    "caution.hang": "Lift it with a straight back and set it down before your grip gives out.",
    "caution.rehang": (
        "Taking it off and hanging it again can damage its edge and hinges and bruise fingers: wedge it first."
    ),
    # assumptions
    "assumed.head_gap": "Gap over the leaf assumed to be {value}.",
    "assumed.head_thickness": "Head of the frame assumed to be {value} thick.",
    "assumed.leg_thickness": "Jamb legs assumed to be {value} thick.",
    "assumed.set_as_advised": "The frame was assumed to stand as advised here.",
    "assumed.finer_grid": "The {asked} grid is too coarse between two limits here: heights are on {used}.",
    "assumed.answered": (
        "Taken as answered, on the word of {by}, so that work can go on; nothing of it was checked here: {question}"
    ),
    "assumed.as_of": (
        "Not in force yet on the permit date, {day}: {rules}. What applied instead isn't known here; ask who issued "
        "the permit."
    ),
    "assumed.year_built": (
        "Building assumed built in {year} or later, since its year isn't stated; not checked for that reason: {rules}."
    ),
    "assumed.building_use": (
        "The kind of building isn't stated; not checked for that reason, though some kinds are held to it: {rules}."
    ),
    "assumed.labour": "Minutes of work are assumptions; see GET /v1/labour, and send your crew's own.",
    "assumed.subfloor": "Subfloor assumed to be level.",
    "assumed.thickness": "{material}: assumed {value}, typically {least} to {greatest}.",
    "assumed.carpet_total": "Carpet thickness assumed to be the whole carpet, pile and backing.",
    # tasks
    "task.trim-leaf": "Trim the leaf and seal the cut edge",
    "task.trim-leaf.each": "Trim each leaf and seal its cut edge",
    "task.trim-leaf-first": "Trim off the leaf what every possible floor needs, and seal the cut edge",
    "task.trim-leaf-first.each": "Trim off each leaf what every possible floor needs, and seal its cut edge",
    "task.set-frame": "Set the frame and hang the leaf",
    "task.set-frame.each": "Set the frame and hang both leaves",
    "task.undercut-jambs": "Undercut legs and casing for the floor",
    "task.fit-piece": "Fit the transition piece under the closed leaf",
    "task.check-clearances": "Measure both clearances with the floors laid",
}
