// The sandbox page: a payload is picked or written, sent as it stands, and what the service answers is shown.
// It decides nothing about doors.
import { decision, details, numbers, verdict } from "./answer.js";
import { copyButton } from "./copying.js";
import { byId, element, fill, fillLong, inLanguage, joined, tell } from "./dom.js";
import { showDrawing } from "./drawing.js";
import { nameOf, showNumber } from "./rule_panel.js";
import { at, textOf } from "./numbers.js";
import { payloadEditor } from "./payload_editor.js";
import { ADVICE, HOUSE, HOUSE_RECHECK, RECHECK, Refused, Unreachable, answerOf, ask, isKeyed, look, useKey } from "./service.js";
import { sheetButtons } from "./sheets.js";
import { snippets } from "./snippets.js";
import { whatChanged, whatIf } from "./what_if.js";
import { LANGUAGE, say } from "./words.js";

const SCHEMAS = { [ADVICE]: "Opening", [RECHECK]: "Recheck", [HOUSE]: "House", [HOUSE_RECHECK]: "HouseRecheck" };
const WAIT_MS = { typing: 450, pasting: 0, page: 150 };
const SLOW_MS = 400;
const KEPT = "jambset.page";

const call = byId("call");
const scenario = byId("scenario");
const answerPart = byId("answer");

let contract = null;
let setWhatIf = () => {};
let baseline = null;
let answer = null;
let asking = null;
let waiting = 0;
let picking = null;
let begun = false;
let withKey = () => {};

const editor = payloadEditor({
  parent: byId("editor"),
  help: () => ({ contract, root: SCHEMAS[call.value] }),
  told: announce,
  changed: (maker) => {
    if (maker === "pasting") ownRequest();
    askSoon(WAIT_MS[maker]);
  },
});

// --- asking

/** Ask once nothing more has changed for a while; what is under way is given up. */
function askSoon(delay) {
  asking?.abort();
  clearTimeout(waiting);
  busy(true);
  waiting = setTimeout(askNow, delay);
}

async function askNow() {
  const text = editor.text();
  const faults = editor.syntaxFaults().map(({ from, to, text: found }) => ({ from, to, message: syntaxMessage(found) }));
  showFaults(faults);
  if (faults.length) return stale(say("status.not_json"));
  asking = new AbortController();
  const { signal } = asking;
  const slow = setTimeout(() => tell(byId("status"), say("status.asking")), SLOW_MS);
  try {
    setStrip(text);
    const received = await answerOf(await ask(call.value, text, "application/json", signal), signal);
    if (!signal.aborted) await showAnswer(received, text, signal);
  } catch (fault) {
    if (!signal.aborted) showFailure(fault);
  } finally {
    clearTimeout(slow);
  }
}

const syntaxMessage = (found) => (found.trim() ? say("faults.not_here", { text: found.slice(0, 20) }) : say("faults.missing"));

function showFailure(fault) {
  const known = fault instanceof Refused || fault instanceof Unreachable;
  if (fault instanceof Refused) {
    const { errors, lang } = fault;
    showFaults(errors.map(({ pointer, detail }) => ({ ...editor.rangeOf(pointer), pointer, message: detail, lang })));
  }
  failed(fault, known ? inLanguage(fault.lang, fault.message) : say("status.not_shown"), () => askSoon(0));
  if (!known) throw fault;
}

/** Say what failed, with the means to try again where that may help: a button, or the place for a key. */
function failed(fault, text, retry) {
  stale(fault.needsKey && !isKeyed() ? say("key.wanted") : text, fault.passes && element("button", { type: "button", onclick: retry }, say("status.again")));
  if (!fault.needsKey) return;
  withKey = retry;
  byId("key-form").hidden = false;
}

byId("key-form").addEventListener("submit", (event) => {
  event.preventDefault();
  useKey(byId("key").value);
  withKey();
});

// --- showing

const busy = (is) => answerPart.setAttribute("aria-busy", String(is));

/** Say what is wrong, and that what is shown belongs to an earlier text. */
function stale(text, ...more) {
  busy(false);
  answerPart.classList.add("stale");
  const note = answer && element("span", { class: "note" }, ` ${say("status.stale")} `);
  fill(byId("status"), text, note, ...more);
}

async function showAnswer(received, text, signal) {
  answer = received;
  baseline ??= received;
  answerPart.classList.remove("stale");
  tell(byId("status"), say("status.answered"));
  takeKeyForm();
  keepFocus(byId("numbers"), () => fill(byId("numbers"), received.house === undefined && numbers(received)));
  byId("numbers-part").hidden = received.house !== undefined;
  fill(byId("verdict"), ...verdict(received));
  fill(byId("decision"), ...decision(received, goToPointer));
  fill(byId("details"), ...details(received, goToPointer));
  tell(byId("what-if-change"), received.house === undefined ? joined(whatChanged(baseline, received)) : "");
  fillLong(byId("json"), JSON.stringify(received, null, 2));
  showCalls(text);
  await draw(received, text, signal);
  if (!signal.aborted) busy(false);
}

/** Take the place for a key away once it was the right one; whoever wrote it there goes on with the answer. */
function takeKeyForm() {
  const form = byId("key-form");
  const wrote = form.contains(document.activeElement);
  form.reset();
  form.hidden = true;
  if (wrote) answerPart.focus();
}

/** Fill a part anew; a number that had the focus has it again. */
function keepFocus(part, work) {
  const path = part.contains(document.activeElement) && document.activeElement.dataset.path;
  work();
  if (path) part.querySelector(`[data-path="${path}"]`)?.focus();
}

async function draw(received, text, signal) {
  const panel = byId("drawing");
  byId("drawing-part").hidden = !isOfOne();
  if (!isOfOne()) return panel.replaceChildren();
  try {
    const reply = await ask(call.value, text, "image/svg+xml", signal);
    const opened = (path, name) => showNumber(received, { path, name: nameOf(path) || name, text: textOf(at(received, path)) });
    showDrawing(panel, { text: await reply.text(), answer: received, opened });
  } catch (fault) {
    if (!signal.aborted) fill(panel, element("p", {}, say("drawing.failed", { why: fault.message })));
  }
}

function showFaults(faults) {
  editor.show(faults);
  const buttons = faults.map(({ from, pointer, message, lang }) =>
    element(
      "li",
      {},
      element("button", { type: "button", onclick: () => editor.goTo(from) }, pointer && element("code", {}, pointer), " ", inLanguage(lang, message)),
    ),
  );
  fill(byId("faults-list"), ...buttons);
  byId("faults").hidden = !faults.length;
}

const goToPointer = (pointer) => editor.goTo(editor.rangeOf(pointer).from);

function showCalls(text) {
  const made = snippets({ origin: location.origin, call: call.value, text, language: LANGUAGE, keyed: isKeyed() });
  for (const [name, snippet] of Object.entries(made)) tell(byId(`snippet-${name}`), snippet);
}

/** Say something to those who don't see the page. */
function announce(text) {
  tell(byId("announce"), "");
  requestAnimationFrame(() => tell(byId("announce"), text));
}

/** Whether the call is one on a single opening. */
const isOfOne = () => call.value !== HOUSE && call.value !== HOUSE_RECHECK;

function setStrip(text) {
  const request = JSON.parse(text);
  byId("what-if").hidden = !isOfOne();
  if (isOfOne() && request !== null && typeof request === "object") setWhatIf(request);
}

// --- choosing

async function pick(id) {
  picking?.abort();
  if (!id) return fill(byId("story"), say("scenario.own_story"));
  picking = new AbortController();
  const { signal } = picking;
  try {
    const picked = await look(`/v1/sandbox/${id}`, signal);
    history.replaceState(null, "", `#${id}`);
    fill(byId("story"), element("span", { lang: picked.lang }, picked.story));
    setCall(picked.call);
    editor.replace(JSON.stringify(picked.request, null, 2));
    askSoon(0);
  } catch (fault) {
    if (!signal.aborted) failed(fault, inLanguage(fault.lang, fault.message), () => pick(id));
  }
}

/** A whole text was pasted: it is no worked example, and what is compared with begins anew. */
function ownRequest() {
  baseline = null;
  scenario.value = "";
  pick("");
}

/** Choose the call; what is compared with begins anew. */
function setCall(path) {
  call.value = path;
  baseline = null;
  sheetButtons(byId("sheets-part"), path, editor.text, (told) => fill(byId("sheet-status"), told));
}

scenario.addEventListener("change", () => pick(scenario.value));
call.addEventListener("change", () => {
  setCall(call.value);
  askSoon(0);
});
byId("rule-close").addEventListener("click", () => byId("rule").close());

// --- what is written isn't lost by a reload, on the way back, or on the way to the other language

addEventListener("pagehide", () => {
  if (!begun) return;
  const kept = { call: call.value, scenario: scenario.value, text: editor.text(), hash: location.hash };
  inStorage((storage) => {
    storage.removeItem(KEPT);
    storage.setItem(KEPT, JSON.stringify(kept));
  });
});

/** What was written in this tab, unless the address names another example than it did then. */
function takeKept() {
  const kept = JSON.parse(inStorage((storage) => storage.getItem(KEPT)) ?? null);
  return kept && ["", kept.hash].includes(location.hash) ? kept : null;
}

/** What is done with this tab's storage; undefined where the browser gives none, or too little. */
function inStorage(work) {
  try {
    return work(sessionStorage);
  } catch {
    return undefined;
  }
}

// --- beginning

function addCopyButtons() {
  for (const place of document.querySelectorAll("[data-copies]")) {
    const copied = byId(place.dataset.copies);
    place.append(copyButton(place.dataset.named, () => copied.textContent, announceCopy));
  }
}

function announceCopy(text) {
  announce(text);
  fill(byId("copied"), text);
}

async function begin() {
  try {
    const [{ scenarios, lang }, { materials, lang: ofFinishes }, { rule_sets: sets }] = await Promise.all(
      ["/v1/sandbox", "/v1/finishes", "/v1/rule-sets"].map((path) => look(path)),
    );
    const finishes = new Map(materials.map((material) => [material.id, material]));
    const grids = new Map(sets.flatMap((set) => set.jurisdictions).map(({ code, grid }) => [code, grid]));
    setWhatIf = whatIf(byId("what-if-sides"), { finishes, lang: ofFinishes, grids, rewrite: editor.rewrite });
    scenario.append(...scenarios.map(({ scenario: id, title }) => element("option", { value: id, lang }, title)));
    await start(scenarios);
    begun = true;
    contract = await look("/openapi.json");
    byId("editor-hint").hidden = false;
  } catch (fault) {
    failed(fault, inLanguage(fault.lang, fault.message), begin);
  }
}

/** Begin with what was written in this tab, with the scenario the address names, or with the first. */
async function start(scenarios) {
  const kept = takeKept();
  const named = scenarios.find((entry) => `#${entry.scenario}` === location.hash);
  const id = kept?.scenario ?? (named ?? scenarios[0])?.scenario ?? "";
  scenario.value = id;
  await pick(id);
  if (!kept) return;
  setCall(kept.call);
  editor.replace(kept.text);
}

addCopyButtons();
begin();
