// Owns the lift as one document: what the answer says, in the shapes of --json.

import type { LiftOfPlan, LiftReckoned, LiftStanding, Support } from "../plan/index.ts";
import {
  type Check,
  type Clearing,
  type Fit,
  faultInEnglish,
  inEnglish,
  type Meeting,
  type PinFit,
  type Range,
  type Remark,
  type Rig,
  type Stand,
  type Tautness,
} from "../rigging/index.ts";
import type { HungDocument, OneLift, StandsDocument, SupportDocument } from "./rigging-documents.ts";

const finite = (value: number | undefined): number | null =>
  value !== undefined && Number.isFinite(value) ? value : null;

const describeChecks = (checks: readonly Check[]): HungDocument["checks"] =>
  checks.map(({ margin, value, figures, mend, ...rest }) => ({
    ...rest,
    value: finite(value),
    figures: inEnglish(...figures),
    ...(mend === undefined ? {} : { mend: inEnglish(mend) }),
    ...(margin === undefined ? {} : { margin: finite(margin) }),
  }));

const meet = ({ box, obstacle, at, gap }: Meeting): NonNullable<HungDocument["clearing"]["least"]> => ({
  box,
  obstacle,
  gap: gap.distance,
  travel: at.travel,
  rise: at.rise,
  at: [...gap.to] as [number, number, number],
});

const describeClearing = ({ least, contact, atStart }: Clearing): HungDocument["clearing"] => ({
  ...(least === undefined ? {} : { least: meet(least) }),
  ...(contact === undefined ? {} : { contact: meet(contact) }),
  atStart,
});

const describeTaut = (taut: readonly Tautness[]): HungDocument["taut"] =>
  taut.map(({ id, at, left }) => ({ id, left, ...(at === undefined ? {} : { rise: at.rise }) }));

const endsOf = ({ low, high }: Range): { low: number; high: number; reached: [number, number] } => ({
  low: low.bound,
  high: high.bound,
  reached: [low.reached, high.reached],
});

const fitOf =
  (rig: Rig) =>
  ({ taken, pin, pitch, roll, range, tried, miss }: Fit): NonNullable<NonNullable<HungDocument["takeUp"]>["fit"]> => ({
    taken: Object.fromEntries(rig.legs.map(({ id }, i) => [id, taken[i] ?? 0])),
    ...(pin === undefined ? {} : { pin }),
    pitch,
    roll,
    ...(range === undefined ? {} : { range: { pitch: [...range.pitch], roll: [...range.roll] } }),
    ...(tried === undefined ? {} : { tried }),
    miss: finite(miss),
  });

const pairOf = ([from, to]: readonly [number, number]): [number, number] => [from, to];
const describePin = ({ pin, range, miss, proved }: PinFit) => ({
  pin,
  pitch: pairOf(range.pitch),
  roll: pairOf(range.roll),
  miss,
  proved,
});

/** A hanging load. `own`: what it is and whose. */
export function describeHung(
  own: Pick<HungDocument, "label" | "task" | "parts">,
  rig: Rig,
  answer: LiftReckoned,
  assumed: readonly Remark[],
): HungDocument {
  const { hanging, ranges, checks, takeUp, stop, taking } = answer;
  const { mass, centre, within } = rig.load;
  const hangs = hanging.kind === "hangs" ? hanging : undefined;
  const each =
    hangs?.hooks ?? rig.hooks.map(({ id }) => ({ id, load: hanging.legs.reduce((sum, leg) => sum + leg.tension, 0) }));
  const described = fitOf(rig);
  const falls = hanging.kind === "tips" ? [hanging.falls] : [];
  return {
    kind: hanging.kind,
    ...own,
    mass,
    centre: [...centre],
    within: [...within],
    pitch: hanging.pitch,
    roll: hanging.roll,
    hook: {
      load: each.reduce((sum, { load }) => sum + load, 0),
      at: [...hanging.hook],
      ...(hangs === undefined ? {} : { overCentre: hangs.overCentre }),
      each,
    },
    legs: hanging.legs.map(({ id, tension, angle, length, slack }, i) => {
      const leg = rig.legs[i]!;
      const range = ranges.kind === "ranges" ? ranges.legs[i] : undefined;
      const causes = answer.causes.find((one) => one.leg === id)?.causes;
      return {
        id,
        from: leg.lower,
        tension,
        angle,
        length,
        made: leg.length - (leg.takeUp === undefined ? 0 : leg.takeUp.taken * leg.takeUp.step),
        slack,
        ...(range === undefined
          ? {}
          : { range: { tension: endsOf(range.tension), angle: endsOf(range.angle), maySlack: range.maySlack } }),
        ...(causes === undefined ? {} : { causes }),
      };
    }),
    ranges:
      ranges.kind === "ranges"
        ? {
            status: ranges.status,
            pitch: endsOf(ranges.pitch),
            roll: endsOf(ranges.roll),
            overCentre: endsOf(ranges.overCentre),
            margin: endsOf(ranges.margin),
            weight: [...ranges.weight],
          }
        : { status: "none", why: inEnglish(ranges.why) },
    stability: {
      margin: finite(hanging.kind === "hangs" ? hanging.stability.margin : hanging.margin),
      ...(hangs === undefined ? {} : { righting: hangs.stability.righting }),
      others: [...falls, ...(hangs?.stability.others ?? [])].map(({ pitch, roll }) => ({ pitch, roll })),
    },
    ...(hangs === undefined
      ? {}
      : {
          liftOff: {
            over: [...hangs.liftOff.over],
            ...(hangs.liftOff.swing === undefined ? {} : { swing: [...hangs.liftOff.swing] }),
          },
          residual: hangs.residual,
        }),
    checks: describeChecks(checks),
    ...(takeUp === undefined
      ? {}
      : {
          takeUp:
            "why" in takeUp
              ? { why: inEnglish(takeUp.why), neighbours: [], looked: 0, proved: 0 }
              : "pins" in takeUp
                ? { neighbours: [], looked: takeUp.pins.length, proved: 0, pins: takeUp.pins.map(describePin) }
                : {
                    ...(takeUp.fit === undefined ? {} : { fit: described(takeUp.fit) }),
                    ...(takeUp.nearest === undefined ? {} : { nearest: described(takeUp.nearest) }),
                    neighbours: takeUp.neighbours.map(described),
                    looked: takeUp.looked,
                    proved: takeUp.proved,
                  },
        }),
    clearing: describeClearing(answer.clearing),
    taut: describeTaut(answer.taut),
    stop: { load: stop.newtons, because: stop.because, ...(stop.because === "a limit" ? { at: stop.at } : {}) },
    taking,
    assumed: assumed.map((one) => inEnglish(one)),
  };
}

const stoodOf = ({ shares, margin, pitch, roll, maySlide, maySwing, falls }: Stand) => ({
  shares,
  ...(margin === undefined || !Number.isFinite(margin) ? {} : { margin }),
  tilt: Math.hypot(pitch, roll),
  maySlide,
  maySwing,
  falls,
});

function describeStands(label: string, { group, centre, stand, range, ...rest }: LiftStanding): StandsDocument {
  return {
    kind: "stands",
    task: group.task,
    label,
    parts: group.parts,
    mass: centre.mass,
    centre: [...centre.centre],
    within: [...centre.within],
    ...stoodOf(stand),
    ...(range === undefined ? {} : { range: { ...range, shares: [...range.shares] } }),
    checks: describeChecks(rest.checks),
    clearing: describeClearing(rest.clearing),
    taut: describeTaut(rest.taut),
    assumed: rest.assumed.map((one) => inEnglish(one)),
  };
}

/** One lift of a plan. */
export function describeLift(label: string, lift: LiftOfPlan): OneLift {
  const { task, parts } = lift.group;
  if (lift.kind === "refused") return { kind: "refused", task, label, faults: lift.faults.map(faultInEnglish) };
  if (lift.kind === "stands") return describeStands(label, lift);
  return describeHung({ task, label, parts }, lift.slung.rig, lift.answer, lift.assumed);
}

export const describeSupport = ({ steps, least, checks, notComputed }: Support): SupportDocument => ({
  ...(least === undefined
    ? {}
    : { least: { step: least.step, body: least.parts.join(", "), margin: finite(least.margin) } }),
  steps: steps.map(({ step, label, bodies }) => ({
    step,
    label,
    bodies: bodies.map(({ parts, stand }) => ({ parts, ...stoodOf(stand) })),
  })),
  checks: checks.map(({ step, check }) => ({ step, ...describeChecks([check])[0]! })),
  notComputed,
});

/** Whether anything of a lift fails: a check, its balance, its way. */
export const fails = (one: OneLift): boolean =>
  one.kind === "refused" ||
  one.kind === "tips" ||
  one.checks.some(({ verdict }) => verdict === "fails") ||
  one.clearing.contact !== undefined ||
  (one.kind === "hangs" &&
    one.takeUp !== undefined &&
    one.takeUp.fit === undefined &&
    !one.takeUp.pins?.some(({ miss }) => miss === 0));
