// Owns the editor of a vehicle file: a text with its faults in place, and what it tells the page. It lives in a tree of its own, where its styles are set without a style element, which the page's policy forbids.

import { closeBrackets, closeBracketsKeymap, completionKeymap } from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, indentWithTab } from "@codemirror/commands";
import { yaml } from "@codemirror/lang-yaml";
import { bracketMatching, codeFolding, foldGutter, foldKeymap, indentService, indentUnit } from "@codemirror/language";
import { type Diagnostic, lintGutter, lintKeymap, setDiagnostics } from "@codemirror/lint";
import { highlightSelectionMatches, search, searchKeymap } from "@codemirror/search";
import { Compartment, EditorState, type Extension } from "@codemirror/state";
import {
  drawSelection,
  dropCursor,
  EditorView,
  highlightActiveLine,
  highlightActiveLineGutter,
  keymap,
  lineNumbers,
  rectangularSelection,
} from "@codemirror/view";
import type { Fault } from "../../vehicle/index.ts";
import type { Words } from "../words/said.ts";
import { type Aids, completing } from "./completing.ts";
import { look } from "./editor-look.ts";
import { markFaults, offsetOf } from "./in-place.ts";
import { indentAfter, STEP } from "./indenting.ts";

export interface Told {
  /** Each time that something is typed. */
  readonly onType: (file: string, text: string) => void;
  /** Asked to keep what is here, by the key that everybody's hands know. */
  readonly onKeep: () => void;
  readonly aids: Aids;
}

export interface Opened {
  readonly file: string;
  readonly text: string;
  readonly isFixed: boolean;
}

/** The editor's own words, by the sentences that it asks for. */
const phrasesOf = ({ editor }: Words["vehicle"]): Readonly<Record<string, string>> => ({
  Find: editor.find,
  Replace: editor.replace,
  next: editor.next,
  previous: editor.previous,
  all: editor.all,
  "match case": editor.matchCase,
  "by word": editor.byWord,
  regexp: editor.regexp,
  replace: editor.replaceOne,
  "replace all": editor.replaceAll,
  close: editor.close,
  "Fold line": editor.fold,
  "Unfold line": editor.unfold,
  "folded code": editor.foldedLines,
  Completions: editor.completions,
  Diagnostics: editor.diagnostics,
});

export class Editor {
  private readonly view: EditorView;
  private readonly told: Told;
  /** Each file with its own history, for as long as the editor is open. */
  private readonly states = new Map<string, EditorState>();
  private readonly worded = new Compartment();
  private words: Words["vehicle"];
  private file = "";

  constructor(place: HTMLElement, told: Told, words: Words["vehicle"]) {
    this.told = told;
    this.words = words;
    const root = place.shadowRoot ?? place.attachShadow({ mode: "open" });
    root.replaceChildren();
    this.view = new EditorView({ root, parent: root });
  }

  /** Shows a file; one that was open before comes with its history, unless its text is another by now. */
  open({ file, text, isFixed }: Opened): void {
    if (this.file !== "") this.states.set(this.file, this.view.state);
    this.file = file;
    const kept = this.states.get(file);
    const state =
      kept !== undefined && kept.readOnly === isFixed
        ? kept
        : EditorState.create({ doc: text, extensions: this.extensions(file, isFixed) });
    this.view.setState(state);
    this.view.dispatch({ effects: this.worded.reconfigure(this.phrases(file, isFixed)) });
    this.take(text);
  }

  /** Takes a text that came from elsewhere; it can be taken back like typing. */
  take(text: string): void {
    const now = this.view.state.doc.toString();
    if (now === text) return;
    // Only what differs is replaced, so that the place one looks at stays where it is.
    let head = 0;
    while (head < now.length && head < text.length && now[head] === text[head]) head += 1;
    let tail = 0;
    while (
      tail < now.length - head &&
      tail < text.length - head &&
      now[now.length - 1 - tail] === text[text.length - 1 - tail]
    )
      tail += 1;
    this.view.dispatch({
      changes: { from: head, to: now.length - tail, insert: text.slice(head, text.length - tail) },
    });
  }

  /** Marks what the reader found; `faults` come before what is only worth a look. */
  mark(faults: readonly Fault[], warnings: readonly Fault[]): void {
    const { doc } = this.view.state;
    const lineAt = (line: number) => (line >= 1 && line <= doc.lines ? doc.line(line) : undefined);
    const told = (list: readonly Fault[], severity: Diagnostic["severity"]): readonly Diagnostic[] =>
      markFaults(list, this.file, lineAt).map(({ from, to, fault }) => ({
        from,
        to,
        severity,
        message: `${fault.what} ${fault.mend}`,
        renderMessage: () => {
          const box = document.createElement("div");
          const mend = document.createElement("span");
          mend.className = "mend";
          mend.textContent = fault.mend;
          box.append(fault.what, mend);
          return box;
        },
      }));
    const all = [...told(faults, "error"), ...told(warnings, "warning")].toSorted((a, b) => a.from - b.from);
    this.view.dispatch(setDiagnostics(this.view.state, all));
  }

  /** Goes to a place and shows it in the middle. */
  go(line: number, column: number): void {
    const { doc } = this.view.state;
    const at = doc.line(Math.min(Math.max(1, line), doc.lines));
    const anchor = at.from + Math.min(offsetOf(at.text, column), at.length);
    this.view.dispatch({ selection: { anchor }, effects: EditorView.scrollIntoView(anchor, { y: "center" }) });
    this.view.focus();
  }

  close(): void {
    this.view.destroy();
  }

  private phrases(file: string, isFixed: boolean): Extension {
    return [
      EditorState.phrases.of(phrasesOf(this.words)),
      EditorView.contentAttributes.of({
        // It is one already; an audit knows it only so.
        tabindex: "0",
        "aria-label": isFixed ? this.words.readOnlyOf(file) : this.words.editorOf(file),
      }),
    ];
  }

  private extensions(file: string, isFixed: boolean): Extension {
    const { told } = this;
    return [
      this.worded.of([]),
      EditorState.readOnly.of(isFixed),
      lineNumbers(),
      lintGutter(),
      foldGutter(),
      codeFolding(),
      highlightActiveLine(),
      highlightActiveLineGutter(),
      history(),
      drawSelection(),
      dropCursor(),
      rectangularSelection(),
      indentUnit.of(" ".repeat(STEP)),
      // Only for a new line: one that is there stands where somebody put it.
      indentService.of((context, at) =>
        context.simulatedBreak === null ? null : indentAfter(context.lineAt(at, -1).text),
      ),
      bracketMatching(),
      closeBrackets(),
      highlightSelectionMatches(),
      search({ top: true }),
      yaml(),
      completing(told.aids, () => this.words),
      keymap.of([
        {
          key: "Mod-s",
          preventDefault: true,
          run: () => {
            told.onKeep();
            return true;
          },
        },
        ...closeBracketsKeymap,
        ...defaultKeymap,
        ...searchKeymap,
        ...historyKeymap,
        ...foldKeymap,
        ...completionKeymap,
        ...lintKeymap,
        indentWithTab,
      ]),
      EditorView.updateListener.of(({ docChanged, state }) => {
        if (docChanged) told.onType(file, state.doc.toString());
      }),
      // On a small screen nobody scrolls sideways to read a line.
      matchMedia("(max-width: 900px)").matches ? EditorView.lineWrapping : [],
      look,
    ];
  }
}
