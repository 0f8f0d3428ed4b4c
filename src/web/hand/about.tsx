// Owns the choice of what a finding is about: found by a word among thousands of connections, those at hand first.

import { useState } from "preact/hooks";
import { Names } from "../../ledger/index.ts";
import { useWords } from "../words/words.ts";
import { mySteps } from "./my-steps.ts";
import { useWork } from "./work.tsx";

/** Offered at a time: as many as a thumb goes through. */
const OFFERED = 8;

export const About = ({
  about,
  onChange,
}: {
  /** An id of the vehicle file; "" where it is about nothing in particular. */
  readonly about: string;
  readonly onChange: (about: string) => void;
}) => {
  const words = useWords();
  const { book, me } = useWork();
  const [sought, setSought] = useState("");
  const { brief, ledger } = book;
  if (about !== "")
    return (
      <fieldset class="about">
        <legend>{words.gates.about}</legend>
        <p class="large">{new Names(brief).label(about)}</p>
        <button type="button" onClick={() => onChange("")}>
          {words.gates.aboutOther}
        </button>
      </fieldset>
    );
  const here = mySteps(ledger, me?.id).steps[0]?.step;
  // In the order in which the plan comes to them, out or back, from the step at hand on.
  const now = here === undefined ? 0 : here.number - 1;
  const away = new Map<string, number>();
  for (const [n, { id }] of brief.steps.entries())
    away.set(id, Math.min(away.get(id) ?? Number.POSITIVE_INFINITY, Math.abs(n - now)));
  const far = (id: string) => away.get(id) ?? brief.steps.length;
  const wanted = sought
    .toLowerCase()
    .split(/\s+/)
    .filter((one) => one !== "");
  const fitting = brief.joints
    .filter(({ id, label, position }) => {
      const text = `${label} ${id} ${position?.label ?? ""}`.toLowerCase();
      return wanted.every((one) => text.includes(one));
    })
    .map((joint) => ({ joint, isHere: joint.position?.id === here?.position?.id, far: far(joint.id) }))
    .sort((a, b) => Number(b.isHere) - Number(a.isHere) || a.far - b.far);
  return (
    <fieldset class="about">
      <legend>
        {words.gates.about}: {words.gates.aboutNothing}
      </legend>
      <label class="field">
        <span>{words.gates.aboutFind(brief.joints.length)}</span>
        <input
          type="search"
          autoComplete="off"
          value={sought}
          onInput={({ currentTarget }) => setSought(currentTarget.value)}
        />
      </label>
      <ul class="targets">
        {fitting.slice(0, OFFERED).map(({ joint: { id, label, position } }) => (
          <li key={id}>
            <button type="button" onClick={() => onChange(id)}>
              <span>{label}</span>
              <small>{position?.label ?? words.gates.elsewhere}</small>
            </button>
          </li>
        ))}
      </ul>
      <p role="status">
        {fitting.length === 0
          ? words.gates.aboutNone
          : fitting.length > OFFERED
            ? words.gates.aboutMore(fitting.length - OFFERED)
            : ""}
      </p>
    </fieldset>
  );
};
