// The editor of a payload: JSON with the contract's help, and faults shown where they stand.
import {
  EditorState,
  EditorView,
  autocompletion,
  bracketMatching,
  classHighlighter,
  closeBrackets,
  closeBracketsKeymap,
  completionKeymap,
  defaultKeymap,
  drawSelection,
  highlightActiveLine,
  highlightSpecialChars,
  history,
  historyKeymap,
  indentOnInput,
  json,
  keymap,
  lineNumbers,
  nextDiagnostic,
  previousDiagnostic,
  setDiagnostics,
  syntaxHighlighting,
} from "./editor.js";
import { element } from "./dom.js";
import { completions, fieldHelp } from "./editor_help.js";
import { nodeAt, rangeOf, syntaxFaults } from "./json_places.js";
import { say } from "./words.js";

/** Marks changes that the page makes for the reader, so that they aren't taken for typing. */
const BY_PAGE = "input.page";

/**
 * An editor in `parent`. help: gives contract and the name of the request's schema. told: gets help as text.
 * changed: called after each change with who made it: "typing", "pasting" of a whole text, or "page".
 */
export function payloadEditor({ parent, help, told, changed }) {
  const listener = EditorView.updateListener.of((update) => {
    if (update.docChanged) changed(makerOf(update));
  });
  const view = new EditorView({ parent, state: EditorState.create({ extensions: [extensions(help, told), listener] }) });
  return {
    text: () => view.state.doc.toString(),
    state: () => view.state,
    focus: () => view.focus(),
    replace: (text) => put(view, { from: 0, to: view.state.doc.length, insert: text }),
    rewrite: (steps, change) => rewrite(view, steps, change),
    syntaxFaults: () => syntaxFaults(view.state),
    show: (faults) => view.dispatch(setDiagnostics(view.state, faults.map((fault) => diagnostic(view.state, fault)))),
    rangeOf: (pointer) => rangeOf(view.state, pointer),
    goTo: (position) => goTo(view, position),
  };
}

function extensions(help, told) {
  return [
    fieldHelp(help, told),
    lineNumbers(),
    highlightSpecialChars(),
    history(),
    drawSelection(),
    indentOnInput(),
    bracketMatching(),
    closeBrackets(),
    highlightActiveLine(),
    json(),
    syntaxHighlighting(classHighlighter),
    autocompletion({ override: [completions(help)], icons: false }),
    EditorView.lineWrapping,
    EditorView.contentAttributes.of({ tabindex: "0", "aria-labelledby": "editor-title", "aria-describedby": "editor-hint" }),
    EditorState.phrases.of({ Completions: say("editor.completions"), Diagnostics: say("faults.title") }),
    keymap.of([
      ...closeBracketsKeymap,
      ...completionKeymap,
      ...historyKeymap,
      { key: "F8", run: nextDiagnostic },
      { key: "Shift-F8", run: previousDiagnostic },
      ...defaultKeymap,
    ]),
  ];
}

function makerOf(update) {
  if (update.transactions.some((transaction) => transaction.isUserEvent(BY_PAGE))) return "page";
  const pasted = update.transactions.some((t) => t.isUserEvent("input.paste") && replacesAll(t.changes));
  return pasted ? "pasting" : "typing";
}

/** Whether nothing is left of the text that was there. */
function replacesAll(changes) {
  let taken = 0;
  changes.iterChangedRanges((from, to) => (taken += to - from));
  return taken === changes.length;
}

const put = (view, changes) => view.dispatch({ changes, userEvent: BY_PAGE });

/** Change the value at a place by a function, written in one line or in several as it stood. */
function rewrite(view, steps, change) {
  const node = nodeAt(view.state, steps);
  if (!node) return;
  const before = view.state.sliceDoc(node.from, node.to);
  const value = change(JSON.parse(before));
  const indent = /^ */.exec(view.state.doc.lineAt(node.from).text)[0];
  const lines = JSON.stringify(value, null, 2).split("\n");
  const after = before.includes("\n") ? lines.join(`\n${indent}`) : lines.map((line) => line.trim()).join(" ");
  put(view, { from: node.from, to: node.to, insert: after });
}

const diagnostic = (state, { from, to, message, lang }) => ({
  from: Math.min(from, state.doc.length),
  to: Math.min(to, state.doc.length),
  severity: "error",
  message,
  renderMessage: () => element("span", { lang }, message),
});

function goTo(view, position) {
  const anchor = Math.min(position, view.state.doc.length);
  view.dispatch({ selection: { anchor }, effects: EditorView.scrollIntoView(anchor, { y: "center" }) });
  view.focus();
}
