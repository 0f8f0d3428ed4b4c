// Owns the shape of what `draft` writes with --json.

import { z } from "zod";

const source = z.strictObject({
  file: z.string(),
  line: z.int().min(1),
  cue: z.int().min(1).optional().describe("Number of the caption."),
  time: z.number().optional().describe("Second at which the caption begins."),
  words: z.string(),
});

export const draftDocument = z
  .strictObject({
    format: z.literal("unmoor/draft/1"),
    files: z.array(
      z.strictObject({
        file: z.string(),
        kind: z.string().describe("captions, table, procedure or prose"),
        passages: z.int(),
        odd: z
          .array(z.strictObject({ line: z.int(), text: z.string() }))
          .describe("Times that could not be read; the words are used."),
        late: z.int().optional().describe("Captions behind one that begins later; they are read by their times."),
        overlapping: z.int().optional().describe("Captions that begin before the one before has ended."),
        letters: z
          .strictObject({ line: z.int(), as: z.enum(["windows-1252", "damaged"]) })
          .optional()
          .describe("What letters were taken for that are no sound UTF-8, and the first line of them."),
      }),
    ),
    positions: z.array(z.strictObject({ id: z.string(), label: z.string() })),
    connections: z
      .array(
        z.strictObject({
          id: z.string(),
          label: z.string(),
          kind: z.string(),
          count: z.int().optional().describe("Of it or of its hardware; absent: not said."),
          hardware: z.string().optional(),
          position: z.string().optional(),
          verb: z.enum(["disconnect", "loosen", "remove", "free"]).optional(),
          undone: z.boolean().describe("false: named, and not said to be undone."),
          joins: z.array(z.string()),
          torque: z.string().optional(),
          sure: z.number().min(0).max(1),
          assumed: z.array(z.string()),
          sources: z.array(source),
        }),
      )
      .describe("In the order told."),
    parts: z.array(
      z.strictObject({ id: z.string(), label: z.string(), by: z.array(z.string()), removed: z.boolean() }),
    ),
    tasks: z.array(
      z.strictObject({
        id: z.string(),
        label: z.string(),
        does: z.string(),
        fluid: z.string().optional(),
        position: z.string().optional(),
        sources: z.array(source),
      }),
    ),
    remarks: z.array(
      z.strictObject({ rule: z.string(), text: z.string(), about: z.array(z.string()), source: source.optional() }),
    ),
    yaml: z.string().describe("The vehicle file."),
  })
  .describe("unmoor draft --json");

export type DraftDocument = z.infer<typeof draftDocument>;

const place = z.strictObject({ file: z.string(), line: z.int().min(1), column: z.int().min(1) });

export const questionDocument = z.strictObject({
  of: z.string().describe("Id of what it is asked of."),
  asks: z
    .enum(["figure", "minutes", "position", "before", "there", "joins"])
    .describe('A figure that is written "?", or what was taken for granted.'),
  key: z.string().describe("mass, centre, count, time, torque, amount; at, needs, there, joins"),
  means: z.string(),
  at: place.describe("Where it stands."),
  on: z.string().optional().describe("What must be done before, where that is asked."),
  now: z.string().optional().describe("What is taken for granted."),
  choices: z.array(z.string()).optional(),
  text: z.string(),
  changes: z.string().describe("What the answer can change, as a sentence."),
  stake: z
    .strictObject({
      from: z.number(),
      to: z
        .number()
        .nullable()
        .describe("Person-minutes between the plans of the dearest and the cheapest answer; null: not found in time."),
      decidesPlan: z.boolean().describe("With some answers there is no plan."),
      decidesStep: z.boolean().describe("With some answers it is undone, and with others not."),
      unchecked: z.enum(["lift", "support", "torque"]).optional().describe("The check that it is missing for."),
    })
    .optional(),
});

export type QuestionDocument = z.infer<typeof questionDocument>;

export const askDocument = z
  .strictObject({
    format: z.literal("unmoor/ask/1"),
    file: z.string(),
    questions: z.array(questionDocument).describe("Those first whose answers change the plan most."),
  })
  .describe('The open questions of a vehicle file: its "?", and what was taken for granted in it and matters.');

export const tableDocument = z
  .strictObject({
    format: z.literal("unmoor/table/1"),
    file: z.string(),
    table: z
      .string()
      .optional()
      .describe("The connections as comma-separated values (RFC 4180), where they were given out."),
    changed: z.array(z.string()).optional().describe("Ids of connections that a spreadsheet changed."),
    added: z.array(z.string()).optional().describe("Ids of connections that it added."),
    missing: z.array(z.string()).optional().describe("Ids of connections that it does not have; they stay."),
    faults: z
      .array(z.strictObject({ what: z.string(), mend: z.string() }))
      .optional()
      .describe("Why nothing was taken in."),
  })
  .describe("The connections of a vehicle file as a spreadsheet, given out or taken in.");
