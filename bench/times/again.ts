// Owns the second opinion on what a change spares: the question of each job solved again with each change, by nothing but the solver.

import { changeVehicle, type Improved } from "../../src/plan/index.ts";
import type { Vehicle } from "../../src/vehicle/index.ts";

export interface Again {
  readonly solved: number;
  /** Changes of a job that spare labour. */
  readonly sparing: number;
  readonly differing: readonly {
    readonly change: string;
    readonly job: string;
    readonly said: number;
    readonly found: number;
  }[];
}

/** Changes of the crew aside: labour is asked of the vehicle. `labourOf`: the least labour of a job, undefined where it has no plan. */
export function solveAgain(
  improved: Improved,
  vehicle: Vehicle,
  labourOf: (vehicle: Vehicle, job: string) => number | undefined,
  say: (line: string) => void,
): Again {
  const differing: Again["differing"][number][] = [];
  let [solved, sparing] = [0, 0];
  const before = new Map(improved.jobs.map(({ id }) => [id, labourOf(vehicle, id)]));
  for (const change of improved.changes) {
    if (change.people > 0 || change.tools.length > 0) continue;
    const changed = changeVehicle(vehicle, [change]);
    for (const { id: job } of improved.jobs) {
      const said = change.jobs.find(({ id }) => id === job)?.labour ?? 0;
      const found = (before.get(job) ?? 0) - (labourOf(changed, job) ?? 0);
      solved++;
      if (found > 1e-6) sparing++;
      if (Math.abs(said - found) > 1e-6) differing.push({ change: change.id, job, said, found });
    }
    say(`${change.id}: ${solved} solved, ${differing.length} differ`);
  }
  return { solved, sparing, differing };
}
