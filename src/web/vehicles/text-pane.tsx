// Owns the text of the model on the sheet: its files, the editor that is loaded when it is first shown, and what is typed on its way to the model.

import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Fault } from "../../vehicle/index.ts";
import { useModel } from "../shop/model.tsx";
import { useWords } from "../words/words.ts";
import type { Editor } from "./editor.ts";
import type { Goal } from "./goal.ts";
import { useTyping } from "./typing.ts";

interface TextPaneProps {
  readonly given: string | null;
  readonly goal: Goal | undefined;
  readonly onArrived: () => void;
  readonly onFile: (file: string) => void;
  readonly onKeep: () => void;
}

export const TextPane = ({ given, goal, onArrived, onFile, onKeep }: TextPaneProps) => {
  const words = useWords();
  const { files, reading, isBehind, isFixed } = useModel();
  const { faults, warnings } = reading;
  const file = files.find(({ path }) => path === given) ?? files[0];
  const path = file?.path ?? "";
  const text = file?.text ?? "";
  const typing = useTyping();
  const place = useRef<HTMLDivElement>(null);
  const [editor, setEditor] = useState<Editor>();
  const [isFailed, setFailed] = useState(false);
  const [attempt, setAttempt] = useState(0);
  // What the editor asks for is the newest, whenever it asks.
  const now = useRef({ typing, onKeep, files });
  now.current = { typing, onKeep, files };

  useEffect(() => {
    let made: Editor | undefined;
    let isLeft = false;
    setFailed(false);
    void attempt;
    import("./editor.ts").then(
      ({ Editor: Made }) => {
        if (place.current === null || isLeft) return;
        made = new Made(
          place.current,
          {
            onType: (typed, said) => now.current.typing.type(typed, said),
            onKeep: () => {
              now.current.typing.send();
              now.current.onKeep();
            },
            aids: { files: () => now.current.files },
          },
          words.vehicle,
        );
        setEditor(made);
      },
      () => setFailed(true),
    );
    return () => {
      isLeft = true;
      made?.close();
      setEditor(undefined);
    };
  }, [words, attempt]);

  useEffect(
    () => editor?.open({ file: path, text: now.current.typing.latest(path), isFixed }),
    [editor, path, isFixed],
  );
  // While something typed is on its way the model is the one that is behind; else its text may have come from elsewhere.
  useEffect(() => {
    if (typing.isResting(path)) editor?.take(text);
  }, [editor, path, text, typing]);
  useEffect(() => {
    const told = (list: readonly Fault[]) => list.map((one) => ({ ...one, ...words.vehicle.faultSaid(one) }));
    if (!isBehind && typing.isResting(path)) editor?.mark(told(faults), told(warnings));
  }, [editor, path, faults, warnings, isBehind, typing, words]);
  useEffect(() => {
    if (editor === undefined || goal === undefined || goal.file !== path) return;
    editor.go(goal.line, goal.column);
    onArrived();
  }, [editor, goal, path, onArrived]);

  const marked = useMemo(() => {
    const counts = new Map<string, number>();
    for (const { at } of [...faults, ...warnings]) counts.set(at.file, (counts.get(at.file) ?? 0) + 1);
    return counts;
  }, [faults, warnings]);

  return (
    <div class="text-pane">
      {files.length < 2 ? null : (
        <ul class="files" aria-label={words.vehicle.files}>
          {files.map((one) => (
            <li key={one.path}>
              <button type="button" aria-pressed={one.path === path} onClick={() => onFile(one.path)}>
                {one.path}
                {(marked.get(one.path) ?? 0) === 0 ? null : (
                  <small>({words.vehicle.faultsInFile(marked.get(one.path) ?? 0)})</small>
                )}
              </button>
            </li>
          ))}
        </ul>
      )}
      {isFailed ? (
        <div class="notice" role="alert">
          <p>
            <b>{words.vehicle.noEditor}</b>
          </p>
          <p>{words.vehicle.noEditorMend}</p>
          <button type="button" onClick={() => setAttempt(attempt + 1)}>
            {words.sheet.again}
          </button>
        </div>
      ) : editor === undefined ? (
        <p class="waiting busy">{words.vehicle.loadingEditor}</p>
      ) : null}
      <div class="editor" ref={place} onFocusOut={typing.send} />
      <p class="small soft">{words.vehicle.leave}</p>
    </div>
  );
};
