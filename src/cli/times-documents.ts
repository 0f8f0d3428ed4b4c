// Owns the shapes of what times, finish and learn write with --json. The JSON Schemas in schema/ are made from here (npm run schema).

import { z } from "zod";
import type { Frozen } from "./documents.ts";

const minutes = z.number().describe("Minutes.");
const origin = z.strictObject({
  mark: z.enum(["read", "memory", "ours"]).describe("read in a public text; of a public table, from memory; ours."),
  source: z.string(),
});
const percentiles = z.strictObject({ p5: minutes, p50: minutes, p90: minutes, p95: minutes });

export const timesDocument = z.strictObject({
  format: z.literal("unmoor/times/1"),
  off: percentiles.optional().describe("Absent where one time was given by hand."),
  on: percentiles.optional(),
  time: percentiles.optional().describe("Of --minutes or --three."),
  mean: minutes.optional(),
  spread: z.number().describe("Standard deviation of the logarithm."),
  made: z
    .array(z.strictObject({ what: z.string(), off: minutes, on: minutes, origin }))
    .describe("What a guess of the catalogue is made of, in the order it is reckoned."),
});

const estimate = { value: z.number(), error: z.number().describe("One standard error.") };
const named = z.strictObject({ id: z.string(), label: z.string() });

export const finishDocument = z.strictObject({
  format: z.literal("unmoor/finish/1"),
  vehicle: z.string(),
  note: z.string().optional(),
  jobs: z.array(named),
  people: z.int(),
  planned: minutes.describe("By the plan's own times."),
  runs: z.int(),
  mean: z.strictObject(estimate),
  percentiles: z.array(z.strictObject({ share: z.number(), ...estimate })),
  chances: z
    .array(z.strictObject({ minutes, ...estimate }))
    .describe("Chance to be done within so many minutes; first that of --by, where it is asked for."),
  critical: z
    .array(z.strictObject({ id: z.string(), label: z.string(), criticality: z.number(), minutes }))
    .describe(
      "Criticality: share of the runs in which the finish waits for it; ties count for each. Minutes: its own time in the mean. Dearest by both first.",
    ),
  late: z
    .array(z.strictObject({ id: z.string(), label: z.string(), share: z.number() }))
    .describe("Steps that begin later after what they follow than the file allows, and in what share of the runs."),
  worth: z
    .array(z.strictObject({ id: z.string(), label: z.string(), ...estimate }))
    .describe("Minutes by which the 95 % would be sooner were its time certain."),
  assumed: z.array(z.string()),
});

export const learnDocument = z.strictObject({
  format: z.literal("unmoor/learnt/1"),
  vehicle: z.string(),
  runs: z.int(),
  broken: z.int(),
  scatter: z.number(),
  times: z.array(
    z.strictObject({
      step: z.string().describe("The way, with back: its refit."),
      label: z.string(),
      seen: z.int(),
      file: minutes,
      p50: minutes,
      p90: minutes,
      p95: minutes,
      centre: z.number().describe("Of the lognormal through P50 and P95: mean of ln(minutes)."),
      spread: z.number(),
    }),
  ),
  effects: z.array(
    z.strictObject({
      group: z.string(),
      name: z.string(),
      seen: z.int(),
      times: z.number(),
      low: z.number(),
      high: z.number(),
    }),
  ),
  causes: z.array(z.strictObject({ cause: z.string(), came: z.int(), of: z.int(), minutes, p50: minutes })),
  odd: z.array(z.strictObject({ file: z.string(), line: z.int(), step: z.string(), minutes })),
  looks: z.array(z.strictObject({ connection: z.string(), chance: z.number() })),
});

export type TimesDocument = Frozen<z.infer<typeof timesDocument>>;
export type FinishDocument = Frozen<z.infer<typeof finishDocument>>;
export type LearnDocument = Frozen<z.infer<typeof learnDocument>>;
