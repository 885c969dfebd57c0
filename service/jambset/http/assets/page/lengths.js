// Lengths as requests write them, exact: counted in ticks of 125 nm, of which inch and millimetre are whole numbers.

const TICKS = { mm: 8_000, cm: 80_000, m: 8_000_000, in: 203_200, ft: 2_438_400 };
const VULGAR = { "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };

const METRIC = /^(\d+(?:\.\d+)?) ?(mm|cm|m)$/;
const IMPERIAL = /^(?:(\d+) ?(?:ft|'|′))?[ -]?(\d+(?:\.\d+)?(?![\d./]))?[ -]?(?:(\d+)\/(\d+))? ?(in|"|″)?$/;

/** Ticks of a length as written in a request, null where it can't be read here. */
export function ticksOf(length) {
  if (length !== null && typeof length === "object") return ticksOfPair(length);
  if (typeof length !== "string") return null;
  const text = length.trim().replace(/[½¼¾⅛⅜⅝⅞]/, (sign) => ` ${VULGAR[sign]}`).trim();
  return ticksOfMetric(METRIC.exec(text)) ?? ticksOfInches(IMPERIAL.exec(text));
}

const ticksOfPair = ({ value, unit }) =>
  typeof value === "number" && unit in TICKS ? Math.round(value * TICKS[unit]) : null;

const ticksOfMetric = (found) => (found ? Math.round(Number(found[1]) * TICKS[found[2]]) : null);

function ticksOfInches(found) {
  if (!found || (found[1] === undefined && found[5] === undefined)) return null;
  const [, feet = 0, whole = 0, over = 0, under = 1] = found;
  return Math.round(Number(feet) * TICKS.ft + (Number(whole) + Number(over) / Number(under)) * TICKS.in);
}

/** Ticks of one step of a grid such as "1/16 in" or "0.5 mm". */
export const stepOf = (grid) => ticksOf(grid);

/** A length as a request writes it, in the unit of a grid. */
export function written(ticks, grid) {
  return grid.endsWith("mm") ? `${Number((ticks / TICKS.mm).toFixed(4))} mm` : inches(ticks);
}

function inches(ticks) {
  const whole = Math.floor(ticks / TICKS.in);
  const parts = Math.round(((ticks % TICKS.in) / TICKS.in) * 64);
  if (parts === 0) return `${whole} in`;
  const shared = [64, 32, 16, 8, 4, 2].find((by) => parts % by === 0 && 64 % by === 0) ?? 1;
  const fraction = `${parts / shared}/${64 / shared}`;
  return whole ? `${whole} ${fraction} in` : `${fraction} in`;
}

/** A length of a request as a reader sees it; what is none, as it stands there. */
export const shown = (length) => (typeof length === "string" ? length : (ofPair(length) ?? JSON.stringify(length)));

const ofPair = (length) => (length?.value !== undefined && length.unit !== undefined ? `${length.value} ${length.unit}` : null);
