// Owns what carries each part after each step of a plan, in figures: how the weight is shared, whether it may slide, swing or tip, and the least margin of all.

import {
  type Bearing,
  type Check,
  padChecks,
  type Stand,
  type Standing,
  standOf,
  TIE_STIFFNESS,
} from "../rigging/index.ts";
import type { Connection, Part, Task, Vehicle } from "../vehicle/index.ts";
import { centreOf } from "./lift-centre.ts";
import { stepsOf } from "./lift-group.ts";
import { ratingOf } from "./lift-hooks.ts";
import type { Plan, PlanStep } from "./plan.ts";

export interface SupportedBody {
  readonly parts: readonly string[];
  readonly stand: Stand;
}

export interface SupportStep {
  /** Number of the plan's step. */
  readonly step: number;
  readonly label: string;
  /** Bodies whose support this step changed. */
  readonly bodies: readonly SupportedBody[];
}

export interface Support {
  readonly steps: readonly SupportStep[];
  /** Metres: the body that stands nearest to tipping, and after which step. −Infinity: it falls. */
  readonly least?: { readonly step: number; readonly parts: readonly string[]; readonly margin: number };
  /** What holds things meanwhile, each pad against its limit after the step at which it bears most. */
  readonly checks: readonly PadCheck[];
  /** Bodies of which nothing can be reckoned, and why. */
  readonly notComputed: readonly { readonly parts: readonly string[]; readonly why: string }[];
}

export interface PadCheck {
  readonly step: number;
  readonly check: Check;
}

/** N/m of a strap and of a leg of the sling; estimates, for only their ratio to the mounts' matters (TIE_STIFFNESS). */
const STRAP = 1e4;
const LEG = 2e6;
/** Half of how wide a made joint counts, metres: it holds against turning too, which a point would not. */
const JOINT: readonly [number, number] = [0.02, 0.02];

/** What is released, up, hung and supported at a moment. */
interface State {
  readonly released: Set<string>;
  readonly on: Set<string>;
  readonly hung: Set<string>;
  readonly gone: Set<string>;
}

/** The bodies whose support each step of the plan changes, with what carries them from then on. */
export function supportAlong(vehicle: Vehicle, plan: Plan): Support {
  const lifted = new Map(plan.lifts.map(({ task, parts }) => [task, parts.map(({ id }) => id)]));
  const state: State = { released: new Set(plan.releasedBefore), on: new Set(), hung: new Set(), gone: new Set() };
  const steps: SupportStep[] = [];
  const unknown = new Map<string, { parts: readonly string[]; why: string }>();
  const checks = new Map<string, PadCheck>();
  let least: Support["least"];
  let before = new Set(bodiesOf(vehicle, state).map(signature));
  for (const step of stepsOf(plan)) {
    take(state, step, vehicle, lifted);
    const now = bodiesOf(vehicle, state);
    const bodies = now
      .filter((body) => !before.has(signature(body)))
      .flatMap((body): SupportedBody[] => {
        if ("why" in body) {
          unknown.set(signature(body), body);
          return [];
        }
        for (const check of padChecks(body.standing))
          if (check.value > (checks.get(check.at)?.check.value ?? Number.NEGATIVE_INFINITY))
            checks.set(check.at, { step: step.number, check });
        return [{ parts: body.parts, stand: standOf(body.standing) }];
      });
    before = new Set(now.map(signature));
    if (bodies.length > 0) steps.push({ step: step.number, label: step.label, bodies });
    for (const { parts, stand } of bodies) {
      const margin = stand.falls ? Number.NEGATIVE_INFINITY : stand.margin;
      if (margin !== undefined && margin < Number.POSITIVE_INFINITY && (least === undefined || margin < least.margin))
        least = { step: step.number, parts, margin };
    }
  }
  return {
    steps,
    ...(least === undefined ? {} : { least }),
    checks: [...checks.values()],
    notComputed: [...unknown.values()],
  };
}

function take(state: State, step: PlanStep, vehicle: Vehicle, lifted: ReadonlyMap<string, readonly string[]>): void {
  if (step.action === "release" || step.action === "loosen") state.released.add(step.id);
  if (step.action === "undo") state.on.delete(step.id);
  if (step.action !== "do") return;
  state.on.add(step.id);
  for (const id of lifted.get(step.id) ?? []) state.gone.add(id);
  for (const { id, hang } of vehicle.parts) if (hang.some((way) => way.id === step.id)) state.hung.add(id);
}

interface Known {
  readonly parts: readonly string[];
  readonly standing: Standing;
}
interface Unknown {
  readonly parts: readonly string[];
  readonly why: string;
}

const signature = (body: Known | Unknown): string =>
  `${body.parts.join(" ")}: ${"why" in body ? body.why : body.standing.bearings.map(({ id, bears }) => `${id} ${bears}`).join(", ")}`;

/** Parts that carrying ties make one body, but for the vehicle itself, what went up and what lies aside or in the hand. */
function bodiesOf(vehicle: Vehicle, state: State): (Known | Unknown)[] {
  const loose = new Map(
    vehicle.parts.filter(({ id, fixed }) => !fixed && !state.gone.has(id)).map((part) => [part.id, part]),
  );
  const made = vehicle.connections.filter(({ id }) => !state.released.has(id));
  const group = new Map([...loose.keys()].map((id) => [id, new Set([id])]));
  for (const { joins, carrying } of made) {
    if (!carrying) continue;
    const [first, ...others] = joins.flatMap((id) => group.get(id) ?? []);
    for (const other of others)
      if (first !== undefined && other !== first)
        for (const id of other) {
          first.add(id);
          group.set(id, first);
        }
  }
  return [...new Set(group.values())].flatMap((ids) => {
    const parts = [...ids].flatMap((id) => loose.get(id) ?? []);
    return bodyOf(vehicle, state, parts, made) ?? [];
  });
}

function bodyOf(
  vehicle: Vehicle,
  state: State,
  parts: readonly Part[],
  made: readonly Connection[],
): Known | Unknown | undefined {
  const ids = parts.map(({ id }) => id);
  const inside = new Set(ids);
  const touches = ({ joins }: Connection): boolean =>
    joins.some((id) => inside.has(id)) && joins.some((id) => !inside.has(id));
  const holding = made.filter((one) => one.carrying && touches(one));
  const resting = vehicle.connections.filter((one) => one.rests && state.released.has(one.id) && touches(one));
  const supports = vehicle.tasks.filter(
    ({ id, supports: of }) => state.on.has(id) && of.some((one) => inside.has(one)),
  );
  const hung = parts.filter(({ id }) => state.hung.has(id));
  const centre = centreOf(parts);
  const kilograms = parts.reduce((sum, { mass }) => sum + (mass?.high ?? 0), 0);
  // What nothing holds is taken off by two hands in that step; heavier things the release room refuses to leave so.
  const tied = holding.length + supports.length + hung.length > 0;
  if (!tied && kilograms <= vehicle.limits.hand) return undefined;
  if (!tied && resting.length === 0) return { parts: ids, why: "nothing carries it" };
  if (centre === undefined) return { parts: ids, why: "none of its parts has both a mass and a centre" };
  const nowhere = [...holding, ...resting].filter(({ at }) => at === undefined);
  if (nowhere.length > 0)
    return { parts: ids, why: `nothing says where ${nowhere.map(({ id }) => id).join(", ")} bears` };
  const bearing = (one: Connection): Pick<Bearing, "id" | "at" | "stiffness"> => ({
    id: one.id,
    at: one.at!,
    stiffness: one.stiffness ?? TIE_STIFFNESS[one.kind]!.likely,
  });
  const below: Bearing[] = [
    ...holding.map((one): Bearing => ({ ...bearing(one), bears: "both ways", holdsSideways: true, pad: JOINT })),
    ...resting.map((one): Bearing => ({ ...bearing(one), bears: "from below", holdsSideways: false })),
    ...supports.flatMap((task) => padsOf(task)),
  ];
  const slings = supports
    .filter(({ pads = [] }) => pads.length === 0)
    .flatMap((task) => slungBy(vehicle, task, inside));
  const straps = hung.map(
    ({ id, centre: own }): Bearing => ({
      id: `${id} strapped`,
      at: own ?? centre.centre,
      bears: "from above",
      holdsSideways: false,
      stiffness: STRAP,
    }),
  );
  const above = [...slings, ...straps];
  return {
    parts: ids,
    standing: {
      id: ids.join(" + "),
      mass: centre.mass,
      centre: centre.centre,
      within: centre.within,
      // What hangs from above alone swings until its centre is below what it hangs from: all of it is there.
      bearings:
        below.length > 0
          ? [...below, ...above]
          : above
              .slice(0, 1)
              .map((one): Bearing => ({ ...one, at: centre.centre, id: above.map(({ id }) => id).join(" + ") })),
    },
  };
}

/** Which of a lift's own pads a bearing is, where the lift is named beside it; its only one by its whole name. */
export const padOf = (bearing: string): string => / pad (\d+)$/.exec(bearing)?.[1] ?? bearing;

/** Where a jack or a table bears. */
export const padsOf = ({ id, pads = [] }: Task): readonly Bearing[] =>
  pads.map(
    ({ at, size, stiffness, limit }, i): Bearing => ({
      id: pads.length === 1 ? id : `${id} pad ${i + 1}`,
      at,
      bears: "from below",
      holdsSideways: false,
      gear: limit === undefined ? {} : { rating: ratingOf(limit) },
      ...(size === undefined ? {} : { pad: [size[0] / 2, size[1] / 2] }),
      ...(stiffness === undefined ? {} : { stiffness }),
    }),
  );

/** A support without pads: a sling on the eyes of what it supports; else a jack, of which only its part is known, under that part's centre. */
function slungBy(vehicle: Vehicle, { id, supports }: Task, inside: ReadonlySet<string>): Bearing[] {
  const mine = supports.filter((part) => inside.has(part));
  const eyes = vehicle.eyes.filter(({ on, at }) => mine.includes(on) && at !== undefined);
  const slung = (vehicle.legs ?? []).filter(({ from }) => eyes.some((eye) => eye.id === from));
  if (slung.length > 0)
    return slung.map(({ id: leg, from }) => ({
      id: leg,
      at: eyes.find((eye) => eye.id === from)!.at!,
      bears: "from above",
      holdsSideways: false,
      stiffness: LEG,
    }));
  return mine.flatMap((part): Bearing[] => {
    const at = vehicle.parts.find((one) => one.id === part)?.centre;
    return at === undefined ? [] : [{ id: `${id} under ${part}`, at, bears: "from below", holdsSideways: false }];
  });
}
