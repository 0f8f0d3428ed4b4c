// Owns the size of the place that a chart is drawn in.

import { useEffect, useState } from "preact/hooks";

/** Units of the drawing for a place so many pixels wide: small places get larger text. */
export const drawnWidth = (pixels: number): number => Math.min(1500, Math.max(820, pixels * 1.05));

export const useSize = (ref: { readonly current: HTMLElement | null }): readonly [number, number] => {
  const [size, setSize] = useState<readonly [number, number]>([1000, 700]);
  useEffect(() => {
    const box = ref.current;
    if (box === null) return;
    const watch = new ResizeObserver(() => {
      const next = [box.clientWidth, box.clientHeight] as const;
      setSize((before) => (before[0] === next[0] && before[1] === next[1] ? before : next));
    });
    watch.observe(box);
    return () => watch.disconnect();
  }, [ref]);
  return size;
};
