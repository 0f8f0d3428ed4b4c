// Owns the refusing of a rig that has no answer: every fault at once, before anything is computed.

import { DEGREES } from "./attitude.ts";
import { MOST_STRETCH, madeLength } from "./leg.ts";
import type { Rig, Spread, Stated, Vector } from "./problem.ts";
import type { Fault, Refusal } from "./refusal.ts";
import { distance } from "./vector.ts";

/** Every fault of the rig; none: it may be asked how it hangs. */
export function refuse(rig: Rig): Fault[] {
  const faults: Fault[] = [];
  const say = (at: string, refusal: Refusal): void => {
    faults.push({ at, ...refusal });
  };
  const figure = (value: number, at: string): boolean => {
    if (Number.isFinite(value)) return true;
    say(at, { is: "no figure", value });
    return false;
  };
  const positive = (value: number, at: string, unit: "kg" | "m" | "N"): boolean => {
    if (!figure(value, at)) return false;
    if (value > 0) return true;
    say(at, { is: "not positive", value, unit });
    return false;
  };
  const point = (value: Vector, at: string): void => {
    for (const each of value) if (!figure(each, at)) return;
  };
  const spread = (value: Spread, at: string, unit: "kg" | "m" | "N"): void => {
    if (![value.nominal, value.low, value.high].every((each) => figure(each, at))) return;
    if (!positive(value.nominal, at, unit)) return;
    if (!(value.low > 0)) say(at, { is: "may be nothing", value: value.low, unit });
    if (!(value.low <= value.nominal && value.nominal <= value.high))
      say(at, { is: "not between", value: value.nominal, low: value.low, high: value.high, unit });
  };

  spread(rig.load.mass, "load.mass", "kg");
  point(rig.load.centre, "load.centre");
  for (const each of rig.load.within)
    if (!(each >= 0 && Number.isFinite(each))) say("load.within", { is: "no tolerance", value: each });

  const { outline, centre } = rig.load;
  for (const [i, axis] of (["x", "y", "z"] as const).entries()) {
    const [low, high] = [Math.min(...outline.map((box) => box.low[i]!)), Math.max(...outline.map((b) => b.high[i]!))];
    if (outline.length > 0 && (centre[i]! < low || centre[i]! > high))
      say("load.centre", { is: "outside the outline", axis, value: centre[i]!, low, high });
  }

  // What a leg may lead to has one name; a leg may be called like its eye.
  const [ends, legs] = [new Set<string>(), new Set<string>()];
  const enter = (id: string, at: string, ids = ends): void => {
    if (ids.has(id)) say(at, { is: "id twice", id });
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
      say("beam", { is: "beam on nothing" });
    if (rig.beam.pin !== undefined && !rig.beam.points.some(({ id }) => id === rig.beam?.pin))
      say("beam.pin", { is: "no point of the beam", id: rig.beam.pin });
  }
  if (rig.hooks.length === 0) say("hooks", { is: "no hook" });
  if (rig.hooks.length > 2) say("hooks", { is: "too many hooks", hooks: rig.hooks.map(({ id }) => id) });
  if (rig.hooks.length === 2 && rig.hooks.some((hook) => hook.at === undefined))
    say("hooks", { is: "hook without a place" });

  const lower = new Map<string, Vector>([
    ...rig.eyes.map((eye) => [eye.id, eye.at] as const),
    ...(rig.beam?.points ?? []).map((each) => [each.id, each.at] as const),
  ]);
  const eyes = new Set(rig.eyes.map((eye) => eye.id));
  const hooks = new Set(rig.hooks.map((hook) => hook.id));
  const beamPoints = new Set((rig.beam?.points ?? []).map(({ id }) => id));
  if (!rig.legs.some((leg) => eyes.has(leg.lower))) say("legs", { is: "load without a leg" });
  for (const leg of rig.legs) {
    const at = `legs/${leg.id}`;
    enter(leg.id, at, legs);
    if (!lower.has(leg.lower)) say(at, { is: "no lower end", id: leg.lower });
    if (!hooks.has(leg.upper) && !beamPoints.has(leg.upper)) say(at, { is: "no upper end", id: leg.upper });
    if (beamPoints.has(leg.lower) && beamPoints.has(leg.upper)) say(at, { is: "both ends on the beam" });
    positive(leg.length, at, "m");
    if (leg.stiffness !== undefined) positive(leg.stiffness, at, "N");
    const length = madeLength(leg);
    if (!(leg.within >= 0)) say(at, { is: "no tolerance", value: leg.within });
    else if (leg.within >= length && length > 0) say(at, { is: "out by its length", within: leg.within, length });
    if (leg.takeUp) {
      const { step, most, taken } = leg.takeUp;
      if (!(step > 0 && Number.isInteger(most) && Number.isInteger(taken) && taken >= 0 && taken <= most))
        say(at, { is: "no such take-up", taken, most, step });
      if (leg.length - most * step <= 0) say(at, { is: "all taken up" });
    }
  }
  if (rig.hooks.length === 2)
    for (const hook of rig.hooks)
      if (!rig.legs.some((leg) => leg.upper === hook.id)) say(`hooks/${hook.id}`, { is: "hook without a leg" });
  if (faults.length > 0) return faults;
  for (const [i, a] of rig.legs.entries())
    for (const b of rig.legs.slice(i + 1)) {
      if (a.upper !== b.upper || eyes.has(a.lower) !== eyes.has(b.lower)) continue;
      const [p, q] = [lower.get(a.lower)!, lower.get(b.lower)!];
      const span = distance(p, q);
      const reach = madeLength(a) + madeLength(b);
      if (span >= reach * (a.stiffness === undefined && b.stiffness === undefined ? 1 : MOST_STRETCH))
        say(`legs/${a.id}`, { is: "does not span", other: b.id, reach, span, from: a.lower, to: b.lower });
    }
  return [...faults, ...(rig.stated ?? []).flatMap((stated, i) => misclosures(rig, stated, `stated/${i}`, lower))];
}

/** Where a figure given besides does not agree with the rest: what it was, what it must be, and by how much they miss each other. */
function misclosures(rig: Rig, stated: Stated, at: string, lower: ReadonlyMap<string, Vector>): Fault[] {
  const unknown = (id: string): Fault => ({ at, is: "unknown id", id });
  const misses = (said: number, follows: number): boolean => Math.abs(said - follows) > stated.within;
  if ("span" in stated) {
    const { from, to, span: said } = stated;
    const [a, b] = [lower.get(from), lower.get(to)];
    if (a === undefined || b === undefined) return [unknown(a === undefined ? from : to)];
    const follows = distance(a, b);
    return misses(said, follows) ? [{ at, is: "span misses", from, to, said, follows }] : [];
  }
  const leg = rig.legs.find(({ id }) => id === stated.leg);
  if (leg === undefined) return [unknown(stated.leg)];
  const { across, height, angle } = stated;
  const turn = (angle ?? 0) / DEGREES;
  const said = madeLength(leg);
  const miss = (follows: number, by: Pick<typeof stated, "across" | "height" | "angle">): Fault[] =>
    misses(said, follows) ? [{ at, is: "length misses", leg: leg.id, said, follows, ...by }] : [];
  return [
    ...(across !== undefined && height !== undefined ? miss(Math.hypot(across, height), { across, height }) : []),
    ...(across !== undefined && angle !== undefined ? miss(across / Math.cos(turn), { across, angle }) : []),
    ...(height !== undefined && angle !== undefined ? miss(height / Math.sin(turn), { height, angle }) : []),
  ];
}
