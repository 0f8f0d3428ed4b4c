// Owns the pages of a board with more runs than a wall shows large: how many go on one, and their turning, by the clock and by key.

import { useEffect, useState } from "preact/hooks";

/** Milliseconds that a page stands: long enough to read seven lines twice. */
const STANDS = 14_000;
/** A wall: what is smaller is held in a hand, and scrolls. */
const WALL = "(min-width: 64rem) and (min-height: 36rem)";
const LESS_MOTION = "(prefers-reduced-motion: reduce)";

/** Of a line, in heights of its letters: one of figures, one of words. */
export const LINE = 2.5;

/** How many lines fit into a place; undefined where all of them are there and the page scrolls. */
export const useLines = (list: { readonly current: HTMLElement | null }): number | undefined => {
  const [lines, setLines] = useState<number>();
  useEffect(() => {
    const place = list.current;
    if (place === null) return;
    const measure = () =>
      setLines(
        matchMedia(WALL).matches
          ? Math.max(1, Math.floor(place.clientHeight / (LINE * Number.parseFloat(getComputedStyle(place).fontSize))))
          : undefined,
      );
    const watch = new ResizeObserver(measure);
    watch.observe(place);
    return () => watch.disconnect();
  }, [list]);
  return lines;
};

export interface Pages {
  readonly page: number;
  readonly isTurning: boolean;
  readonly turn: (by: number) => void;
  readonly toggle: () => void;
}

/** @param list where nobody's keys are taken away by a turn */
export const usePages = (count: number, list: { readonly current: HTMLElement | null }): Pages => {
  const [at, setAt] = useState(0);
  const [isTurning, setTurning] = useState(() => !matchMedia(LESS_MOTION).matches);
  const page = count === 0 ? 0 : at % count;
  const to = (by: number) => setAt((before) => (before + by + count) % Math.max(1, count));
  const turn = (by: number) => {
    setTurning(false);
    to(by);
  };
  const toggle = () => setTurning((before) => !before);
  useEffect(() => {
    if (!isTurning || count < 2) return;
    const clock = setInterval(() => {
      if (list.current?.contains(document.activeElement) !== true) to(1);
    }, STANDS);
    return () => clearInterval(clock);
  }, [isTurning, count, list]);
  useEffect(() => {
    if (count < 2) return;
    const keys = (event: KeyboardEvent) => {
      const isOnControl = (event.target as HTMLElement).closest("button, a") !== null;
      if (event.altKey || event.ctrlKey || event.metaKey || (event.key === " " && isOnControl)) return;
      const act = { ArrowRight: () => turn(1), ArrowLeft: () => turn(-1), " ": toggle }[event.key];
      if (act === undefined) return;
      event.preventDefault();
      act();
    };
    addEventListener("keydown", keys);
    return () => removeEventListener("keydown", keys);
  }, [count]);
  return { page, isTurning, turn, toggle };
};
