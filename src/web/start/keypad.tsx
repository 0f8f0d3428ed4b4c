// Owns the keys of a PIN on the screen: wide enough for a glove, and what was typed as dots.

import { useWords } from "../words/words.ts";

/** A PIN's digits, at most. */
const MOST = 8;
const LEAST = 4;

const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9"] as const;

/** What was typed, as dots: so many, and never which. A real keyboard types here as well. */
const Dots = ({
  typed,
  label,
  change,
  fault,
}: {
  readonly typed: string;
  readonly label: string;
  readonly change: (typed: string) => void;
  readonly fault: boolean;
}) => (
  <span class="dots">
    <input
      class="pin"
      // No password: browsers would offer to keep it, for everybody who takes up the tablet after him.
      type="text"
      inputMode="none"
      autocomplete="off"
      maxLength={MOST}
      aria-label={label}
      aria-describedby="pin-help"
      aria-invalid={fault}
      value={typed}
      onInput={({ currentTarget }) => {
        const digits = currentTarget.value.replaceAll(/\D/g, "").slice(0, MOST);
        currentTarget.value = digits;
        change(digits);
      }}
      ref={(input) => {
        if (input !== null && document.activeElement === document.body) input.focus();
      }}
    />
    <svg viewBox={`0 0 ${MOST * 30} 30`} aria-hidden="true">
      {Array.from({ length: MOST }, (_, n) => (
        <circle
          key={n}
          cx={15 + 30 * n}
          cy={15}
          r={n < typed.length ? 8 : n < LEAST ? 5 : 2.5}
          class={n < typed.length ? "typed" : "open"}
        />
      ))}
    </svg>
  </span>
);

export const Keypad = ({
  typed,
  label,
  change,
  enter,
  isShut,
  fault,
}: {
  readonly typed: string;
  readonly label: string;
  readonly change: (typed: string) => void;
  /** With what was typed by then: a keyboard is quicker than the page is drawn. */
  readonly enter: (typed: string) => void;
  /** Nothing may be sent now; what is typed stays. */
  readonly isShut: boolean;
  readonly fault: boolean;
}) => {
  const words = useWords();
  const add = (digit: string) => typed.length < MOST && change(typed + digit);
  return (
    <form
      class="keypad"
      onSubmit={(event) => {
        event.preventDefault();
        const now = event.currentTarget.querySelector<HTMLInputElement>("input.pin")?.value ?? typed;
        if (!isShut && now.length >= LEAST) enter(now);
      }}
    >
      <Dots typed={typed} label={label} change={change} fault={fault} />
      {/* Held down, a key must not take the place where a keyboard types. */}
      <fieldset class="keys" onPointerDown={(event) => event.preventDefault()}>
        <legend class="unseen">{words.door.keys}</legend>
        {KEYS.map((digit) => (
          <button key={digit} type="button" onClick={() => add(digit)}>
            {digit}
          </button>
        ))}
        <button
          type="button"
          class="word"
          aria-label={words.door.backKey}
          disabled={typed === ""}
          onClick={() => change(typed.slice(0, -1))}
        >
          {words.door.back}
        </button>
        <button type="button" onClick={() => add("0")}>
          0
        </button>
        <button type="submit" class="main word" disabled={isShut || typed.length < LEAST}>
          {words.door.enter}
        </button>
      </fieldset>
    </form>
  );
};
