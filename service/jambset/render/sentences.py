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
    "summary.go.beside": "{setting} {leaf} To be asked, beside the door: {first}",
    "summary.go_with_trim.beside": "{setting} {leaf} To be asked, beside the door: {first}",
    "summary.hold.leaf.setting": "Hold the frame and the leaf. {first} As things stand: {setting} {leaf}",
    "summary.hold.leaf": "Hold the leaf. {first} As things stand: {setting} {leaf}",
    "summary.hold.setting": "Hold the frame. {first} As things stand: {setting} {leaf}",
    "summary.hold.beside": "{setting} {leaf} To be decided, beside the door: {first}",
    "summary.conflict.leaf.setting": "Set and cut nothing yet. {first} As near as it goes: {setting} {leaf}",
    "summary.conflict.leaf": "Cut nothing yet. {first} As near as it goes: {setting} {leaf}",
    "summary.conflict.setting": "Set nothing yet. {first} As near as it goes: {setting} {leaf}",
    "summary.conflict.beside": "{setting} {leaf} To be decided, beside the door: {first}",
    "waits.first": "First of {count}: {first}",
    "set.stand": "Stand both legs on the subfloor.",
    "set.stand.as_set": "The frame, as set, has its legs on the subfloor.",
    "set.block": "Stand both legs on {height} blocks.",
    "set.block.as_set": "The frame, as set, has its legs {height} above the subfloor.",
    "set.cut": "Cut {height} off both legs: the unit stands too high for these floors.",
    "set.cut.head_line": "Cut {height} off both legs, so that its head keeps the line of the heads.",
    "set.cut.as_set": "The frame, as set, stands too high: its legs would be {height} shorter.",
    "set.cut.low_header": "Cut {height} off both legs; the header is too low for them.",
    "set.ordered": "Order it with {undercut} undercut. {setting}",
    "set.ordered.low_header": (
        "Have the header raised and order it with {undercut} undercut; the present one lets in {present} and no more, "
        "and with that: {setting}"
    ),
    "set.ordered.lost": (
        "Order none yet: the present header lets in {present} undercut and no more, and with {undercut} another rule "
        "would be missed. With that header: {setting}"
    ),
    "set.taken": "Taken so until it is measured: {setting}",
    "set.listed": "Only if the listing of the labelled frame allows it: {setting}",
    "set.uneven": "Out of level: {one}, {other}.",
    "set.uneven.as_set": "The frame, as set, is out of level: {one}, {other}.",
    "set.uneven.low_header": "Out of level under a header that is too low: {one}, {other}.",
    "leg.stand": "stand the {leg} on the subfloor",
    "leg.stand.as_set": "the {leg} stands on the subfloor",
    "leg.block": "block the {leg} {height}",
    "leg.block.as_set": "the {leg} stands {height} above the subfloor under it",
    "leg.cut": "cut {height} off the {leg}",
    "leg.cut.as_set": "the {leg} would be {height} shorter",
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
        "Cut {trim} off {leaves}, hung, before the floors are laid; the bottom ends {bottom} above {subfloor}."
    ),
    "cut.after_floor": "Leave {leaves} long for now; what is to be cut is cut once the floors are down.",
    "cut.now_and_later": (
        "Cut {trim} off {leaves} on the bench, which every floor that may come asks for, and the rest once they lie."
    ),
    "cut.listed": "If its listing allows it, cut {trim} off {leaves}; the bottom ends {bottom} above {subfloor}.",
    "cut.below": "The leaf would end {below} below the subfloor: it can't hang here under this header.",
    "cut.unknown": "End the leaf's bottom {bottom} above {subfloor}; what that takes off waits for the undercut.",
    # order, leaf
    "order.undecided": "A floor is undecided: order when both are known.",
    "order.wanted": "A unit with {undercut} undercut, its legs down, leaves {leaves} uncut over both floors named.",
    "order.lined": "A unit with {undercut} undercut keeps the line of the heads.",
    "order.weighed": "A unit with {undercut} undercut comes to the least work over all floors that may come.",
    "order.short": (
        "A unit with {undercut} undercut leaves {leaves} uncut over these floors, and needs a rough opening of {hole}."
    ),
    "order.lower": (
        "A unit with {undercut} undercut leaves {leaves} uncut over these floors, and needs a rough opening of {hole}; "
        "the present header lets in one with {present} and no more. Have the framer answer before it is ordered."
    ),
    "order.short.weighed": (
        "A unit with {undercut} undercut comes to the least work over all floors that may come, and needs a rough "
        "opening of {hole}."
    ),
    "order.lower.weighed": (
        "A unit with {undercut} undercut comes to the least work over all floors that may come, and needs a rough "
        "opening of {hole}; the present header lets in one with {present} and no more. Have the framer answer before "
        "it is ordered."
    ),
    "order.lost": (
        "A unit with {undercut} undercut, its legs down, would leave {leaves} uncut, and rules would be missed all the "
        "same: see the conflicts before any is ordered."
    ),
    "order.lacks": (
        "With this unit's {present} rules are missed, see the conflicts; one with {undercut} undercut, its legs down, "
        "would leave {leaves} uncut."
    ),
    "order.sawn": "This unit has {present}; one with {undercut} undercut, its legs down, would leave {leaves} uncut.",
    "order.shortened": "This unit has {present}; one with {undercut} undercut would leave its legs and {leaves} uncut.",
    "order.blocked": "This unit's {present} will do; one with {undercut} undercut could stand on the subfloor, uncut.",
    "order.open": (
        "This unit's {present} will do, and leaves a wider gap than is wanted; one with {undercut} undercut would "
        "leave less."
    ),
    "order.will_do": "This unit's {present} will do; nothing else need be ordered.",
    "leaf.uncut": "As the legs stand, the undercut puts the bottom {bottom} above {subfloor}.",
    "leaf.before_hanging.bench": (
        "Cut {trim} on the bench before hanging: both floors are known and the unit isn't set."
    ),
    "leaf.before_floor.in_place": (
        "Cut {trim} with {leaves} hung and held open; the blocks mark the line for the guide rail."
    ),
    "leaf.before_floor.off_hinges": (
        "Mark {trim} from the blocks, then take {leaves} off its hinges to cut it: there is no room for a saw below."
    ),
    "leaf.after_floor.in_place": (
        "A floor isn't certain: leave {leaves} long. With both laid, and if it is still {trim}, cut it hung and "
        "held open."
    ),
    "leaf.after_floor.off_hinges": (
        "A floor isn't certain: leave {leaves} long. With both laid, and if it is still {trim}, mark it from the "
        "blocks and take {leaves} off its hinges: there is no room for a saw below."
    ),
    "leaf.now": "Cut {trim} on the bench before hanging: every floor that may come asks for it, and for no more.",
    "leaf.now_at_least": (
        "Cut {trim} on the bench before hanging: every floor that may come asks for it, and some for more."
    ),
    "leaf.now_and_later": (
        "Cut {trim} on the bench before hanging: every floor that may come asks for it. The rest waits for the floors."
    ),
    "leaf.listed": (
        "Cut {trim} only if the listing of this labelled leaf allows it; it isn't trimmed on this advice alone."
    ),
    "leaf.after_floor": "A floor is undecided: leave {leaves} long and cut it after the floor.",
    "leaf.left_whole": (
        "Or leave {leaves} whole, the legs {stands}: the bottom ends {bottom} above {subfloor}, and all that is given "
        "up is {wishes}."
    ),
    "leaf.unknown": "What has to come off can't be told before the undercut is measured.",
    # floors that may change
    "outlook.foot": "Legs {stands}: {cost} {cut}",
    "outlook.set": "The unit is set, its legs {stands}: {cost} {cut}",
    "outlook.ordered": "Order {undercut} undercut: {cost} {cut}",
    "outlook.let_in": "Under the present header, {undercut} undercut: {cost} {cut}",
    "outlook.work": "{work} of work to be expected, least of all.",
    "outlook.work.shared": (
        "{work} of work to be expected, for what the house shares; by itself this opening would come to {least}."
    ),
    "outlook.counted": "{work} of work to be expected, {minutes} with each wish given up at its price, least of all.",
    "outlook.counted.shared": (
        "{work} of work to be expected, {minutes} with each wish given up at its price, for what the house shares; by "
        "itself this opening would come to {least}."
    ),
    "outlook.trim_now": "Cut {trim} off {leaves} now: every floor that may come asks for it.",
    "outlook.long": "Cut nothing off {leaves} until the floors are certain.",
    "part.stands.on": "on the subfloor",
    "part.stands.above": "{height} above the highest subfloor under them",
    "part.stands.cut": "shorter than made by {height} in all",
    "listed_only": "Only if the listing of a labelled leaf allows it: {text}",
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
    "tip.above": "Were {floor} {place} likelier than {weight}, {then}",
    "tip.below": "Were {floor} {place} less likely than {weight}, {then}",
    "tip.legs": "legs {stands} would be best.",
    "tip.undercut": "{undercut} undercut would be best.",
    "outcome.and": "{first} {then}",
    "outcome.nothing": "Nothing more to do.",
    "outcome.again": "Take the unit out and set it again, its legs {stands}.",
    "outcome.exchange": "Exchange the unit for one with {height} undercut.",
    "outcome.trim.bench": "Cut {trim} off {leaves} while the unit is out.",
    "outcome.trim.in_place": "Cut {trim} off {leaves}, hung, in place.",
    "outcome.trim.off_hinges": "Cut {trim} off {leaves}, taken off the hinges.",
    "outcome.filled": "The legs end {shows} too high for the floor to hide them: scribe fillers under them.",
    "outcome.covered": "The legs end {shows} too high for the floor to hide them: return the piece round them.",
    "outcome.shows": "The legs end {shows} too high for the floor to hide them, as they would at best.",
    "outcome.lower": (
        "The legs would end {shows} too high for the floor to hide them: set them lower if this floor is known by "
        "then, else scribe fillers under them, which isn't counted here."
    ),
    "outcome.wishes": "Given up: {rules}.",
    "outcome.missed": "Not met by any setting: {rules}.",
    "outcome.ramp_needed": "The change in level is then {drop} and needs a ramp at least {run} long: ask first.",
    "outcome.ramp_built": "The two finishes then lie {step} apart, more than pieces are bought for: ask first.",
    "outcome.little_air": "Too little air passes the closed door: {rules}.",
    # flooring, transition
    "flooring.undecided": "The floor on the {side} side is undecided; nothing to undercut yet.",
    "flooring.carpet": "The carpet tucks into {room} under the legs and casing; nothing is cut.",
    "flooring.carpet_low": (
        "The legs end {room} above the subfloor: the carpet is tucked under as far as it goes, else trimmed and tucked "
        "against them."
    ),
    "flooring.carpet_low.bed": (
        "The legs end {room} above what carpet and cushion lie on: the carpet is tucked under as far as it goes, else "
        "trimmed and tucked against them."
    ),
    "flooring.carpet_apart": (
        "One leg ends {room} above the subfloor below it, the other {most}: the carpet is tucked under as far as it "
        "goes, else trimmed and tucked against them."
    ),
    "flooring.carpet_apart.bed": (
        "One leg ends {room} above what carpet and cushion lie on, the other {most}: the carpet is tucked under as far "
        "as it goes, else trimmed and tucked against them."
    ),
    "flooring.carpet_level": (
        "The legs end level with what carpet and cushion lie on; the carpet is trimmed and tucked against them."
    ),
    "flooring.carpet_in": (
        "Carpet and cushion lie on layers {bed} thick, and the legs end {below} below the top of those: they are laid "
        "round the legs, or legs and casing are undercut for them first. The carpet is trimmed and tucked against the "
        "legs."
    ),
    "flooring.carpet_down": "The legs stand on the subfloor; the carpet is trimmed and tucked against them.",
    "flooring.undercut": "Undercut legs and casing {cut} above the subfloor: the floor and a little for the saw.",
    "flooring.undercut_one": (
        "One leg ends {shows} above the finish and daylight shows: fit a scribed filler or lower the frame. The other "
        "is undercut with its casing {cut} above the subfloor: the floor and a little for the saw."
    ),
    "flooring.shows": (
        "The legs end {shows} above the finish and daylight shows: fit a scribed filler or lower the frame."
    ),
    "flooring.bare": "The slab or deck itself is the floor here; nothing is laid and nothing is cut.",
    "flooring.clear": "The floor passes under the legs; nothing is cut.",
    "transition.floating": (
        "{piece}. The floor floats: read in its instructions whether it needs a break in this doorway. A moulding over "
        "a break stands up under the leaf."
    ),
    "transition.plain": "{piece} over a step of {step}.",
    "transition.bevel": "{piece}: bevel the whole {drop} change in level over a length of at least {run}.",
    "transition.bevel.upper": (
        "{piece}: of the {drop} change in level {upright} may stand upright; bevel the upper {rise} over a length of "
        "at least {run}."
    ),
    "transition.bevel.open": (
        "{piece}: of the {drop} change in level bevel the upper {rise}; how steep it may be no rule here says."
    ),
    "transition.ramp": "{piece}: a change of {drop} needs a ramp at least {run} long.",
    # air
    "way.grille": "Add a transfer grille of {free} free area in the wall (about {face} of face in metal louvres).",
    "way.prescribed": (
        "Take the prescribed way: a grille of {area} (free, to be safe), and {clear} clear under the leaf besides."
    ),
    "way.jump_duct": "Or run a jump duct {size} in diameter, up to {length} long, with square grilles of {grille}.",
    "wall.fire": (
        "{text} No opening is made in the labelled leaf; where the wall is rated for fire, this one needs a fire "
        "damper: ask the authority having jurisdiction first."
    ),
    "wall.smoke": (
        "{text} No opening is made in the leaf of a smoke door; where the wall is to hold back smoke, this one needs a "
        "smoke damper: ask the authority having jurisdiction first."
    ),
    "way.ducted_return": "Or bring a ducted return to the room.",
    "way.ducted_supply": "Or supply the room with the air that its fan takes out.",
    "way.raise_header": "Raise the header, or take a door of less height.",
    "way.cut_leaf": (
        "Leave the header, order {undercut} undercut, and cut {trim} off {leaves} on the bench, before hanging; the "
        "bottom ends {bottom} above {subfloor}."
    ),
    "way.leave_line": "Take this opening off its head line; it then stands as it would alone.",
    "way.set_again": "Take the unit out and set it again; a recheck of it as it stands tells where.",
    "way.other_unit": "Exchange the unit for one with {undercut} undercut.",
    # conflicts
    "conflict.against": "“{rule}” is missed by {amount}; against it stands: {against}.",
    "conflict.pressure": (
        "“{rule}” is missed by {amount}. The gap alone would have to be {gap}; carry the rest another way."
    ),
    "conflict.pressure_capped": (
        "“{rule}” is missed by {amount}. The gap alone would have to be {gap}; against it stands: {against}."
    ),
    "conflict.pressure.beyond": (
        "“{rule}” isn't met: too little is open under the closed leaf. The gap alone would have to be {gap}; carry the "
        "rest another way."
    ),
    "conflict.pressure_capped.beyond": (
        "“{rule}” isn't met: too little is open under the closed leaf. The gap alone would have to be {gap}; against "
        "it stands: {against}."
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
    "ask.floor_undecided": "Which floor, layer by layer, comes {place}?",
    "ask.floor_may_change": (
        "Which floor comes {place}: {floors}? Until it is certain, nothing irreversible is advised but what all of "
        "them ask for."
    ),
    "ask.floor_may_change.alike": (
        "Which floor comes {place}? What is listed is one and the same: {floors}. Until it is certain, nothing "
        "irreversible is advised but what that asks for."
    ),
    "ask.floor_unconfirmed": "Who confirms the floor {place}: {floors}? Nothing irreversible is advised until then.",
    "ask.narrow": (
        "Who widens the rough opening? It is {short} narrower than the {needed} that the frame and its shims want."
    ),
    "ask.ramp_needed": (
        "A change in level of {drop} is too high for a bevel here: who builds a ramp at least {run} long, and on which "
        "side? It must stay out of the space kept clear for using the door, and where the leaf swings over it, it "
        "raises what the leaf has to pass; the local code decides. Once agreed, name the ramp as the piece that is "
        "fitted. The other way is to bring the two finishes, with the piece on them, closer together."
    ),
    "ask.ramp_built": (
        "The two finishes lie {step} apart, more than pieces are bought for: is that meant? Then who builds a ramp, "
        "how long, and on which side? Where the leaf swings over it, it raises what the leaf has to pass; the local "
        "code may ask more. Once agreed, name the ramp as the piece that is fitted. The other way is to bring the two "
        "finishes closer together."
    ),
    "ask.piece_finishes": "{piece}: by the table of pieces that doesn't join {high} and {low}. Which piece is fitted?",
    "ask.piece_rise": (
        "{piece}: yet between {high} and {low} something is said to stand {rise} above the floor. Which piece is "
        "fitted?"
    ),
    "ask.piece_step": (
        "{piece}: by the table of pieces that doesn't take a step of {step} between {high} and {low}. Which piece is "
        "fitted?"
    ),
    "ask.piece_floating": (
        "{piece}: by the table of pieces that doesn't go with a floating floor, as one of {high} and {low} is. Which "
        "piece is fitted?"
    ),
    "ask.subfloor": "Is the subfloor level under the legs and inside the swing? It was taken as level.",
    "ask.survey": "How high is the subfloor where the gauge blocks stand? The nearest survey point is too far away.",
    "ask.undercut": "What is this unit's undercut, leaf bottom to frame bottom?",
    "ask.foot": "How high above the highest subfloor do this frame's legs stand? It was taken to stand as advised.",
    "ask.frame_label.floor": (
        "May the legs of this labelled frame be undercut for the floor? Its listing and its label decide. Where they "
        "may not, it has to stand on the finished floor: ask before it is set."
    ),
    "ask.frame_label": "May the legs of this labelled frame be cut? Its listing and its label decide.",
    "ask.thickness": "How thick will the {layer} be? It was taken at what is typical.",
    "ask.unusual": (
        "Is the {layer} {given} thick? Such a layer is commonly {least} to {greatest}. If it is, state its least and "
        "greatest too."
    ),
    "ask.fixing": (
        "Is the carpet {place} glued down, or does a cushion come under it? Until one is stated, the leaf is held to "
        "the height for carpet on a cushion."
    ),
    "ask.coating": (
        "Does a coating come on the concrete, and how thick? A usual one was reckoned with; heights are counted from "
        "the top of the slab."
    ),
    "ask.rough_opening": "How high is the rough opening above the subfloor? The header wasn't checked.",
    "ask.fire_minutes": "How many minutes is this leaf rated for, and what does its listing allow at the bottom edge?",
    "ask.supply_flow": "How much air is supplied to the room, or exhausted from it, with this door closed?",
    "ask.air_short": (
        "Of {supply}, this closed door and what is stated beside it carry {passes} at {limit}: which way do the other "
        "{short} go?"
    ),
    "ask.pressure_limit": "What pressure across the closed door does the air design allow?",
    # house
    "house.summary": (
        "{openings}: {ready} can be set as advised, {hold} on hold, {conflict} in conflict, {refused} "
        "refused. {lines}Block sizes: {sizes}. Settings and cuts come to {minutes}, wishes given up counted."
    ),
    "part.openings": "{count} openings",
    "part.opening": "1 opening",
    "house.unproven": (
        "{summary} Too many block sizes were in question to look through all: other settings may take fewer minutes."
    ),
    "house.lines": "Head lines kept: {held} of {lines}. ",
    "house.blocks": "Block sizes: {sizes}; were each opening decided alone, {alone}. Minutes come to the same.",
    "house.blocks.saves": "Block sizes: {sizes}; were each opening decided alone, {alone}. That saves {minutes}.",
    "house.blocks.takes": "Block sizes: {sizes}; were each opening decided alone, {alone}. That takes {minutes} more.",
    "house.ties": (
        "Of settings that come to the same: least at worst, then fewest wishes given up, fewest cuts, feet nearest to "
        "the subfloor, then fewest and smallest blocks. The order of the openings never counts."
    ),
    "house.notice": (
        "Advice, not permission: local code as adopted, each door's own listing and licensed practice decide."
    ),
    "line.free": "All heads at {height}, each as it would stand alone.",
    "line.strained": "All heads at {height}, for {minutes} more than alone. Otherwise than alone: {marks}.",
    "line.none": "No one height suits {marks}: headers, frames already set or rules. Each stands for itself.",
    "line.empty": "Nothing on this line can be set yet.",
    "line.unpriced": "Its undercut or its foot isn't known: measure it first.",
    "line.refused": "No opening that could be read has this mark.",
    # recheck
    "summary.recheck.fine": "All is fine as it stands: {stands}",
    "summary.recheck.live_with": "It can be left as it is, only wishes are missed ({count}): {stands}",
    "summary.recheck.live_with.one": "It can be left as it is, only a wish is missed: {stands}",
    "summary.recheck.asked_fine": (
        "Leave it as it stands until this is answered: {ask} Nothing else is missed: {stands}"
    ),
    "summary.recheck.asked_live_with": (
        "Leave it as it stands until this is answered: {ask} Else only wishes are missed ({count}): {stands}"
    ),
    "summary.recheck.asked_live_with.one": (
        "Leave it as it stands until this is answered: {ask} Else only a wish is missed: {stands}"
    ),
    "summary.recheck.work": "{first} Least work, {minutes} min: {remedy}",
    "summary.recheck.work_open": (
        "{first} No remedy known here mends all that is missed (firm rules: {count}); see what each one leaves."
    ),
    "summary.recheck.conflict_open": (
        "{first} Cut and fit nothing yet: no remedy known here mends what may not be left so (firm rules missed: "
        "{count})."
    ),
    "summary.recheck.hold_cut": "A floor isn't certain yet: cut nothing. {first} Least work, {minutes} min: {remedy}",
    "summary.recheck.hold": "A floor isn't named yet: cut and move nothing. {first}",
    "summary.recheck.nothing_yet": "Of what can be told, nothing is missed.",
    "summary.recheck.stands": (
        "the leaf clears the floor {pull_floor} by {pull} and the one {push_floor} by {push}, and {legs}."
    ),
    "summary.recheck.legs.stand": "the legs stand on the subfloor",
    "summary.recheck.legs.alike": "the legs end {low} above the subfloor",
    "summary.recheck.legs.one_stands": "one leg stands on the subfloor, the other ends {high} above it",
    "summary.recheck.legs.apart": "the legs end {low} and {high} above the subfloor",
    "place.beside": "on the side of “{room}”",
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
    "finding.wide": "As much as {actual} is open under the leaf {where}: “{rule}” is exceeded by {amount}.",
    "finding.much_air": (
        "As much as {actual} is open under the leaf {where}, {amount} too much for smoke, fire or air: “{rule}”."
    ),
    "finding.shows": "The legs end {amount} above the finish {where}: daylight shows.",
    "finding.shows_leg": "The {leg} ends {amount} above the finish {where}: daylight shows.",
    "finding.little_air": "Too little air passes the closed door: “{rule}” is missed by {amount}.",
    "finding.edge": "The change in level in the doorway isn't right: “{rule}” is missed by {amount}.",
    "finding.other": "“{rule}” is missed by {amount}.",
    "finding.unmet": "“{rule}” isn't met.",
    "remedy.trim.in_place": (
        "Cut {trim} off {leaves}, hung, along a guide rail; the bottom ends {bottom} above {subfloor}."
    ),
    "remedy.trim.off_hinges": (
        "Take {leaves} off its hinges and cut {trim} off it; the bottom ends {bottom} above {subfloor}."
    ),
    "remedy.trim.off_hinges_two": (
        "Two people take {leaves} off its hinges; cut {trim} off it; the bottom ends {bottom} above {subfloor}."
    ),
    "remedy.listed": "Only if the listing of this labelled door allows it: {text}",
    "remedy.when_certain": "Only once both floors are certain: {text}",
    "remedy.opens_for_air": (
        "{text} This is the last choice: the gap under a door against fire or smoke stays as small as practicable, so "
        "ask first whether the air may pass through the wall, by a grille or duct with its damper."
    ),
    "remedy.reset.stand": (
        "Take the unit out and set it again with its legs on the subfloor; {leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.reset.floor": (
        "Take the unit out and set it again with its legs on the floor that lies there; {leaves} ends {bottom} above "
        "{subfloor}."
    ),
    "remedy.reset.block": (
        "Take the unit out and set it again, its legs {amount} above the subfloor; {leaves} ends {bottom} above "
        "{subfloor}."
    ),
    "remedy.reset.cut": (
        "Take the unit out, cut {amount} off its legs and set it again; {leaves} ends {bottom} above {subfloor}."
    ),
    "remedy.reset.apart": (
        "Take the unit out and set it again, {first} and {second}; {leaves} ends {bottom} above {subfloor}."
    ),
    "leg.again.stand": "the {leg} on its subfloor",
    "leg.again.block": "the {leg} {amount} above its subfloor",
    "leg.again.cut": "the {leg} cut {amount} shorter",
    "remedy.reset.labelled": "{text} Fix and fill round it as the instructions of this labelled frame say.",
    "remedy.reset.and_trim": "{text} Cut {trim} off {leaves} on the bench while it is out.",
    "remedy.fill_legs": "Scribe fillers under both legs and their casing, where they end {shows} above the finish.",
    "remedy.fill_legs.apart": (
        "Scribe fillers under both legs and their casing, where they end up to {shows} above the finish."
    ),
    "remedy.fill_legs.tuck": "Lengthen both legs and their casing by fillers that reach into the floor.",
    "remedy.cover_legs": "Return the piece ({piece}) round both legs, so that it hides the {shows} below them.",
    "remedy.cover_legs.apart": (
        "Return the piece ({piece}) round both legs, so that it hides what shows below them, up to {shows}."
    ),
    "remedy.raise_floor": "Lay the floor {where} {layer} higher on a thicker underlayment.",
    "remedy.change_piece": "Fit another piece: {piece}, which stands {rise} above the higher finish.",
    "remedy.change_piece.level": "Fit another piece: {piece}, level with the higher finish.",
    "remedy.bottom_seal": "Fit a seal to the bottom of {leaves}; it closes {reach} at most.",
    "remedy.bottom_seal.listed": (
        "Fit the seal that this door's listing names to the bottom of {leaves}; it was taken to close {reach} at most."
    ),
    "remedy.bottom_seal.if_listed": (
        "Only if this labelled door's listing names a seal for a gap as wide as this: fit that to the bottom of "
        "{leaves}. Until the listing says so, the gap counts as open."
    ),
    "need.listing": "Does the listing of this labelled leaf allow its bottom to be cut, and by how much?",
    "need.frame_label": "Does the listing of this labelled frame allow its legs to be cut or lengthened?",
    "need.frame_instructions": (
        "What do the listing and the installation instructions of this labelled frame ask for when it is taken out and "
        "set again: anchors, joint, filling?"
    ),
    "need.seal_listing": "Which seal at the bottom does this labelled door's listing name, and for how wide a gap?",
    "need.smoke_seal": "Which threshold seal does this smoke door's certificate name, and how wide a gap may it close?",
    "need.authority": "Does the authority allow a grille beside this door, and which damper does the wall need?",
    "need.floors_certain": "Both floors must be certain, see the questions; nothing is begun before.",
    "need.floor_not_laid": "Is this floor still to be laid? Only then can it lie higher.",
    "nothing.fine": "Nothing needs doing.",
    "nothing.wish": "It can be left so: only a wish is missed.",
    "nothing.wishes": "It can be left so: only wishes are missed.",
    "nothing.asked": "Whether it can be left so depends on the answer to this: {ask}",
    "nothing.firm": "Rules known here don't forbid leaving it so; {count} firmer than a wish stay missed.",
    "nothing.firm.one": "Rules known here don't forbid leaving it so; one firmer than a wish stays missed.",
    "nothing.rubs": "It can't be left so: the leaf rubs.",
    "nothing.unlawful": "It can't be left so: “{rule}” is missed.",
    "nothing.undecided": "What it means to leave it so can't be told before both floors are named.",
    "caution.cut_wall": (
        "Before a wall is cut, look for cables, pipes and framing in it; old paint may carry lead. A rated wall isn't "
        "cut without its authority."
    ),
    "caution.wall_opening": "There is a grille or a duct through the wall beside this door.",
    "caution.small_parts": (
        "Cut fillers and pieces with guard in place, the work clamped, hands off the line, eyes and ears protected."
    ),
    "assumed.untrimmed": "Leaf taken as never trimmed, so its undercut as {value}.",
    "assumed.leaf_bottom": "Leaf's bottom taken as {value} above {subfloor}, from the gap and the floor below it.",
    "task.trim": "Trim the leaf and seal the cut edge",
    "task.trim.each": "Trim each leaf and seal its cut edge",
    "task.reset": "Take the unit out and set it again",
    "task.fill_legs": "Scribe and fix fillers under both legs",
    "task.cover_legs": "Return the transition piece round both legs",
    "task.raise_floor": "Lay a thicker underlayment",
    "task.change_piece": "Fit another transition piece",
    "task.bottom_seal": "Fit a seal to the leaf's bottom",
    "task.bottom_seal.each": "Fit a seal to the bottom of each leaf",
    "task.transfer_grille": "Cut in and fix the transfer grille",
    # handling
    "caution.lift_one": "This leaf is about {mass}, at most {greatest}. {off} {guidance}",
    "caution.lift_two": "This leaf is about {mass}, up to {greatest}: two people lift it. {off} {guidance}",
    "caution.hang": "Lift it with a straight back and set it down before the grip goes.",
    "caution.rehang": "Taking it off and hanging it again can bruise edge, hinges and fingers: wedge it first.",
    # assumptions
    "assumed.head_gap": "Gap over the leaf taken as {value}.",
    "assumed.head_thickness": "Head of the frame taken as {value} thick.",
    "assumed.leg_thickness": "Jamb legs taken as {value} thick.",
    "assumed.set_as_advised": "The frame was taken to stand as advised here.",
    "assumed.finer_grid": "The {asked} grid leaves no room between two limits here: heights are on {used}.",
    "assumed.answered": (
        "Taken as answered so that the work may go on, on the word of {by}; nothing of it was checked here: {question}"
    ),
    "assumed.as_of": (
        "Not in force yet by the permit date, {day}; what held in their place isn't known here, ask who issued the "
        "permit: {rules}."
    ),
    "assumed.year_built": (
        "Building taken as built in {year} or later, since its year isn't stated; not looked at for that: {rules}."
    ),
    "assumed.building_use": (
        "What kind of building this is isn't stated; not looked at for that, though some kinds are held to it: {rules}."
    ),
    "assumed.labour": "Minutes of work are assumed here, see GET /v1/labour; send this crew's own.",
    "assumed.subfloor": "Subfloor taken as level.",
    "assumed.thickness": "{material} taken as {value}, typically {least} to {greatest}.",
    "assumed.carpet_total": "Carpet thickness taken as the whole carpet, pile and backing.",
    # tasks
    "task.trim-leaf": "Trim the leaf and seal the cut edge",
    "task.trim-leaf.each": "Trim each leaf and seal its cut edge",
    "task.trim-leaf-first": "Trim off the leaf what every floor that may come asks for, and seal the cut edge",
    "task.trim-leaf-first.each": "Trim off each leaf what every floor that may come asks for, and seal its cut edge",
    "task.set-frame": "Set the frame and hang the leaf",
    "task.set-frame.each": "Set the frame and hang both leaves",
    "task.undercut-jambs": "Undercut legs and casing for the floor",
    "task.fit-piece": "Fit the transition piece under the closed leaf",
    "task.check-clearances": "Measure both clearances with the floors laid",
}
