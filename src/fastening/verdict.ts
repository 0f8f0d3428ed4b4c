// Owns the checks of a tightened joint, each with its figures, and what to do about it.

import { newtonMetres, newtons } from "../quantity/index.ts";
import { permissibleDeviation } from "../vehicle/index.ts";
import type { Bearing } from "./head.ts";
import type { Joint, Standing, Tightening, Verdict } from "./joint.ts";
import { runningTorque } from "./locking.ts";
import { armOf, threadCoefficient, yieldPreload } from "./preload.ts";
import type { Span } from "./span.ts";
import { proofLoad } from "./strength.ts";
import { preloadOfTurn } from "./turn.ts";
import { chooseWrench, fits, usableFrom } from "./wrench.ts";

/** What is checked: the answer before its verdicts. */
type Draft = Omit<Tightening, "verdicts" | "wrench">;

/** Three figures and no more than it takes: 48.3, 0.35, 12.9. */
const figure = (value: number): string => String(Number(value.toPrecision(3)));
const inNewtonMetres = (value: number): string => `${figure(value)} N·m`;
const inKilonewtons = (value: number): string => `${figure(value / 1000)} kN`;
const inPercent = (value: number): string => `${Math.round(value * 100)} %`;

/** The torque a mend names never lies above its limit: rounded down to three figures. */
const atMost = (value: number): string => {
  const step = 10 ** (Math.floor(Math.log10(value)) - 2);
  return `${figure(Math.floor(value / step + 1e-9) * step)} N·m`;
};

/** Above the limit by its middle, by its upper end only, or not. */
const under = (span: Span, limit: number): Standing =>
  span.nominal > limit * (1 + 1e-9) ? "fails" : span.high > limit * (1 + 1e-9) ? "doubtful" : "holds";

/** Every check of this joint, and the wrench that is chosen for it. */
export function judge(
  joint: Joint,
  bearing: Bearing,
  draft: Draft,
): { readonly verdicts: readonly Verdict[]; readonly wrench?: string } {
  const tool = judgeWrench(joint, draft);
  return {
    verdicts: [
      ...judgeStrength(joint, bearing, draft),
      ...judgeClamp(joint, bearing, draft),
      ...judgeFriction(joint, bearing, draft),
      ...judgeRunning(joint, draft),
      ...judgeUse(joint, bearing, draft),
      ...tool.verdicts,
    ],
    ...(tool.wrench === undefined ? {} : { wrench: tool.wrench }),
  };
}

function judgeStrength(joint: Joint, bearing: Bearing, { torque, preload }: Draft): Verdict[] {
  const { thread, strength, friction, aim } = joint;
  if (strength === undefined || "turn" in aim) return [];
  const arm = armOf(thread, bearing, friction);
  const proof = proofLoad(thread, strength);
  const name = `${thread.name} ${strength.name}`;
  const whole = `${inKilonewtons(preload.low)} to ${inKilonewtons(preload.high)}`;
  const overProof = under(preload, proof);
  // What low friction makes of the torque turns into more tension and less torsion: each end is held against its own limit.
  const yieldAt = (end: "nominal" | "low"): number =>
    yieldPreload(thread, strength, threadCoefficient(thread, bearing, friction, end), 1);
  const overYield: Standing =
    preload.nominal > yieldAt("nominal") * (1 + 1e-9)
      ? "fails"
      : preload.high > yieldAt("low") * (1 + 1e-9)
        ? "doubtful"
        : "holds";
  const mend =
    `Proof is reached at ${atMost(proof * arm)} in the middle of the range; 75 % of it takes ${atMost(0.75 * proof * arm)}. ` +
    "Take the maker's torque, or look again at size, class and unit.";
  return [
    {
      rule: "over-proof",
      standing: overProof,
      what:
        `${inNewtonMetres(torque)} on ${name} is ${inKilonewtons(preload.nominal)} (${whole}), ` +
        `${inPercent(preload.nominal / proof)} of its proof load of ${inKilonewtons(proof)}`,
      ...(overProof === "holds"
        ? {}
        : overProof === "fails"
          ? { mend }
          : {
              mend: "In the middle it holds; a joint that matters wants a method that scatters less, or less torque if the maker agrees.",
            }),
      value: preload.nominal,
      limit: proof,
      unit: "N",
    },
    {
      rule: "over-yield",
      standing: overYield,
      what: `the upper end of ${inKilonewtons(preload.high)} against ${inKilonewtons(yieldAt("low"))} at which tightening ${name} reaches its yield point, torsion included`,
      // Said once is enough.
      ...(overYield === "fails" && overProof !== "fails" ? { mend } : {}),
      value: preload.high,
      limit: yieldAt("low"),
      unit: "N",
    },
  ];
}

function judgeClamp({ clamp, thread, friction, strength }: Joint, bearing: Bearing, { preload }: Draft): Verdict[] {
  if (clamp === undefined) return [];
  const standing: Standing = preload.nominal < clamp ? "fails" : preload.low < clamp ? "doubtful" : "holds";
  // So much torque that the lower end still clamps: the range keeps its proportion.
  const enough = clamp * (preload.nominal / preload.low) * armOf(thread, bearing, friction);
  const bears = strength === undefined || clamp * (preload.nominal / preload.low) <= proofLoad(thread, strength);
  return [
    {
      rule: "under-clamp",
      standing,
      what: `${inKilonewtons(preload.low)} to ${inKilonewtons(preload.high)} against the ${inKilonewtons(clamp)} that each must clamp`,
      ...(standing === "holds"
        ? {}
        : {
            mend: bears
              ? `${figure(enough)} N·m would clamp it at the lower end too, if the maker agrees.`
              : `It would take ${figure(enough)} N·m, which this bolt does not bear: more or stronger ones, or a method that scatters less.`,
          }),
      value: preload.low,
      limit: clamp,
      unit: "N",
    },
  ];
}

function judgeFriction(joint: Joint, bearing: Bearing, { torque, preload }: Draft): Verdict[] {
  const { thread, friction, statedFor, aim } = joint;
  if (statedFor === undefined || !("torque" in aim)) return [];
  const meant = armOf(thread, bearing, statedFor);
  const ratio = armOf(thread, bearing, friction) / meant;
  const alike = Math.abs(ratio - 1) < 0.02;
  if (alike && friction.name !== undefined && friction.name === statedFor.name) return [];
  const wanted = torque / meant;
  return [
    {
      rule: "other-friction",
      standing: alike ? "holds" : "doubtful",
      what: `${inNewtonMetres(torque)} is stated for ${statedFor.name ?? "other"} threads and would give ${inKilonewtons(wanted)}; on ${friction.name ?? "these"} threads it gives ${inKilonewtons(preload.nominal)}`,
      ...(alike
        ? {}
        : {
            mend: `Bring the threads into the state the torque is for; or ${inNewtonMetres(torque * ratio)} gives the same preload, if the maker agrees.`,
          }),
      value: preload.nominal,
      limit: wanted,
      unit: "N",
    },
  ];
}

function judgeRunning({ prevailing, locknut, thread }: Joint, { torque, applied }: Draft): Verdict[] {
  if (prevailing === undefined || prevailing === 0)
    return locknut === undefined
      ? []
      : [
          {
            rule: "running-torque",
            standing: "doubtful",
            what: "a self-locking nut whose running torque is not known",
            mend: "Measure it running the nut on, short of the seat, and add it.",
          },
        ];
  const running = locknut && runningTorque(thread);
  const added: Verdict = {
    rule: "running-torque",
    standing: "note",
    what: `${inNewtonMetres(torque)} to seat and ${inNewtonMetres(prevailing)} to run: ${inNewtonMetres(applied)}`,
    value: applied,
    unit: "N·m",
  };
  const limit = locknut === "used" ? running?.least : running?.most;
  if (running === undefined || limit === undefined) return [added];
  const spent = locknut === "used" && prevailing < limit;
  const tight = locknut === "new" && prevailing > limit;
  return [
    added,
    {
      rule: "running-torque",
      standing: spent ? "fails" : tight ? "doubtful" : "holds",
      what: `it runs at ${inNewtonMetres(prevailing)}; a ${locknut} nut has at ${locknut === "used" ? "least" : "most"} ${inNewtonMetres(limit)} (${running.source})`,
      ...(spent ? { mend: "Fit a new nut." } : tight ? { mend: "Look for a damaged thread or the wrong nut." } : {}),
      value: prevailing,
      limit,
      unit: "N·m",
    },
  ];
}

function judgeUse(joint: Joint, bearing: Bearing, draft: Draft): Verdict[] {
  const { thread, strength, friction, aim } = joint;
  const verdicts: Verdict[] = [];
  let past = false;
  if ("turn" in aim && strength !== undefined) {
    const { torque, grip, degrees } = aim.turn;
    const elastic = newtons(torque / armOf(thread, bearing, friction) + preloadOfTurn(thread, grip, degrees));
    const limit = yieldPreload(thread, strength, threadCoefficient(thread, bearing, friction), 1);
    past = elastic > limit;
    verdicts.push({
      rule: "past-yield",
      standing: "note",
      what: past
        ? `${degrees}° leads past the yield point: elastic it would be ${inKilonewtons(elastic)}, yield holds it near ${inKilonewtons(limit)}`
        : `${degrees}° stays elastic at ${inKilonewtons(elastic)}, under ${inKilonewtons(limit)} at yield`,
      ...(past ? { mend: "Treat the bolt as for one tightening only, unless the maker says how to measure it." } : {}),
      value: elastic,
      limit,
      unit: "N",
    });
  }
  if (joint.oneTime === true || past) {
    const again = joint.used === true;
    verdicts.push({
      rule: "one-time",
      standing: again ? "fails" : "note",
      what: again
        ? "this fastener may be tightened once only, and has been"
        : "this fastener may be tightened once only",
      mend: again ? "Fit a new one." : "New each time; throw the old one away at release.",
    });
  }
  if (draft.proposal)
    verdicts.push({
      rule: "proposal",
      standing: "note",
      what: `nobody gave a torque: ${inNewtonMetres(draft.torque)} is a proposal, ${draft.by}`,
      mend: "Ask the maker's book for the figure before the joint is called tight.",
      value: draft.torque,
      unit: "N·m",
    });
  return verdicts;
}

function judgeWrench(
  joint: Joint,
  { applied, set }: Draft,
): { readonly verdicts: Verdict[]; readonly wrench?: string } {
  const verdicts: Verdict[] = [];
  if (joint.multiplier !== undefined)
    verdicts.push({
      rule: "multiplier",
      standing: "note",
      what: `${inNewtonMetres(applied)} at the fastener through a multiplier of ${figure(joint.multiplier.ratio * (joint.multiplier.efficiency ?? 1))}`,
      value: applied,
      unit: "N·m",
    });
  if (joint.adapter !== undefined)
    verdicts.push({
      rule: "adapter",
      standing: "note",
      what: `adapter of ${figure(joint.adapter.offset * 1000)} mm at ${figure(joint.adapter.degrees)}° on a wrench of ${figure(joint.adapter.length * 1000)} mm: set ${inNewtonMetres(set)}`,
      mend: "Pull at the middle of the grip: the length is measured there.",
      value: set,
      unit: "N·m",
    });
  const choice = chooseWrench(joint.wrenches ?? [], set);
  if (choice === undefined) return { verdicts };
  const wrench = "wrench" in choice ? choice.wrench : choice.nearest;
  const fitting = fits(wrench, set);
  verdicts.push({
    rule: fitting ? "wrench-choice" : "wrench-range",
    standing: fitting ? "holds" : "fails",
    what: fitting
      ? `${inNewtonMetres(set)} is ${inPercent(set / wrench.high)} of the scale of ${wrench.id}, within ±${inPercent(permissibleDeviation(set))} when it is in order (ISO 6789)`
      : `no wrench here is for ${inNewtonMetres(set)}; the nearest is ${wrench.id}, used from ${figure(usableFrom(wrench))} to ${inNewtonMetres(wrench.high)}`,
    ...(fitting
      ? {}
      : {
          mend:
            set > wrench.high
              ? `Take a larger wrench or ${joint.multiplier === undefined ? "a multiplier" : "a multiplier of a higher ratio"}.`
              : "Take a smaller wrench: below a fifth of its scale nobody has checked this one.",
        }),
    value: set,
    limit: set > wrench.high || fitting ? wrench.high : newtonMetres(usableFrom(wrench)),
    unit: "N·m",
  });
  return { verdicts, ...(fitting ? { wrench: wrench.id } : {}) };
}
