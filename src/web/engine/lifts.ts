// Owns how the lifts of a plan are answered: how each hangs, drawn, and what a trial lift's readings say of it.

import {
  besidesLoad,
  CELL_ERROR,
  groupsOf,
  type LiftHung,
  type LiftOfPlan,
  labelOf,
  type Order,
  type PadCheck,
  reckonLift,
  reckonLiftOf,
  supportAlong,
  trialOf,
} from "../../plan/index.ts";
import {
  type Band,
  type DrawnView,
  drawViews,
  hungBy,
  type Remark,
  type TrialAnswer,
  weighTrial,
  withTaken,
} from "../../rigging/index.ts";
import type { Bench } from "./bench.ts";

export interface LiftAsked {
  readonly order: Order;
  /** The first of the plan where none is named. */
  readonly task?: string;
  readonly wanted?: Band;
  /** Steps taken up in each leg, in the rig's order, in place of the file's. */
  readonly taken?: readonly number[];
  /** The point that the beam hangs by, in place of the file's. */
  readonly pin?: string;
}

export interface LiftSaid {
  /** Every lift of the plan. */
  readonly lifts: readonly { readonly task: string; readonly label: string }[];
  readonly task?: string;
  readonly lift?: LiftOfPlan;
  /** What holds something meanwhile, over the whole plan. */
  readonly holding: readonly PadCheck[];
  /** Side, end and top, where it hangs. */
  readonly views: readonly DrawnView[];
}

/** As it is read: the cell with tackle and all, newtons; degrees; metres since the legs came taut. */
export interface ReadingGiven {
  readonly load: number;
  readonly pitch?: number;
  readonly roll?: number;
  readonly rise?: number;
}

export interface TrialSaid {
  readonly answer?: TrialAnswer;
  /** Why it cannot be weighed; absent where the file does not say how the load hangs. */
  readonly why?: readonly Remark[];
  readonly ties: readonly {
    readonly id: string;
    readonly label: string;
    readonly position: string;
    readonly hidden: boolean;
  }[];
  readonly suspects: Readonly<Record<string, Remark>>;
  readonly noPlace: readonly string[];
  readonly assumed: readonly Remark[];
  /** Newtons of tackle taken off each reading, and above which to stop, tackle and all. */
  readonly tackle: number;
  readonly stop: number;
  readonly views: readonly DrawnView[];
}

/** Standard errors of an inclinometer, degrees, and of a ruler, metres; and the usual rise. Common practice. */
const TILT_ERROR = 0.1;
const RISE_ERROR = 0.002;
const RISE = 0.03;
/** Ties that are pointed at in the picture: the likeliest, and what is not far behind. */
const POINTED = 2;
const WORTH_A_LOOK = 0.1;

/** With the steps that were asked for, everything reckoned anew. */
const taken = (lift: LiftOfPlan, { taken: steps, pin }: LiftAsked): LiftOfPlan => {
  if (lift.kind !== "reckoned") return lift;
  const own = lift.slung.rig;
  const fits = steps?.length === own.legs.length ? steps : undefined;
  const point = own.beam?.points.some(({ id }) => id === pin) ? pin : undefined;
  if (fits === undefined && point === undefined) return lift;
  const rig = hungBy(fits === undefined ? own : withTaken(own, fits), point);
  const asked = { ...lift.asked, rig };
  const answer = reckonLift(asked);
  return answer.kind === "refused" ? lift : { ...lift, slung: { ...lift.slung, rig }, asked, answer };
};

const liftOf = async (bench: Bench, lifting: LiftAsked) => {
  const { order, task, wanted } = lifting;
  const { question, answer } = await bench.release(order);
  const plan = answer?.plan;
  if (plan === undefined) return { lifts: [] };
  const { vehicle } = question;
  const groups = groupsOf(vehicle, plan);
  const lifts = groups.map((group) => ({ task: group.task, label: labelOf(question, group.task) }));
  const group = groups.find((one) => one.task === task) ?? groups[0];
  if (group === undefined) return { lifts };
  const found = reckonLiftOf(vehicle, group, {
    ...(order.hoist === undefined ? {} : { hoist: order.hoist }),
    ...(wanted === undefined ? {} : { wanted }),
  });
  return { lifts, group, lift: taken(found, lifting), plan, vehicle };
};

const drawn = (
  lift: LiftHung,
  marks: readonly { readonly id: string; readonly at: readonly [number, number, number] }[] = [],
) => {
  const { hanging, ranges } = lift.answer;
  return drawViews(lift.slung.rig, hanging, {
    obstacles: lift.asked.obstacles,
    marks,
    ...(ranges.kind === "ranges" ? { ranges } : {}),
  });
};

export const answerLift = async (bench: Bench, asked: LiftAsked): Promise<LiftSaid> => {
  const { lifts, group, lift, plan, vehicle } = await liftOf(bench, asked);
  return {
    lifts,
    holding: plan === undefined || vehicle === undefined ? [] : supportAlong(vehicle, plan).checks,
    ...(group === undefined ? {} : { task: group.task }),
    ...(lift === undefined ? {} : { lift }),
    views: lift?.kind === "reckoned" ? drawn(lift) : [],
  };
};

export const answerTrial = async (
  bench: Bench,
  asked: LiftAsked & { readonly readings: readonly ReadingGiven[] },
): Promise<TrialSaid> => {
  const none = { ties: [], suspects: {}, noPlace: [], assumed: [], tackle: 0, stop: 0, views: [] };
  const { lift, plan, vehicle } = await liftOf(bench, asked);
  if (lift?.kind !== "reckoned" || plan === undefined || vehicle === undefined) return none;
  const tackle = besidesLoad(lift.slung.rig, lift.slung.rules);
  const stop = lift.answer.stop.newtons;
  const light = asked.readings.find(({ load }) => load <= tackle);
  if (light !== undefined)
    return {
      ...none,
      tackle,
      stop,
      why: [{ is: "no load on the cell", read: light.load, tackle }, { is: "mend reading" }],
    };
  const readings = asked.readings.map(({ load, pitch, roll, rise }) => ({
    load: { value: load - tackle, error: CELL_ERROR * load },
    ...(pitch === undefined ? {} : { pitch: { value: pitch, error: TILT_ERROR } }),
    ...(roll === undefined ? {} : { roll: { value: roll, error: TILT_ERROR } }),
    rise: { value: rise ?? RISE, error: RISE_ERROR },
  }));
  const question = trialOf(vehicle, plan, lift, readings);
  const weighed = weighTrial(question.trial);
  if (weighed.kind === "cannot") return { ...none, tackle, stop, why: [weighed.why] };
  const places = new Map(plan.out.flatMap(({ label, steps }) => steps.map(({ id }) => [id, label] as const)));
  const pointed = weighed.ties.filter(({ probability }, i) => i < POINTED && probability >= WORTH_A_LOOK);
  return {
    answer: weighed,
    ties: weighed.ties.map(({ id }) => ({
      id,
      label: question.ties.get(id)?.label ?? id,
      position: places.get(id) ?? "",
      hidden: question.ties.get(id)?.hidden ?? false,
    })),
    suspects: Object.fromEntries(question.suspects),
    noPlace: question.noPlace,
    assumed: question.assumed,
    tackle,
    stop,
    views: drawn(
      lift,
      pointed.flatMap(({ id }, n) => {
        const at = question.trial.ties.find((tie) => tie.id === id)?.at;
        return at === undefined ? [] : [{ id: String(n + 1), at }];
      }),
    ),
  };
};
