// Owns where in a vehicle file the faults of a lift stand: the line of what they name.

import { ownId } from "../plan/index.ts";
import type { FileFault } from "../rigging/index.ts";
import { writePlace } from "../vehicle/index.ts";
import { openVehicle } from "./files.ts";

/** The faults with file, line and column before what they name; as they are where that is not of the file. */
export async function inVehicleFile(path: string, faults: readonly FileFault[]): Promise<readonly FileFault[]> {
  // Only who is refused waits for this: the file is read once more, for its lines do not go through the computation.
  const reading = await openVehicle(path);
  if ("what" in reading) return faults;
  return faults.map((fault) => {
    const place = reading.place(ownId(fault.at));
    return place === undefined ? fault : { ...fault, at: `${writePlace(place)}  ${fault.at}` };
  });
}
