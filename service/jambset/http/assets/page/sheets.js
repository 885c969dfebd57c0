// Answers to print or to keep: the same body, asked for in another media type.
import { element, fill, inLanguage } from "./dom.js";
import { ADVICE, HOUSE, HOUSE_RECHECK, RECHECK, ask } from "./service.js";
import { say } from "./words.js";

const HTML = "text/html";
const PDF = "application/pdf";
const OFFERS = {
  [ADVICE]: { [HTML]: "sheet.print", [PDF]: "sheet.pdf" },
  [RECHECK]: { [HTML]: "sheet.print", [PDF]: "sheet.pdf" },
  [HOUSE]: { [HTML]: "sheet.print", [PDF]: "sheet.pdf" },
  [HOUSE_RECHECK]: { [HTML]: "sheet.print", [PDF]: "sheet.pdf" },
};
const NAMES = { [HTML]: "sheet.html", [PDF]: "sheet.pdf" };
const KEPT_MS = 60_000;

/** Buttons for what a call is answered as, in a part that is hidden where there is nothing. text: gives the body; told: gets what became of it. */
export function sheetButtons(part, call, text, told) {
  const offers = Object.entries(OFFERS[call] ?? {});
  part.hidden = !offers.length;
  fill(part.querySelector("div"), ...offers.map(([type, code]) => button(code, () => fetched(call, text(), type, told))));
}

const button = (code, onclick) => element("button", { type: "button", onclick }, say(code));

async function fetched(call, text, type, told) {
  told(say("sheet.asking"));
  try {
    const reply = await ask(call, text, type);
    told(openBlob(await reply.blob(), NAMES[type]) ? say("sheet.opened") : say("sheet.saved"));
  } catch (fault) {
    told(inLanguage(fault.lang, fault.message));
  }
}

/** Open a blob in a window of its own; where the browser won't, save it. Gives whether it was opened. */
function openBlob(blob, name) {
  const address = URL.createObjectURL(blob);
  setTimeout(() => URL.revokeObjectURL(address), KEPT_MS);
  if (window.open(address, "_blank")) return true;
  element("a", { href: address, download: name }).click();
  return false;
}
