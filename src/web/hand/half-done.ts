// Owns what is half done on a page in hand: what was typed and not entered yet, and what was opened over the page; both are there again after a reload, and going back shuts what was opened.

import { useState } from "preact/hooks";
import { navigate, useHistoryState } from "wouter-preact/use-browser-location";
import { useWork } from "./work.tsx";

const kept = <T>(key: string, empty: T): T => {
  try {
    const text = sessionStorage.getItem(key);
    return text === null ? empty : (JSON.parse(text) as T);
  } catch {
    // A browser that keeps nothing had nothing to bring back.
    return empty;
  }
};

/**
 * What somebody types and has not entered yet: his, of this run, and of this tab alone, for a reading of yesterday must not stand there as today's.
 * Said to be `empty` again it is forgotten.
 */
export const useTyped = <T>(form: string, empty: T): readonly [T, (value: T) => void] => {
  const { book, me } = useWork();
  const key = `unmoor typed ${book.run} ${me?.id ?? ""} ${form}`;
  const [held, hold] = useState(() => ({ key, value: kept(key, empty) }));
  const value = held.key === key ? held.value : kept(key, empty);
  const set = (typed: T) => {
    hold({ key, value: typed });
    try {
      if (JSON.stringify(typed) === JSON.stringify(empty)) sessionStorage.removeItem(key);
      else sessionStorage.setItem(key, JSON.stringify(typed));
    } catch {
      // It stands on the page as long as that is open.
    }
  };
  return [value, set];
};

type State = Readonly<Record<string, unknown>> | null;

export interface Opened<T> {
  readonly value: T | undefined;
  /** A page further in the history, or in place of what is open already. */
  readonly open: (value: T) => void;
  /** As going back does. */
  readonly shut: () => void;
}

/** What is opened over a page, by its name: it stands in the history, so that back shuts it and not the page. */
export const useOpened = <T>(name: string): Opened<T> => {
  const state = useHistoryState<State>();
  const value = state?.[name] as T | undefined;
  return {
    value,
    open: (opened) =>
      navigate(location.pathname + location.search, {
        state: { ...state, [name]: opened },
        replace: value !== undefined,
      }),
    shut: () => {
      if ((history.state as State)?.[name] !== undefined) history.back();
    },
  };
};
