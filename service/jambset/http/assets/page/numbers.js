// The numbers of an answer that matter, by their path in it, and the rules the service names for each.

/** Paths in the order in which they are shown. Those marked are shown only where they aren't zero. */
const PATHS = [
  "setting.foot",
  "setting.hinge_leg.block?",
  "setting.hinge_leg.trim?",
  "setting.strike_leg.block?",
  "setting.strike_leg.trim?",
  "setting.second_hinge_leg.block?",
  "setting.second_hinge_leg.trim?",
  "setting.head_height",
  "found.hinge_foot",
  "found.strike_foot",
  "found.leaf_bottom",
  "found.undercut",
  "found.trimmed?",
  "leaf.bottom",
  "leaf.trim",
  "leaf.trim_now?",
  "clearance.pull_side",
  "clearance.push_side",
  "clearance.piece",
  "air.gap",
  "air.supply_flow",
  "air.flow_at_limit",
  "air.pressure_at_supply",
  "air.shortfall?",
  "flooring.pull_side.jamb_undercut",
  "flooring.push_side.jamb_undercut",
  "transition.rise",
  "framing.rough_opening_needed",
  "framing.short_by?",
  "framing.width_short_by?",
  "order.undercut_to_order",
];

/** Quantities of checks that are held against a number. */
const CHECKED = {
  "leaf.bottom": ["leaf_bottom"],
  "leaf.trim": ["trim"],
  "setting.foot": ["foot", "leg_cover", "leg_trim"],
  "found.hinge_foot": ["foot", "leg_cover"],
  "found.strike_foot": ["foot", "leg_cover"],
  "found.leaf_bottom": ["leaf_bottom"],
  "found.trimmed": ["trim"],
  "clearance.pull_side": ["floor_clearance"],
  "clearance.push_side": ["floor_clearance"],
  "clearance.piece": ["piece_clearance"],
  "transition.rise": ["threshold_height", "vertical_edge"],
  "framing.rough_opening_needed": ["head_shim"],
};

/** What stands at a path in an answer. */
export const at = (answer, path) => path.split(".").reduce((part, name) => part?.[name], answer);

/** A number as the service wrote it. */
export const textOf = (value) => value?.text ?? value?.nominal?.text;

/** Name of a number in words and classes: "leaf-bottom" for leaf.bottom. */
export const slug = (path) => path.replace(/[._]/g, "-");

/** The numbers an answer holds: path, text, and least to greatest where it is a spread. */
export function numbersOf(answer) {
  return PATHS.flatMap((entry) => {
    const path = entry.replace("?", "");
    const value = at(answer, path);
    const wanted = textOf(value) !== undefined && !(entry.endsWith("?") && isZero(value));
    return wanted ? [{ path, text: textOf(value), range: rangeOf(value) }] : [];
  });
}

const isZero = (value) => Object.values(value).every((part) => typeof part === "string" || part === 0);

function rangeOf({ least, greatest }) {
  return least && greatest && least.text !== greatest.text ? { least: least.text, greatest: greatest.text } : null;
}

/** The path in an answer that a class such as "of-leaf-bottom" names. */
export function pathOfClass(answer, name) {
  const wanted = name.replace(/^of-/, "");
  const walk = (part, path) => {
    if (path && slug(path) === wanted) return path;
    if (part === null || typeof part !== "object" || Array.isArray(part)) return undefined;
    for (const [key, inner] of Object.entries(part)) {
      const found = walk(inner, path ? `${path}.${key}` : key);
      if (found) return found;
    }
    return undefined;
  };
  return walk(answer, "");
}

/** The rules of a number: `how` is "governs" for those the service says drove it, "checked" for those held against it. */
export function rulesOf(answer, path) {
  const [section, side] = path.split(".");
  const named = answer[section]?.governed_by ?? [];
  if (named.length) return { how: "governs", ids: named };
  const checks = checksOf(answer, path, side);
  const governing = checks.filter((check) => check.governs);
  const ids = (governing.length ? governing : tightest(checks)).map((check) => check.rule);
  return { how: governing.length ? "governs" : "checked", ids: [...new Set(ids)] };
}

function checksOf(answer, path, side) {
  const wanted = CHECKED[path] ?? [];
  return answer.checks.filter(
    (check) => wanted.includes(check.quantity) && (!side?.endsWith("_side") || !check.side || check.side === side),
  );
}

function tightest(checks) {
  const measured = checks.filter((check) => check.margin?.mm !== undefined);
  const least = Math.min(...measured.map((check) => check.margin.mm));
  return measured.filter((check) => check.margin.mm === least);
}

/** What the service says of why a number is as it is, where it does. */
export function whyOf(answer, path) {
  const [section, side] = path.split(".");
  return answer[section]?.why ?? answer[section]?.[side]?.note ?? answer[section]?.note;
}
