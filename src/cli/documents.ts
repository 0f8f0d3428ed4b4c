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
