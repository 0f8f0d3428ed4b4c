// Owns moving and enlarging a drawing: by finger, wheel, button and key. While it moves only a CSS transform changes, so that nothing is drawn anew.

import type { RefObject } from "preact";
import { useCallback, useEffect, useRef, useState } from "preact/hooks";

export interface View {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

export const WHOLE: View = { x: 0, y: 0, scale: 1 };
/** So near that of 2,000 ties each can be read. */
const MOST = 24;
const STEP = 1.4;

/** Nearer by a factor about a point of the frame; never so far out that it is smaller than the frame, and never beside it. */
export const zoomed = (
  view: View,
  factor: number,
  [px, py]: readonly [number, number],
  [w, h]: readonly [number, number],
): View => {
  const scale = Math.min(MOST, Math.max(1, view.scale * factor));
  const by = scale / view.scale;
  return within({ x: px - (px - view.x) * by, y: py - (py - view.y) * by, scale }, [w, h]);
};

export const within = ({ x, y, scale }: View, [w, h]: readonly [number, number]): View => ({
  x: Math.min(0, Math.max(w - w * scale, x)),
  y: Math.min(0, Math.max(h - h * scale, y)),
  scale,
});

interface Pan {
  readonly view: View;
  readonly nearer: () => void;
  readonly farther: () => void;
  readonly whole: () => void;
}

/** Pixels that a finger may tremble and still have tapped. */
const TREMBLE = 6;

/** @param frame what the drawing is seen through; @param drawing what is moved; @param onTap told what was pointed at and not dragged */
export const usePan = (
  frame: RefObject<HTMLElement>,
  drawing: RefObject<HTMLElement>,
  onTap: (target: Element) => void,
): Pan => {
  const tapped = useRef(onTap);
  tapped.current = onTap;
  const [view, setView] = useState(WHOLE);
  /** Ahead of the state while a finger moves. */
  const now = useRef(view);
  const put = useCallback(
    (next: View) => {
      now.current = next;
      if (drawing.current === null) return;
      // While it moves it is a picture that is pushed about; at rest it is drawn anew, sharp.
      drawing.current.style.willChange = "transform";
      drawing.current.style.transform = `translate(${next.x}px, ${next.y}px) scale(${next.scale})`;
    },
    [drawing],
  );
  const settle = useCallback(() => {
    if (drawing.current !== null) drawing.current.style.willChange = "auto";
    setView(now.current);
  }, [drawing]);
  const size = useCallback((): readonly [number, number] => {
    const box = frame.current;
    return [box?.clientWidth ?? 1, box?.clientHeight ?? 1];
  }, [frame]);
  const by = useCallback(
    (factor: number) => {
      const [w, h] = size();
      put(zoomed(now.current, factor, [w / 2, h / 2], [w, h]));
      settle();
    },
    [put, settle, size],
  );

  useEffect(() => {
    const box = frame.current;
    if (box === null) return;
    const fingers = new Map<number, readonly [number, number]>();
    let resting: ReturnType<typeof setTimeout> | undefined;
    const at = ({ clientX, clientY }: { clientX: number; clientY: number }): readonly [number, number] => {
      const { left, top } = box.getBoundingClientRect();
      return [clientX - left, clientY - top];
    };
    const all = new AbortController();
    const { signal } = all;
    const wheel = (event: WheelEvent) => {
      // Where the page itself can be scrolled, an unaimed wheel goes on scrolling it.
      if (!(event.ctrlKey || event.metaKey || now.current.scale > 1)) return;
      event.preventDefault();
      put(zoomed(now.current, Math.exp(-event.deltaY / 300), at(event), size()));
      clearTimeout(resting);
      resting = setTimeout(settle, 150);
    };
    let began: { readonly spot: readonly [number, number]; readonly target: Element } | undefined;
    const down = (event: PointerEvent) => {
      const isFirst = fingers.size === 0;
      fingers.set(event.pointerId, at(event));
      began = isFirst ? { spot: at(event), target: event.target as Element } : undefined;
    };
    const move = (event: PointerEvent) => {
      const before = fingers.get(event.pointerId);
      if (before === undefined) return;
      const here = at(event);
      if (began !== undefined && Math.hypot(here[0] - began.spot[0], here[1] - began.spot[1]) < TREMBLE) return;
      began = undefined;
      if (fingers.size === 1) {
        if (now.current.scale === 1) return;
        const { x, y, scale } = now.current;
        put(within({ x: x + here[0] - before[0], y: y + here[1] - before[1], scale }, size()));
      } else {
        const [other] = [...fingers].flatMap(([id, spot]) => (id === event.pointerId ? [] : [spot]));
        if (other === undefined) return;
        const apart = (one: readonly [number, number]) => Math.max(1, Math.hypot(one[0] - other[0], one[1] - other[1]));
        put(
          zoomed(
            now.current,
            apart(here) / apart(before),
            [(here[0] + other[0]) / 2, (here[1] + other[1]) / 2],
            size(),
          ),
        );
      }
      fingers.set(event.pointerId, here);
      box.setPointerCapture(event.pointerId);
    };
    const up = (event: PointerEvent) => {
      if (!fingers.delete(event.pointerId) || fingers.size > 0) return;
      if (began === undefined) settle();
      else if (event.type === "pointerup") tapped.current(began.target);
    };
    box.addEventListener("wheel", wheel, { signal, passive: false });
    box.addEventListener("pointerdown", down, { signal });
    box.addEventListener("pointermove", move, { signal });
    box.addEventListener("pointerup", up, { signal });
    box.addEventListener("pointercancel", up, { signal });
    return () => {
      all.abort();
      clearTimeout(resting);
    };
  }, [frame, put, settle, size]);

  return {
    view,
    nearer: useCallback(() => by(STEP), [by]),
    farther: useCallback(() => by(1 / STEP), [by]),
    whole: useCallback(() => {
      put(WHOLE);
      settle();
    }, [put, settle]),
  };
};
