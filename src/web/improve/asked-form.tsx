// Owns what is asked about changes: how often each job comes, what an hour costs, the user's own changes; asked when it is sent, not with each letter.

import { useRef } from "preact/hooks";
import type { Vehicle } from "../../vehicle/index.ts";
import { useFigures } from "../sheet/figures.ts";
import { useDropped } from "../start/dropped.ts";
import { Help } from "../times/help.tsx";
import { useWords } from "../words/words.ts";
import { type Form, readNumber } from "./form.ts";

const CHANGES = /\.changes\.ya?ml$/i;

export const AskedForm = ({
  form,
  change,
  ask,
  vehicle,
  isAsked,
  byFile,
}: {
  readonly form: Form;
  readonly change: (form: Form) => void;
  readonly ask: (form: Form) => void;
  readonly vehicle: Vehicle;
  /** What stands there is what was asked. */
  readonly isAsked: boolean;
  /** How often each job comes by the file of changes, where that says so. */
  readonly byFile: ReadonlyMap<string, number> | undefined;
}) => {
  const words = useWords();
  const figures = useFigures();
  const input = useRef<HTMLInputElement>(null);
  // A file is a whole question: it is asked at once.
  const take = async (given: readonly File[]) => {
    const [file] = given;
    if (file === undefined) return;
    const next = { ...form, changes: { path: file.name, text: await file.text() } };
    change(next);
    ask(next);
  };
  useDropped(CHANGES, take);
  const isSaid = Object.values(form.often).some((text) => text.trim() !== "");
  const weights = isSaid ? form.often : {};
  const isNone = isSaid && !Object.values(weights).some((text) => readNumber(text) !== undefined);
  const { changes } = form;
  return (
    <form
      class="asked"
      onSubmit={(event) => {
        event.preventDefault();
        if (!isNone) ask(form);
      }}
    >
      <fieldset>
        <legend>{words.improve.asked}</legend>
        <p class="small soft">
          {isSaid ? words.improve.often : byFile === undefined ? words.improve.alike : words.improve.byFile}
        </p>
        <ul>
          {vehicle.jobs.map(({ id, label }) => (
            <li key={id}>
              <label>
                <input
                  type="text"
                  inputMode="decimal"
                  size={4}
                  aria-label={words.improve.weightOf(label)}
                  placeholder={isSaid ? "0" : figures.number(byFile === undefined ? 1 : (byFile.get(id) ?? 0), 1)}
                  value={form.often[id] ?? ""}
                  onInput={({ currentTarget }) =>
                    change({ ...form, often: { ...form.often, [id]: currentTarget.value } })
                  }
                />
                <span>{label}</span>
              </label>
            </li>
          ))}
        </ul>
      </fieldset>
      <label class="field">
        <span>{words.improve.rate}</span>
        <input
          type="text"
          inputMode="decimal"
          size={8}
          placeholder={words.improve.rateHint}
          value={form.rate}
          onInput={({ currentTarget }) => change({ ...form, rate: currentTarget.value })}
        />
      </label>
      <div class="own">
        <h3>{words.improve.changes}</h3>
        <p>
          <button type="button" onClick={() => input.current?.click()}>
            {words.improve.chooseChanges}
          </button>
          <input
            ref={input}
            class="unseen"
            type="file"
            accept=".yaml,.yml,text/yaml"
            aria-label={words.improve.chooseChanges}
            tabIndex={-1}
            onChange={({ currentTarget }) => {
              void take([...(currentTarget.files ?? [])]);
              currentTarget.value = "";
            }}
          />
        </p>
        {changes === undefined ? (
          <small class="soft">{words.improve.dropChanges}</small>
        ) : (
          <p>
            <small>{changes.path}</small>{" "}
            <button
              type="button"
              class="plain"
              onClick={() => {
                const { changes: _, ...rest } = form;
                change(rest);
                ask(rest);
              }}
            >
              {words.improve.forgetChanges}
            </button>
          </p>
        )}
        <Help title={words.improve.helpChanges}>{words.improve.helpChangesText}</Help>
      </div>
      {isNone ? <p class="notice">{words.improve.noneChosen}</p> : null}
      <button type="submit" class="main" disabled={isAsked || isNone}>
        {words.improve.reckon}
      </button>
    </form>
  );
};
