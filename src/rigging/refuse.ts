// Owns the refusing of a rig that has no answer: every fault at once, before anything is computed.

import { DEGREES } from "./attitude.ts";
import type { Fault } from "./fault.ts";
import type { Leg, Rig, Spread, Stated, Vector } from "./problem.ts";
import { distance } from "./vector.ts";

/** Metres of a leg as it is made up now, without load. */
export const madeLength = (leg: Leg): number => leg.length - (leg.takeUp ? leg.takeUp.taken * leg.takeUp.step : 0);

/** Of its length without load, what a leg may be pulled to before it counts as too short. */
export const MOST_STRETCH = 1.1;

export const metres = (value: number): string => `${Number(value.toFixed(3))} m`;

/** Every fault of the rig; none: it may be asked how it hangs. */
export function refuse(rig: Rig): Fault[] {
  const faults: Fault[] = [];
  const say = (rule: Fault["rule"], at: string, what: string, mend: string, values: Fault["values"] = {}): void => {
    faults.push({ rule, at, what, mend, values });
  };
  const figure = (value: number, at: string): boolean => {
    if (Number.isFinite(value)) return true;
    say("not-a-figure", at, `${value} is no figure`, "Give a number.");
    return false;
  };
  const positive = (value: number, at: string, unit: string): boolean => {
    if (!figure(value, at)) return false;
    if (value > 0) return true;
    say("not-positive", at, `${value} ${unit} is not above nothing`, "Give what it is.", { value });
    return false;
  };
  const point = (value: Vector, at: string): void => {
    for (const each of value) if (!figure(each, at)) return;
  };
  const spread = (value: Spread, at: string, unit: string): void => {
    if (![value.nominal, value.low, value.high].every((each) => figure(each, at))) return;
    if (!positive(value.nominal, at, unit)) return;
    if (!(value.low > 0))
      say(
        "not-positive",
        at,
        `within its tolerance it may be ${Number(value.low.toFixed(3))} ${unit}`,
        "Give a tolerance that leaves something of it.",
        { value: value.low },
      );
    if (!(value.low <= value.nominal && value.nominal <= value.high))
      say(
        "spread-order",
        at,
        `${value.nominal} ${unit} does not lie between ${value.low} and ${value.high}`,
        "Give its limits in order.",
      );
  };

  spread(rig.load.mass, "load.mass", "kg");
  point(rig.load.centre, "load.centre");
  for (const each of rig.load.within)
    if (!(each >= 0 && Number.isFinite(each)))
      say(
        "not-a-figure",
        "load.within",
        `${each} m is no tolerance`,
        "Give how far the centre may be out, 0 m or more.",
      );

  const { outline, centre } = rig.load;
  for (const [i, axis] of ["x", "y", "z"].entries()) {
    const [low, high] = [Math.min(...outline.map((box) => box.low[i]!)), Math.max(...outline.map((b) => b.high[i]!))];
    if (outline.length > 0 && (centre[i]! < low || centre[i]! > high))
      say(
        "centre-outside",
        "load.centre",
        `its ${axis} is ${metres(centre[i]!)}, and the outline goes from ${metres(low)} to ${metres(high)}`,
        "Mend the centre, or draw all that the load fills.",
        { value: centre[i]!, low, high },
      );
  }

  const ids = new Set<string>();
  const enter = (id: string, at: string): void => {
    if (ids.has(id)) say("id-twice", at, `"${id}" is there twice`, "Give each its own name.", { id });
    ids.add(id);
  };
  for (const eye of rig.eyes) {
    enter(eye.id, `eyes/${eye.id}`);
    point(eye.at, `eyes/${eye.id}`);
  }
  for (const hook of rig.hooks) enter(hook.id, `hooks/${hook.id}`);
  if (rig.beam) {
    positive(rig.beam.mass, "beam.mass", "kg");
    for (const each of rig.beam.points) {
      enter(each.id, `beam.points/${each.id}`);
      point(each.at, `beam.points/${each.id}`);
    }
    const points = rig.beam.points.map(({ id }) => id);
    if (rig.beam.pin === undefined && !rig.legs.some(({ lower }) => points.includes(lower)))
      say("no-legs", "beam", "nothing holds it up", "Pin one of its points to the hook, or hang it on legs.");
    if (rig.beam.pin !== undefined && !rig.beam.points.some(({ id }) => id === rig.beam?.pin))
      say("unknown-id", "beam.pin", `"${rig.beam.pin}" is no point of the beam`, "Name one of its points.");
  }
  if (rig.hooks.length === 0) say("no-hook", "hooks", "nothing to hang from", "Give one hook or two.");
  if (rig.hooks.length > 2) say("no-hook", "hooks", "more than two hooks", "Give one hook or two.");
  if (rig.hooks.length === 2 && rig.hooks.some((hook) => hook.at === undefined))
    say("hook-place", "hooks", "two hooks, and not both have a place", "Give each hook its place.");

  const lower = new Map<string, Vector>([
    ...rig.eyes.map((eye) => [eye.id, eye.at] as const),
    ...(rig.beam?.points ?? []).map((each) => [each.id, each.at] as const),
  ]);
  const eyes = new Set(rig.eyes.map((eye) => eye.id));
  const hooks = new Set(rig.hooks.map((hook) => hook.id));
  const beamPoints = new Set((rig.beam?.points ?? []).map(({ id }) => id));
  if (!rig.legs.some((leg) => eyes.has(leg.lower)))
    say("no-legs", "legs", "no leg holds the load", "Give at least one leg from an eye.");
  for (const leg of rig.legs) {
    const at = `legs/${leg.id}`;
    enter(leg.id, at);
    if (!lower.has(leg.lower))
      say(
        "unknown-id",
        at,
        `its lower end "${leg.lower}" is neither an eye nor a point of the beam`,
        "Name an eye of the load.",
        { id: leg.lower },
      );
    if (!hooks.has(leg.upper) && !beamPoints.has(leg.upper))
      say("unknown-id", at, `its upper end "${leg.upper}" is neither a hook nor a point of the beam`, "Name a hook.", {
        id: leg.upper,
      });
    if (beamPoints.has(leg.lower) && beamPoints.has(leg.upper))
      say(
        "leg-ends",
        at,
        "both its ends are on the beam",
        "Lead it from the beam up to a hook, or from an eye up to the beam.",
      );
    positive(leg.length, at, "m");
    if (leg.stiffness !== undefined) positive(leg.stiffness, at, "N");
    if (!(leg.within >= 0))
      say("not-a-figure", at, `${leg.within} m is no tolerance`, "Give how far its length may be out, 0 m or more.");
    else if (leg.within >= madeLength(leg) && madeLength(leg) > 0)
      say(
        "not-a-figure",
        at,
        `its length may be out by ${metres(leg.within)}, and it is only ${metres(madeLength(leg))}`,
        "Give a tolerance that leaves something of it.",
        { within: leg.within, length: madeLength(leg) },
      );
    if (leg.takeUp) {
      const { step, most, taken } = leg.takeUp;
      if (!(step > 0 && Number.isInteger(most) && Number.isInteger(taken) && taken >= 0 && taken <= most))
        say(
          "take-up",
          at,
          `${taken} of ${most} steps of ${step} m is no take-up`,
          "Give whole steps, from 0 to the most there are.",
        );
      if (leg.length - most * step <= 0)
        say("take-up", at, "taken up wholly, nothing of it is left", "Give fewer steps, or its full length.");
    }
  }
  if (rig.hooks.length === 2)
    for (const hook of rig.hooks)
      if (!rig.legs.some((leg) => leg.upper === hook.id))
        say("no-legs", `hooks/${hook.id}`, "no leg leads to it", "Lead a leg to it, or leave it out.", { id: hook.id });
  if (faults.length > 0) return faults;
  for (const [i, a] of rig.legs.entries())
    for (const b of rig.legs.slice(i + 1)) {
      if (a.upper !== b.upper || eyes.has(a.lower) !== eyes.has(b.lower)) continue;
      const [p, q] = [lower.get(a.lower)!, lower.get(b.lower)!];
      const span = distance(p, q);
      const reach = madeLength(a) + madeLength(b);
      if (span >= reach * (a.stiffness === undefined && b.stiffness === undefined ? 1 : MOST_STRETCH))
        say(
          "too-short",
          `legs/${a.id}`,
          `it and ${b.id}, ${metres(reach)} together, do not span the ${metres(span)} between ${a.lower} and ${b.lower}`,
          `They must be longer than that together, and for 45° from the horizontal ${metres(span * Math.SQRT1_2)} each at the least.`,
          { reach, span },
        );
    }
  return [...faults, ...(rig.stated ?? []).flatMap((stated, i) => misclosures(rig, stated, `stated/${i}`, lower))];
}

/** Where a figure given besides does not agree with the rest: what it was, what it must be, and by how much they miss each other. */
function misclosures(rig: Rig, stated: Stated, at: string, lower: ReadonlyMap<string, Vector>): Fault[] {
  const unknown = (id: string): Fault => ({
    rule: "unknown-id",
    at,
    what: `"${id}" is not in the rig`,
    mend: "Name a leg or an eye of it.",
    values: { id },
  });
  const miss = (of: string, said: number, follows: number, by: string): Fault[] =>
    Math.abs(said - follows) <= stated.within
      ? []
      : [
          {
            rule: "misclosure",
            at,
            what: `${of} is ${metres(said)}, and ${by} make it ${metres(follows)}: they miss each other by ${metres(said - follows)}`,
            mend: "Measure again, and leave out what follows from the rest.",
            values: { said, follows, misclosure: said - follows },
          },
        ];
  if ("span" in stated) {
    const [a, b] = [lower.get(stated.from), lower.get(stated.to)];
    if (a === undefined || b === undefined) return [unknown(a === undefined ? stated.from : stated.to)];
    return miss(`the span from ${stated.from} to ${stated.to}`, stated.span, distance(a, b), "their places");
  }
  const leg = rig.legs.find(({ id }) => id === stated.leg);
  if (leg === undefined) return [unknown(stated.leg)];
  const { across, height } = stated;
  const angle = stated.angle === undefined ? undefined : stated.angle / DEGREES;
  const said = madeLength(leg);
  const of = `the length of ${leg.id}`;
  return [
    ...(across !== undefined && height !== undefined
      ? miss(of, said, Math.hypot(across, height), `${metres(across)} across and ${metres(height)} up`)
      : []),
    ...(across !== undefined && angle !== undefined
      ? miss(of, said, across / Math.cos(angle), `${metres(across)} across and ${stated.angle}° from the horizontal`)
      : []),
    ...(height !== undefined && angle !== undefined
      ? miss(of, said, height / Math.sin(angle), `${metres(height)} up and ${stated.angle}° from the horizontal`)
      : []),
  ];
}
