// Owns the shapes of what torque, pattern, kit and leftover write with --json. The JSON Schemas in schema/ are made from here (npm run schema).

import { z } from "zod";
import type { Frozen } from "../server/index.ts";

const newtonMetres = z.number().describe("N·m");
const newtons = z.number().describe("N");
const span = z.strictObject({ low: z.number(), nominal: z.number(), high: z.number() });

const joint = {
  connection: z.string().optional().describe("The connection of the file; absent by hand."),
  label: z.string().optional(),
  item: z.string().optional(),
  count: z.int().optional(),
  thread: z.string(),
  class: z.string().optional(),
  friction: z
    .union([z.strictObject({ factor: span }), z.strictObject({ thread: span, head: span })])
    .describe("The nut factor, or the coefficients of thread and head, with their range."),
  torque: newtonMetres.describe("N·m to seat it, running torque not in it."),
  applied: newtonMetres.describe("N·m at the fastener, running torque in it."),
  set: newtonMetres.describe("N·m on the wrench, behind adapter and multiplier."),
  preload: newtons.describe("N in each fastener, nominal."),
  range: z
    .strictObject({ low: newtons, high: newtons })
    .describe("Between what limits friction and method leave the preload."),
  proofShare: z.number().optional().describe("Nominal preload as a share of the proof load."),
  yieldShare: z.number().optional().describe("Nominal preload as a share of the load at the yield point."),
  split: z
    .strictObject({ pitch: newtonMetres, thread: newtonMetres, head: newtonMetres })
    .optional()
    .describe("Where the torque goes; absent for a nut factor."),
  loosening: newtonMetres.optional(),
  by: z.string().describe("The rule the torque comes by."),
  proposal: z.boolean().describe("Nobody gave this torque: no figure for a gate."),
  wrench: z.string().optional().describe("The wrench chosen among those at hand."),
  verdicts: z.array(
    z.strictObject({
      rule: z.string(),
      standing: z.enum(["holds", "doubtful", "fails", "note"]),
      what: z.string(),
      mend: z.string().optional(),
      value: z.number().optional(),
      limit: z.number().optional(),
      unit: z.string().optional(),
    }),
  ),
  assumed: z.array(z.string()).describe("What was taken because nobody said it."),
};

const jointDocument = z.strictObject(joint);
export type JointDocument = Frozen<z.infer<typeof jointDocument>>;

export const torqueDocument = z
  .strictObject({
    ...z.strictObject(joint).partial().shape,
    format: z.literal("unmoor/torque/1"),
    file: z.string().optional().describe("Absent by hand: the one joint's figures then stand at the top."),
    joints: z.array(jointDocument).describe("The joints of the file."),
    unknown: z
      .array(z.strictObject({ connection: z.string(), what: z.string(), mend: z.string() }))
      .describe("Joints that cannot be reckoned, and why."),
  })
  .describe("unmoor torque --json");
export type TorqueDocument = Frozen<z.infer<typeof torqueDocument>>;

export const patternDocument = z
  .strictObject({
    format: z.literal("unmoor/pattern/1"),
    style: z.enum(["cross", "centre outwards", "balanced"]),
    bolts: z
      .array(z.strictObject({ id: z.string(), x: z.number(), y: z.number() }))
      .describe("Metres, seen from the wrench."),
    order: z.array(z.string()),
    loosening: z.array(z.string()),
    passes: z.array(
      z.strictObject({
        by: z.enum(["hand", "torque", "angle", "round"]),
        share: z.number().optional(),
        torque: newtonMetres.optional(),
        degrees: z.number().optional(),
        order: z.array(z.string()),
      }),
    ),
    items: z.record(z.string(), z.string()).optional().describe("What goes in at each place, where lengths differ."),
    svg: z.string().describe("The picture, numbered in the order of tightening."),
    assumed: z.array(z.string()),
  })
  .describe("unmoor pattern --json");
export type PatternDocument = Frozen<z.infer<typeof patternDocument>>;

const counted = z.strictObject({ item: z.string(), count: z.number() });
const measured = z.strictObject({ value: z.number(), unit: z.enum(["L", "kg", "m"]) });
const wanted = z.strictObject({ item: z.string(), count: z.number(), steps: z.array(z.int()) });
const hardware = z.strictObject({
  item: z.string(),
  class: z.string().optional(),
  count: z.int(),
  reuse: z.boolean(),
});

export const kitDocument = z
  .strictObject({
    format: z.literal("unmoor/kit/1"),
    vehicle: z.string(),
    note: z.string().optional(),
    jobs: z.array(z.strictObject({ id: z.string(), label: z.string() })),
    bags: z.array(
      z.strictObject({
        connection: z.string(),
        label: z.string(),
        out: z.int().describe("The step it is filled at."),
        in: z.int().optional().describe("The step it is emptied at."),
        position: z.string().optional(),
        hardware: z.array(hardware),
        again: z.int().describe("Pieces to count in again."),
        scrap: z.int().describe("Pieces to throw away at release."),
      }),
    ),
    newParts: z.array(wanted),
    fluids: z.array(z.strictObject({ fluid: z.string(), litres: z.number(), unstated: z.array(z.string()) })),
    consumables: z.array(
      z.strictObject({
        item: z.string(),
        amount: measured.optional().describe("In all; absent: as much as it takes."),
        asNeeded: z.array(z.int()).describe("Steps that take as much as they need."),
        steps: z.array(z.int()),
      }),
    ),
    plugs: z.array(wanted).describe("As many as are in at once."),
    temporary: z.array(wanted).describe("As many as are in at once."),
    tools: z.array(
      z.strictObject({
        position: z.string(),
        tools: z.array(z.strictObject({ tool: z.string(), steps: z.array(z.int()) })),
      }),
    ),
    picking: z
      .array(
        z.strictObject({
          kind: z.enum(["tool", "plug", "put in for the job", "new part", "fluid", "consumable"]),
          item: z.string(),
          count: z.number().describe("Pieces; of what is measured so much of unit."),
          unit: z.enum(["L", "kg", "m"]).optional(),
          first: z.int().describe("The step that wants it first."),
          shelf: z.string().optional(),
          stock: z.number().optional().describe("How many lie there; absent: nobody said."),
        }),
      )
      .describe("In the order in which the storeman takes them."),
    uneven: z.array(
      z.strictObject({ what: z.string(), item: z.string(), count: z.number(), at: z.string(), step: z.int() }),
    ),
    usuallyNew: z
      .array(z.strictObject({ item: z.string(), count: z.number(), at: z.string(), step: z.int() }))
      .describe("Hardware that the file uses again and common practice does not."),
    inAndOut: z.array(
      z.strictObject({
        item: z.string(),
        count: z.int(),
        in: z.int().describe("The step it goes in at."),
        out: z.int().optional().describe("The step it comes out at; absent: nothing takes it out."),
      }),
    ),
    standBy: z.array(
      z.strictObject({
        item: z.string(),
        chance: z.number(),
        delay: z.number().describe("Minutes."),
        saves: z.number().describe("Chance × delay × cost of a minute."),
        price: z.number().optional(),
        worth: z.boolean().optional().describe("It saves more than it costs."),
        stock: z.number().optional().describe("How many lie in the store."),
        for: z.array(z.strictObject({ finding: z.string(), at: z.string(), chance: z.number() })),
      }),
    ),
    standByNote: z.string(),
    transfers: z.array(
      z.strictObject({
        job: z.string(),
        parts: z.array(
          z.strictObject({
            part: z.string(),
            label: z.string(),
            ties: z.array(
              z.strictObject({
                connection: z.string(),
                label: z.string(),
                joins: z.array(z.string()),
                hardware: z.array(hardware),
                fresh: z.array(z.string()),
                torque: newtonMetres.optional(),
                pattern: z.string().optional(),
                mark: z.string().optional(),
                keep: z.string().optional(),
                check: z.string().optional(),
              }),
            ),
            fresh: z.array(counted),
            settings: z.array(z.string()),
          }),
        ),
      }),
    ),
  })
  .describe("unmoor kit --json; without a plan the document of release.");
export type KitDocument = Frozen<z.infer<typeof kitDocument>>;

export const leftoverDocument = z
  .strictObject({
    format: z.literal("unmoor/leftover/1"),
    file: z.string(),
    left: z.array(counted),
    suspects: z
      .array(
        z.strictObject({
          connection: z.string(),
          label: z.string(),
          position: z.string().optional(),
          chance: z.number(),
          lacks: z.array(counted).describe("What it most likely lacks."),
          swappedWith: z.string().optional(),
        }),
      )
      .describe("The likeliest first."),
    stray: z.number().describe("Chance that something of it came from none of these bags."),
    unknown: z.array(z.string()).describe("Left, and in no bag."),
  })
  .describe("unmoor leftover --json; without a plan the document of release.");
export type LeftoverDocument = Frozen<z.infer<typeof leftoverDocument>>;
