// Owns the choice of a position or part: those that are there by a number each, usual ones, and a new one by its name.

import { useEffect, useRef, useState } from "preact/hooks";
import type { At } from "../../draft/index.ts";
import { useWords } from "../words/words.ts";

interface PickProps {
  readonly title: string;
  readonly given: readonly { readonly id: string; readonly label: string }[];
  /** Names that are usual, where they are not there yet. */
  readonly usual?: readonly string[];
  readonly onPick: (at: At) => void;
  readonly onClose: () => void;
}

export const Pick = ({ title, given, usual = [], onPick, onClose }: PickProps) => {
  const words = useWords();
  const dialog = useRef<HTMLDialogElement>(null);
  const [name, setName] = useState("");
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  const known = new Set(given.map(({ label }) => label.toLowerCase()));
  const all: readonly { readonly label: string; readonly at: At }[] = [
    ...given.map(({ id, label }) => ({ label, at: { id } })),
    ...usual.filter((label) => !known.has(label.toLowerCase())).map((label) => ({ label, at: { label } })),
  ];
  return (
    <dialog
      ref={dialog}
      class="pick"
      aria-label={title}
      onClose={onClose}
      onKeyDown={(event) => {
        if ((event.target as HTMLElement).closest("input") !== null) return;
        const one = /^[1-9]$/.test(event.key) ? all[Number(event.key) - 1] : undefined;
        if (one === undefined) return;
        event.preventDefault();
        onPick(one.at);
      }}
    >
      <h2>{title}</h2>
      <ul>
        {all.map(({ label, at }, n) => (
          <li key={label}>
            <button type="button" class={"id" in at ? "" : "usual"} onClick={() => onPick(at)}>
              {n < 9 ? (
                <span class="key" aria-hidden="true">
                  {n + 1}
                </span>
              ) : null}{" "}
              {label}
            </button>
          </li>
        ))}
      </ul>
      <form
        class="row"
        onSubmit={(event) => {
          event.preventDefault();
          if (name.trim() !== "") onPick({ label: name.trim() });
        }}
      >
        <label class="field">
          <span>{words.drafts.anotherName}</span>
          <input value={name} onInput={({ currentTarget }) => setName(currentTarget.value)} />
        </label>
        <button type="submit">{words.drafts.taps.add}</button>
        <button type="button" class="plain" onClick={() => dialog.current?.close()}>
          {words.drafts.cancel}
        </button>
      </form>
    </dialog>
  );
};
