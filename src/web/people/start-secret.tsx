// Owns the field of a start PIN or password: typed, or made up by the device.

import { useId } from "preact/hooks";
import { useWords } from "../words/words.ts";
import { madeUpPassword, madeUpPin } from "./made-up.ts";
import type { Secret } from "./members.ts";

export const StartSecret = ({
  kind,
  value,
  change,
}: {
  readonly kind: Secret;
  readonly value: string;
  readonly change: (value: string) => void;
}) => {
  const words = useWords();
  const id = useId();
  const label = kind === "pin" ? words.people.startPin : words.people.startPassword;
  return (
    <div class="start-secret">
      <label class="field" for={id}>
        <span>{label}</span>
        <input
          id={id}
          value={value}
          // In plain sight: it is read out, and good once.
          inputMode={kind === "pin" ? "numeric" : "text"}
          autocomplete="off"
          autocapitalize="none"
          spellcheck={false}
          maxLength={kind === "pin" ? 8 : 200}
          onInput={({ currentTarget }) => change(currentTarget.value)}
        />
      </label>
      <button
        type="button"
        aria-label={words.people.suggestOf(label)}
        onClick={() => change(kind === "pin" ? madeUpPin() : madeUpPassword())}
      >
        {words.people.suggest}
      </button>
    </div>
  );
};
