// The drawing of an opening, with each of its dimensions a button that shows the rules behind it.
import { pathOfClass } from "./numbers.js";
import { sayCode } from "./words.js";

const SVG = "http://www.w3.org/2000/svg";

/** Put a drawing in a panel. text: SVG; answer: what it draws; opened: called with the path of a dimension and its title. */
export function showDrawing(panel, { text, answer, opened }) {
  const drawing = document.importNode(parsed(text), true);
  drawing.setAttribute("role", "group");
  for (const dimension of drawing.querySelectorAll('g[class*="of-"]')) arm(dimension, answer, opened);
  panel.replaceChildren(drawing);
}

function parsed(text) {
  const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (root.namespaceURI !== SVG || root.querySelector("parsererror")) throw new Error("not a drawing");
  return root;
}

/** Make a dimension a button, where the answer holds what it names. */
function arm(dimension, answer, opened) {
  const ofPath = [...dimension.classList].find((name) => name.startsWith("of-"));
  const path = ofPath && pathOfClass(answer, ofPath);
  if (!path) return;
  const title = dimension.querySelector("title")?.textContent ?? path;
  const named = [title, sideOf(path)].filter(Boolean).join(", ");
  for (const [name, value] of Object.entries({ role: "button", tabindex: "0", "aria-label": named })) dimension.setAttribute(name, value);
  const open = () => opened(path, title);
  dimension.addEventListener("click", open);
  dimension.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" && event.key !== " ") return;
    event.preventDefault();
    open();
  });
}

/** The side of the door that a path belongs to, in words: on the drawing the column says it, to those who see it. */
function sideOf(path) {
  const side = path.split(".").find((part) => part.endsWith("_side"));
  return side && sayCode("side", side);
}
