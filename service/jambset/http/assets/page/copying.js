// Copying a text: by the clipboard where the browser gives it, else by selecting the text as a reader would.
import { element } from "./dom.js";
import { say } from "./words.js";

/** A button that copies what `text()` gives. named: what it copies, for those who don't see where it stands. */
export function copyButton(named, text, announce) {
  const copy = async () => {
    const done = (await byClipboard(text())) || bySelection(text());
    announce(say(done ? "copy.done" : "copy.failed", { named }));
  };
  return element("button", { type: "button", class: "quiet copy", "aria-label": say("copy.named", { named }), onclick: copy }, say("copy"));
}

async function byClipboard(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

function bySelection(text) {
  const focused = document.activeElement;
  const carrier = element("textarea", { class: "unseen", "aria-hidden": "true" });
  carrier.value = text;
  document.body.append(carrier);
  carrier.select();
  const done = document.execCommand("copy");
  carrier.remove();
  focused.focus();
  return done;
}
