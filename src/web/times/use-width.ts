// Owns the width of a drawing: as wide as its place is, so that its text keeps its size.

import { useLayoutEffect, useRef, useState } from "preact/hooks";

export const useWidth = (first: number) => {
  const place = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const element = place.current;
    if (element === null) return;
    const measure = () => setWidth((before) => (element.clientWidth > 0 ? element.clientWidth : before));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return { place, width };
};
