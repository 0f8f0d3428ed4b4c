// Owns what every page of a run in hand stands on: its book, who has the device, and how something is entered.

import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Body, BriefPerson } from "../../ledger/index.ts";
import type { Book } from "../device/book.ts";
import type { Line } from "../device/carrier.ts";
import type { Entered } from "../device/entering.ts";
import type { Paired } from "../device/hands.ts";

export interface Work {
  readonly book: Book;
  readonly line: Line;
  /** Who has the device, as the order knows him; undefined: he only looks. */
  readonly me: BriefPerson | undefined;
  readonly paired: Paired | undefined;
  /** Enters something as who has the device, and says so at the foot of the page. True where it is entered. */
  readonly enter: (body: Body, sure?: boolean) => Promise<boolean>;
  /** Shows what became of something that was entered another way. True where it is entered. */
  readonly tell: (entered: Entered, what: string) => boolean;
  /** Tries the line at once. */
  readonly wake: () => void;
}

export const WorkContext = createContext<Work | undefined>(undefined);

/** @throws where no run is given around: a fault of the program. */
export const useWork = (): Work => {
  const work = useContext(WorkContext);
  if (work === undefined) throw new Error("no run is given here");
  return work;
};
