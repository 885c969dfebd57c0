// Small parts to build the page from.

export const byId = (id) => document.getElementById(id);

const JOINED = "\u00a0";
const SPACED = /(?<=[0-9]) (?=[0-9]|(?:in|mm|cfm|L\/s|m3\/h|Pa)\b)/g;

/** A text whose quantities, as "1 1/2 in", no line breaks within; the same rule as on the sheets. */
export const joined = (text) => text.replace(SPACED, JOINED);

/**
 * An element; attributes are set as they are called, `onclick` and the like as listeners, children that are missing left
 * out, quantities in texts kept whole.
 */
export function element(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== undefined && value !== false) made.setAttribute(name, value);
  }
  made.append(...present(children));
  return made;
}

/** Put children in place of what a node holds. */
export const fill = (node, ...children) => node.replaceChildren(...present(children));

/** Words in a language of their own; without one, in that of the page. */
export const inLanguage = (lang, text) => (lang ? element("span", { lang }, text) : text);

/** A list of items, or nothing where there is none. */
export function list(items, attributes = {}) {
  return items.length ? element("ul", attributes, ...items.map((item) => element("li", {}, ...[item].flat()))) : null;
}

/** Change a text only where it differs, so that a live region speaks once. */
export function tell(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

const LINES_LAID_OUT = 1_000;

/** Put a long text into a node, in parts of which a browser lays out those alone that are looked at. */
export function fillLong(node, text) {
  const lines = text.split(/(?<=\n)/);
  const parts = [];
  for (let from = 0; from < lines.length; from += LINES_LAID_OUT) {
    const part = document.createElement("span");
    part.className = "part";
    part.textContent = lines.slice(from, from + LINES_LAID_OUT).join("");
    parts.push(part);
  }
  node.replaceChildren(...parts);
}

const present = (children) =>
  children
    .flat()
    .filter((child) => child !== null && child !== undefined && child !== false)
    .map((child) => (typeof child === "string" ? joined(child) : child));
