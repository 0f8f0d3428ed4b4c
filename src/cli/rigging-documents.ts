// Owns the shapes of what lift and trial write with --json, and of the rig file as an editor sees it. The JSON Schemas in schema/ are made from here (npm run schema).

import { z } from "zod";
import { SHARING_RULES } from "../rigging/index.ts";
import type { Frozen } from "../server/index.ts";
import { EYE_RULES } from "../vehicle/index.ts";

const newtons = z.number().describe("N");
const metres = z.number().describe("m");
const degrees = z.number().describe("Degrees.");
const point = z.tuple([z.number(), z.number(), z.number()]).describe("[x, y, z], m, x forward, y left, z up.");
const pair = (what: string) => z.tuple([z.number(), z.number()]).describe(what);
const fault = z.strictObject({ at: z.string(), what: z.string(), mend: z.string() });
const ends = z
  .strictObject({ low: z.number(), high: z.number(), reached: pair("By possible cases: the lowest and the highest.") })
  .describe("No case lies outside, where the status is proved.");

const leg = z.strictObject({
  id: z.string(),
  from: z.string(),
  tension: newtons.describe("N, with the figures as they are; 0 when slack."),
  angle: degrees.describe("Degrees from the horizontal."),
  length: metres.describe("m between its ends as it hangs."),
  made: metres.describe("m without load, as made up."),
  slack: metres,
  range: z.strictObject({ tension: ends, angle: ends, maySlack: z.boolean() }).optional(),
  causes: z
    .array(z.strictObject({ cause: z.string(), adds: newtons }))
    .optional()
    .describe("What takes its pull from the nominal figure to the greatest."),
});

const check = z.strictObject({
  check: z.string(),
  at: z.string(),
  gear: z.string().optional(),
  verdict: z.enum(["passes", "attention", "fails", "not checked"]),
  unit: z.enum(["N", "°", "m"]),
  value: z.number().nullable().describe("Null where it is not known."),
  limit: z.number().optional().describe("Absent: no limit is given, and nothing was checked."),
  margin: z.number().nullable().optional().describe("Share of the limit that is left; null: the rule allows nothing."),
  source: z.string(),
  assumed: z.boolean().describe("The limit is a default of a built-in table."),
  figures: z.string(),
  mend: z.string().optional(),
});

const fit = z.strictObject({
  taken: z.record(z.string(), z.int()).describe("Steps to take up in each leg."),
  pin: z.string().optional().describe("The point to hang the beam by, where there is a choice."),
  pitch: degrees,
  roll: degrees,
  range: z
    .strictObject({ pitch: pair("Degrees."), roll: pair("Degrees.") })
    .optional()
    .describe("Over all that is not known."),
  tried: z.literal(true).optional().describe("The range is of cases tried, without proof."),
  miss: degrees.nullable().describe("Degrees by which its range leaves what is wanted; null: it has no range."),
});

const meeting = z.strictObject({
  box: z.string(),
  obstacle: z.string(),
  gap: metres.describe("m, negative: they overlap so deep."),
  travel: metres.describe("m along the way."),
  rise: metres.describe("m that the centre has risen."),
  at: point,
});

const clearing = z.strictObject({
  least: meeting.optional(),
  contact: meeting.optional(),
  atStart: z.array(z.strictObject({ box: z.string(), obstacle: z.string() })),
});

const taut = z.array(
  z.strictObject({ id: z.string(), rise: metres.optional().describe("Absent: never along this way."), left: metres }),
);

const load = {
  task: z.string().optional(),
  label: z.string(),
  parts: z.array(z.string()).optional(),
  mass: z.strictObject({ low: z.number(), nominal: z.number(), high: z.number() }).describe("kg"),
  centre: point,
  within: point.describe("± m of the centre."),
};

const hung = z.strictObject({
  kind: z.enum(["hangs", "tips"]),
  ...load,
  pitch: degrees.describe("ISO 8855: positive is nose down."),
  roll: degrees.describe("ISO 8855: positive is left side up."),
  hook: z.strictObject({
    load: newtons.describe("N of the load on all hooks together, without tackle."),
    at: point.describe("In the load's axes."),
    overCentre: metres.optional(),
    each: z.array(z.strictObject({ id: z.string(), load: newtons })),
  }),
  legs: z.array(leg),
  ranges: z.union([
    z.strictObject({
      status: z
        .enum(["proved", "tried"])
        .describe("Proved: no case lies outside. Tried: cases hung one by one, which is no bound."),
      pitch: ends,
      roll: ends,
      overCentre: ends,
      margin: ends,
      weight: pair("N"),
    }),
    z.strictObject({ status: z.literal("none"), why: z.string() }),
  ]),
  stability: z.strictObject({
    margin: metres
      .nullable()
      .describe(
        "m that the centre could be higher before it tips; negative: it tips; null: it tips however low it were.",
      ),
    righting: z.number().optional().describe("N·m a degree."),
    others: z.array(z.strictObject({ pitch: degrees, roll: degrees })).describe("How else it could hang."),
  }),
  liftOff: z
    .strictObject({ over: pair("m, x and y of the hook when the weight comes on."), swing: pair("m").optional() })
    .optional(),
  checks: z.array(check),
  takeUp: z
    .strictObject({
      why: z.string().optional(),
      fit: fit.optional(),
      nearest: fit.optional(),
      neighbours: z.array(fit),
      looked: z.int(),
      proved: z.int(),
      pins: z
        .array(
          z.strictObject({
            pin: z.string(),
            pitch: pair("degrees"),
            roll: pair("degrees"),
            miss: z.number(),
            proved: z.boolean().describe("No case lies outside its range; else cases were tried."),
          }),
        )
        .optional()
        .describe("Where to hang the beam, the least miss first."),
    })
    .optional(),
  clearing,
  taut: taut.describe("Each tie of the cut as if it had been left on, the first to come taut first."),
  stop: z.strictObject({
    load: newtons.describe("N on the cell, tackle and all."),
    because: z.string(),
    at: z.string().optional(),
  }),
  taking: z.array(
    z.strictObject({ rise: metres, load: newtons, onFeet: newtons, pitch: degrees, roll: degrees, lifted: metres }),
  ),
  residual: z.number().optional().describe("Force and moment left over, as a share of the weight."),
  assumed: z.array(z.string()),
});

const bearer = z.strictObject({
  id: z.string(),
  force: newtons.describe("N upwards of its nominal weight; negative: it holds it down."),
});
const stood = {
  shares: z.array(bearer),
  margin: metres.optional().describe("m inside what bears from below; absent: something keeps it, or it falls."),
  tilt: degrees,
  maySlide: z.boolean(),
  maySwing: z.boolean(),
  falls: z.boolean(),
};

const standRange = z
  .strictObject({
    shares: z
      .array(z.strictObject({ id: z.string(), low: newtons, high: newtons }))
      .describe("N that each bearing carries over all that is not known, whatever its stiffness."),
    tilt: z
      .strictObject({ most: degrees, sure: z.boolean() })
      .describe("On the bearings' give; not sure where some of them lifts off at a corner."),
    leans: degrees.optional().describe("That what it stands on may lean before the centre is over the edge."),
    uneven: metres.optional().describe("m that one of two bearings may be lower than the other before that."),
  })
  .describe("Where all of it is borne from below.");

const stands = z.strictObject({
  kind: z.literal("stands"),
  ...load,
  ...stood,
  range: standRange.optional(),
  checks: z.array(check),
  clearing,
  taut,
  assumed: z.array(z.string()),
});

const refused = z.strictObject({
  kind: z.literal("refused"),
  task: z.string().optional(),
  label: z.string(),
  faults: z.array(fault),
});

const one = z.union([hung, stands, refused]);
export type HungDocument = Frozen<z.infer<typeof hung>>;
export type StandsDocument = Frozen<z.infer<typeof stands>>;
export type OneLift = Frozen<z.infer<typeof one>>;

export const supportDocument = z.strictObject({
  least: z.strictObject({ step: z.int(), body: z.string(), margin: metres.nullable() }).optional(),
  steps: z.array(
    z.strictObject({
      step: z.int(),
      label: z.string(),
      bodies: z.array(z.strictObject({ parts: z.array(z.string()), ...stood })),
    }),
  ),
  checks: z
    .array(check.extend({ step: z.int() }))
    .describe("Each pad of a jack, a stand or a table, after the step at which it bears most."),
  notComputed: z.array(z.strictObject({ parts: z.array(z.string()), why: z.string() })),
});
export type SupportDocument = Frozen<z.infer<typeof supportDocument>>;

const top = { format: z.literal("unmoor/lift/1"), file: z.string() };
const more = { others: z.array(one).describe("The other lifts of the plan."), support: supportDocument.optional() };
export const liftDocument = z
  .union([hung.extend({ ...top, ...more }), stands.extend({ ...top, ...more }), refused.extend({ ...top, ...more })])
  .describe("unmoor lift --json: the first lift at the top; without a plan the document of release.");
export type LiftDocument = Frozen<z.infer<typeof liftDocument>>;

const middle = z.strictObject({
  value: z.number(),
  within: z.number().optional().describe("Two standard errors; absent where it was not read."),
});
const chance = z.number().describe("0 to 1.");
export const trialDocument = z
  .strictObject({
    format: z.literal("unmoor/trial/1"),
    file: z.string(),
    task: z.string(),
    label: z.string(),
    readings: z.array(
      z.strictObject({
        load: newtons.describe("N on the hook, tackle taken off."),
        error: newtons,
        pitch: degrees.optional(),
        roll: degrees.optional(),
        rise: metres,
        expected: z
          .strictObject({
            load: middle,
            pitch: middle,
            roll: middle,
            early: z
              .strictObject({ onFeet: newtons, most: newtons, isMore: z.boolean() })
              .optional()
              .describe(
                "The freed load would still press so much on what it stands on, and its hook show no more than `most`: such a reading is not weighed.",
              ),
          })
          .describe("Freed: load in N, angles in degrees."),
      }),
    ),
    free: chance.describe("That nothing holds it."),
    ties: z
      .array(
        z.strictObject({
          id: z.string(),
          label: z.string(),
          probability: chance,
          pull: newtons,
          at: point,
          position: z.string().optional(),
          hidden: z.boolean(),
        }),
      )
      .describe("The likeliest first: look there first."),
    explanations: z.array(z.strictObject({ ids: z.array(z.string()), probability: chance, pulls: z.array(newtons) })),
    unknownMass: z.strictObject({ probability: chance, kilograms: z.number() }),
    suspects: z.array(z.strictObject({ id: z.string(), what: z.string(), probability: chance })),
    standing: chance.describe("That part of the weight still rests on something."),
    cannotTell: z.array(z.strictObject({ id: z.string(), chance, slackLeft: metres })),
    noPlace: z.array(z.string()).describe("Ties that the file gives no place for: nothing is said of them."),
    misfit: z.strictObject({ value: z.number(), readings: z.int(), strange: z.boolean() }),
    stop: z.strictObject({
      load: newtons.describe("N on the cell, tackle and all."),
      because: z.string(),
      at: z.string().optional(),
    }),
    assumed: z.array(z.string()),
  })
  .describe("unmoor trial --json; without a plan the document of release.");
export type TrialDocument = Frozen<z.infer<typeof trialDocument>>;

const written = z.string().describe("A number and a unit: 0.8 m, 262 kg ± 5 %.");
const place = z.tuple([written, written, written]).describe("[x, y, z] with units, x forward, y left, z up.");
const bare = z.union([z.number(), z.string()]);
const direction = z.tuple([bare, bare, bare]).describe("Three bare figures; [0, 0, 1] is straight up.");
const box = z.strictObject({ from: place, to: place }).describe("Two corners of a box with faces square to the axes.");
const by = <T extends z.ZodType>(value: T) => z.record(z.string(), value);

/** The rig file, *.rig.yaml. The reader says better than this what is wrong. */
export const rigFileDocument = z
  .strictObject({
    rig: z.literal("unmoor-rig/1"),
    name: z.string().optional(),
    load: z.strictObject({ mass: written, centre: place, within: place.optional(), outline: by(box).optional() }),
    eyes: by(
      z.strictObject({
        at: place,
        axis: direction.optional(),
        face: direction.optional(),
        limit: written.optional(),
        rule: z.enum(EYE_RULES).optional(),
        thread: z.string().optional(),
      }),
    ),
    legs: by(
      z.strictObject({
        from: z.string(),
        to: z.string().optional(),
        length: written,
        kind: z.enum(["chain", "wire rope", "web"]).optional(),
        size: written.optional(),
        grade: z.union([z.literal(8), z.literal(10), z.literal("8"), z.literal("10")]).optional(),
        colour: z.string().optional(),
        limit: written.optional(),
        stiffness: written.optional(),
        links: z.int().optional(),
        "take-up": z.strictObject({ step: written, most: z.int(), taken: z.int().optional() }).optional(),
        shackle: z.strictObject({ limit: written.optional(), side: written.optional() }).optional(),
      }),
    ),
    hooks: by(z.strictObject({ at: place.optional(), limit: written.optional() })).optional(),
    beam: z
      .strictObject({
        mass: written,
        centre: place,
        points: by(place),
        pin: z.string().optional(),
        limit: written.optional(),
      })
      .optional(),
    hoist: z
      .strictObject({
        reach: written.optional(),
        curve: z.array(z.tuple([written, written])),
        tackle: written.optional(),
      })
      .optional(),
    checks: z.strictObject({ sharing: z.enum(SHARING_RULES).optional(), factor: bare.optional() }).optional(),
    obstacles: by(box).optional(),
    path: z
      .array(
        z.strictObject({
          move: place,
          pitch: written.optional(),
          roll: written.optional(),
          label: z.string().optional(),
        }),
      )
      .optional(),
    stated: z
      .array(
        z.union([
          z.strictObject({
            leg: z.string(),
            across: written.optional(),
            height: written.optional(),
            angle: written.optional(),
            within: written.optional(),
          }),
          z.strictObject({ from: z.string(), to: z.string(), span: written, within: written.optional() }),
        ]),
      )
      .optional()
      .describe("Figures that the rest fixes, measured besides: refused where they disagree."),
  })
  .describe("A rig without a vehicle, *.rig.yaml: docs/rigging.md");
