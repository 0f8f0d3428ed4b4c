// Owns the shapes of what times, finish and learn write with --json. The JSON Schemas in schema/ are made from here (npm run schema).

import { z } from "zod";
import type { Frozen } from "../server/index.ts";

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

const spared = {
  labour: z.number().describe("Person-minutes spared."),
  elapsed: z.number().describe("Minutes spared by the plan's own times."),
};

export const improveDocument = z.strictObject({
  format: z.literal("unmoor/improve/1"),
  vehicle: z.string(),
  note: z.string().optional(),
  people: z.int(),
  weighed: z.boolean().describe("Somebody said how often each job comes; else all count alike."),
  jobs: z.array(
    z.strictObject({
      id: z.string(),
      label: z.string(),
      weight: z.number().describe("Times a year, or 1."),
      status: z.enum(["reckoned", "no plan", "not reckoned"]),
      labour: z.number().optional().describe("Person-minutes."),
      elapsed: minutes.optional(),
      p95: minutes.optional(),
    }),
  ),
  mean: z
    .strictObject({ labour: z.number(), elapsed: minutes, p95: minutes })
    .describe("Of the reckoned jobs by their weights."),
  cost: z
    .strictObject({
      labour: z.number(),
      money: z.number().optional(),
      steps: z.array(
        z.strictObject({
          id: z.string(),
          label: z.string(),
          labour: z.number(),
          share: z.number().describe("0 to 1."),
        }),
      ),
    })
    .describe(
      "Person-minutes of all jobs as often as they come, their own work among it, and the connections, tasks, states and work that most of it goes to.",
    ),
  changes: z
    .array(
      z.strictObject({
        id: z.string(),
        label: z.string(),
        rule: z.enum([
          "quick coupling",
          "access hatch",
          "captive bolts",
          "breaks at the edge",
          "one person more",
          "one tool more",
          "special tool",
          "nothing to drain",
          "yours",
        ]),
        why: z.string(),
        ...spared,
        p95: z.strictObject(estimate),
        jobs: z
          .array(
            z.strictObject({
              id: z.string(),
              how: z
                .enum(["times", "anew", "impossible"])
                .describe("times: the plan's order stays; anew: another plan, scheduled anew."),
              ...spared,
              p95: z.strictObject(estimate),
            }),
          )
          .describe("Jobs in which it does something."),
        steps: z
          .array(
            z.strictObject({
              of: z.string().describe("A connection, a way or a task."),
              off: minutes.optional(),
              on: minutes.optional(),
              times: z.number().optional(),
              drop: z.array(z.string()).optional(),
            }),
          )
          .describe("What takes another time, or needs less."),
        ways: z.array(
          z.strictObject({ of: z.string(), label: z.string(), at: z.string().optional(), off: minutes, on: minutes }),
        ),
        spare: z.array(z.string()).describe("Tasks that nothing needs any longer."),
        people: z.int().describe("So many more."),
        tools: z.array(z.string()).describe("One more of each."),
        cost: z.number().optional(),
        years: z.number().optional().describe("Until it has earned its cost."),
      }),
    )
    .describe("Spared in the mean of the jobs by their weights; in the order in which they were tried."),
  untried: z.array(z.string()).describe("Not tried on every job: stopped before."),
  pairs: z
    .array(
      z.strictObject({
        both: z.tuple([z.string(), z.string()]),
        labels: z.tuple([z.string(), z.string()]),
        ...spared,
      }),
    )
    .describe("What two spare together beyond what each spares alone."),
  solves: z.int().describe("Times that what must come off was asked anew."),
  stopped: z.boolean(),
  assumed: z.array(z.string()),
});

export const waysDocument = z.strictObject({
  format: z.literal("unmoor/ways/1"),
  vehicle: z.string(),
  note: z.string().optional(),
  people: z.int(),
  runs: z.int(),
  by: minutes.optional(),
  ways: z.array(
    z.strictObject({
      way: z.enum(["in place", "out", "swap"]),
      job: z.string(),
      label: z.string(),
      status: z.enum(["reckoned", "no plan", "not reckoned"]),
      lead: z.strictObject({ p50: minutes, p95: minutes }).optional().describe("Absent: on the shelf."),
      labour: z.number().optional().describe("Person-minutes, the repair itself among them."),
      planned: minutes.optional().describe("By the plan's own times, the parts there in their median time."),
      mean: minutes.optional(),
      percentiles: z.array(z.strictObject({ share: z.number(), ...estimate })).optional(),
      by: z.strictObject(estimate).optional().describe("Chance to be done by the time that was asked for."),
      first: z.strictObject(estimate).optional().describe("Chance to be done before the others; ties shared."),
      behind: minutes.optional().describe("Behind whichever is first, in the mean."),
      curve: z
        .array(z.tuple([minutes, z.number()]))
        .optional()
        .describe("Minutes, and the chance to be done within them."),
    }),
  ),
  stopped: z.boolean(),
  assumed: z.array(z.string()),
});

const standard = z.strictObject({
  mean: z.strictObject(estimate),
  median: z.strictObject(estimate),
  p90: z.strictObject(estimate),
  p95: z.strictObject(estimate),
});

export const figuresDocument = z.strictObject({
  format: z.literal("unmoor/figures/1"),
  vehicle: z.string(),
  note: z.string().optional(),
  people: z.int(),
  runs: z.int(),
  weighed: z.boolean().describe("Somebody said how often each job comes; else all count alike."),
  jobs: z.array(
    z.strictObject({
      id: z.string(),
      label: z.string(),
      often: z.number().describe("Times a year, or 1."),
      preventive: z.boolean(),
      status: z.enum(["reckoned", "no plan", "not reckoned"]),
      labour: z.number().optional().describe("Person-minutes, the job's own work among them."),
      mean: minutes.optional(),
      p50: z.strictObject(estimate).optional(),
      p95: z.strictObject(estimate).optional(),
    }),
  ),
  repair: standard.optional().describe("Elapsed minutes of a corrective job: mean time to repair, median, Mmax."),
  preventive: standard.optional(),
  active: standard.optional().describe("Of both together, as often as they come."),
  labour: z.number().optional().describe("Person-minutes of a mean job of all."),
  stopped: z.boolean(),
  assumed: z.array(z.string()),
});

export const demonstrateDocument = z.strictObject({
  format: z.literal("unmoor/demonstrate/1"),
  required: z.union([
    z.strictObject({ of: z.literal("mean"), good: minutes, bad: minutes, spread: z.number() }),
    z.strictObject({ of: z.literal("mean"), good: minutes, bad: minutes, deviation: minutes }),
    z.strictObject({
      of: z.literal("percentile"),
      share: z.number(),
      good: minutes,
      bad: minutes,
      spread: z.number().describe("Standard deviation of the logarithm."),
    }),
    z.strictObject({
      of: z.literal("share"),
      critical: minutes,
      good: z.number(),
      bad: z.number(),
      oneByOne: z.boolean(),
    }),
  ]),
  plan: z.enum(["1A", "1B", "2", "3", "one by one"]),
  wanted: z.int().optional().describe("Repairs to be timed; absent one by one."),
  timed: z.int(),
  say: z.enum(["accept", "reject", "go on"]).optional().describe("Absent before anything is timed."),
  held: z
    .strictObject({
      of: z.enum(["mean", "percentile", "repairs"]),
      value: z.number().describe("Minutes, or how many repairs are above the critical time."),
      most: z.number(),
    })
    .optional(),
  lines: z
    .strictObject({ after: z.int(), acceptAt: z.int(), rejectAt: z.int() })
    .optional()
    .describe("One by one: accepted at so many above the critical time or fewer, rejected from so many on."),
  risks: z.strictObject({ producer: z.number(), consumer: z.number() }).describe("As they are: counts come whole."),
});

export type FiguresDocument = Frozen<z.infer<typeof figuresDocument>>;
export type DemonstrateDocument = Frozen<z.infer<typeof demonstrateDocument>>;
export type WaysDocument = Frozen<z.infer<typeof waysDocument>>;
export type ImproveDocument = Frozen<z.infer<typeof improveDocument>>;
export type TimesDocument = Frozen<z.infer<typeof timesDocument>>;
export type FinishDocument = Frozen<z.infer<typeof finishDocument>>;
export type LearnDocument = Frozen<z.infer<typeof learnDocument>>;
