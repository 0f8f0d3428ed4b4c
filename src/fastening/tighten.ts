// Owns the answer of a joint: from what is wanted of it to torque, preload with its range, and every check.

import { type NewtonMetres, type Newtons, newtonMetres, newtons } from "../quantity/index.ts";
import type { Answer, Fault } from "./fault.ts";
import { type Bearing, hexagonBearing } from "./head.ts";
import type { Aim, Joint, Tightening } from "./joint.ts";
import { armOf, looseningOf, splitOf, threadCoefficient, yieldPreload } from "./preload.ts";
import { type Method, scatterOf } from "./scatter.ts";
import type { Span } from "./span.ts";
import { proofLoad, yieldLoad } from "./strength.ts";
import { preloadOfTurn } from "./turn.ts";
import { judge } from "./verdict.ts";
import { settingBehindAdapter, settingBehindMultiplier } from "./wrench.ts";

/** Shares of the proof load that guides give: joints that come apart again, joints that stay (Shigley, from memory; several guides). */
const PROPOSED = { "to come apart": 0.75, "to stay": 0.9 } as const;

/**
 * Torque, preload and verdicts of one joint, or every fault of the question.
 *
 * The range of the preload at a torque is the wider, on either side, of what friction's own range allows and of the scatter of
 * the method: both are of the same doubt, so they are not added up. Where stretch is measured friction has no part in it.
 */
export function tighten(joint: Joint): Answer<Tightening> {
  const faults = faultsOf(joint);
  if (faults.length > 0) return { faults };
  const { thread, strength, friction, aim } = joint;
  const method: Method = joint.method ?? ("turn" in aim ? "torque and angle" : "torque wrench");
  const assumed: string[] = [];
  let bearing = joint.bearing;
  if (bearing === undefined) {
    const found = hexagonBearing(thread);
    bearing = found.bearing;
    if (!("factor" in friction) || "yield" in aim) assumed.push(`face under the head: ${found.from}`);
  }
  if ("factor" in friction && "yield" in aim)
    assumed.push("coefficient in the thread: the one that gives the nut factor when thread and head rub alike");
  if (joint.method === undefined && !("turn" in aim)) assumed.push("tightened with a torque wrench");
  if (strength === undefined) assumed.push("no class: no share of proof or yield can be given");
  if ("turn" in aim) assumed.push("steel on steel clamped flat, elastic up to the yield point");

  const arm = armOf(thread, bearing, friction);
  const { torque, preload, by } = aimed(joint, bearing, arm);
  const range = rangeOf(joint, bearing, method, torque, preload);
  const split = splitOf(thread, bearing, friction, preload);
  const applied = newtonMetres(torque + (joint.prevailing ?? 0));
  const into = joint.multiplier === undefined ? applied : settingBehindMultiplier(applied, joint.multiplier);
  const set = joint.adapter === undefined ? into : (settingBehindAdapter(into, joint.adapter) as NewtonMetres);
  const share = (load: number): Span => ({
    low: range.low / load,
    nominal: range.nominal / load,
    high: range.high / load,
  });

  const answer: Omit<Tightening, "verdicts" | "wrench"> = {
    torque,
    applied,
    set,
    preload: range,
    ...(strength === undefined
      ? {}
      : { proofShare: share(proofLoad(thread, strength)), yieldShare: share(yieldLoad(thread, strength)) }),
    ...(split === undefined ? {} : { split, loosening: looseningOf(split) }),
    by,
    proposal: "propose" in aim,
    assumed,
  };
  return { answer: { ...answer, ...judge(joint, bearing, answer) } };
}

function aimed(
  { thread, strength, friction, aim }: Joint,
  bearing: Bearing,
  arm: number,
): { readonly torque: NewtonMetres; readonly preload: Newtons; readonly by: string } {
  const fromPreload = (preload: number, by: string) => ({
    torque: newtonMetres(preload * arm),
    preload: newtons(preload),
    by,
  });
  if ("torque" in aim)
    return { torque: aim.torque, preload: newtons(aim.torque / arm), by: "the torque that is given" };
  if ("preload" in aim) return fromPreload(aim.preload, "for the preload that is given");
  if ("turn" in aim) {
    const { torque, grip, degrees } = aim.turn;
    const elastic = torque / arm + preloadOfTurn(thread, grip, degrees);
    // Past the yield point the bolt stretches and holds little more than it did there.
    const limit =
      strength === undefined
        ? Number.POSITIVE_INFINITY
        : yieldPreload(thread, strength, threadCoefficient(thread, bearing, friction), 1);
    return {
      ...fromPreload(Math.min(elastic, limit), `${torque} N·m and then ${degrees}°`),
      torque,
    };
  }
  // What is left names a share, and `faultsOf` has seen to it that there is a class.
  if (strength === undefined) throw new Error("tighten: a share without a class");
  if ("yield" in aim) {
    const inThread = threadCoefficient(thread, bearing, friction);
    return fromPreload(
      yieldPreload(thread, strength, inThread, aim.yield),
      `${percent(aim.yield)} of the yield point, torsion included (VDI 2230)`,
    );
  }
  const share = "share" in aim ? aim.share : PROPOSED[aim.propose];
  return fromPreload(share * proofLoad(thread, strength), `${percent(share)} of the proof load`);
}

function rangeOf(joint: Joint, bearing: Bearing, method: Method, torque: NewtonMetres, preload: Newtons): Span {
  const { share } = scatterOf(method);
  const byMethod = { low: preload * (1 - share), nominal: preload, high: preload * (1 + share) };
  if (method === "stretch measured" || "turn" in joint.aim) return byMethod;
  const arms = (end: "low" | "high") => armOf(joint.thread, bearing, joint.friction, end);
  return {
    low: Math.min(byMethod.low, torque / arms("high")),
    nominal: preload,
    high: Math.max(byMethod.high, torque / arms("low")),
  };
}

const percent = (share: number): string => `${Number((share * 100).toFixed(1))} %`;

function faultsOf(joint: Joint): Fault[] {
  const faults: Fault[] = [];
  const positive = (at: string, value: number | undefined, unit: string) => {
    if (value === undefined || (Number.isFinite(value) && value > 0)) return;
    faults.push({
      rule: "not-positive",
      at,
      what: `a ${at} of ${value}${unit === "" ? "" : ` ${unit}`} is not above nothing`,
      mend: "Give a figure above nothing.",
      values: { value },
    });
  };
  const share = (at: string, value: number, most: number) => {
    if (value > 0 && value <= most) return;
    faults.push({
      rule: "not-a-share",
      at,
      what: `a share of ${value} is not between nothing and ${most}`,
      mend: "Give it as 0.75, or as 75 %.",
      values: { value, most },
    });
  };
  const needsClass = (at: string) => {
    if (joint.strength !== undefined) return;
    faults.push({
      rule: "unknown-class",
      at,
      what: `without a class nobody knows what ${joint.thread.name} bears`,
      mend: "Give the class (8.8, grade 5), or a torque or preload.",
      values: { thread: joint.thread.name },
    });
  };
  frictionFaults(joint, faults);
  const aim: Aim = joint.aim;
  if ("torque" in aim) positive("torque", aim.torque, "N·m");
  if ("preload" in aim) positive("preload", aim.preload, "N");
  if ("share" in aim) {
    share("share", aim.share, 1);
    needsClass("share");
  }
  if ("yield" in aim) {
    share("yield", aim.yield, 1);
    needsClass("yield");
  }
  if ("propose" in aim) needsClass("class");
  if ("turn" in aim) {
    positive("torque", aim.turn.torque, "N·m");
    positive("angle", aim.turn.degrees, "°");
    positive("grip", aim.turn.grip, "m");
  }
  positive("clamp", joint.clamp, "N");
  if (joint.prevailing !== undefined && !(joint.prevailing >= 0))
    faults.push({
      rule: "below-nothing",
      at: "prevailing",
      what: `a running torque of ${joint.prevailing} N·m is below nothing`,
      mend: "Measure it running the nut on, short of the seat.",
      values: { value: joint.prevailing },
    });
  if (joint.multiplier !== undefined) {
    positive("multiplier", joint.multiplier.ratio, "");
    if (joint.multiplier.efficiency !== undefined) share("efficiency", joint.multiplier.efficiency, 1);
  }
  if (joint.adapter !== undefined) {
    const before = faults.length;
    positive("wrench length", joint.adapter.length, "m");
    if (joint.adapter.offset < 0) positive("adapter", joint.adapter.offset, "m");
    if (faults.length === before && settingBehindAdapter(newtonMetres(1), joint.adapter) === undefined)
      faults.push({
        rule: "no-adapter",
        at: "adapter",
        what: `folded back by ${joint.adapter.degrees}° the adapter reaches past the grip, and no pull there turns the fastener`,
        mend: "Turn the adapter out, or take a longer wrench.",
        values: { ...joint.adapter },
      });
  }
  for (const wrench of joint.wrenches ?? []) positive(`wrench ${wrench.id}`, wrench.high, "N·m");
  return faults;
}

function frictionFaults({ friction, statedFor }: Joint, faults: Fault[]): void {
  for (const one of [friction, statedFor]) {
    if (one === undefined) continue;
    for (const span of "factor" in one ? [one.factor] : [one.thread, one.head])
      if (!(span.low > 0 && span.low <= span.nominal && span.nominal <= span.high && span.high < 1))
        faults.push({
          rule: "not-positive",
          at: "friction",
          what: `friction of ${span.low === span.high ? span.low : `${span.low} to ${span.high}`} is none that threads have`,
          mend: "Coefficients are 0.08 to 0.24, nut factors 0.1 to 0.5 as a rule; give the lower first.",
          values: { low: span.low, high: span.high },
        });
  }
}
