// Owns the shapes of what the commands write with --json. The JSON Schemas in schema/ are made from here (npm run schema).

import { z } from "zod";
import type { Frozen } from "../server/index.ts";
import { questionDocument } from "./draft-documents.ts";

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
    questions: z
      .array(questionDocument)
      .optional()
      .describe('Figures written "?" and what was taken for granted, what changes the plan most first; absent: none.'),
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

export type CheckDocument = Frozen<z.infer<typeof checkDocument>>;

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

export type FreeDocument = Frozen<z.infer<typeof freeDocument>>;

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
    withoutTools: z.array(z.string()).optional(),
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

const alternative = z
  .strictObject({
    status: z.enum(["optimal", "feasible", "infeasible", "unknown"]),
    labour: minutes.optional(),
    more: minutes.optional().describe("Beyond the plan that stands."),
    bound: minutes.nullable().describe("No plan of the changed question takes less; null when there is none."),
    adds: z.array(z.string()),
    spares: z.array(z.string()),
    changes: z.array(z.strictObject({ id: z.string(), way: z.string() })),
  })
  .describe("The answer to the question changed in one point.");

const chain = z
  .array(
    z.strictObject({
      step: z.string(),
      for: z.string().optional().describe("The step that it is made for; absent where the order itself asks for it."),
      says: z.string().describe("What would break without it."),
    }),
  )
  .describe("From the step to what the order asks for.");

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
        mass: z.number().describe("Kilograms, the upper end of the tolerances; what is in withoutMass counts nothing."),
        withoutMass: z.array(z.string()).describe("Parts of it without a mass in the file."),
        limit: z.number().nullable().describe("Kilograms; null where the file limits nothing."),
        hoist: z.string().optional(),
        reach: z.number().optional().describe("Metres."),
      }),
    ),
    setAside: z.array(z.string()),
    hung: z.array(z.strictObject({ task: z.string(), part: z.string(), to: z.string() })),
    order: z.array(step),
    access: z
      .strictObject({
        dearest: z
          .strictObject({ id: z.string(), steps: z.array(z.string()), labour: minutes })
          .optional()
          .describe(
            "The step that most is done to get at: `steps` serve it alone. Lifts and the jobs' own work aside.",
          ),
        blocksMost: z
          .strictObject({ id: z.string(), blocked: z.array(z.string()) })
          .optional()
          .describe("The step that most others wait for, directly or through one another."),
      })
      .optional()
      .describe("Present with a plan."),
    proof: proof.optional().describe("Present with a plan."),
    conflict: z
      .strictObject({
        rules: z.array(z.string()).describe("In the words of the file."),
        smallest: z.boolean().describe("Whether it is known that none can be spared."),
      })
      .optional()
      .describe("Of an infeasible order: rules that cannot all hold."),
    removed: z
      .array(lack)
      .describe("Ways and tasks left out because the order lacks a tool, a skill, people or reach."),
    assumed: z
      .array(z.strictObject({ id: z.string(), what: z.string() }))
      .describe("Figures that the file does not give."),
    others: z
      .array(
        z.strictObject({
          job: z.string(),
          label: z.string(),
          now: minutes
            .optional()
            .describe("Labour that it adds to this order; absent when there is no plan with both."),
          alone: minutes.optional().describe("Labour by itself."),
          saved: minutes.optional(),
          proved: z.boolean().describe("Every figure is proved least."),
          adds: z.array(z.string()).describe("Connections and tasks that it adds."),
        }),
      )
      .optional()
      .describe("With --others: every other job of the vehicle, what saves most first."),
    reasons: z
      .record(z.string(), chain)
      .optional()
      .describe("With --reasons: why each connection is released and each task done, by its id."),
    edge: z
      .array(
        z.strictObject({
          part: z.string(),
          lift: z.string(),
          goes: z.boolean().describe("Goes up in this plan."),
          ties: z.array(z.string()),
          otherwise: alternative,
        }),
      )
      .optional()
      .describe("With --reasons: what each part at the edge of a lifted group would cost on the other side."),
    milliseconds: z.number(),
  })
  .describe("unmoor release --json");

export type ReleaseDocument = Frozen<z.infer<typeof releaseDocument>>;

export const whyDocument = z
  .strictObject({
    format: z.literal("unmoor/why/1"),
    file: z.string(),
    asked,
    status: z.enum(["optimal", "feasible", "infeasible", "unknown"]),
    labour: minutes.describe("Of the plan that stands."),
    id: z.string(),
    label: z.string(),
    made: z.boolean().describe("In the plan that stands."),
    way: z.string().optional(),
    chain,
    without: alternative.optional(),
    ways: z
      .array(z.strictObject({ way: z.string(), with: alternative }))
      .describe("Each way that the plan does not take."),
  })
  .describe("unmoor why --json; without a plan the document of release.");

export type WhyDocument = Frozen<z.infer<typeof whyDocument>>;

const items = z.array(z.strictObject({ item: z.string(), count: z.number() }));

const tightening = z
  .strictObject({
    torque: z.number().describe("N·m at each fastener, running torque in it."),
    seat: z.number().optional().describe("N·m that seat it, where a running torque is added."),
    proposal: z.boolean().describe("Nobody gave this torque: no figure for a gate."),
    by: z.string().optional().describe("The rule it is reckoned by, where the file gives no torque."),
    fasteners: z.int(),
    stages: z.array(z.number()).describe("N·m, one stage after the other, the last the full torque."),
    turn: z.number().optional().describe("Degrees turned on after the last stage."),
    round: z.boolean().describe("Round once more at the full torque until nothing turns."),
    order: z.array(z.string()).optional().describe("Places in turn; absent where the file's words are no plain order."),
    holes: z.array(z.strictObject({ item: z.string(), at: z.array(z.string()) })).optional(),
    otherThreads: z
      .strictObject({ torque: z.number(), meant: z.string(), threads: z.string() })
      .optional()
      .describe("The torque is meant for threads in another state: N·m that give the same preload on these."),
    assumed: z.array(z.string()),
  })
  .describe("How the fasteners are tightened.");

const planStep = z.strictObject({
  number: z.int().describe("From 1, through the whole plan."),
  action: z.enum(["release", "loosen", "do", "undo", "work", "verify", "refit", "tighten", "return", "perform"]),
  id: z.string().describe("The connection, task, hang or work; of a last look the step that it stands before."),
  way: z.string().optional(),
  label: z.string(),
  minutes: minutes.describe("For all its people together, as long as one of them takes."),
  people: z.int(),
  wait: minutes.optional().describe("Minutes afterwards that nobody stands by for."),
  skill: z.string().optional(),
  tools: z.array(z.string()),
  cautions: z.array(
    z.strictObject({ id: z.string(), word: z.enum(["DANGER", "WARNING", "CAUTION"]), text: z.string() }),
  ),
  mark: z.string().optional(),
  protect: z.string().optional(),
  catch: z.string().optional(),
  keep: z.string().optional(),
  note: z.string().optional(),
  putIn: items,
  takeOut: items,
  hardware: items,
  scrap: z.int().optional().describe("Pieces of it that are thrown away at release and new at refit."),
  fresh: z.array(z.string()).describe("What must be new."),
  torque: z.number().optional().describe("Newton-metres, as the file gives it."),
  torqueLimits: z
    .strictObject({ low: z.number(), high: z.number() })
    .optional()
    .describe(
      "N·m that a reading at the fastener may be, running torque in it; absent where the file states no tolerance.",
    ),
  pattern: z.string().optional(),
  tightening: tightening.optional(),
  uses: z.array(z.string()).optional().describe("What goes on or in and is used up."),
  check: z.string().optional(),
  setAside: z.array(z.string()),
  fetch: z.array(z.string()),
  assumed: z.array(z.string()),
  verify: z.array(z.strictObject({ id: z.string(), label: z.string(), hidden: z.boolean() })).optional(),
  closes: z.string().optional(),
});

const visits = z.array(
  z.strictObject({
    position: z.string().optional(),
    label: z.string(),
    minutes,
    tools: z.array(z.string()),
    steps: z.array(planStep),
  }),
);

const between = z
  .strictObject({ nominal: z.number(), low: z.number().optional(), high: z.number().optional() })
  .describe("With the figures as they are, and from and to over all that is not known where that is proved.");

const hanging = z.strictObject({
  kind: z.enum(["hangs", "tips", "stands", "not reckoned"]),
  why: z.string().optional().describe("Why it is not reckoned."),
  pitch: between.optional().describe("Degrees, nose down positive (ISO 8855)."),
  roll: between.optional().describe("Degrees, left side up positive."),
  legs: z.array(
    z.strictObject({
      id: z.string(),
      tension: between.describe("N"),
      angle: z.number().describe("Degrees from the horizontal."),
    }),
  ),
  margin: z.number().optional().describe("m that the centre could be higher, or lies inside what it stands on."),
  passed: z.int().describe("Checks that passed."),
  open: z
    .array(
      z.strictObject({
        check: z.string(),
        at: z.string(),
        verdict: z.enum(["attention", "fails", "not checked"]),
        figures: z.string(),
      }),
    )
    .describe("Checks that did not pass."),
  clearance: z.strictObject({ gap: z.number().describe("m"), box: z.string(), obstacle: z.string() }).optional(),
  stop: z.number().optional().describe("N on the load cell, tackle and all, above which to stop hoisting."),
});

export const planDocument = z
  .strictObject({
    format: z.literal("unmoor/plan/1"),
    vehicle: z.string(),
    note: z.string().optional(),
    jobs: z.array(named),
    crew: z.strictObject({ people: z.int().optional(), names: z.array(z.string()) }),
    status: z.enum(["optimal", "feasible"]),
    figures: z.strictObject({
      labour: minutes.describe("Minutes of people, release and refit together."),
      bound: minutes.describe("No legal plan takes less."),
      work: minutes.describe("The jobs' own work, on top."),
      beyond: minutes.describe("Turning states of the vehicle that only the way back needs, on top."),
      waiting: minutes.describe("Minutes that nobody stands by for."),
    }),
    lifts: z.array(
      z.strictObject({
        task: z.string(),
        label: z.string(),
        parts: z.array(z.strictObject({ id: z.string(), label: z.string(), mass: z.number().nullable() })),
        mass: z.number().describe("Kilograms, the upper end of every tolerance."),
        withoutMass: z.array(z.string()),
        limit: z.number().nullable(),
        hoist: z
          .strictObject({
            id: z.string(),
            label: z.string(),
            limit: z
              .number()
              .describe(
                "Kilograms of load: its figure at the reach less tackle and beam, or its hook's less the beam.",
              ),
            reach: z.number().optional(),
            tackle: z.number().optional().describe("Kilograms that were taken off."),
          })
          .optional(),
        eyes: z.strictObject({ ids: z.array(z.string()), limit: z.number() }).optional(),
        beam: z
          .strictObject({ id: z.string(), mass: z.number(), limit: z.number().optional() })
          .optional()
          .describe("The beam that its legs lead to, kilograms."),
        hanging: hanging.optional().describe("How it hangs, in short; unmoor lift says all of it."),
      }),
    ),
    setAside: z.array(z.string()),
    hung: z.array(z.strictObject({ part: z.string(), to: z.string() })),
    releasedBefore: z.array(z.string()),
    swaps: z.array(
      z.strictObject({
        job: z.string(),
        parts: z.array(z.string()),
        connections: z.array(z.string()),
        carriedOver: z.array(z.string()),
      }),
    ),
    checks: z.strictObject({
      out: z.strictObject({
        legal: z.boolean(),
        steps: z.int(),
        searched: z.int(),
        late: z.array(z.string()).describe("Released at the vehicle after a lift took them away."),
      }),
      back: z.strictObject({
        holds: z.boolean(),
        steps: z.int(),
        faults: z.array(z.looseObject({ rule: z.string(), what: z.string() })),
      }),
      rested: z.array(z.strictObject({ parts: z.array(z.string()), on: z.array(z.string()), inside: z.number() })),
    }),
    moves: z.strictObject({ out: z.int(), outFewest: z.int(), back: z.int(), backFewest: z.int() }),
    out: visits,
    work: visits,
    back: visits,
    temporary: z.array(z.strictObject({ item: z.string(), count: z.number(), in: z.int(), out: z.int().optional() })),
    fresh: z.array(z.strictObject({ item: z.string(), step: z.int() })),
    removed: z.array(z.strictObject({ id: z.string(), label: z.string(), why: z.string() })),
    assumed: z.array(z.strictObject({ id: z.string(), what: z.string() })),
    labels: z.record(z.string(), z.string()).describe("What each id is called."),
  })
  .describe("unmoor plan --json; without a plan the document of release.");

export type PlanDocument = Frozen<z.infer<typeof planDocument>>;

const spell = { start: minutes, end: minutes.describe("Over: what runs on alone is in it.") };
const who = z.array(z.string()).describe("Ids of people.");
const ofCrew = {
  vehicle: z.string(),
  note: z.string().optional(),
  jobs: z.array(named),
};

const crewPlanDocument = z.strictObject({
  format: z.literal("unmoor/crew-plan/1"),
  ...ofCrew,
  crew: z.strictObject({
    note: z.string().optional(),
    begins: minutes.optional().describe("After midnight, of minute 0 of the order."),
    people: z.array(z.strictObject({ id: z.string(), label: z.string(), skills: z.array(z.string()) })),
  }),
  status: z.enum(["optimal", "feasible"]),
  elapsed: minutes.describe("From now to the end."),
  bound: minutes.describe("No legal schedule of this crew takes less."),
  boundBy: z.string().describe("What the bound comes from."),
  gap: z.number().describe("Share of the elapsed time between the two."),
  labour: minutes.describe("Minutes of people."),
  moves: z.int().describe("How often somebody goes from one position to another."),
  retold: z.int().describe("Steps that others do than were told."),
  now: minutes,
  steps: z
    .array(
      z.strictObject({
        id: z.string().describe("Of the connection or task; back: and look: before it on the way back."),
        phase: z.enum(["out", "work", "back"]),
        action: z.enum([...planStep.shape.action.options, "wait"]),
        label: z.string(),
        position: z.string().optional(),
        ...spell,
        free: minutes.describe("When its people leave."),
        people: who,
        skill: z.string().optional(),
        tools: z.array(z.string()),
        done: z.literal(true).optional().describe("Over before now; only when it was over is sure."),
      }),
    )
    .describe("By their start; minutes from the beginning of the order."),
  changes: z
    .array(
      z.strictObject({
        state: z.string(),
        to: z.boolean().describe("Set, or undone."),
        label: z.string(),
        position: z.string().optional(),
        ...spell,
        people: who,
      }),
    )
    .describe("Changes of the vehicle's states."),
  chain: z
    .array(
      z.strictObject({
        because: z.enum(["beginning", "after", "person", "stock", "position", "state", "shift", "pin"]),
        by: z.string().optional(),
        from: minutes,
        until: minutes,
        steps: z.array(z.strictObject({ id: z.string(), label: z.string(), ...spell })),
      }),
    )
    .describe("What makes it this long: each step waits for the one before, and why."),
  busy: z.array(
    z.strictObject({
      kind: z.enum(["person", "tool", "system", "position"]),
      id: z.string(),
      label: z.string(),
      minutes: minutes.describe("Of a person at work; of the others in which no more of it is to be had."),
      share: z.number(),
    }),
  ),
  positions: z.array(z.strictObject({ id: z.string(), label: z.string(), room: z.int() })),
  states: z.array(named),
  away: z.array(z.strictObject({ person: z.string(), from: minutes, until: minutes })),
  assumed: z.array(z.string()),
  checks: z.strictObject({ steps: z.int(), changes: z.int() }).describe("What the checkers replayed."),
});

export type CrewPlanDocument = Frozen<z.infer<typeof crewPlanDocument>>;

const crewLackDocument = z.strictObject({
  format: z.literal("unmoor/crew-lack/1"),
  status: z.enum(["infeasible", "unknown"]),
  bound: minutes.nullable(),
  lacks: z.array(z.strictObject({ at: z.string(), what: z.string(), mend: z.string(), place: place.optional() })),
});

export type CrewLackDocument = Frozen<z.infer<typeof crewLackDocument>>;

export const scheduleDocument = z
  .union([crewPlanDocument, crewLackDocument])
  .describe("unmoor plan --crew --json: the schedule, or why there is none; without a plan the document of release.");

export const crewCurveDocument = z
  .strictObject({
    format: z.literal("unmoor/crew-curve/1"),
    ...ofCrew,
    points: z.array(
      z.strictObject({
        people: z.int(),
        status: z.enum(["optimal", "feasible", "infeasible", "unknown"]),
        elapsed: minutes.optional(),
        bound: minutes.optional().describe("No schedule of so many people takes less."),
        labour: minutes.optional(),
        why: z.string().optional().describe("Why so few cannot do it."),
      }),
    ),
    due: z
      .strictObject({
        minutes,
        people: z.int().optional().describe("The fewest people of the curve who were found to make it."),
        fewerCannot: z.boolean().optional().describe("Whether one fewer is proved not to make it."),
      })
      .optional()
      .describe("The answer to --due; the curve ends with the fewest people who make it."),
    knee: z.int().optional().describe("With more people one more spares less than a twentieth of the time."),
    sparedWith: z.int().optional().describe("How many people: as at the knee, else the most tried."),
    spares: z
      .array(
        z.strictObject({
          tool: z.string(),
          count: z.int(),
          elapsed: minutes,
          bound: minutes,
          taken: z.boolean().describe("The schedule found takes the further one; else it could be had without."),
        }),
      )
      .describe("With as many people as sparedWith says, and one more of a tool."),
  })
  .describe("unmoor crew --json");

export type CrewCurveDocument = Frozen<z.infer<typeof crewCurveDocument>>;
