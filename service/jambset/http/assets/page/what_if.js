// The what-if strip: for each side a slider for the thickness of its finish and a choice of another finish.
import { element, fill, joined, tell } from "./dom.js";
import { shown, stepOf, ticksOf, written } from "./lengths.js";
import { numbersOf } from "./numbers.js";
import { nameOf } from "./rule_panel.js";
import { say, sayCode } from "./words.js";

const SIDES = ["pull_side", "push_side"];
const DEFAULT_GRID = "1/16 in";
const TICKS_PER_MM = 8_000;
const CHANGES_SHOWN = 5;

/**
 * The strip in `parent`. finishes: materials by id; lang: of their titles; grids: grid of each place; rewrite: changes the layer at steps.
 * Gives a function that sets the strip to a request.
 */
export function whatIf(parent, { finishes, lang, grids, rewrite }) {
  const controls = SIDES.map((side) => control(side, { finishes, lang, rewrite }));
  fill(parent, ...controls.map((made) => made.node));
  return (request) => {
    const grid = request.grid ?? grids.get(request.jurisdiction) ?? DEFAULT_GRID;
    for (const made of controls) made.set(request, stepOf(grid) ? grid : DEFAULT_GRID);
  };
}

/** Slider and choice of one side. */
function control(side, { finishes, lang, rewrite }) {
  const parts = built(side, lang);
  const { node, legend, choice, slider, output } = parts;
  let now = null;

  slider.addEventListener("input", () => {
    const text = written(Number(slider.value) * stepOf(now.grid), now.grid);
    shownAs(parts, text);
    rewrite(now.steps, (layer) => thicknessSet(layer, text));
  });
  choice.addEventListener("change", () => {
    const thickness = onGrid(ticksOfForm(finishes.get(choice.value).nominal), now.grid);
    rewrite(now.steps, () => ({ material: choice.value, thickness }));
  });

  return {
    node,
    set(request, grid) {
      const layers = request[side]?.build_up;
      const layer = Array.isArray(layers) ? layers.at(-1) : undefined;
      const finish = finishes.get(layer?.material);
      tell(legend, [sayCode("side", side), request[side]?.room].filter(Boolean).join(": "));
      node.classList.toggle("unnamed", !finish);
      slider.disabled = choice.disabled = !finish;
      if (!finish) return;
      const same = now?.grid === grid && now.material === layer.material;
      now = { grid, material: layer.material, steps: [side, "build_up", layers.length - 1], ends: same ? now.ends : null };
      setChoice(choice, finishes, layer.material);
      setSlider(parts, now, layer, finish);
    },
  };
}

function built(side, lang) {
  const ids = { choice: `what-if-${side}-finish`, slider: `what-if-${side}-thickness` };
  const legend = element("legend");
  const choice = element("select", { id: ids.choice, lang });
  const slider = element("input", { id: ids.slider, type: "range" });
  const output = element("output", { for: ids.slider });
  const node = element(
    "fieldset",
    { class: "side", "data-side": side },
    legend,
    element("p", { class: "none" }, say("what_if.no_floor")),
    element("div", { class: "field" }, element("label", { for: ids.choice }, say("what_if.finish")), choice),
    element("div", { class: "field row" }, element("label", { for: ids.slider }, say("what_if.thickness")), output, slider),
  );
  return { node, legend, choice, slider, output };
}

/** A layer of another thickness; its own least and greatest belonged to the old one. */
const thicknessSet = ({ least, greatest, ...layer }, thickness) => ({ ...layer, thickness });

const ticksOfForm = (form) => Math.round(form.mm * TICKS_PER_MM);

/** A length on the nearest line of a grid; what isn't nothing isn't rounded to nothing. */
function onGrid(ticks, grid) {
  const step = stepOf(grid);
  return written(Math.max(Math.round(ticks / step), ticks > 0 ? 1 : 0) * step, grid);
}

function setChoice(choice, finishes, material) {
  const offered = [...finishes.values()].filter((finish) => finish.finish !== "none" || finish.id === material);
  const ids = offered.map((finish) => finish.id).join();
  if (choice.dataset.ids !== ids) {
    fill(choice, ...offered.map((finish) => element("option", { value: finish.id }, finish.title)));
    choice.dataset.ids = ids;
  }
  choice.value = material;
}

/** Set a slider to a layer; its ends stay while the finish does, so that it doesn't move under the hand. */
function setSlider(parts, now, layer, finish) {
  const { slider } = parts;
  const ticks = ticksOf(layer.thickness) ?? ticksOfForm(finish.nominal);
  const step = stepOf(now.grid);
  const at = Math.round(ticks / step);
  now.ends = widened(now.ends ?? endsOf(finish, step), at);
  slider.min = now.ends.least;
  slider.max = now.ends.greatest;
  slider.value = at;
  shownAs(parts, layer.thickness === undefined ? say("what_if.typical", { text: finish.nominal.text }) : shown(layer.thickness));
}

/** From half the least of a finish to half as much again as its greatest, in steps. */
const endsOf = ({ least, greatest }, step) => ({
  least: Math.max(Math.floor(ticksOfForm(least) / 2 / step), ticksOfForm(least) > 0 ? 1 : 0),
  greatest: Math.ceil((ticksOfForm(greatest) * 1.5) / step),
});

const widened = ({ least, greatest }, at) => ({ least: Math.min(least, at), greatest: Math.max(greatest, at) });

function shownAs({ slider, output }, text) {
  tell(output, joined(text));
  slider.setAttribute("aria-valuetext", text);
}

// --- what changed

/** In words: what shows, rubs or is cut now, and what changed against the scenario as it was picked. */
export function whatChanged(before, now) {
  const changed = [...verdictChange(before, now), ...numberChanges(before, now)];
  return [...new Set([...seen(now), compared(changed)])].join(" ");
}

function compared(changed) {
  if (!changed.length) return say("what_if.same");
  const more = changed.length > CHANGES_SHOWN ? ` ${say("what_if.more", { count: changed.length - CHANGES_SHOWN })}` : "";
  return say("what_if.changed", { list: changed.slice(0, CHANGES_SHOWN).join("; ") }) + more;
}

function verdictChange(before, now) {
  const [was, is] = [before, now].map((answer) => sayCode("verdict", answer.verdict));
  return was === is ? [] : [say("what_if.now_was", { name: say("what_if.verdict"), is, was })];
}

function numberChanges(before, now) {
  const was = new Map(numbersOf(before).map(({ path, text }) => [path, text]));
  const is = new Map(numbersOf(now).map(({ path, text }) => [path, text]));
  const paths = [...new Set([...is.keys(), ...was.keys()])].filter((path) => was.get(path) !== is.get(path));
  const none = say("what_if.none");
  return paths.map((path) => say("what_if.now_was", { name: nameOf(path), is: is.get(path) ?? none, was: was.get(path) ?? none }));
}

/** What the service found of legs and leaf. */
function seen(answer) {
  if (answer.findings) return answer.findings.filter(({ kind }) => kind === "shows" || kind === "rubs").map(({ text }) => text);
  return [...below(answer, "leg_cover", "leg_shows"), ...below(answer, "floor_clearance", "rubs"), ...below(answer, "piece_clearance", "rubs_piece"), ...cut(answer)];
}

const below = (answer, quantity, code) =>
  answer.checks
    .filter((check) => check.quantity === quantity && check.actual?.mm < 0)
    .map((check) => say(`what_if.${code}`, { side: check.side ? sayCode("side", check.side) : "" }));

function cut({ leaf }) {
  if (leaf.trim === undefined) return [];
  return [leaf.trim.mm > 0 ? say("what_if.trimmed", { text: leaf.trim.text }) : say("what_if.whole")];
}
