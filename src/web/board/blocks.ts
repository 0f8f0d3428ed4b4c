// Owns what holds up a run, as the board names it: what contradicts itself, what was found, the gate that comes next and what it lacks first.

import type { OnBoard } from "./news.ts";

type Gate = OnBoard["gates"][number];

/** The gate that is ahead: the lift's as long as something of its cut ties, then the start-up's. A gate that lacks nothing holds up nothing. */
export const gateAhead = ({ standing, gates }: OnBoard): Gate | undefined => {
  const lift = standing.lifts.find(({ tied }) => tied.length > 0);
  const isOut = standing.back === 0 && lift !== undefined;
  const ahead = gates.find(({ gate, lift: of }) => (isOut ? gate === "lift" && of === lift.task : gate === "start-up"));
  return ahead?.open === false ? ahead : undefined;
};

export interface Blocks {
  readonly contradictions: number;
  readonly findings: number;
  readonly gate: Gate | undefined;
}

export const blocksOf = (on: OnBoard): Blocks => ({
  contradictions: on.standing.contradictions.length,
  findings: on.standing.findings.filter(({ state }) => state === "open").length,
  gate: gateAhead(on),
});
