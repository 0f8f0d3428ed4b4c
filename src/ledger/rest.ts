// Owns the rest of a run as a question for the crew's search: the vehicle and the order as the run has left them, who is still there, and how the work stands.

import {
  type Crew,
  crewOfShop,
  type Earlier,
  type Order,
  type Question,
  type Standing,
  translate,
  wholeJob,
} from "../plan/index.ts";
import { solve } from "../release/index.ts";
import type { Vehicle } from "../vehicle/index.ts";
import { amend } from "./amend.ts";
import { crewStanding } from "./crew-standing.ts";
import type { Ledger } from "./ledger.ts";

export interface Rest {
  readonly question: Question;
  readonly crew: Crew;
  readonly standing: Standing;
}

export interface RestAsked {
  readonly order: Order;
  /** Those of the order, and what else the shop has to work with; without it a shop with these people. */
  readonly crew: Crew | undefined;
  readonly people: readonly { readonly id: string; readonly label: string; readonly skills: readonly string[] }[];
  /** Milliseconds since 1970; minute 0 is when the run was opened. */
  readonly opened: number;
  readonly now: number;
  /** What people were told before: kept to where it can be. */
  readonly told?: Earlier;
}

/** Who does what next, as a question; undefined where no plan, or no order of the way back, leads on from here. */
export const restOf = (vehicle: Vehicle, ledger: Ledger, asked: RestAsked): Rest | undefined => {
  const { people, opened, now, told } = asked;
  const amended = amend(vehicle, { ...asked.order, people }, ledger);
  const there = amended.order.people;
  if (there === undefined || typeof there === "number") return undefined;
  const question = translate(amended.vehicle, amended.order);
  const answer = question.faults.length > 0 ? undefined : solve(question.problem).plan;
  const job = answer === undefined ? undefined : wholeJob(question, answer);
  if (job === undefined) return undefined;
  const ids = new Set(there.map(({ id }) => id));
  const crew = asked.crew ?? crewOfShop(people);
  const minute = (at: number) => Math.max(0, Math.round((at - opened) / 60_000));
  return {
    question,
    crew: { ...crew, people: crew.people.filter(({ id }) => ids.has(id)) },
    standing: crewStanding(ledger, job, minute, now, told),
  };
};
