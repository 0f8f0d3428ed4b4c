// Owns the shapes of what the commands write with --json. The JSON Schemas in schema/ are made from here (npm run schema).

import { z } from "zod";

const place = z.strictObject({
  file: z.string(),
  line: z.int().min(1),
  column: z.int().min(1),
});

const fault = z
  .strictObject({
    rule: z.string().describe("Its name in docs/vehicle-file.md."),
    at: place,
    what: z.string(),
    mend: z.string(),
    values: z.record(z.string(), z.union([z.string(), z.number(), z.array(z.string())])),
    others: z.array(place).describe("Other places that take part."),
    sentence: z.string(),
  })
  .describe("What is wrong or dubious, where, and what would mend it.");

export const checkDocument = z
  .strictObject({
    format: z.literal("unmoor/check/1"),
    file: z.string(),
    files: z.array(z.string()).describe("Every file read, the main one first."),
    sound: z.boolean().describe("No faults; warnings do not count."),
    faults: z.array(fault),
    warnings: z.array(fault),
    vehicle: z
      .strictObject({
        name: z.string(),
        parts: z.int(),
        connections: z.int(),
        positions: z.int(),
        tasks: z.int(),
        jobs: z.array(z.strictObject({ id: z.string(), label: z.string() })),
      })
      .optional()
      .describe("Present when sound."),
  })
  .describe("unmoor check --json; also what every other command writes when the file has faults.");

export type CheckDocument = z.infer<typeof checkDocument>;

const named = z.strictObject({ id: z.string(), label: z.string() });

export const freeDocument = z
  .strictObject({
    format: z.literal("unmoor/free/1"),
    file: z.string(),
    free: z.boolean(),
    released: z.array(z.string()),
    groups: z.array(
      z.strictObject({
        from: z.array(z.string()).describe("The parts asked about."),
        free: z.boolean(),
        group: z
          .array(z.string())
          .describe("The parts that unreleased connections join to them, short of anything fixed."),
        mass: z.number().describe("Kilograms of the group, nominal; a part without a mass counts nothing."),
        chain: z
          .array(named)
          .describe("Parts and connections in turn from a part asked about to a fixed one; empty when free."),
        ties: z
          .array(
            z.strictObject({
              id: z.string(),
              label: z.string(),
              parts: z.array(z.string()),
              fixed: z.array(z.string()),
              positions: z.array(z.string()),
            }),
          )
          .describe("Every unreleased connection that joins the group to something fixed."),
      }),
    ),
  })
  .describe("unmoor free --json");

export type FreeDocument = z.infer<typeof freeDocument>;

const step = z
  .union([
    z.strictObject({ release: z.string(), way: z.string() }),
    z.strictObject({ do: z.string() }),
    z.strictObject({ undo: z.string() }),
  ])
  .describe("Release a connection by one of its ways, do a task, or undo a task that is a state of the vehicle.");

const minutes = z.number().describe("Minutes.");

const asked = z
  .strictObject({
    jobs: z.array(z.string()),
    keep: z.array(z.string()),
    take: z.array(z.string()),
    released: z.array(z.string()),
    hoist: z.string().optional(),
    people: z
      .union([z.int(), z.array(z.string())])
      .optional()
      .describe("How many, or who of the shop; absent: the shop as the file has it."),
    tools: z.array(z.string()).optional().describe("The tools there are; absent: the shop's as the file has it."),
  })
  .describe("The order as it was given.");

const lack = z.strictObject({ id: z.string(), of: z.string(), phase: z.enum(["out", "back"]), why: z.string() });

const proof = z.strictObject({
  legal: z.literal(true).describe("The checker replayed the order; a plan that it refuses is never written."),
  steps: z.int(),
  rules: z.array(z.string()).describe("The rules of docs/release.md that held at every step."),
  free: z.array(
    z.strictObject({
      lift: z.string(),
      group: z.array(z.string()),
      searched: z.int().describe("Unreleased connections that the search could have followed."),
      free: z.literal(true),
    }),
  ),
  rested: z
    .array(z.strictObject({ parts: z.array(z.string()), on: z.array(z.string()), inside: z.number() }))
    .describe(
      "What sat on unbolted mounts for a while: `inside` metres from its centre of mass to the nearest edge of what it sat on.",
    ),
});

export const releaseDocument = z
  .strictObject({
    format: z.literal("unmoor/release/1"),
    file: z.string(),
    asked,
    status: z
      .enum(["optimal", "feasible", "infeasible", "unknown"])
      .describe("feasible: stopped with labour above bound; unknown: stopped with no answer."),
    labour: minutes.nullable().describe("Minutes of people, release and refit together; null when there is no plan."),
    bound: minutes.nullable().describe("No legal plan takes less; null when infeasible."),
    releases: z.array(
      z.strictObject({
        id: z.string(),
        way: z.string(),
        label: z.string(),
        position: z.string().optional(),
        labour: minutes.describe("Minutes of people, release and refit together."),
      }),
    ),
    tasks: z
      .array(z.string())
      .describe("As they are first done on the way out, then those of the way back that are called for."),
    lifted: z.array(z.string()).describe("The parts of all lifts."),
    lifts: z.array(
      z.strictObject({
        task: z.string(),
        parts: z.array(z.string()),
        mass: z.number().describe("Kilograms, the upper end of the tolerances."),
        limit: z.number().nullable().describe("Kilograms; null where the file limits nothing."),
        hoist: z.string().optional(),
        reach: z.number().optional().describe("Metres."),
      }),
    ),
    setAside: z.array(z.string()),
    hung: z.array(z.strictObject({ task: z.string(), part: z.string(), to: z.string() })),
    order: z.array(step),
    proof: proof.optional().describe("Present with a plan."),
    removed: z
      .array(lack)
      .describe("Ways and tasks left out because the order lacks a tool, a skill, people or reach."),
    assumed: z
      .array(z.strictObject({ id: z.string(), what: z.string() }))
      .describe("Figures that the file does not give."),
    milliseconds: z.number(),
  })
  .describe("unmoor release --json");

export type ReleaseDocument = z.infer<typeof releaseDocument>;
