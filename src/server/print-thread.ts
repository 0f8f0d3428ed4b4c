// Owns the printing thread: it makes one job pack and ends, so that no request waits while pages are set. The other end is printing.ts.

import { parentPort, workerData } from "node:worker_threads";
import { packOf } from "../paper/index.ts";
import { kitOf } from "../plan/index.ts";
import { lay, typeset } from "../press/index.ts";
import { readVehicle } from "../vehicle/index.ts";
import type { Printed, PrintTask } from "./print-task.ts";

/** The template and the fonts, beside the bundle. */
const PRESS = new URL("./press/", import.meta.url);

const print = ({ files, plan, order, isRun, version, lang, paper, origin, made }: PrintTask): Printed => {
  const texts = new Map(files.map(({ path, text }) => [path, text]));
  const { vehicle } = readVehicle(files[0]?.path ?? "", (path) => texts.get(path) ?? { missing: "no such file" });
  if (vehicle === undefined)
    return { faults: [{ what: "the vehicle of this order cannot be read", mend: "Restore a backup." }] };
  const pack = packOf({
    vehicle,
    plan,
    kit: kitOf(plan, vehicle),
    order,
    ...(isRun ? { tagsOfRun: order } : {}),
    version: { number: version },
    lang,
    paper,
    origin,
    made,
  });
  const ready = lay(pack, { folder: PRESS });
  if ("faults" in ready) return ready;
  return { pdf: new Uint8Array(typeset(ready.laid, { folder: PRESS, made: Math.floor(made / 1000) })) };
};

parentPort?.postMessage(print(workerData as PrintTask));
