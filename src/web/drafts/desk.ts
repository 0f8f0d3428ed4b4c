// Owns the work on a draft: each change of its text kept on the device at once, undone and done again, and the answers that the file bears.

import { useCallback, useMemo, useRef, useState } from "preact/hooks";
import {
  answerQuestion,
  beginHistory,
  canRedo,
  canUndo,
  type Edit,
  edit,
  extendDraft,
  present,
  type Question,
  record,
  redo,
  undo,
} from "../../draft/index.ts";
import { readVehicle } from "../../vehicle/index.ts";
import { ask } from "../engine/engine.ts";
import type { Model } from "../shop/model.tsx";
import type { Told } from "./bring.ts";
import { type DraftKept, keepDraft, type TypedLine } from "./kept.ts";

export interface Desk {
  readonly kept: DraftKept;
  readonly text: string;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** What the last change was refused for. */
  readonly fault: { readonly what: string; readonly mend: string } | undefined;
  readonly forget: () => void;
  /** @returns what the change is about afterwards; undefined where it was refused */
  readonly act: (asked: Edit) => string | undefined;
  readonly undo: () => void;
  readonly redo: () => void;
  /** @returns why it is no answer */
  readonly answer: (question: Question, typed: string) => Promise<string | undefined>;
  /** Puts remarks aside by their names, or none any more. */
  readonly settle: (aside: readonly string[]) => void;
  readonly type: (typed: readonly TypedLine[]) => void;
  /** Puts what was told later into the draft. */
  readonly extend: (told: Told) => void;
}

export const nothingKept = (text: string): DraftKept => ({
  narrations: [],
  typed: [],
  remarks: [],
  history: beginHistory(text),
  at: 0,
});

export const useDesk = (id: string, model: Model, first: DraftKept): Desk => {
  const path = model.files[0]?.path ?? "";
  const [kept, setKept] = useState<DraftKept>(() => ({
    ...first,
    history: record(first.history, model.files[0]?.text ?? ""),
  }));
  const [fault, setFault] = useState<Desk["fault"]>();
  // Of two changes in one breath the second finds what the first made.
  const now = useRef({ kept, change: model.change });
  now.current.change = model.change;
  const put = useCallback(
    (next: Partial<DraftKept>) => {
      const before = now.current.kept;
      const after = { ...before, ...next, at: Date.now() };
      now.current.kept = after;
      setKept(after);
      setFault(undefined);
      void keepDraft(id, after);
      if (present(after.history) !== present(before.history)) now.current.change(path, present(after.history));
    },
    [id, path],
  );
  const acts = useMemo(() => {
    const text = () => present(now.current.kept.history);
    const write = (changed: string, next: Partial<DraftKept> = {}) =>
      put({ ...next, history: record(now.current.kept.history, changed) });
    return {
      forget: () => setFault(undefined),
      act(asked: Edit): string | undefined {
        const edited = edit(text(), asked);
        if ("what" in edited) {
          setFault(edited);
          return undefined;
        }
        write(edited.text);
        return edited.id;
      },
      undo: () => put({ history: undo(now.current.kept.history) }),
      redo: () => put({ history: redo(now.current.kept.history) }),
      async answer(question: Question, typed: string): Promise<string | undefined> {
        const put = (onto: string) => answerQuestion(onto, question, typed, readVehicle(path, () => onto).gaps);
        const before = text();
        const changed = put(before);
        if ("what" in changed) return `${changed.what}. ${changed.mend}`;
        const { faults } = await ask("read", [{ path, text: changed.text }], {});
        const [wrong] = faults;
        if (wrong !== undefined) return `${wrong.what} ${wrong.mend}`;
        // Something else was changed while it was read: then it is put into that.
        const onto = text() === before ? changed : put(text());
        if ("what" in onto) return `${onto.what}. ${onto.mend}`;
        write(onto.text);
        return undefined;
      },
      settle: (aside: readonly string[]) => put({ aside }),
      type: (typed: readonly TypedLine[]) => put({ typed }),
      extend({ text: later, narrations, remarks, heard }: Told): void {
        const { kept: held } = now.current;
        const { text: extended, renamed } = extendDraft(text(), later);
        write(extended, {
          narrations: [...held.narrations, ...narrations],
          remarks: [...held.remarks, ...remarks],
          ...(heard === undefined ? {} : { heard: [...(held.heard ?? []), { ...heard, renamed }] }),
        });
      },
    };
  }, [path, put]);
  const { history } = kept;
  return useMemo(
    () => ({ ...acts, kept, text: present(history), canUndo: canUndo(history), canRedo: canRedo(history), fault }),
    [acts, kept, history, fault],
  );
};
