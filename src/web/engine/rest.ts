// Owns how the rest of a run is answered: who of those who are still there does what next, from how it stands by its entries.

import { type Brief, type BriefPerson, type Entry, Ledger, restOf } from "../../ledger/index.ts";
import { type CrewPlan, type Order, solveCrew } from "../../plan/index.ts";
import { type Bench, patient } from "./bench.ts";

export interface RestAsked {
  readonly asked: Order;
  readonly people: readonly BriefPerson[];
  readonly brief: Brief;
  readonly entries: readonly Entry[];
  /** Milliseconds since 1970. */
  readonly opened: number;
  readonly now: number;
  /** Of search. */
  readonly seconds: number;
}

/** Without a plan where nothing leads on, or those who are there cannot do what is left. */
export interface RestSaid {
  readonly plan?: CrewPlan;
}

export const answerRestOf = async (bench: Bench, asked: RestAsked): Promise<RestSaid> => {
  const { vehicle } = await bench.read();
  if (vehicle === undefined) return {};
  const { asked: order, people, brief, entries, opened, now, seconds } = asked;
  const rest = restOf(vehicle, new Ledger(brief, entries), { order, people, crew: undefined, opened, now });
  if (rest === undefined) return {};
  const { answer } = solveCrew(
    { what: "schedule", ...rest, seconds, seed: 1 },
    { ...patient(), report: () => undefined },
  );
  return answer?.plan === undefined ? {} : { plan: answer.plan };
};
