// Owns the tie chart of a draft: no plan yet, and mostly no places; what is missing is stood in for by position and order, for the drawing alone.

import { metres } from "../../quantity/index.ts";
import type { Point, Vehicle } from "../../vehicle/index.ts";
import type { Scene, Tie } from "../ties/scene.ts";

/** Half the length and width of an assembly whose size nobody gave, metres. */
const HALF = [0.6, 0.35] as const;

/** What the jobs take out; else the first part that is not fixed. */
const assemblyOf = ({ jobs, parts }: Vehicle): Vehicle["parts"][number] | undefined => {
  const wanted = jobs.flatMap(({ needs }) => needs.flatMap((need) => ("out" in need ? [need.out] : [])));
  return parts.find(({ id }) => wanted.includes(id)) ?? parts.find(({ fixed }) => !fixed);
};

/** Left or right, front or rear, by what a position is called in the languages of the screens. */
const towards = (label: string): readonly [forward: number, left: number] => [
  /\b(front|vorn)/i.test(label) ? 1 : /\b(rear|back|behind|hint)/i.test(label) ? -1 : 0,
  /\b(left|near ?side|link)/i.test(label) ? 1 : /\b(right|off ?side|recht)/i.test(label) ? -1 : 0,
];

export interface Drawn {
  readonly vehicle: Vehicle;
  readonly scene: Scene;
  /** Some of the places are stood in for. */
  readonly isStandIn: boolean;
}

/** @param toLook ids of what is to be looked at: marked in the drawing */
export const drawnOf = (vehicle: Vehicle, toLook: ReadonlySet<string>): Drawn | undefined => {
  const assembly = assemblyOf(vehicle);
  if (assembly === undefined) return undefined;
  const middle: Point = assembly.centre ?? [metres(0), metres(0), metres(0)];
  const off = (forward: number, left: number): Point => [
    metres(middle[0] + forward),
    metres(middle[1] + left),
    middle[2],
  ];
  const side = new Map(vehicle.positions.map((one) => [one.id, towards(`${one.id} ${one.label}`)] as const));
  const outline = assembly.outline ?? [{ low: off(-HALF[0], -HALF[1]), high: off(...HALF) }];
  const places = new Map<string, number>();
  const counts = new Map<string, number>();
  const positionOf = ({ ways }: Vehicle["connections"][number]) => ways[0]?.at ?? "";
  for (const one of vehicle.connections) counts.set(positionOf(one), (counts.get(positionOf(one)) ?? 0) + 1);
  const ties = vehicle.connections.map((one): Tie => {
    const position = positionOf(one);
    const nth = places.get(position) ?? 0;
    places.set(position, nth + 1);
    const [forward, left] = side.get(position) ?? [0, 0];
    const along = HALF[0] * (1 - (2 * (nth + 0.5)) / (counts.get(position) ?? 1));
    const at = one.at ?? off(forward === 0 ? along : forward * HALF[0], left * HALF[1]);
    return {
      id: one.id,
      label: toLook.has(one.id) ? `${one.label} ?` : one.label,
      kind: one.kind,
      joins: one.joins,
      isCut: one.joins.includes(assembly.id),
      position,
      at,
      hidden: one.hidden,
    };
  });
  return {
    vehicle: {
      ...vehicle,
      positions: vehicle.positions.map((one) => {
        const [forward, left] = side.get(one.id) ?? [0, 0];
        return { ...one, at: one.at ?? off(forward * 2, left) };
      }),
      parts: vehicle.parts.map((part) => (part === assembly ? { ...part, outline } : part)),
    },
    scene: {
      assembly: { id: assembly.id, label: assembly.label, parts: [assembly.id], isLift: false },
      ties,
      steps: [],
      positions: vehicle.positions.map(({ id, label }) => ({ id, label })),
    },
    isStandIn: assembly.outline === undefined || vehicle.connections.some(({ at }) => at === undefined),
  };
};
