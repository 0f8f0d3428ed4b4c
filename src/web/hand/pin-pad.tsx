// Owns the asking for a second person's PIN in the middle of the work: the keys of the door, and a way back.

import { useEffect, useRef, useState } from "preact/hooks";
import { Keypad } from "../start/keypad.tsx";
import { useWords } from "../words/words.ts";

export const PinPad = ({
  label,
  onPin,
  onCancel,
  isBusy = false,
}: {
  readonly label: string;
  readonly onPin: (pin: string) => void;
  readonly onCancel: () => void;
  readonly isBusy?: boolean;
}) => {
  const words = useWords();
  const [typed, setTyped] = useState("");
  const pad = useRef<HTMLDivElement>(null);
  // It opens where the button was, and that may be at the foot of a small screen.
  useEffect(() => pad.current?.scrollIntoView({ block: "nearest" }), []);
  return (
    <div class="pin-pad" ref={pad}>
      <p id="pin-help">{label}</p>
      <Keypad
        typed={typed}
        label={label}
        change={setTyped}
        enter={(pin) => {
          onPin(pin);
          setTyped("");
        }}
        isShut={isBusy}
        fault={false}
      />
      <button type="button" onClick={onCancel}>
        {words.hand.cancel}
      </button>
    </div>
  );
};
