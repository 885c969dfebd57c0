// An answer in words: the decision, what is still asked, what conflicts, what to mind, and its numbers as buttons.
import { element, fill, inLanguage, list } from "./dom.js";
import { numbersOf } from "./numbers.js";
import { nameOf, showNumber, showRules } from "./rule_panel.js";
import { WRITTEN_IN } from "./service.js";
import { say, sayCode } from "./words.js";

/** The verdict with its sentence; of a house, its sentence alone. */
export function verdict(answer) {
  return [
    answer.verdict && element("p", { class: `verdict ${answer.verdict}` }, sayCode("verdict", answer.verdict)),
    element("p", { class: "summary" }, answer.summary),
  ];
}

/** What somebody has to decide, answer or do. goTo: moves the cursor to a pointer. */
export const decision = (answer, goTo) => (answer.house === undefined ? oneOpening(answer, goTo) : wholeHouse(answer, goTo));

/** What goes with the work, and what the answer rests on. */
export function details(answer, goTo) {
  return [
    answer.house === undefined && block("cautions", answer.cautions.map((caution) => caution.text)),
    answer.house === undefined && folded("assumptions", answer.assumptions.map(({ text, pointer }) => [text, " ", pointerButton(pointer, goTo)])),
    element("p", { class: "notice" }, answer.notice),
  ];
}

function oneOpening(answer, goTo) {
  return [
    block("conflicts", (answer.conflicts ?? []).map((conflict) => conflictItem(answer, conflict))),
    block("findings", (answer.findings ?? []).map((finding) => [finding.text, " ", rulesButton(answer, [finding.rule])])),
    block("remedies", (answer.remedies ?? []).map(remedyItem)),
    answer.do_nothing && block("do_nothing", [answer.do_nothing.text]),
    block("questions", answer.questions.map((question) => questionItem(question, goTo))),
  ];
}

function wholeHouse(answer, goTo) {
  return [
    block("open_doors", (answer.open_doors ?? []).map(({ mark, text }) => [element("strong", {}, mark), `: ${text}`])),
    block("head_lines", answer.head_lines.map(lineItem)),
    block("fixes", (answer.fix_list ?? []).map((fix) => [element("strong", {}, fix.mark), ": ", ...remedyItem(fix)])),
    answer.do_nothing && block("do_nothing", [answer.do_nothing.text]),
    block("questions", answer.questions.map((question) => questionItem(question, goTo))),
    element("h3", {}, say("answer.openings")),
    ...answer.openings.map((opening) => (opening.advice ? adviceFold(opening, goTo) : refusal(opening, goTo))),
  ];
}

/** One opening of a house; what is in it is made when it is opened. */
function adviceFold({ mark, advice }, goTo) {
  const inside = element("div", { class: "inside" });
  const told = ` ${sayCode("verdict", advice.verdict)}. ${advice.summary}`;
  const fold = element("details", { class: "opening" }, element("summary", {}, element("strong", {}, mark), told), inside);
  fold.addEventListener("toggle", () => fill(inside, numbers(advice), oneOpening(advice, goTo), details(advice, goTo)), { once: true });
  return fold;
}

function refusal({ mark, problem }, goTo) {
  const words = (text) => inLanguage(WRITTEN_IN, text);
  const faults = problem.errors.map(({ pointer, detail }) => [words(detail), " ", pointerButton(pointer, goTo)]);
  return element("div", { class: "opening fault" }, element("strong", {}, mark ?? ""), " ", words(`${problem.title}. `), list(faults));
}

/** The numbers of one opening, each a button that shows its rules. */
export function numbers(answer) {
  const buttons = numbersOf(answer).map(({ path, text, range }) => {
    const name = nameOf(path);
    const more = range && element("small", {}, say("number.range", range));
    return element(
      "button",
      { type: "button", class: "number", "data-path": path, onclick: () => showNumber(answer, { path, name, text }) },
      element("span", {}, name),
      element("b", {}, text),
      more,
    );
  });
  return list(buttons, { class: "numbers" });
}

function conflictItem(answer, { text, decides, rules, ways_out: ways = [] }) {
  return [text, ` ${say("answer.decides", { who: sayCode("who", decides) })} `, rulesButton(answer, rules), list(ways.map((way) => way.text))];
}

const lineItem = ({ name, text, off = [] }) => [element("strong", {}, name), `: ${text}`, list(off.map((head) => head.text))];

const remedyItem = ({ text, minutes }) => [text, ` ${say("answer.minutes", { minutes })}`];

function questionItem({ text, ask, pointer, marks = [], minutes_at_stake: stake }, goTo) {
  const whom = say("answer.asks", { who: sayCode("who", ask) });
  const worth = stake ? ` ${say("answer.worth", { minutes: stake })}` : "";
  return [marks.length > 0 && element("strong", {}, `${marks.join(", ")}: `), `${text} ${whom}${worth} `, pointerButton(pointer, goTo)];
}

function rulesButton(answer, ids) {
  return element("button", { type: "button", class: "quiet", onclick: () => showRules(answer, ids) }, say("answer.rules"));
}

function pointerButton(pointer, goTo) {
  return pointer && element("button", { type: "button", class: "quiet pointer", onclick: () => goTo(pointer) }, pointer);
}

const block = (code, items) =>
  items.length ? element("section", { class: code }, element("h3", {}, say(`answer.${code}`)), list(items)) : null;

const folded = (code, items) =>
  items.length ? element("details", { class: code }, element("summary", {}, say(`answer.${code}`)), list(items)) : null;
