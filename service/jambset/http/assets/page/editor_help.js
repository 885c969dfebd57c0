// The contract's help in the editor: completion of names and values, and what a field means on hover or F1.
import { StateEffect, StateField, hoverTooltip, keymap, showTooltip, startCompletion } from "./editor.js";
import { element } from "./dom.js";
import { itemsOf, loose, nameOf, propertiesOf, stepsTo, treeOf } from "./json_places.js";
import { aboutPlace, aboutSchemas, choicesOf, fieldsAt, schemasAt } from "./schema_help.js";
import { say } from "./words.js";

const CHOICES_SHOWN = 12;
const SCALARS = new Set(["String", "Number", "True", "False", "Null"]);

// --- completion

/** A source of completions. help: gives `{contract, root}`, root being the name of the request's schema. */
export const completions = (help) => (context) => {
  const { contract, root } = help();
  const place = contract && placeAt(context.state, context.pos);
  if (!place || (!place.node && !context.explicit)) return null;
  const whole = loose(context.state);
  const options = place.names
    ? nameOptions(fieldsAt(contract, root, place.steps, whole), place)
    : valueOptions(schemasAt(contract, root, place.steps, whole), place);
  const from = place.node ? place.node.from + (isQuoted(place.node) ? 1 : 0) : context.pos;
  return options.length ? { from, to: context.pos, options, validFor: /^[\w /.-]*$/ } : null;
};

const isQuoted = (node) => node.name === "String" || node.name === "PropertyName";

/** What a completion replaces: all of the name or value that stands there, its quotes too. */
function replaced(state, place, from, to) {
  if (!place.node) return { from, to };
  const node = treeOf(state).resolveInner(from, isQuoted(place.node) ? -1 : 1);
  return { from: node.from, to: node.to };
}

/** What could be written at a position: a name in an object, or a value; with the node that stands there already. */
function placeAt(state, pos) {
  const inner = treeOf(state).resolveInner(pos, -1);
  const node = inner.type.isError || !/^[A-Z]/.test(inner.name) ? inner.parent : inner;
  if (node.name === "PropertyName") return nameAt(state, node.parent.parent, node);
  if (SCALARS.has(node.name)) return { names: false, steps: stepsTo(state, node), node };
  if (node.name === "Property") return { names: false, steps: stepsTo(state, node), node: null };
  if (node.name === "Array") return { names: false, steps: [...stepsTo(state, node), countBefore(node, pos)], node: null };
  return node.name === "Object" ? nameAt(state, node, null) : null;
}

function nameAt(state, object, node) {
  const others = propertiesOf(object).filter((property) => property.from !== node?.from);
  const colon = node?.nextSibling?.name === ":";
  return { names: true, steps: stepsTo(state, object), node, colon, taken: new Set(others.map((p) => nameOf(state, p))) };
}

const countBefore = (array, pos) => itemsOf(array).filter((item) => item.to <= pos).length;

function nameOptions(fields, place) {
  const left = fields.filter((field) => !place.taken.has(field.name));
  return left.map((field) => ({
    label: field.name,
    type: "property",
    detail: field.required ? say("help.required") : undefined,
    boost: field.required ? 1 : 0,
    info: () => helpText(field.name, aboutSchemas(field.schemas)),
    apply: (view, option, from, to) => insertName(view, field, place, replaced(view.state, place, from, to)),
  }));
}

/** Write a name and, where there is none yet, the empty value that belongs to it, the cursor inside. */
function insertName(view, field, { colon }, { from, to }) {
  const value = colon ? "" : emptyValue(field.schemas);
  const text = colon ? `"${field.name}"` : `"${field.name}": ${value}`;
  const inside = value.length === 2 ? 1 : 0;
  view.dispatch({ changes: { from, to, insert: text }, selection: { anchor: from + text.length - inside }, userEvent: "input.complete" });
  if (choicesOf(field.schemas).length) startCompletion(view);
}

function emptyValue(schemas) {
  const types = schemas.map((schema) => schema.type);
  if (types.includes("string") || schemas.some((schema) => typeof (schema.const ?? schema.enum?.[0]) === "string")) return '""';
  return { object: "{}", array: "[]" }[types[0]] ?? "";
}

function valueOptions(schemas, place) {
  return choicesOf(schemas).map((value) => ({
    label: String(value),
    type: "enum",
    apply: (view, option, from, to) => insertValue(view, value, replaced(view.state, place, from, to)),
  }));
}

function insertValue(view, value, { from, to }) {
  const text = JSON.stringify(value);
  view.dispatch({ changes: { from, to, insert: text }, selection: { anchor: from + text.length }, userEvent: "input.complete" });
}

// --- help on a field

/** Extensions that show what a field means: over it with the pointer, at the cursor with F1. told: gets it as text. */
export function fieldHelp(help, told) {
  return [hoverTooltip((view, pos) => tooltipAt(help, view.state, pos)), pinned, helpKeys(help, told)];
}

const pin = StateEffect.define();
const pinned = StateField.define({
  create: () => null,
  update: (tooltip, change) => {
    const said = change.effects.find((effect) => effect.is(pin));
    return said ? said.value : change.docChanged || change.selection ? null : tooltip;
  },
  provide: (field) => showTooltip.from(field),
});

function helpKeys(help, told) {
  const show = (view) => {
    const tooltip = tooltipAt(help, view.state, view.state.selection.main.head);
    view.dispatch({ effects: pin.of(tooltip) });
    told(tooltip?.text ?? say("help.none"));
    return true;
  };
  const hide = (view) => {
    if (!view.state.field(pinned)) return false;
    view.dispatch({ effects: pin.of(null) });
    return true;
  };
  return keymap.of([{ key: "F1", run: show }, { key: "Escape", run: hide }]);
}

function tooltipAt(help, state, pos) {
  const { contract, root } = help();
  const node = contract && memberAt(state, pos);
  const steps = node && stepsTo(state, node);
  const about = steps && aboutPlace(contract, root, steps, loose(state));
  if (!about) return null;
  const shown = helpText(steps.at(-1), about);
  const range = node.getChild("PropertyName") ?? node;
  return { pos: range.from, end: range.to, above: true, text: spoken(shown), create: () => ({ dom: shown }) };
}

const spoken = (shown) => [...shown.children].map((part) => part.textContent).join(" ");

/** The property around a position, or the item of a list. */
function memberAt(state, pos) {
  let node = treeOf(state).resolveInner(pos, 1);
  while (node.parent && node.name !== "Property" && !(SCALARS.has(node.name) && node.parent.name === "Array")) node = node.parent;
  return node.parent ? node : null;
}

/** What the contract says of a field, in the contract's language. */
function helpText(name, about) {
  const choices = about.choices.map(String);
  const more = choices.length > CHOICES_SHOWN ? "…" : "";
  const values = choices.slice(0, CHOICES_SHOWN).join(" ") + more;
  return element(
    "div",
    { class: "field-help" },
    element("p", {}, element("strong", {}, String(name)), about.required && ` (${say("help.required")})`),
    ...about.abouts.map((text) => element("p", { lang: "en" }, text)),
    about.range && element("p", {}, say("help.range", { least: bound(about.range.least), greatest: bound(about.range.greatest) })),
    choices.length > 0 && element("p", {}, `${say("help.values")} `, element("code", {}, values)),
  );
}

const bound = ({ value, unit }) => `${value} ${unit}`;
