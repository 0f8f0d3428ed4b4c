// Owns the draft of nothing yet: the vehicle, the assembly that is to come out of it, and the job that takes it out.

import { VEHICLE } from "./joined.ts";
import { capital, Ids } from "./names.ts";
import { written } from "./patch.ts";

/** What the vehicle itself and the job are called. */
interface Called {
  readonly vehicle: string;
  readonly job: (assembly: string) => string;
}

const ENGLISH: Called = { vehicle: "The vehicle", job: (assembly) => `Remove the ${assembly.toLowerCase()}` };

/** @param name of the vehicle @param assembly what comes out, as it is called */
export function beginDraft(name: string, assembly: string, called: Called = ENGLISH): string {
  const ids = new Ids();
  ids.take(VEHICLE);
  const label = capital(assembly.trim());
  const id = ids.make(label);
  return `format: unmoor/1
vehicle: { name: ${written(name.trim())} }
parts:
  ${VEHICLE}: { label: ${written(called.vehicle)}, fixed: true }
  ${id}: { label: ${written(label)}, mass: "?", centre: "?" }
jobs:
  remove-${id}: { label: ${written(called.job(label))}, needs: [out: ${id}] }
`;
}
