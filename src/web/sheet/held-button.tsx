// Owns the button that does nothing by accident: it is kept pressed for a second, or, where a device cannot press for long, pressed twice.

import { useEffect, useRef, useState } from "preact/hooks";
import { useWords } from "../words/words.ts";

/** Milliseconds that it is kept pressed. */
const HOLD = 1000;
/** Milliseconds within which it is pressed a second time. */
const TWICE = 6000;

/** Held, a key would press again and again by itself, so it is not left to the browser. */
const isPress = ({ key }: KeyboardEvent): boolean => key === " " || key === "Enter";

interface Given {
  readonly label: string;
  /** What it is done to, where that is seen beside it: to be heard with it. */
  readonly about?: string;
  readonly disabled?: boolean;
  readonly onHeld: () => void;
}

export const HeldButton = ({ label, about, disabled = false, onHeld }: Given) => {
  const words = useWords();
  const [state, setState] = useState<"still" | "pressed" | "once">("still");
  const clock = useRef<ReturnType<typeof setTimeout>>();
  const pressed = useRef(0);
  useEffect(() => () => clearTimeout(clock.current), []);

  const after = (milliseconds: number, act: () => void) => {
    clearTimeout(clock.current);
    clock.current = setTimeout(act, milliseconds);
  };
  const done = () => {
    clearTimeout(clock.current);
    setState("still");
    onHeld();
  };
  const press = () => {
    if (state !== "still") return;
    pressed.current = Date.now();
    setState("pressed");
    after(HOLD, done);
  };
  const letGo = () => {
    if (state !== "pressed") return;
    clearTimeout(clock.current);
    setState("still");
  };
  const click = () => {
    if (state === "once") return done();
    // The end of a hold is a click as well: it has done its work.
    if (Date.now() - pressed.current > HOLD * 0.9 && pressed.current !== 0) {
      pressed.current = 0;
      return;
    }
    pressed.current = 0;
    setState("once");
    after(TWICE, () => setState("still"));
  };
  return (
    <button
      type="button"
      class={`held ${state}`}
      disabled={disabled}
      title={words.door.pressed}
      onPointerDown={(event) => event.button === 0 && press()}
      onPointerUp={letGo}
      onPointerLeave={letGo}
      onPointerCancel={letGo}
      onKeyDown={(event) => {
        if (!isPress(event)) return;
        event.preventDefault();
        if (!event.repeat) press();
      }}
      onKeyUp={(event) => {
        if (!isPress(event)) return;
        event.preventDefault();
        letGo();
        click();
      }}
      onBlur={letGo}
      onContextMenu={(event) => event.preventDefault()}
      onClick={click}
    >
      <span>
        {label}
        {about === undefined ? null : <span class="unseen">: {about}</span>}
      </span>
      <small aria-live="polite">{state === "once" ? words.door.oncePressed : words.door.keepPressed}</small>
    </button>
  );
};
