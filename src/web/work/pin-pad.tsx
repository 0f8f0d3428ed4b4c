// Owns the keys for a PIN: large enough for gloves, a keyboard does as well, what was typed shows as dots.

import { useLayoutEffect, useRef, useState } from "preact/hooks";
import { useWords } from "../words/words.ts";

const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9"];
const LEAST = 4;
const MOST = 8;

export const PinPad = ({
  label,
  onPin,
  onCancel,
  isBusy = false,
}: {
  readonly label: string;
  readonly onPin: (pin: string) => void;
  readonly onCancel?: () => void;
  readonly isBusy?: boolean;
}) => {
  const words = useWords();
  const [pin, setPin] = useState("");
  // Keys may come faster than the page is drawn: what counts is what was typed, not what is shown.
  const typed = useRef("");
  const set = (now: string) => {
    typed.current = now;
    setPin(now);
  };
  const press = (key: string) => {
    if (typed.current.length < MOST) set(typed.current + key);
  };
  const back = () => set(typed.current.slice(0, -1));
  const done = () => {
    if (typed.current.length < LEAST || isBusy) return;
    onPin(typed.current);
    set("");
  };
  // As soon as it stands there: whoever types does not wait for the next frame.
  useLayoutEffect(() => {
    const hear = (event: KeyboardEvent) => {
      if (/^\d$/.test(event.key)) press(event.key);
      else if (event.key === "Backspace") back();
      else if (event.key === "Enter") done();
      else return;
      event.preventDefault();
    };
    addEventListener("keydown", hear);
    return () => removeEventListener("keydown", hear);
  });
  return (
    <fieldset class="pin-pad" aria-label={label}>
      <p>
        {label}
        <output aria-label={words.work.pin}>{"●".repeat(pin.length).padEnd(LEAST, "○")}</output>
      </p>
      {KEYS.map((key) => (
        <button key={key} type="button" onClick={() => press(key)}>
          {key}
        </button>
      ))}
      <button type="button" onClick={back} aria-label="⌫">
        ⌫
      </button>
      <button type="button" onClick={() => press("0")}>
        0
      </button>
      <button type="button" class="main" disabled={pin.length < LEAST || isBusy} onClick={done}>
        {words.work.enter}
      </button>
      {onCancel === undefined ? null : (
        <button type="button" class="cancel" onClick={onCancel}>
          {words.work.cancel}
        </button>
      )}
    </fieldset>
  );
};
