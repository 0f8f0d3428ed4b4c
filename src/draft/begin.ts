// Owns the draft of nothing yet: the vehicle, the assembly that is to come out of it, and the job that takes it out.

import { VEHICLE } from "./joined.ts";
import { capital, Ids } from "./names.ts";
import { written } from "./patch.ts";

/** @param name of the vehicle @param assembly what comes out, as it is called */
export function beginDraft(name: string, assembly: string): string {
  const ids = new Ids();
  ids.take(VEHICLE);
  const label = capital(assembly.trim());
  const id = ids.make(label);
  return `format: unmoor/1
vehicle: { name: ${written(name.trim())} }
parts:
  ${VEHICLE}: { label: The vehicle, fixed: true }
  ${id}: { label: ${written(label)}, mass: "?", centre: "?" }
jobs:
  remove-${id}: { label: ${written(`Remove the ${label.toLowerCase()}`)}, needs: [out: ${id}] }
`;
}
