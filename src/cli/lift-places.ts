// Owns where in a vehicle file the faults of a lift stand: the line of what they name.

import { writePlace } from "../vehicle/index.ts";
import { openVehicle } from "./files.ts";
import type { PlacedFault } from "./rig-file.ts";

/** The faults with file, line and column before what they name; as they are where that is not of the file. */
export async function inVehicleFile(path: string, faults: readonly PlacedFault[]): Promise<readonly PlacedFault[]> {
  // Only who is refused waits for this: the file is read once more, for its lines do not go through the computation.
  const reading = await openVehicle(path);
  if ("what" in reading) return faults;
  return faults.map((fault) => {
    const place = reading.place(fault.at.split("/").at(-1) ?? "");
    return place === undefined ? fault : { ...fault, at: `${writePlace(place)}  ${fault.at}` };
  });
}
