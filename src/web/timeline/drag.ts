// Owns dragging a bar: along time and from row to row. While it moves only a ghost moves, by a CSS transform, so that nothing is drawn anew.
//
//   resting ──down on a bar──▶ held ──moved──▶ dragging ──up──▶ dropped ──answered──▶ resting
//                               └──up──▶ resting (a click)       └──Escape, cancelled──▶ resting

import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { snapped } from "./clock.ts";
import type { Ground } from "./ground.ts";
import type { Bar } from "./layout.ts";

export interface Dropped {
  readonly bar: Bar;
  /** Minute of its new beginning; absent: it stays when it is. */
  readonly at?: number;
  /** Another person; absent: it stays with whom it is. */
  readonly person?: string;
}

/** Pixels that a hand may tremble. */
const TREMBLE = 5;
/** Pixels along time that are meant, not slipped, by who drags it to another row. */
const MEANT = 28;

interface Given {
  readonly ground: Ground;
  readonly begins: number | undefined;
  readonly barOf: (key: string) => Bar | undefined;
  /** What the ghost says. */
  readonly says: (dropped: Dropped) => string;
  readonly onDrop: (dropped: Dropped) => void;
  /** What was dropped is not answered yet: until then the ghost stays where it was let go. */
  readonly isTrying: boolean;
}

/** Milliseconds in which an answer is on its way, or there is none to come. */
const UNDER_WAY = 400;

/** @param field the drawing; bars in it carry `data-bar`; @param ghost what follows the pointer, an element of the field with one in it for what it says */
export const useDrag = (field: RefObject<HTMLElement>, ghost: RefObject<HTMLElement>, given: Given): void => {
  const now = useRef(given);
  now.current = given;
  useEffect(() => {
    const box = field.current;
    const shadow = ghost.current;
    if (box === null || shadow === null) return;
    let held: { readonly bar: Bar; readonly x: number; readonly y: number; readonly pointer: number } | undefined;
    let dropped: Dropped | undefined;
    const all = new AbortController();
    const { signal } = all;
    const rest = () => {
      held = undefined;
      dropped = undefined;
      shadow.hidden = true;
    };
    const answered = () => {
      if (held === undefined && !now.current.isTrying) rest();
    };
    const down = (event: PointerEvent) => {
      const target = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-bar]") : null;
      const bar = now.current.barOf(target?.dataset.bar ?? "");
      if (target === null || bar === undefined || event.button !== 0) return;
      // A finger scrolls; it drags only what it has opened.
      if (event.pointerType === "touch" && target.getAttribute("aria-expanded") !== "true") return;
      held = { bar, x: event.clientX, y: event.clientY, pointer: event.pointerId };
    };
    const move = (event: PointerEvent) => {
      if (held === undefined || event.pointerId !== held.pointer) return;
      const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
      if (dropped === undefined) {
        if (Math.hypot(dx, dy) < TREMBLE) return;
        box.setPointerCapture(event.pointerId);
      }
      const { ground, begins, says } = now.current;
      const { doing, person } = held.bar;
      const row = ground.personAt(ground.personTop(person) + ground.bar / 2 + dy) ?? person;
      const given = row !== person && !doing.people.includes(row) ? row : undefined;
      const at = snapped(doing.start + dx / ground.scale, begins);
      // A minute for every time that the vehicle is turned so is not what this one is dragged for.
      const moves = doing.times === 1 && Math.abs(dx) >= (row === person ? TREMBLE : MEANT) && at !== doing.start;
      dropped = {
        bar: held.bar,
        ...(moves ? { at } : {}),
        ...(given === undefined ? {} : { person: given }),
      };
      const left = ground.x(moves ? at : doing.start);
      shadow.style.transform = `translate(${left}px, ${ground.personTop(row)}px)`;
      if (shadow.hidden) {
        shadow.style.width = `${Math.max(4, ground.x(doing.free) - ground.x(doing.start))}px`;
        shadow.style.height = `${ground.bar}px`;
        shadow.hidden = false;
      }
      const text = says(dropped);
      const label = shadow.firstElementChild;
      if (label !== null && label.textContent !== text) label.textContent = text;
    };
    const up = (event: PointerEvent) => {
      if (held === undefined || event.pointerId !== held.pointer) return;
      const done = dropped;
      held = undefined;
      dropped = undefined;
      if (done === undefined) return;
      // The click that ends a drag opens nothing; it comes before anything that is put off, or not at all.
      const click = new AbortController();
      addEventListener("click", (event) => event.stopPropagation(), { capture: true, signal: click.signal });
      setTimeout(() => click.abort());
      if (done.at === undefined && done.person === undefined) {
        rest();
        return;
      }
      setTimeout(answered, UNDER_WAY);
      now.current.onDrop(done);
    };
    const key = (event: KeyboardEvent) => {
      if (event.key !== "Escape" || dropped === undefined) return;
      event.stopPropagation();
      rest();
    };
    box.addEventListener("pointerdown", down, { signal });
    box.addEventListener("pointermove", move, { signal });
    box.addEventListener("pointerup", up, { signal });
    box.addEventListener("pointercancel", rest, { signal });
    addEventListener("keydown", key, { signal, capture: true });
    return () => all.abort();
  }, [field, ghost]);
  const { isTrying, ground } = given;
  useEffect(() => {
    if (!isTrying && ghost.current !== null) ghost.current.hidden = true;
  }, [isTrying, ground, ghost]);
};
