// Owns what may hang on one lift: the hoist at its reach and the eyes of the parts it takes hold of.

import type { Hoist, Task, Vehicle } from "../vehicle/index.ts";

/** What one lift may carry, in kilograms, and which figures say so. Infinity where the file limits nothing. */
export interface LiftLimit {
  readonly limit: number;
  /** Its limit is what may hang there as load: its curve less tackle and beam, its hook less the beam, whichever is less. */
  readonly hoist?: { readonly id: string; readonly limit: number; readonly reach?: number; readonly tackle?: number };
  readonly eyes?: { readonly ids: readonly string[]; readonly limit: number };
  /** The beam that its legs lead to: its mass hangs on the hoist as well, and no more than its limit may hang below it. */
  readonly beam?: { readonly id: string; readonly mass: number; readonly limit?: number };
}

/** A lift that no hoist can make at its reach: the reach in metres and the span, in metres, that each hoist has figures for. */
export interface OutOfReach {
  readonly reach: number;
  readonly hoists: readonly { readonly id: string; readonly from: number; readonly to: number }[];
}

/**
 * What may hang on a hoist at a horizontal reach, in kilograms: between two listed reaches on the straight line, outside
 * the listed ones undefined. Without a reach the least of its figures.
 */
export const hoistLimit = (hoist: Hoist, reach: number | undefined): number | undefined => {
  if (reach === undefined) return Math.min(...hoist.reach.map(([, limit]) => limit));
  for (const [index, [far, limit]] of hoist.reach.entries()) {
    if (far === reach) return limit;
    const before = hoist.reach[index - 1];
    if (before !== undefined && before[0] < reach && reach < far) {
      return before[1] + ((limit - before[1]) * (reach - before[0])) / (far - before[0]);
    }
  }
  return undefined;
};

/**
 * What the eyes of a lift allow, in kilograms. Common practice: however many legs there are, only two are sure to carry,
 * so two or more eyes count as twice the weakest. The angle of the legs is the rigging's question, not this one.
 */
const eyesLimit = (vehicle: Vehicle, task: Task): LiftLimit["eyes"] => {
  const eyes = vehicle.eyes.filter((eye) => task.lifts.includes(eye.on) && eye.limit !== undefined);
  if (eyes.length === 0) return undefined;
  const weakest = Math.min(...eyes.map((eye) => eye.limit ?? Number.POSITIVE_INFINITY));
  return { ids: eyes.map((eye) => eye.id), limit: eyes.length === 1 ? weakest : 2 * weakest };
};

/** The beam that legs from the eyes of a lift lead to. */
const beamOver = ({ legs = [], eyes, beams = [] }: Vehicle, { lifts }: Task): LiftLimit["beam"] => {
  const mine = new Set(eyes.filter(({ on }) => lifts.includes(on)).map(({ id }) => id));
  const beam = beams.find(({ points }) =>
    legs.some(({ from, to }) => mine.has(from) && points.some(({ id }) => id === to)),
  );
  if (beam === undefined) return undefined;
  const { id, mass, limit } = beam;
  return { id, mass, ...(limit === undefined ? {} : { limit }) };
};

/**
 * What load may hang on this lift. The hoist is the order's, else the task's, else the one that allows most at the reach.
 *
 * @param ordered id of the order's hoist.
 */
export const liftLimit = (vehicle: Vehicle, task: Task, ordered: string | undefined): LiftLimit | OutOfReach => {
  const named = ordered ?? task.hoist;
  const hoists = vehicle.hoists.filter(
    (hoist) => hoist.reach.length > 0 && (named === undefined || hoist.id === named),
  );
  const beam = beamOver(vehicle, task);
  const able = hoists.flatMap((hoist) => {
    const whole = hoistLimit(hoist, task.reach);
    if (whole === undefined) return [];
    const { id, tackle, hook = Number.POSITIVE_INFINITY } = hoist;
    return [
      {
        id,
        limit: Math.max(0, Math.min(whole - (tackle ?? 0), hook) - (beam?.mass ?? 0)),
        ...(task.reach === undefined ? {} : { reach: task.reach }),
        ...(tackle === undefined ? {} : { tackle }),
      },
    ];
  });
  const best = able.reduce<(typeof able)[number] | undefined>(
    (most, one) => (most === undefined || one.limit > most.limit ? one : most),
    undefined,
  );
  if (best === undefined && hoists.length > 0) {
    return {
      reach: task.reach ?? 0,
      hoists: hoists.map(({ id, reach }) => ({ id, from: reach[0]?.[0] ?? 0, to: reach.at(-1)?.[0] ?? 0 })),
    };
  }
  const eyes = eyesLimit(vehicle, task);
  return {
    limit: Math.min(...[best, eyes, beam].map((one) => one?.limit ?? Number.POSITIVE_INFINITY)),
    ...(best === undefined ? {} : { hoist: best }),
    ...(eyes === undefined ? {} : { eyes }),
    ...(beam === undefined ? {} : { beam }),
  };
};
