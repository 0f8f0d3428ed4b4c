// Owns what may be asked: the kinds of questions, what each takes, with its defaults, and how long it may take.

import { z } from "@hono/zod-openapi";
import { digestShape, idShape } from "../http/shapes.ts";

/** Ids of a vehicle file may be any text; what it does not have is answered as a fault of the order. */
const name = z.string().min(1).max(200);
const names = z.array(name).max(10_000);
const seed = z
  .int()
  .min(0)
  .max(2 ** 31 - 1)
  .default(1);
const minutes = z.number().min(0).max(1e7);

/** An hour: who wants longer asks on a machine of his own. */
const MOST_SECONDS = 3_600;
const seconds = (usual: number) =>
  z.number().min(0.05).max(MOST_SECONDS).default(usual).describe("When to stop with what there is.");

const order = z
  .strictObject({
    jobs: names.default([]),
    keep: names.default([]).describe("Parts that may not go up with any lift."),
    take: names.default([]).describe("Parts that must go up with a lift."),
    released: names.default([]).describe("Connections already released."),
    hoist: name.optional(),
    people: z
      .union([
        z.int().min(1).max(1_000),
        names.min(1),
        z
          .array(z.strictObject({ id: name, label: z.string().max(200).optional(), skills: names }))
          .min(1)
          .max(1_000),
      ])
      .optional()
      .describe("How many; ids of the shop's people; or people with their skills. Absent: the shop's, or anyone."),
    withoutTools: names.optional().describe("Tools that are not to be had."),
  })
  .openapi("QuestionOrder");

const crew = z
  .union([
    z.int().min(1).max(200),
    names.min(1).max(200),
    z.strictObject({ path: z.string().max(200), text: z.string().max(1_000_000) }),
  ])
  .describe("A number of people who can do anything; ids of the shop's people; or a crew file.");

const standing = z.strictObject({
  now: minutes,
  done: names.default([]),
  begun: z
    .array(z.strictObject({ id: name, start: z.number(), people: names }))
    .max(10_000)
    .default([]),
  open: names.default([]),
  on: names.optional(),
});

const learnt = z
  .record(name, z.strictObject({ centre: z.number(), spread: z.number().min(0) }))
  .default({})
  .describe("Times that runs taught, by step, as learn writes them.");
const common = z.number().min(0).max(1.99).default(0.1);
/** Fewer have no neighbours to take a percentile's error from; more do not fit into a thread's memory. */
const runs = (usual: number) => z.int().min(100).max(2_000_000).default(usual);
const often = z.array(z.strictObject({ id: name, weight: z.number().positive().default(1) })).max(1_000);
const time = z
  .union([z.tuple([minutes]), z.tuple([minutes, minutes, minutes])])
  .describe("Minutes: one, or least, likeliest and most.");

/** What each kind takes. */
export const BODIES = {
  check: z.strictObject({}).describe("Every fault and warning of the vehicle file."),
  model: z.strictObject({}).describe("The vehicle as the computations take it."),
  release: z
    .strictObject({
      order,
      seconds: seconds(60),
      others: z.boolean().default(false),
      reasons: z.boolean().default(false),
    })
    .describe("What must come off."),
  plan: z
    .strictObject({ order, seconds: seconds(60) })
    .describe("What must come off, and the whole sequence for one pair of hands."),
  schedule: z
    .strictObject({ order, crew, seconds: seconds(10), seed, standing: standing.optional() })
    .describe("Who does what when."),
  curve: z
    .strictObject({
      order,
      upTo: z.int().min(1).max(50).default(5),
      due: minutes.optional(),
      seconds: seconds(5),
      seed,
    })
    .describe("How long it takes with one person, two, three …; the seconds are of each."),
  finish: z
    .strictObject({
      order,
      crew: crew.default(2),
      runs: runs(10_000),
      common,
      learnt,
      by: minutes.optional(),
      seconds: seconds(10),
      seed,
    })
    .describe("When it is done, by simulation."),
  improve: z
    .strictObject({
      jobs: often.default([]).describe("How often each comes; none: all of the file, equally often."),
      crew: crew.optional(),
      changes: z.strictObject({ path: z.string().max(200), text: z.string().max(1_000_000) }).optional(),
      most: z.int().min(0).max(10_000).default(60),
      rate: z.number().positive().optional(),
      runs: runs(2_000),
      common,
      learnt,
      seconds: seconds(600),
      seed,
    })
    .describe("What to change first, over the jobs."),
  ways: z
    .strictObject({
      ways: z
        .array(
          z.strictObject({
            way: z.enum(["in place", "out", "swap"]),
            job: name,
            lead: time.optional().describe("Until its parts are there."),
            mend: time.optional().describe("Of the repair itself."),
          }),
        )
        .min(2)
        .max(3),
      crew: crew.optional(),
      by: minutes.optional(),
      runs: runs(10_000),
      common,
      learnt,
      seconds: seconds(600),
      seed,
    })
    .describe("Repair in place, take out, or swap."),
} as const;

export type Kind = keyof typeof BODIES;
export type Body<K extends Kind> = z.output<(typeof BODIES)[K]>;
/** A question's kind with what it takes. */
export type Wanted = { readonly [K in Kind]: { readonly kind: K; readonly body: Body<K> } }[Kind];

/** A question with what its body left out as it usually is. @throws ZodError where the body is not as described */
export const wantedOf = <K extends Kind>(kind: K, body: unknown): Wanted =>
  // The compiler does not see that the two still go together.
  ({ kind, body: BODIES[kind].parse(body) }) as Wanted;

const file = z.strictObject({ path: z.string().min(1).max(300), text: z.string() });
const model = z
  .union([
    z.strictObject({ vehicle: idShape, version: z.int().min(1).optional().describe("The latest when left out.") }),
    z.strictObject({ files: z.array(file).min(1).max(100).describe("The main file first.") }),
  ])
  .describe("A vehicle that is kept here, or its files.");

const asked = <K extends Kind>(kind: K) =>
  z.strictObject({ kind: z.literal(kind), model, body: BODIES[kind] }).openapi(`Question-${kind}`);

/** A question as it comes in. */
export const questionShape = z
  .discriminatedUnion("kind", [
    asked("check"),
    asked("model"),
    asked("release"),
    asked("plan"),
    asked("schedule"),
    asked("curve"),
    asked("finish"),
    asked("improve"),
    asked("ways"),
  ])
  .openapi("Question");

const fault = z.strictObject({
  what: z.string(),
  mend: z.string(),
  phrases: z.array(z.array(z.unknown())).optional().describe("`what` and `mend` as data."),
});

/** How a question stands, as it goes out. */
export const toldShape = z
  .strictObject({
    digest: digestShape,
    kind: z.enum(Object.keys(BODIES) as [Kind, ...Kind[]]),
    state: z.enum(["waiting", "running", "answered", "failed", "cancelled"]),
    revision: z.int().describe("Counts every change."),
    at: z.int().describe("When it was asked."),
    begun: z.int().optional(),
    ended: z.int().optional(),
    progress: z
      .strictObject({
        doing: z.string(),
        best: z
          .strictObject({ of: z.enum(["labour", "elapsed"]), best: z.number(), bound: z.number() })
          .optional()
          .describe("The best so far and what nothing is below: person-minutes, or minutes."),
      })
      .optional(),
    answer: z
      .looseObject({ kind: z.string() })
      .optional()
      .describe("`kind` says what `document` is: that of the question's kind, or why there is none."),
    fault: fault.optional(),
  })
  .openapi("QuestionStanding");
