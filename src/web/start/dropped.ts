// Owns who takes a dropped file that is no vehicle file: the sheet that is looked at, by how the file's name ends.

import { useEffect, useRef } from "preact/hooks";

type Take = (files: readonly File[]) => unknown;

interface Taker {
  readonly ends: RegExp;
  readonly take: Take;
}

const takers = new Set<Taker>();

/** While the component is there, dropped files of such a name are given to it. */
export const useDropped = (ends: RegExp, take: Take): void => {
  const newest = useRef(take);
  newest.current = take;
  useEffect(() => {
    const taker: Taker = { ends, take: (files) => newest.current(files) };
    takers.add(taker);
    return () => void takers.delete(taker);
  }, [ends]);
};

/** Gives each file to who takes its like. @returns those that nobody takes */
export const handOver = (files: readonly File[]): readonly File[] => {
  const left = new Set(files);
  for (const { ends, take } of takers) {
    const own = [...left].filter(({ name }) => ends.test(name));
    if (own.length === 0) continue;
    for (const file of own) left.delete(file);
    void take(own);
  }
  return [...left];
};
