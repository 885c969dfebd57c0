// What the page takes of CodeMirror; the page's own modules do the rest.
export { EditorSelection, EditorState, StateEffect, StateField } from "@codemirror/state";
export {
  EditorView,
  drawSelection,
  highlightActiveLine,
  highlightSpecialChars,
  hoverTooltip,
  keymap,
  lineNumbers,
  showTooltip,
} from "@codemirror/view";
export { defaultKeymap, history, historyKeymap } from "@codemirror/commands";
export { bracketMatching, ensureSyntaxTree, indentOnInput, indentUnit, syntaxHighlighting } from "@codemirror/language";
export {
  autocompletion,
  closeBrackets,
  closeBracketsKeymap,
  completionKeymap,
  startCompletion,
} from "@codemirror/autocomplete";
export { lintGutter, nextDiagnostic, previousDiagnostic, setDiagnostics } from "@codemirror/lint";
export { json } from "@codemirror/lang-json";
export { classHighlighter } from "@lezer/highlight";
