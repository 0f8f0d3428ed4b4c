// Owns the command `kit`: everything that the work of an order takes, as lists for bags, store and bench.

import { type KitGiven, kitOf, readStore, type Store } from "../plan/index.ts";
import { readQuantity } from "../quantity/index.ts";
import { computeAside } from "./background.ts";
import type { Call, CallFault } from "./call.ts";
import { readText } from "./crew-order.ts";
import { EXIT, type Exit } from "./exit.ts";
import type { KitDocument } from "./fastening-documents.ts";
import { countFaults, sayFaults } from "./files.ts";
import { sayKit } from "./kit-text.ts";
import { refuse, takeAsked, tellRelease } from "./release.ts";
import type { Terminal } from "./terminal.ts";
import type { Answer, Asked } from "./thread.ts";
import { mendWord } from "./words.ts";

export async function runKit(call: Call, terminal: Terminal): Promise<Exit> {
  const path = call.operands[0] ?? "";
  const store = takeStore(call, terminal);
  if (typeof store === "number") return store;
  const measured = (call.flags.get("drained") ?? []).map(readDrained);
  const faults = measured.flatMap((one) => ("what" in one ? [one] : []));
  if (faults.length > 0) return refuse(faults, terminal);
  const asked = await takeAsked("plan", path, call, terminal);
  if (typeof asked === "number") return asked;
  const answer = await computeAside<Asked, Answer>(asked, terminal);
  if (answer.plan === undefined) return tellRelease(call, asked.question, answer, terminal);
  const { vehicle } = asked.question;
  const drained = new Map(measured.flatMap((one) => ("what" in one ? [] : [[one.fluid, one.litres] as const])));
  const given: KitGiven = { ...(store === undefined ? {} : { store }), drained };
  const kit: KitDocument = kitOf(answer.plan, vehicle, given);
  const fluids = kit.fluids.map(({ fluid }) => fluid);
  const foreign = [...drained.keys()].filter((fluid) => !fluids.includes(fluid));
  if (foreign.length > 0)
    return refuse(
      foreign.map((fluid) => ({
        what: `--drained: nothing in this job runs out of ${fluid}`,
        mend: mendWord(fluid, fluids),
      })),
      terminal,
    );
  terminal.say(call.flags.has("json") ? JSON.stringify(kit, undefined, 2) : sayKit(kit, terminal));
  return kit.uneven.length > 0 ? EXIT.not : EXIT.found;
}

/** The store file of the call, if there is one; what is wrong with it is said. */
export function takeStore(call: Call, terminal: Terminal): Store | Exit | undefined {
  const [path] = call.flags.get("store") ?? [];
  if (path === undefined) return undefined;
  const text = readText(path);
  if (typeof text !== "string") return refuse([text], terminal);
  const { store, faults } = readStore(path, text);
  if (store !== undefined) return store;
  terminal.warn(`${sayFaults(faults, terminal)}\n\n${countFaults(faults.length, path)}`);
  return EXIT.not;
}

/** "coolant 8.2 L": a fluid and what was measured. */
function readDrained(text: string): { readonly fluid: string; readonly litres: number } | CallFault {
  const match = /^\s*(\D*\D)\s+(\d.*)$/.exec(text);
  const reading = readQuantity(match?.[2] ?? "", "volume");
  if (match === null || "fault" in reading)
    return { what: `--drained: "${text}" is no fluid with its amount`, mend: 'Write --drained "coolant 8.2 L".' };
  return { fluid: (match[1] as string).trim(), litres: reading.value.nominal };
}
