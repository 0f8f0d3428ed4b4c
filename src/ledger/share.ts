// Owns the sharing out of a plan's steps: whose each is by a crew's schedule, and what everybody has been told off for by the entries.

import type { CrewPlan } from "../plan/index.ts";
import type { Brief } from "./brief.ts";
import type { BodyOf } from "./kinds.ts";
import type { Ledger } from "./ledger.ts";

/** A crew's schedule calls a step of the way back by what it is about, with a word before it. */
const bare = (id: string): string => id.replace(/^back:/, "");

/**
 * Who does which steps of the plan, in the order of the schedule, as entries: one for each person of the crew.
 *
 * Last looks are nobody's beforehand: whoever had no hand in it looks.
 *
 * @returns bodies of `assigned`; steps that the schedule leaves out (done, or nobody's) are in none.
 */
export const shareOut = (brief: Brief, plan: string, schedule: CrewPlan): readonly BodyOf<"assigned">[] => {
  const turns = [
    ...schedule.steps
      .filter(({ action, done }) => action !== "wait" && action !== "verify" && done !== true)
      .map(({ action, id, start, people }) => ({ action, about: bare(id), start, people })),
    ...schedule.changes.map(({ state, to, start, people }) => ({
      action: to ? "do" : "undo",
      about: state,
      start,
      people,
    })),
  ].sort((a, b) => a.start - b.start);
  // Where a plan has one step several times, the schedule's last turns are the plan's last: what was done is left out.
  const numbers = new Map<string, number[]>();
  for (const { number, action, id } of brief.steps) {
    const key = `${action} ${id}`;
    numbers.set(key, [...(numbers.get(key) ?? []), number]);
  }
  const shares = new Map<string, number[]>(schedule.crew.people.map(({ id }) => [id, []]));
  for (const { action, about, people } of turns.reverse()) {
    const number = numbers.get(`${action} ${about}`)?.pop();
    if (number !== undefined) for (const person of people) shares.get(person)?.unshift(number);
  }
  return [...shares].map(([person, steps]) => ({ kind: "assigned", person, plan, steps }));
};

/** By person the numbers of the steps that he was told off for, of the plan in force; empty where nobody was told anything of this plan. */
export const sharesOf = (ledger: Ledger): ReadonlyMap<string, readonly number[]> => {
  const plan = ledger.planInForce();
  const said = ledger.list("hours", "assigned").filter(({ body }) => body.plan === plan);
  return new Map(said.map(({ body }) => [body.person, body.steps]));
};
