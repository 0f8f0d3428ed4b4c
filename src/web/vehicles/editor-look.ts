// Owns the look of the editor: the tokens of the drawing in its own tree, where no style of the page reaches. Nothing in it is fetched: the page's policy lets no picture in that is written into a style.

import { HighlightStyle, syntaxHighlighting } from "@codemirror/language";
import type { Extension } from "@codemirror/state";
import { EditorView } from "@codemirror/view";
import { tags } from "@lezer/highlight";

const theme = EditorView.theme({
  "&": { height: "100%", color: "var(--ink)", backgroundColor: "var(--leaf)", fontSize: "var(--small)" },
  "&.cm-focused": { outline: "none" },
  ".cm-scroller": { fontFamily: "var(--fixed)", lineHeight: "1.6", overflow: "auto" },
  ".cm-content": { caretColor: "var(--ink)", padding: "0.5rem 0 40vh" },
  ".cm-cursor, .cm-dropCursor": { borderLeft: "2px solid var(--ink)" },
  "&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground": {
    background: "var(--faint)",
  },
  ".cm-activeLine": { backgroundColor: "color-mix(in srgb, var(--shade) 60%, transparent)" },
  ".cm-gutters": {
    backgroundColor: "var(--leaf)",
    color: "var(--soft)",
    border: "0",
    borderRight: "1px solid var(--faint)",
  },
  ".cm-activeLineGutter": { backgroundColor: "var(--shade)", color: "var(--ink)", fontWeight: "700" },
  ".cm-foldGutter .cm-gutterElement": { cursor: "pointer", padding: "0 0.3rem" },
  ".cm-foldPlaceholder": {
    background: "var(--shade)",
    border: "1px solid var(--hair)",
    borderRadius: "0",
    color: "var(--soft)",
    padding: "0 0.4rem",
  },
  ".cm-matchingBracket, &.cm-focused .cm-matchingBracket": { background: "none", outline: "1px solid var(--ink)" },
  ".cm-nonmatchingBracket, &.cm-focused .cm-nonmatchingBracket": {
    background: "none",
    outline: "1px dashed var(--ink)",
  },
  ".cm-searchMatch": { background: "var(--shade)", outline: "1px solid var(--hair)" },
  ".cm-searchMatch-selected": { background: "var(--faint)", outline: "2px solid var(--ink)" },
  ".cm-selectionMatch": { background: "var(--shade)" },
  // A fault is underlined by a strong line, what is worth a look by a dotted one: told by form, not by colour.
  ".cm-lintRange": { backgroundImage: "none", paddingBottom: "0" },
  ".cm-lintRange-error": {
    backgroundImage: "none",
    textDecoration: "underline 2px wavy var(--ink)",
    textUnderlineOffset: "3px",
    textDecorationSkipInk: "none",
  },
  ".cm-lintRange-warning": {
    backgroundImage: "none",
    textDecoration: "underline 2px dotted var(--ink)",
    textUnderlineOffset: "3px",
    textDecorationSkipInk: "none",
  },
  ".cm-lintRange-active": { backgroundColor: "var(--shade)" },
  ".cm-gutter-lint": { width: "1.2rem" },
  ".cm-lint-marker": {
    width: "0.65rem",
    height: "0.65rem",
    boxSizing: "border-box",

    margin: "0.35rem 0.25rem",
    content: "normal",
  },
  ".cm-lint-marker-error": { content: "normal", background: "var(--ink)" },
  ".cm-lint-marker-warning": { content: "normal", border: "2px solid var(--ink)" },
  ".cm-tooltip": {
    background: "var(--leaf)",
    border: "1px solid var(--ink)",
    color: "var(--ink)",
    fontFamily: "var(--type)",
    maxWidth: "34rem",
  },
  ".cm-tooltip-section": { borderTop: "1px solid var(--faint)" },
  ".cm-diagnostic": { padding: "0.4rem 0.6rem", borderLeft: "3px solid var(--ink)", whiteSpace: "normal" },
  ".cm-diagnostic-warning": { borderLeft: "3px dotted var(--ink)" },
  ".cm-diagnostic .mend": { color: "var(--soft)", display: "block" },
  ".cm-tooltip .hover": { padding: "0.4rem 0.6rem" },
  ".cm-tooltip .hover b": { display: "block" },
  ".cm-tooltip.cm-tooltip-autocomplete > ul": { fontFamily: "var(--type)", maxHeight: "16rem" },
  ".cm-tooltip.cm-tooltip-autocomplete > ul > li": { padding: "0.25rem 0.6rem", lineHeight: "1.35" },
  ".cm-tooltip.cm-tooltip-autocomplete > ul > li[aria-selected]": { background: "var(--ink)", color: "var(--paper)" },
  ".cm-completionMatchedText": { textDecoration: "none", fontWeight: "700" },
  ".cm-completionDetail": { fontStyle: "normal", opacity: "0.8" },
  ".cm-tooltip.cm-completionInfo": { padding: "0.4rem 0.6rem", maxWidth: "22rem" },
  ".cm-panels": { background: "var(--shade)", color: "var(--ink)", fontFamily: "var(--type)" },
  ".cm-panels.cm-panels-top": { borderBottom: "1px solid var(--ink)" },
  ".cm-panels.cm-panels-bottom": { borderTop: "1px solid var(--ink)" },
  ".cm-panel.cm-search": { padding: "0.5rem 2.5rem 0.5rem 0.6rem" },
  ".cm-panel.cm-search label": { fontSize: "var(--small)", margin: "0 0.6rem 0 0" },
  ".cm-textfield": {
    font: "inherit",
    background: "var(--leaf)",
    color: "var(--ink)",
    border: "0",
    borderBottom: "1px solid var(--ink)",
    padding: "0.3rem 0.4rem",
  },
  ".cm-button": {
    font: "inherit",
    background: "var(--leaf)",
    backgroundImage: "none",
    color: "var(--ink)",
    border: "1px solid var(--ink)",
    borderRadius: "0",
    padding: "0.3rem 0.6rem",
  },
  ".cm-button:active": { backgroundImage: "none", background: "var(--faint)" },
  ".cm-panel.cm-search [name=close]": {
    color: "var(--ink)",
    fontSize: "1.25rem",
    padding: "0.2rem 0.6rem",
    cursor: "pointer",
  },
});

const tokens = HighlightStyle.define([
  { tag: [tags.definition(tags.propertyName), tags.propertyName], fontWeight: "650" },
  { tag: tags.comment, color: "var(--soft)", fontStyle: "italic" },
  { tag: [tags.punctuation, tags.separator, tags.squareBracket, tags.brace], color: "var(--soft)" },
  { tag: [tags.labelName, tags.typeName, tags.meta], textDecoration: "underline", textDecorationColor: "var(--hair)" },
]);

export const look: Extension = [theme, syntaxHighlighting(tokens)];
