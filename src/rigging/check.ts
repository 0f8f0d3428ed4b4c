// Owns the checks of a lift: each thing against its limit, with the figures, the source and the margin. It says what passed, never that a lift is without danger.

import { DEGREES } from "./attitude.ts";
import { inEnglish } from "./english.ts";
import { eyeShare, OUT_OF_PLANE } from "./eye.ts";
import { GRAVITY } from "./gravity.ts";
import { hoistLimit, LAND_LIFT, shackleShare } from "./lifting.ts";
import type { CheckRules, Eye, Gear, Leg, Rating, Rig, Vector } from "./problem.ts";
import type { Fault } from "./refusal.ts";
import type { Remark } from "./remark.ts";
import type { Hanging } from "./result.ts";
import { sharedLegs } from "./statics.ts";
import { between, unit } from "./vector.ts";

/** What the worst of it may be: from one hanging, or from the range over all that is not known. */
export interface Demand {
  readonly legs: readonly {
    readonly id: string;
    /** Newtons, the greatest; degrees from the horizontal, the least. */
    readonly tension: number;
    readonly angle: number;
    /** Directions that the pull may have, from the lower end; load or beam axes. */
    readonly directions: readonly Vector[];
    /** Newtons: the least it carries. */
    readonly least: number;
    /** The worst that a case was found for, where the figures above are bounds that no case need reach. */
    readonly found?: { readonly tension: number; readonly angle: number };
  }[];
  /** Newtons on each hook, the greatest. */
  readonly hooks: readonly { readonly id: string; readonly load: number }[];
  /** Newtons of the load alone, the greatest. */
  readonly weight: number;
  /** Metres: the least margin against tipping. */
  readonly margin: number;
  readonly over: "nominal figures" | "the range";
}

/** How the rules stand when nobody chose: two legs carry, 1.10 on top, 30° and 45° from the horizontal. */
export const DEFAULT_RULES: CheckRules = { sharing: "two carry", dynamic: LAND_LIFT, leastAngle: 30, lowAngle: 45 };

export type Verdict = "passes" | "attention" | "fails" | "not checked";

export interface Check {
  readonly check: "leg" | "leg angle" | "eye" | "eye plane" | "beam" | "hook" | "hoist" | "pad" | "slack" | "tipping";
  /** What it is about: a leg, an eye, a hook. */
  readonly at: string;
  /** The piece of gear, in a leg. */
  readonly gear?: string;
  readonly verdict: Verdict;
  /** Newtons, degrees or metres: what there is, what is allowed, and what is left of what is allowed as a share of it. */
  readonly unit: "N" | "°" | "m";
  readonly value: number;
  readonly limit?: number;
  readonly margin?: number;
  readonly source: string;
  /** The limit is a default of the tables here and not the file's. */
  readonly assumed: boolean;
  /** What was multiplied by what. */
  readonly figures: readonly Remark[];
  readonly mend?: Remark;
}

export type CheckResult =
  | { readonly kind: "checked"; readonly checks: readonly Check[] }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] };

/** What one hanging asks of everything. */
export const demandOf = (hanging: Hanging, rig: Rig): Demand => ({
  legs: hanging.legs.map(({ id, tension, angle, direction }) => ({
    id,
    tension,
    angle,
    directions: [direction],
    least: tension,
  })),
  hooks: hanging.hooks,
  weight: rig.load.mass.nominal * GRAVITY,
  margin: hanging.stability.margin,
  over: "nominal figures",
});

/** Every check of the rig under what is asked of it, in the order legs, eyes, beam, hooks, hoist, slack, tipping. */
export function checkRig(rig: Rig, demand: Demand, rules: CheckRules = DEFAULT_RULES): CheckResult {
  const hoist = rules.hoist && hoistLimit(rules.hoist);
  if (hoist && "fault" in hoist) return { kind: "refused", faults: [hoist.fault] };
  const pulls = pullsOf(rig, demand, rules);
  const checks = [
    ...rig.legs.flatMap((leg) => legChecks(leg, pulls.get(leg.id)!, rules)),
    ...rig.eyes.flatMap((eye) => eyeChecks(rig, eye, pulls, rules)),
    ...beamChecks(rig, demand, rules),
    ...rig.hooks.map((hook): Check => {
      const load = demand.hooks.find(({ id }) => id === hook.id)?.load ?? 0;
      return against("hook", hook.id, load * rules.dynamic.factor, hook.rating, [
        { is: "on the hook", force: load },
        ...times(rules),
      ]);
    }),
    ...(rules.hoist && hoist ? [hoistCheck(rig, demand, rules, rules.hoist.id, hoist)] : []),
    ...slackChecks(demand),
    tippingCheck(demand),
  ];
  return { kind: "checked", checks };
}

const times = ({ dynamic: { factor, source, assumed } }: CheckRules): readonly Remark[] =>
  factor === 1 ? [] : [{ is: "factor", factor, source, assumed }];

interface Pull {
  readonly newtons: number;
  readonly how: Remark;
  readonly angle: number;
  /** The same of the worst case that was found. */
  readonly found: { readonly newtons: number; readonly angle: number };
  readonly directions: readonly Vector[];
}

/**
 * How many legs hold the same with each: of three and more to one upper end, or to a beam where statics cannot tell them apart, so many carry as the rule says; two legs and
 * single ones are statics. And whether it is beam and load that they hold.
 */
function togetherIn(rig: Rig): ReadonlyMap<string, { readonly of: number; readonly beam: boolean }> {
  const eyes = new Set(rig.eyes.map(({ id }) => id));
  const shared = rig.beam ? sharedLegs(rig) : new Set<string>();
  return new Map(
    rig.legs.map((leg) => {
      const alike = rig.legs.filter(({ lower }) => eyes.has(lower) === eyes.has(leg.lower));
      const of = Math.max(
        alike.filter(({ upper }) => upper === leg.upper).length,
        shared.has(leg.id) ? alike.filter(({ id }) => shared.has(id)).length : 0,
      );
      return [leg.id, { of, beam: !eyes.has(leg.lower) }] as const;
    }),
  );
}

/** The pull each leg is checked with: as computed, or by the rule of practice where that is more. */
function pullsOf(rig: Rig, demand: Demand, rules: CheckRules): ReadonlyMap<string, Pull> {
  const carrying = rules.sharing === "two carry" ? 2 : 3;
  const together = togetherIn(rig);
  return new Map(
    demand.legs.map(({ id, tension, angle, directions, found = { tension, angle } }) => {
      const { of, beam } = together.get(id)!;
      const weight = demand.weight + (beam ? rig.beam!.mass * GRAVITY : 0);
      const ruledAt = (lean: number): number =>
        of >= 3 && rules.sharing !== "as computed" ? weight / (carrying * Math.sin(Math.max(lean, 1e-3) / DEGREES)) : 0;
      const ruled = ruledAt(angle);
      const how: Remark =
        ruled > tension
          ? { is: "legs carry", force: ruled, carrying, of, angle, computed: tension }
          : { is: "pull", force: tension, over: demand.over };
      return [
        id,
        {
          newtons: Math.max(ruled, tension),
          how,
          angle,
          directions,
          found: { newtons: Math.max(ruledAt(found.angle), found.tension), angle: found.angle },
        },
      ] as const;
    }),
  );
}

/** One value against a rating in kilograms, or "not checked" where there is none. */
export function against(
  check: Check["check"],
  at: string,
  value: number,
  rating: Rating | undefined,
  figures: readonly Remark[],
  share = 1,
  gear?: string,
  found = value,
): Check {
  const named = { check, at, unit: "N" as const, value, ...(gear === undefined ? {} : { gear }) };
  if (rating === undefined)
    return {
      ...named,
      verdict: "not checked",
      source: "no limit is given",
      assumed: false,
      figures,
      mend: { is: "mend limit", from: "the tag" },
    };
  const limit = rating.kilograms * GRAVITY * share;
  const verdict = value <= limit ? "passes" : found <= limit ? "attention" : "fails";
  return {
    ...named,
    verdict,
    limit,
    margin: 1 - value / limit,
    source: rating.source,
    assumed: rating.assumed,
    figures: [
      ...figures,
      { is: "against", value, kilograms: rating.kilograms, share, limit },
      ...(verdict === "attention" ? [{ is: "none found above", force: found } as const] : []),
    ],
    ...(verdict === "passes" ? {} : { mend: { is: "mend gear" } }),
  };
}

function legChecks(leg: Leg, pull: Pull, rules: CheckRules): Check[] {
  const value = pull.newtons * rules.dynamic.factor;
  const found = pull.found.newtons * rules.dynamic.factor;
  const gear: readonly Gear[] = leg.gear.length > 0 ? leg.gear : [{ id: leg.id, what: "link", reductions: [] }];
  const low = pull.angle < rules.leastAngle - 1e-9;
  const surely = pull.found.angle < rules.leastAngle - 1e-9;
  return [
    ...gear.map((each): Check => {
      const side = each.what === "shackle" ? shackleShare(each.side ?? 0) : 1;
      const share = each.reductions.reduce((product, { share: s }) => product * s, side ?? 0);
      const why: readonly Remark[] = [
        ...(each.what === "shackle" && (each.side ?? 0) > 5 ? [{ is: "side pull", angle: each.side! } as const] : []),
        ...each.reductions.map((r): Remark => ({ is: "reduced", why: r.why })),
      ];
      const check = against("leg", leg.id, value, each.rating, [pull.how, ...times(rules)], share, each.id, found);
      return { ...check, figures: [...check.figures, ...why] };
    }),
    {
      check: "leg angle",
      at: leg.id,
      unit: "°",
      value: pull.angle,
      limit: rules.leastAngle,
      margin: pull.angle / rules.leastAngle - 1,
      verdict: surely ? "fails" : low || pull.angle < rules.lowAngle - 1e-9 ? "attention" : "passes",
      source: "30° from the horizontal at the least: ASME B30.9 guides, EN 818-4 (60° from the vertical)",
      assumed: rules.leastAngle === DEFAULT_RULES.leastAngle,
      figures: [
        { is: "lean", angle: pull.angle, least: rules.leastAngle, low: rules.lowAngle },
        ...(low && !surely ? [{ is: "none found below", angle: pull.found.angle } as const] : []),
      ],
      ...(low ? { mend: { is: "mend lean" } } : {}),
    },
  ];
}

function eyeChecks(rig: Rig, eye: Eye, pulls: ReadonlyMap<string, Pull>, rules: CheckRules): Check[] {
  return rig.legs
    .filter((leg) => leg.lower === eye.id)
    .flatMap((leg): Check[] => {
      const pull = pulls.get(leg.id)!;
      const axis = unit(eye.axis ?? [0, 0, 1]);
      const value = pull.newtons * rules.dynamic.factor;
      const angles = pull.directions.map((way) => between(way, axis) * DEGREES);
      const { angle, rule, taken } = worstAngle(eye.rule, angles, value);
      const figures: readonly Remark[] = [pull.how, ...times(rules), { is: "from the axis", angle }];
      if (rule === undefined || eye.rule === undefined || eye.rating === undefined)
        return [
          {
            check: "eye",
            at: eye.id,
            unit: "N",
            value,
            verdict: "not checked",
            source: eye.rating === undefined ? "no limit is given" : "no rule is given for its angle",
            assumed: false,
            figures,
            mend: eye.rating === undefined ? { is: "mend limit", from: "the marking" } : { is: "mend rule" },
          },
        ];
      const source = `${eye.rating.source}; ${rule.source}`;
      const found = (taken / pull.newtons) * pull.found.newtons;
      const checked = against(
        "eye",
        eye.id,
        taken,
        { ...eye.rating, source },
        figures,
        rule.share ?? 0,
        undefined,
        rule.share === undefined ? taken : found,
      );
      return [
        rule.share === undefined
          ? {
              ...checked,
              margin: Number.NEGATIVE_INFINITY,
              figures: [...figures, { is: "no such angle", rule: eye.rule }],
              mend: { is: "mend axis" },
            }
          : rule.of === "weight"
            ? { ...checked, figures: [...checked.figures, { is: "along the axis" }] }
            : checked,
        ...(rule.inPlane ? [planeCheck(eye, pull, angle, source)] : []),
      ];
    });
}

/** The angle at which a pull is the most of what the rule leaves; where it leaves nothing at one of them, that one. Without a rule the widest. */
function worstAngle(
  rule: Eye["rule"],
  angles: readonly number[],
  pull: number,
): { readonly angle: number; readonly taken: number; readonly rule?: ReturnType<typeof eyeShare> } {
  const widest = Math.max(...angles);
  if (rule === undefined) return { angle: widest, taken: pull };
  const all = angles.map((angle) => {
    const share = eyeShare(rule, angle);
    const taken = share.of === "pull" ? pull : pull * Math.cos(angle / DEGREES);
    return {
      angle,
      taken,
      rule: share,
      use: share.share === undefined ? Number.POSITIVE_INFINITY : taken / share.share,
    };
  });
  return all.reduce((a, b) => (b.use > a.use || (b.use === a.use && b.angle > a.angle) ? b : a));
}

function planeCheck(eye: Eye, pull: Pull, angle: number, source: string): Check {
  const named = { check: "eye plane" as const, at: eye.id, unit: "°" as const, source, limit: OUT_OF_PLANE };
  // Along the axis there is no plane to be out of.
  const out =
    angle <= OUT_OF_PLANE
      ? 0
      : eye.face && Math.max(...pull.directions.map((way) => Math.abs(90 - between(way, unit(eye.face!)) * DEGREES)));
  if (out === undefined)
    return {
      ...named,
      value: Number.NaN,
      verdict: "not checked",
      assumed: false,
      figures: [{ is: "face unknown" }],
      mend: { is: "mend face" },
    };
  return {
    ...named,
    value: out,
    margin: 1 - out / OUT_OF_PLANE,
    verdict: out <= OUT_OF_PLANE ? "passes" : "fails",
    assumed: true,
    figures: [{ is: "out of plane", angle: out, most: OUT_OF_PLANE }],
    ...(out <= OUT_OF_PLANE ? {} : { mend: { is: "mend plane" } }),
  };
}

function beamChecks(rig: Rig, demand: Demand, rules: CheckRules): Check[] {
  if (!rig.beam) return [];
  return [
    against("beam", "beam", demand.weight * rules.dynamic.factor, rig.beam.rating, [
      { is: "below the beam", force: demand.weight },
      ...times(rules),
    ]),
  ];
}

function hoistCheck(
  rig: Rig,
  demand: Demand,
  rules: CheckRules,
  id: string,
  limit: { readonly kilograms: number; readonly from: string },
): Check {
  const hung = rules.hoist?.tackle ?? 0;
  const all = demand.weight + (hung + (rig.beam?.mass ?? 0)) * GRAVITY;
  // A hoist is rated for the mass that hangs still; what lifting adds is in its rating. So it is only said when nothing is left for that.
  const check = against(
    "hoist",
    id,
    all,
    { kilograms: limit.kilograms, source: `its curve: ${limit.from}`, assumed: false },
    [{ is: "on the hoist", force: demand.weight, tackle: hung, beam: rig.beam?.mass }],
  );
  return check.verdict === "passes" && all * rules.dynamic.factor > check.limit!
    ? {
        ...check,
        verdict: "attention",
        mend: { is: "mend hoist", factor: rules.dynamic.factor },
      }
    : check;
}

/** A leg that may hang slack is no fault, but nobody should count on it. */
function slackChecks(demand: Demand): Check[] {
  return demand.legs.flatMap(({ id, least }) =>
    least > 0
      ? []
      : [
          {
            check: "slack" as const,
            at: id,
            unit: "N" as const,
            value: least,
            verdict: "attention" as const,
            source: "statics",
            assumed: false,
            figures: [{ is: "may be slack" as const, over: demand.over }],
          },
        ],
  );
}

function tippingCheck(demand: Demand): Check {
  return {
    check: "tipping",
    at: "load",
    unit: "m",
    value: demand.margin,
    limit: 0,
    verdict: demand.margin > 0 ? "passes" : "fails",
    source: "second variation of the energy",
    assumed: false,
    figures: [{ is: "higher", margin: demand.margin }],
    ...(demand.margin > 0 ? {} : { mend: { is: "mend tipping", isBeam: !Number.isFinite(demand.margin) } }),
  };
}

/** A check as it is shown. */
export function checkSentence(check: Check): string {
  const gear = check.gear === undefined || check.gear === check.at ? "" : `, ${check.gear}`;
  const margin =
    check.margin === undefined || !Number.isFinite(check.margin) ? "" : `, ${(100 * check.margin).toFixed(0)} % left`;
  const mend = check.mend === undefined ? "" : ` ${inEnglish(check.mend)}`;
  return `${check.check} ${check.at}${gear}: ${check.verdict}: ${inEnglish(...check.figures)}${margin} (${check.source}${check.assumed ? "; a default" : ""}).${mend}`;
}
