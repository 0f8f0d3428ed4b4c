// Owns the shapes of what is said of orders and runs, by the commands with --json and by the server alike. The JSON Schemas in schema/ are made from here (npm run schema).

import { z } from "zod";
import { GATES, JOINT_STATES, KINDS, ROLES } from "../ledger/index.ts";
import type { Frozen } from "./frozen.ts";

const moment = z.number().describe("Milliseconds since 1970, UTC.");
const named = z.strictObject({ id: z.string(), label: z.string() });
const minutes = z.number().describe("min");
const labour = z.number().describe("Person-minutes.");
const state = z.enum(JOINT_STATES);

const difference = z.strictObject({
  about: z.string(),
  text: z.string(),
  photos: z.array(z.string()),
  run: z.string(),
  author: z.string(),
  at: moment,
});

export const orderDocument = z
  .strictObject({
    format: z.literal("unmoor/order-taken/1"),
    order: z.string(),
    plan: z.string(),
    version: z.int().describe("Of the vehicle file in the store."),
    labour,
    status: z.enum(["optimal", "feasible"]),
    people: z.array(z.strictObject({ id: z.string(), label: z.string(), roles: z.array(z.enum(ROLES)) })),
    connections: z.int().describe("That the plan takes apart."),
    lifts: z.array(z.strictObject({ task: z.string(), label: z.string(), cut: z.int() })),
    differences: z.array(difference).describe("What earlier runs found on this machine."),
  })
  .describe("unmoor order --json");
export type OrderDocument = Frozen<z.infer<typeof orderDocument>>;

export const runListDocument = z
  .strictObject({
    format: z.literal("unmoor/runs/1"),
    orders: z.array(
      z.strictObject({
        order: z.string(),
        vehicle: z.string(),
        version: z.int(),
        jobs: z.array(z.string()),
        machine: z.string().optional(),
        by: z.string(),
        at: moment,
        state: z.enum(["ordered", "running", "closed"]),
        entries: z.int(),
      }),
    ),
  })
  .describe("unmoor run SHOP --json, without a run");
export type RunListDocument = Frozen<z.infer<typeof runListDocument>>;

const contradiction = {
  key: z.string().describe("To settle it by."),
  rule: z.string(),
  about: z.string(),
  entries: z.array(z.string()),
};

export const runDocument = z
  .strictObject({
    format: z.literal("unmoor/run-standing/1"),
    run: z.string(),
    vehicle: z.string(),
    jobs: z.array(z.string()),
    plan: z.string().describe("In force."),
    version: z.int(),
    entries: z.int(),
    closed: moment.nullable(),
    planned: z.int().describe("Connections that the plan takes apart."),
    apart: z.int(),
    loose: z.int().describe("Released, and verified by a second person."),
    back: z.int().describe("Made again."),
    labour: labour.describe("Person-minutes of all steps of the plan in force."),
    left: labour.describe("Of those that are not done."),
    lifts: z.array(
      z.strictObject({
        task: z.string(),
        label: z.string(),
        tied: z.array(z.string()).describe("Connections of its cut that are not loose."),
        cut: z.int(),
      }),
    ),
    joints: z.array(z.strictObject({ id: z.string(), label: z.string(), state })).describe("That have an entry."),
    next: z.array(
      z.strictObject({
        number: z.int(),
        action: z.string(),
        id: z.string(),
        label: z.string(),
        minutes,
        position: z.string().optional(),
      }),
    ),
    findings: z.array(
      z.strictObject({
        entry: z.string(),
        by: z.string(),
        what: z.string(),
        about: z.string().optional(),
        text: z.string(),
        state: z.enum(["open", "closed", "left open"]),
        end: z.string().optional(),
      }),
    ),
    contradictions: z.array(z.strictObject({ ...contradiction, says: z.string() })),
    devices: z.array(z.string()),
  })
  .describe("unmoor run SHOP RUN --json");
export type RunDocument = Frozen<z.infer<typeof runDocument>>;

export const takenInDocument = z
  .strictObject({
    format: z.literal("unmoor/taken-in/1"),
    run: z.string(),
    taken: z.int().describe("Entries that were new."),
    faults: z.array(z.string()).describe("Why nothing was taken in."),
    contradictions: z.array(z.strictObject({ ...contradiction, says: z.string() })),
    wrongPasses: z
      .array(z.strictObject({ ...contradiction, says: z.string() }))
      .describe("Gates that were passed over what the device could not see."),
  })
  .describe("unmoor run SHOP RUN --take-in FILE --json");
export type TakenInDocument = Frozen<z.infer<typeof takenInDocument>>;

/** Which phrase of the ledger's, and what it names. */
const phrase = z.array(z.union([z.string(), z.number(), z.array(z.string())])).readonly();

export const gateDocument = z
  .strictObject({
    format: z.literal("unmoor/gates/1"),
    run: z.string(),
    gates: z.array(
      z.strictObject({
        gate: z.enum(GATES),
        lift: z.string().optional(),
        open: z.boolean(),
        provisional: z.boolean().describe("Open as far as this device has seen."),
        missing: z.array(
          z.strictObject({
            rule: z.string().describe("As docs/ledger.md names it."),
            about: z.string(),
            label: z.string(),
            what: z.string(),
            phrase: phrase.describe("`what` as data."),
            where: named.optional(),
            who: z.array(z.string()).describe("Who could do it; empty: anybody."),
          }),
        ),
        looked: z.array(z.string()),
        phrases: z.array(phrase).describe("`looked` as data."),
      }),
    ),
  })
  .describe("unmoor gate --json");
export type GateDocument = Frozen<z.infer<typeof gateDocument>>;

const entry = z
  .strictObject({
    format: z.literal("unmoor/entry/1"),
    id: z.string(),
    run: z.string(),
    author: z.string(),
    device: z.string(),
    number: z.int(),
    previous: z.string().nullable(),
    seen: z.record(z.string(), z.int()),
    clock: z.tuple([z.int(), z.int()]).readonly(),
    at: moment,
    body: z.looseObject({ kind: z.enum(Object.keys(KINDS) as [string, ...string[]]) }),
    signature: z.string(),
  })
  .describe("As docs/ledger.md has it.");

const change = z.strictObject({ action: z.string(), id: z.string(), label: z.string(), minutes });
const because = z.array(z.strictObject({ finding: z.string(), says: z.string() }));

export const entryDocument = z
  .strictObject({
    format: z.literal("unmoor/entries/1"),
    entries: z.array(entry).describe("What was entered, and what followed from it."),
    warnings: z.array(z.string()),
    refused: z.array(
      z.strictObject({
        what: z.string(),
        mend: z.string(),
        gates: gateDocument.shape.gates.describe("Of a gate that is shut."),
      }),
    ),
    replans: z.array(
      z.strictObject({
        status: z.enum(["optimal", "feasible", "none"]),
        why: z.string().optional().describe("Of no plan."),
        left: labour.optional(),
        before: labour.optional(),
        because,
        added: z.array(change),
        dropped: z.array(change),
        altered: z.array(change),
      }),
    ),
  })
  .describe("unmoor entry --json");
export type EntryDocument = Frozen<Omit<z.infer<typeof entryDocument>, "entries">> & {
  readonly entries: readonly object[];
};

const shiftJoint = {
  id: z.string(),
  label: z.string(),
  state,
  where: named.optional(),
  by: z.array(z.string()),
  at: moment,
};

export const shiftDocument = z
  .strictObject({
    format: z.literal("unmoor/shift/1"),
    run: z.string(),
    vehicle: z.string(),
    at: moment,
    percentApart: z.int(),
    percentBack: z.int(),
    snug: z.array(z.strictObject(shiftJoint)),
    half: z.array(z.strictObject(shiftJoint)),
    toVerify: z.array(z.strictObject({ ...shiftJoint, hidden: z.boolean(), who: z.array(z.string()) })),
    lying: z.array(z.strictObject({ part: z.string(), label: z.string(), where: z.string() })),
    off: z.array(z.strictObject({ energy: z.string(), key: z.string() })),
    on: z.array(z.strictObject({ task: z.string(), label: z.string(), drained: z.record(z.string(), z.string()) })),
    things: z.array(z.strictObject({ item: z.string(), count: z.int(), at: z.string().optional() })),
    tools: z.array(z.strictObject({ tool: z.string(), count: z.int(), by: z.array(z.string()) })),
    claims: z.array(z.strictObject({ place: z.string(), people: z.array(z.string()) })),
    findings: z.array(
      z.strictObject({
        entry: z.string(),
        author: z.string(),
        at: moment,
        found: z.looseObject({ what: z.string(), text: z.string() }),
        state: z.enum(["open", "closed", "left open"]),
        end: z.string().optional(),
      }),
    ),
    contradictions: z.array(z.strictObject(contradiction)),
    next: z.array(
      z.looseObject({
        number: z.int(),
        action: z.string(),
        id: z.string(),
        label: z.string(),
        minutes,
        done: z.boolean(),
      }),
    ),
    handing: z.strictObject({ from: z.string(), to: z.string(), at: moment }).optional(),
  })
  .describe("unmoor shift --json");
export type ShiftDocument = Frozen<Omit<z.infer<typeof shiftDocument>, keyof ShiftPageShape>> & ShiftPageShape;
type ShiftPageShape = import("../ledger/index.ts").ShiftPage;

export const verifyDocument = z
  .strictObject({
    format: z.literal("unmoor/verify/1"),
    file: z.string(),
    whole: z.boolean(),
    run: z.string().optional(),
    entries: z.int(),
    devices: z.int(),
    faults: z.array(
      z.strictObject({ line: z.int(), rule: z.string(), entry: z.string().optional(), what: z.string() }),
    ),
  })
  .describe("unmoor verify --json");
export type VerifyDocument = Frozen<z.infer<typeof verifyDocument>>;

export const backupDocument = z
  .strictObject({
    format: z.literal("unmoor/backup-told/1"),
    rows: z.record(z.string(), z.int()),
    digest: z.string().describe("SHA-256 of the lines."),
  })
  .describe("unmoor backup --json, unmoor restore --json");
export type BackupDocument = Frozen<z.infer<typeof backupDocument>>;
