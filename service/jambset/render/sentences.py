"""The one table of sentences. A phrase's code finds its template, its values fill the braces."""

from __future__ import annotations

ENGLISH: dict[str, str] = {
    "quote": "{text}",
    "notice": (
        "Advice, not permission: local code as adopted, the door's own listing and licensed practice decide. {adoption}"
    ),
    # summary
    "summary.go": "{setting} {leaf}",
    "summary.go_with_trim": "{setting} {leaf}",
    "summary.hold": (
        "Hold: somebody must answer or agree first, see the questions and conflicts. As things stand: {setting} {leaf}"
    ),
    "summary.conflict": (
        "Set and cut nothing yet: rules conflict, see the conflicts. As near as it goes: {setting} {leaf}"
    ),
    "set.stand": "Stand both legs on the subfloor.",
    "set.stand.as_set": "The frame, as set, has its legs on the subfloor.",
    "set.block": "Stand both legs on {height} blocks.",
    "set.block.as_set": "The frame, as set, has its legs {height} above the subfloor.",
    "set.cut": "Cut {height} off both legs: the unit stands too high for these floors.",
    "set.cut.as_set": "The frame, as set, stands too high: its legs would be {height} shorter.",
    "set.cut.low_header": "Cut {height} off both legs; the header is too low for them.",
    "set.uneven": "Out of level: {one}, {other}.",
    "set.uneven.as_set": "The frame, as set, is out of level: {one}, {other}.",
    "set.uneven.low_header": "Out of level under a header that is too low: {one}, {other}.",
    "leg.stand": "stand the {leg} on the subfloor",
    "leg.block": "block the {leg} {height}",
    "leg.cut": "cut {height} off the {leg}",
    "leg.hinge": "hinge leg",
    "leg.strike": "strike leg",
    "leg.first_hinge": "first hinge leg",
    "leg.second_hinge": "second hinge leg",
    "leaves.one": "the leaf",
    "leaves.each": "each leaf",
    "cut.none": "Leave the leaf uncut; its bottom ends {bottom} above the subfloor.",
    "cut.before_hanging": (
        "Cut {trim} off {leaves} on the bench, before hanging; the bottom ends {bottom} above the subfloor."
    ),
    "cut.before_floor": (
        "Cut {trim} off {leaves}, hung, before the floors are laid; the bottom ends {bottom} above the subfloor."
    ),
    "cut.after_floor": "Leave the leaf long for now and cut it once the floors are down.",
    "cut.now_and_later": (
        "Cut {trim} off the leaf on the bench, which every floor that may come asks for, and the rest once they lie."
    ),
    "cut.listed": "If its listing allows it, cut {trim} off {leaves}; the bottom ends {bottom} above the subfloor.",
    "cut.unknown": "End the leaf's bottom {bottom} above the subfloor; what that takes off waits for the undercut.",
    # order, leaf
    "order.undecided": "A floor is undecided: order when both are known.",
    "order.wanted": "A unit with {undercut} undercut, its legs down, leaves the leaf uncut over both floors named.",
    "order.weighed": "A unit with {undercut} undercut comes to the least work over all floors that may come.",
    "order.short": (
        "A unit with {undercut} undercut leaves the leaf uncut over these floors, and needs a rough opening of {hole}."
    ),
    "order.sawn": "This unit has {present}; one with {undercut} undercut, its legs down, would leave the leaf uncut.",
    "order.blocked": "This unit's {present} will do; one with {undercut} undercut could stand on the subfloor, uncut.",
    "order.will_do": "This unit's {present} will do; nothing else need be ordered.",
    "leaf.uncut": "The undercut alone puts the bottom {bottom} above the subfloor.",
    "leaf.before_hanging.bench": (
        "Cut {trim} on the bench before hanging: both floors are known and the unit isn't set."
    ),
    "leaf.before_floor.in_place": (
        "Cut {trim} with the leaf hung and held open; the blocks mark the line for the guide rail."
    ),
    "leaf.before_floor.off_hinges": (
        "Mark {trim} from the blocks, then take the leaf off its hinges to cut it: there is no room for a saw below."
    ),
    "leaf.after_floor.in_place": (
        "A floor isn't certain: leave the leaf long. With both laid, and if it is still {trim}, cut it hung and "
        "held open."
    ),
    "leaf.after_floor.off_hinges": (
        "A floor isn't certain: leave the leaf long. With both laid, and if it is still {trim}, mark it from the "
        "blocks "
        "and take the leaf off its hinges: there is no room for a saw below."
    ),
    "leaf.now": "Cut {trim} on the bench before hanging: every floor that may come asks for it, and for no more.",
    "leaf.now_and_later": (
        "Cut {trim} on the bench before hanging: every floor that may come asks for it. The rest waits for the floors."
    ),
    "leaf.listed": (
        "Cut {trim} only if the listing of this labelled leaf allows it; it isn't trimmed on this advice alone."
    ),
    "leaf.after_floor": "A floor is undecided: leave the leaf long and cut it after the floor.",
    "leaf.unknown": "What has to come off can't be told before the undercut is measured.",
    # floors that may change
    "outlook.foot": "Set the legs {height} above the subfloor: {minutes} of work to be expected, least of all. {cut}",
    "outlook.cut": "Cut {height} off the legs: {minutes} of work to be expected, least of all. {cut}",
    "outlook.set": "The unit is set: {minutes} of work to be expected once the floors lie. {cut}",
    "outlook.ordered": "Order {height} undercut: {minutes} of work to be expected, least of all. {cut}",
    "outlook.trim_now": "Cut {trim} off the leaf now: every floor that may come asks for it.",
    "outlook.long": "Cut nothing off the leaf until the floors are certain.",
    "tip.above.foot": "Were {floor} likelier than {weight}, a foot {height} above the subfloor would be best.",
    "tip.below.foot": "Were {floor} less likely than {weight}, a foot {height} above the subfloor would be best.",
    "tip.above.cut": "Were {floor} likelier than {weight}, legs cut by {height} would be best.",
    "tip.below.cut": "Were {floor} less likely than {weight}, legs cut by {height} would be best.",
    "tip.above.undercut": "Were {floor} likelier than {weight}, {height} undercut would be best.",
    "tip.below.undercut": "Were {floor} less likely than {weight}, {height} undercut would be best.",
    "outcome.and": "{first} {then}",
    "outcome.nothing": "Nothing more to do.",
    "outcome.again": "Take the unit out and set it again, its legs {height} above the subfloor.",
    "outcome.again_cut": "Take the unit out and set it again, {height} cut off its legs.",
    "outcome.exchange": "Exchange the unit for one with {height} undercut.",
    "outcome.trim.bench": "Cut {trim} off the leaf while it is out.",
    "outcome.trim.in_place": "Cut {trim} off the hung leaf in place.",
    "outcome.trim.off_hinges": "Take the leaf off its hinges and cut {trim} off it.",
    "outcome.filled": "The legs end {shows} above the finish: scribe fillers under them.",
    "outcome.covered": "The legs end {shows} above the finish: return the transition piece round them.",
    "outcome.wish": "One wish is given up.",
    "outcome.wishes": "{count} wishes are given up.",
    # flooring, transition
    "flooring.undecided": "The floor on the {side} side is undecided; nothing to undercut yet.",
    "flooring.carpet": "The carpet tucks into {room} under the legs and casing; nothing is cut.",
    "flooring.carpet_down": "The legs stand on the subfloor; the carpet is trimmed and tucked against them.",
    "flooring.undercut": "Undercut legs and casing {cut} above the subfloor: the floor and a little for the saw.",
    "flooring.shows": (
        "The legs end {shows} above the finish and daylight shows: fit a scribed filler or lower the frame."
    ),
    "flooring.bare": "The slab or deck itself is the floor here; nothing is laid and nothing is cut.",
    "flooring.clear": "The floor passes under the legs; nothing is cut.",
    "transition.none": "{piece}.",
    "transition.plain": "{piece} over a step of {step}.",
    "transition.bevel": "{piece}: ease the {drop} change in level with a bevel at least {run} long.",
    "transition.ramp": "{piece}: a change of {drop} needs a ramp at least {run} long.",
    # air
    "way.grille": "Add a transfer grille of {free} free area in the wall (about {face} of face in metal louvres).",
    "way.grille_rated": (
        "Add a transfer grille of {free} free area in the wall, never in the labelled leaf; in a rated wall it needs "
        "a listed fire damper, so ask the authority first."
    ),
    "way.prescribed": "Take the prescribed way: a grille of {area} and {clear} clear under the leaf besides.",
    "way.jump_duct": "Or run a jump duct {size} in diameter, up to {length} long, with square grilles of {grille}.",
    "way.jump_duct_rated": (
        "Or run a jump duct {size} in diameter, up to {length} long, with square grilles of {grille}; through "
        "rated construction it needs listed dampers, so ask the authority first."
    ),
    "way.ducted_return": "Or bring a ducted return to the room.",
    "way.ducted_supply": "Or supply the room with the air that its fan takes out.",
    "way.raise_header": "Raise the header, or take a door of less height.",
    "way.other_unit": "Exchange the unit for one with {undercut} undercut.",
    # conflicts
    "conflict.against": "“{rule}” is missed by {amount}; against it stands: {against}.",
    "conflict.pressure": (
        "“{rule}” is missed by {amount}. The gap alone would have to be {gap}; carry the rest another way."
    ),
    "conflict.pressure_capped": (
        "“{rule}” is missed by {amount}. The gap alone would have to be {gap}; against it stands: {against}."
    ),
    "conflict.alone": "“{rule}” is missed by {amount}.",
    "conflict.prohibited": "“{rule}”: what this opening is asked to do isn't allowed.",
    "conflict.unmet": "“{rule}” isn't met by this opening.",
    # questions
    "place.pull_side": "on the pull side",
    "place.push_side": "on the push side",
    "place.room": "in {room}",
    "ask.floor_undecided": "Which floor, layer by layer, comes {place}?",
    "ask.floor_may_change": (
        "Which floor comes {place}: {floors}? Nothing irreversible is advised until it is certain."
    ),
    "ask.floor_unconfirmed": "Who confirms the floor {place}: {floors}? Nothing irreversible is advised until then.",
    "ask.subfloor": "Is the subfloor level under the legs and inside the swing? It was taken as level.",
    "ask.survey": "How high is the subfloor where the gauge blocks stand? The nearest survey point is too far away.",
    "ask.undercut": "What is this unit's undercut, leaf bottom to frame bottom?",
    "ask.foot": "How high above the highest subfloor do this frame's legs stand? It was taken to stand as advised.",
    "ask.frame_label": "May the legs of this labelled frame be cut? Its listing and its label decide.",
    "ask.thickness": "How thick will the {layer} be? It was taken at what is typical.",
    "ask.rough_opening": "How high is the rough opening above the subfloor? The header wasn't checked.",
    "ask.fire_minutes": "How many minutes is this leaf rated for, and what does its listing allow at the bottom edge?",
    "ask.supply_flow": "How much air is supplied to the room, or exhausted from it, with this door closed?",
    "ask.pressure_limit": "What pressure across the closed door does the air design allow?",
    # house
    "house.summary": (
        "{openings} openings: {ready} can be set as advised, {hold} on hold, {conflict} in conflict, {refused} "
        "refused. {lines}Block sizes: {sizes}. Work to be expected for settings and cuts: {minutes}."
    ),
    "house.lines": "Head lines kept: {held} of {lines}. ",
    "house.blocks": "Block sizes: {sizes}; were each opening decided alone, {alone}. Difference: {minutes}.",
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
    "line.refused": "Its opening was refused.",
    # recheck
    "summary.recheck.fine": "All is fine as it stands: {stands}",
    "summary.recheck.live_with": "It can be left as it is, only wishes are missed ({count}): {stands}",
    "summary.recheck.work": "{first} Least work, {minutes} min: {remedy}",
    "summary.recheck.work_open": (
        "{first} No remedy known here mends all that is missed (firm rules: {count}); see what each one leaves."
    ),
    "summary.recheck.conflict_open": (
        "{first} Cut and fit nothing yet: no remedy known here mends what may not be left so (firm rules missed: "
        "{count})."
    ),
    "summary.recheck.hold": "A floor isn't named yet: cut and move nothing. {first}",
    "summary.recheck.nothing_yet": "Of what can be told, nothing is missed.",
    "summary.recheck.stands": (
        "the leaf clears the floor {pull_floor} by {pull} and the one {push_floor} by {push}, and {legs} above the "
        "subfloor."
    ),
    "summary.recheck.legs_1": "the legs end {low}",
    "summary.recheck.legs_2": "the legs end {low} and {high}",
    "place.piece": "over the piece",
    "finding.rubs": "The leaf ends {amount} below the top of what lies {where}: it rubs.",
    "finding.touches": "The leaf ends level with the top of what lies {where}: it touches.",
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
        "Cut {trim} off {leaves}, hung, along a guide rail; the bottom ends {bottom} above the subfloor."
    ),
    "remedy.trim.off_hinges": (
        "Take {leaves} off its hinges and cut {trim} off; the bottom ends {bottom} above the subfloor."
    ),
    "remedy.trim.off_hinges_two": (
        "Two people take {leaves} off its hinges; cut {trim} off; the bottom ends {bottom} above the subfloor."
    ),
    "remedy.listed": "Only if the listing of this labelled door allows it: {text}",
    "remedy.reset.stand": (
        "Take the unit out and set it again with its legs on the subfloor; the leaf ends {bottom} above it."
    ),
    "remedy.reset.block": (
        "Take the unit out and set it again, its legs {foot} above the subfloor; the leaf ends {bottom} above it."
    ),
    "remedy.reset.cut": (
        "Take the unit out, cut {foot} off its legs and set it again; the leaf ends {bottom} above the subfloor."
    ),
    "remedy.reset.and_trim": "{text} Cut {trim} off {leaves} on the bench while it is out.",
    "remedy.fill_legs": "Scribe fillers under both legs and their casing, where they end {shows} above the finish.",
    "remedy.fill_legs.tuck": "Lengthen both legs and their casing by fillers that reach into the floor.",
    "remedy.cover_legs": "Return the piece ({piece}) round both legs, so that it hides the {shows} below them.",
    "remedy.raise_floor": "Lay the floor {where} {layer} higher on a thicker underlayment.",
    "remedy.change_piece": "Fit another piece: {piece}, which stands {rise} above the higher finish.",
    "remedy.bottom_seal": "Fit a seal to the leaf's bottom; it closes {reach} at most.",
    "remedy.bottom_seal.listed": (
        "Fit the seal that this door's listing names to the leaf's bottom; it was taken to close {reach} at most."
    ),
    "need.listing": "Does the listing of this labelled leaf allow its bottom to be cut, and by how much?",
    "need.frame_label": "Does the listing of this labelled frame allow its legs to be cut or lengthened?",
    "need.seal_listing": "Which seal at the bottom does this door's listing or certificate name?",
    "need.authority": "Does the authority allow a grille beside this door, and which damper does the wall need?",
    "need.floors_certain": "Are both floors certain? Nothing that can't be undone is begun before.",
    "need.floor_not_laid": "Is this floor still to be laid? Only then can it lie higher.",
    "nothing.fine": "Nothing needs doing.",
    "nothing.wishes": "It can be left so: only wishes are missed.",
    "nothing.firm": "Rules known here don't forbid leaving it so; {count} firmer than a wish stay missed.",
    "nothing.rubs": "It can't be left so: the leaf rubs.",
    "nothing.unlawful": "It can't be left so: “{rule}” is missed.",
    "nothing.undecided": "What it means to leave it so can't be told before both floors are named.",
    "caution.cut_wall": (
        "Before a wall is cut, look for cables, pipes and framing in it; old paint may carry lead. A rated wall isn't "
        "cut without its authority."
    ),
    "caution.small_parts": (
        "Cut fillers and pieces with guard in place, the work clamped, hands off the line, eyes and ears protected."
    ),
    "assumed.untrimmed": "Leaf taken as never trimmed, so its undercut as {value}.",
    "assumed.leaf_bottom": "Leaf's bottom taken as {value} above the subfloor, from the gap and the floor below it.",
    "task.trim": "Trim the leaf and seal the cut edge",
    "task.reset": "Take the unit out and set it again",
    "task.fill_legs": "Scribe and fix fillers under both legs",
    "task.cover_legs": "Return the transition piece round both legs",
    "task.raise_floor": "Lay a thicker underlayment",
    "task.change_piece": "Fit another transition piece",
    "task.bottom_seal": "Fit a seal to the leaf's bottom",
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
    "assumed.labour": "Minutes of work are assumed here, see GET /v1/labour; send this crew's own.",
    "assumed.subfloor": "Subfloor taken as level.",
    "assumed.thickness": "{material} taken as {value}, typically {least} to {greatest}.",
    "assumed.carpet_total": "Carpet thickness taken as the whole carpet, pile and backing.",
    # tasks
    "task.trim-leaf": "Trim the leaf and seal the cut edge",
    "task.trim-leaf-first": "Trim off the leaf what every floor that may come asks for, and seal the cut edge",
    "task.set-frame": "Set the frame and hang the leaf",
    "task.undercut-jambs": "Undercut legs and casing for the floor",
    "task.fit-piece": "Fit the transition piece under the closed leaf",
    "task.check-clearances": "Measure both clearances with the floors laid",
}
