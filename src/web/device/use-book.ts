// Owns how a screen comes by a run's book: opened or fetched, brought up to date as long as it is looked at, told anew with every entry.

import { useQueryClient } from "@tanstack/preact-query";
import { useEffect, useReducer, useState } from "preact/hooks";
import type { Book } from "./book.ts";
import { Carrier, type Line } from "./carrier.ts";
import { takeAlong } from "./taking.ts";

export type BookState =
  | { readonly is: "opening" }
  | { readonly is: "failed"; readonly error: Error; readonly again: () => void }
  | { readonly is: "open"; readonly book: Book; readonly line: Line; readonly wake: () => void };

interface Opened {
  readonly book: Book;
  readonly carrier: Carrier;
}

/** @param hands whoever has the device: another one wakes the line */
export const useBook = (run: string, hands: string | undefined): BookState => {
  const [opened, setOpened] = useState<Opened>();
  const [line, setLine] = useState<Line>({ is: "away" });
  const [error, setError] = useState<Error>();
  const [tries, again] = useReducer((count: number) => count + 1, 0);
  const [, drawAgain] = useReducer((count: number) => count + 1, 0);
  const queries = useQueryClient();
  useEffect(() => {
    let gone = false;
    let close = () => {
      gone = true;
    };
    setOpened(undefined);
    setError(undefined);
    takeAlong(run).then(
      (book) => {
        if (gone) {
          book.close();
          return;
        }
        const carrier = new Carrier(book, (now) => {
          setLine(now);
          // Another session may be behind it by now.
          if (now.is === "signed out") void queries.invalidateQueries({ queryKey: ["door"] });
        });
        const stop = book.listen(() => drawAgain(undefined));
        close = () => {
          stop();
          carrier.end();
          book.close();
        };
        setOpened({ book, carrier });
      },
      (fault: Error) => {
        if (!gone) setError(fault);
      },
    );
    return () => close();
  }, [run, tries, queries]);
  useEffect(() => {
    if (hands !== undefined) opened?.carrier.wake();
  }, [hands, opened]);
  if (error !== undefined) return { is: "failed", error, again: () => again(undefined) };
  if (opened === undefined) return { is: "opening" };
  return { is: "open", book: opened.book, line, wake: () => opened.carrier.wake() };
};
