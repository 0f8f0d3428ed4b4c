// Owns which steps are somebody's: what was shared out to him, else what the plan has next for anybody.

import { actsOf, type Ledger, type StepActs, sharesOf } from "../../ledger/index.ts";

export interface MySteps {
  /** Not over, in the order in which they are to be done. */
  readonly steps: readonly StepActs[];
  /** `mine`: as it was shared out; `rest`: his own are over; `open`: nothing was shared out of this plan. */
  readonly are: "mine" | "rest" | "open";
}

const isLeft = ({ over, gate }: StepActs): boolean => !over || gate?.done === false;

export const mySteps = (ledger: Ledger, person: string | undefined): MySteps => {
  const all = actsOf(ledger);
  const left = all.filter(isLeft);
  const shares = sharesOf(ledger);
  const numbers = person === undefined ? undefined : shares.get(person);
  if (numbers === undefined || shares.size === 0) return { steps: left, are: "open" };
  const byNumber = new Map(left.map((one) => [one.step.number, one]));
  const mine = numbers.flatMap((number) => byNumber.get(number) ?? []);
  if (mine.length > 0) return { steps: mine, are: "mine" };
  // What others have is theirs; last looks and what nobody was told is for whoever is free.
  const told = new Set([...shares.values()].flat());
  return { steps: left.filter(({ step }) => !told.has(step.number)), are: "rest" };
};
