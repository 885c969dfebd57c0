// Where things stand in a JSON text: from its syntax tree to JSON Pointers and back.
import { ensureSyntaxTree } from "./editor.js";

const PARSE_MS = 2_000;
const VALUES = new Set(["Object", "Array", "String", "Number", "True", "False", "Null"]);
const FAULTS_SHOWN = 5;

/** The syntax tree of the whole text. */
export const treeOf = (state) => ensureSyntaxTree(state, state.doc.length, PARSE_MS);

const textOf = (state, node) => state.sliceDoc(node.from, node.to);

function children(node) {
  const found = [];
  for (let child = node.firstChild; child; child = child.nextSibling) found.push(child);
  return found;
}

/** The values of an array, in order. */
export const itemsOf = (array) => children(array).filter((child) => VALUES.has(child.name));

/** The properties of an object, in order. */
export const propertiesOf = (object) => children(object).filter((child) => child.name === "Property");

/** Name of a property, without its quotes. */
export function nameOf(state, property) {
  const quoted = textOf(state, property.getChild("PropertyName"));
  try {
    return JSON.parse(quoted);
  } catch {
    return quoted;
  }
}

/** Value of a property, null while it has none. */
export const valueOf = (property) => itemsOf(property)[0] ?? null;

const rootOf = (state) => itemsOf(treeOf(state).topNode)[0] ?? null;

/** What a text holds as far as it can be read; what can't be is left out. */
export function loose(state, node = rootOf(state)) {
  if (!node) return undefined;
  if (node.name === "Array") return itemsOf(node).map((item) => loose(state, item));
  if (node.name === "Object") {
    return Object.fromEntries(propertiesOf(node).map((p) => [nameOf(state, p), loose(state, valueOf(p))]));
  }
  try {
    return JSON.parse(textOf(state, node));
  } catch {
    return undefined;
  }
}

/** Names and numbers that lead from the top to a node. */
export function stepsTo(state, node) {
  const steps = [];
  for (let here = node; here.parent; here = here.parent) {
    if (here.name === "Property") steps.unshift(nameOf(state, here));
    else if (here.parent.name === "Array" && VALUES.has(here.name)) steps.unshift(itemsOf(here.parent).findIndex((i) => i.from === here.from));
  }
  return steps;
}

/** Names of a pointer such as "#/pull_side/build_up/0". */
export function stepsOf(pointer) {
  const parts = decodeURIComponent(pointer.replace(/^#/, "")).split("/").slice(1);
  return parts.map((part) => part.replaceAll("~1", "/").replaceAll("~0", "~"));
}

/** The value a pointer leads to, null where the text has none. */
export function nodeAt(state, steps) {
  return steps.reduce((node, step) => {
    if (node?.name === "Array") return itemsOf(node)[Number(step)] ?? null;
    if (node?.name !== "Object") return null;
    const property = propertiesOf(node).findLast((p) => nameOf(state, p) === step);
    return property ? valueOf(property) : null;
  }, rootOf(state));
}

/** The text to mark for a pointer: name and value, of a longer value the name, else the nearest part that is there. */
export function rangeOf(state, pointer) {
  const steps = stepsOf(pointer);
  const node = nodeAt(state, steps);
  if (node) return markOf(node);
  for (let length = steps.length - 1; length >= 0; length -= 1) {
    const nearest = nodeAt(state, steps.slice(0, length));
    if (nearest) return { from: nearest.from, to: nearest.from + 1 };
  }
  return { from: 0, to: 0 };
}

function markOf(node) {
  const name = node.parent.getChild("PropertyName");
  const single = node.name !== "Object" && node.name !== "Array";
  return { from: name?.from ?? node.from, to: single ? node.to : (name?.to ?? node.from + 1) };
}

/** Where a text isn't JSON: ranges with what stands there, the first few. */
export function syntaxFaults(state) {
  const faults = [];
  treeOf(state).iterate({
    enter(node) {
      if (node.type.isError && faults.length < FAULTS_SHOWN && faults.at(-1)?.from !== node.from) {
        faults.push({ from: node.from, to: node.to, text: textOf(state, node) });
      }
    },
  });
  return faults.length ? faults : unread(state);
}

/** What the tree lets pass and JSON doesn't, such as a line break within a string. */
function unread(state) {
  try {
    JSON.parse(state.doc.toString());
    return [];
  } catch (fault) {
    const at = Math.min(Number(/position (\d+)/.exec(fault.message)?.[1] ?? 0), state.doc.length);
    return [{ from: at, to: Math.min(at + 1, state.doc.length), text: state.sliceDoc(at, at + 1) }];
  }
}
