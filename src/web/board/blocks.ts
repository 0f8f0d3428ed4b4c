// Owns what holds up a run, as the board names it: what contradicts itself, what was found, the gate that comes next and what it lacks first.

import type { OnBoard } from "./news.ts";

type Gate = OnBoard["gates"][number];

/** The gate that is ahead: on the way out that of a lift whose cut still ties, on the way back the start-up's; between the two, and where it lacks nothing, none. */
export const gateAhead = ({ standing, gates }: OnBoard): Gate | undefined => {
  const lift = standing.lifts.find(({ tied }) => tied.length > 0);
  const ahead = gates.find(({ gate, lift: of }) =>
    standing.back > 0 ? gate === "start-up" : gate === "lift" && of === lift?.task,
  );
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
