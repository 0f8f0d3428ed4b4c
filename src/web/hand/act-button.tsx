// Owns the large button that enters. A second touch of one tap enters nothing more, nor does a key that is held; whoever presses keys waits for nobody and goes on at what comes next.

import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";

/** Milliseconds after a touch within which the next one is the second of the same tap. */
const BETWEEN = 350;

/** When the last touch that entered something was made; of whatever button it was, for the next one stands in the same place. */
let touched = Number.NEGATIVE_INFINITY;
let isByKeys = false;

/** For what a key that is kept pressed would press again and again. */
export const notHeld = (event: KeyboardEvent): void => {
  if (event.repeat && (event.key === "Enter" || event.key === " ")) event.preventDefault();
};

/** After an entry by keys they go on in the card with what is to be entered next. @param next what that is */
export const useKeysGoOn = (card: { readonly current: HTMLElement | null }, next: string): void => {
  useEffect(() => {
    const { activeElement } = document;
    const isLost = activeElement === document.body || activeElement?.id === "drawing";
    if (!isByKeys || !isLost) return;
    isByKeys = false;
    card.current?.querySelector<HTMLElement>(".asking input, .act, .held")?.focus({ preventScroll: true });
  }, [card, next]);
};

interface Given {
  readonly isBusy: boolean;
  /** Without it the button submits its form. */
  readonly onAct?: () => void;
  readonly children: ComponentChildren;
}

/** It is never shut to keys, or they would have to look for it again. */
export const ActButton = ({ isBusy, onAct, children }: Given) => {
  const [, drawAnew] = useState({});
  const shutFor = touched + BETWEEN - performance.now();
  useEffect(() => {
    if (shutFor <= 0) return;
    const clock = setTimeout(() => drawAnew({}), shutFor);
    return () => clearTimeout(clock);
  });
  return (
    <button
      type={onAct === undefined ? "submit" : "button"}
      class="main act"
      aria-disabled={isBusy || shutFor > 0}
      onKeyDown={notHeld}
      onClick={(event) => {
        // Of a key it counts no clicks.
        const isTouch = event.detail > 0;
        isByKeys = !isTouch;
        // By when it was made: on a slow device it comes late.
        if (isBusy || (isTouch && event.timeStamp - touched < BETWEEN)) {
          event.preventDefault();
          return;
        }
        if (isTouch) touched = event.timeStamp;
        onAct?.();
      }}
    >
      {children}
    </button>
  );
};
