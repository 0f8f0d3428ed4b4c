// Owns in which order and stages the fasteners of a connection are tightened, as far as its file says where they are.

import { type Layout, layPattern, type Pattern, readStyle } from "../fastening/index.ts";
import { type NewtonMetres, newtonMetres } from "../quantity/index.ts";
import type { Connection } from "../vehicle/index.ts";
import type { Fastened } from "./refit.ts";

export interface JointPattern {
  readonly pattern: Pattern;
  /** What stands in the file's own words for what is no plain order. */
  readonly words?: string;
  /** The order is one that the file's words and layout bear out; else only the stages are. */
  readonly ordered: boolean;
  readonly assumed: readonly string[];
  /** The item that each place takes, where lengths differ. */
  readonly items: ReadonlyMap<string, string>;
}

/** Where the bolts are, as fastening lays them out: the same names for the same places. */
export function layoutOf({ layout }: Connection): Layout | undefined {
  if (layout === undefined) return undefined;
  if ("at" in layout) return { bolts: layout.at.map(([x, y], i) => ({ id: String(i + 1), x, y })) };
  if ("rows" in layout) return { rows: layout.rows, columns: layout.columns, hollow: layout.edge };
  return layout;
}

/**
 * The pattern of a connection's fasteners; undefined where it has but two, or where its layout cannot be laid out. Without a layout they are taken
 * evenly round a circle, and the order is given only where the words say nothing but a cross.
 */
export function patternOf(
  connection: Connection,
  refit: Pick<Fastened, "pattern" | "stages" | "turn">,
  count: number,
  torque: NewtonMetres | undefined,
): JointPattern | undefined {
  const known = layoutOf(connection);
  const words = refit.pattern === undefined ? undefined : readStyle(refit.pattern);
  const stages = refit.stages ?? [];
  const full = stages.at(-1);
  const shares = full === undefined ? words?.shares : stages.map((stage) => stage / full);
  // Two bolts take turns; nobody draws them up in three stages unless the file says so.
  if (count < 3 && shares === undefined) return undefined;
  const answer = layPattern({
    layout: known ?? { circle: count },
    ...(words?.style === undefined ? {} : { style: words.style }),
    ...(torque === undefined ? {} : { torque }),
    ...(shares === undefined ? {} : { shares }),
    ...(refit.turn === undefined ? {} : { turns: [Number(((refit.turn * 180) / Math.PI).toFixed(6))] }),
  });
  if ("faults" in answer) return undefined;
  const foreign = words !== undefined && !(words.plain && words.style !== undefined);
  const ordered = !foreign && count > 2 && (known !== undefined || words?.style === "cross");
  return {
    pattern: answer.answer,
    ...(refit.pattern === undefined || !foreign ? {} : { words: refit.pattern }),
    ordered,
    assumed:
      known === undefined && ordered
        ? [`${count} bolts evenly on a circle, 1 at the top, clockwise: the file does not say where they are`]
        : [],
    items: new Map(connection.hardware.flatMap(({ item, holes = [] }) => holes.map((hole) => [hole, item] as const))),
  };
}

/** Torques of the stages, newton-metres, the last the full one. */
export const stageTorques = ({ passes }: Pattern): readonly NewtonMetres[] =>
  passes.flatMap(({ by, torque }) => (by === "torque" && torque !== undefined ? [newtonMetres(torque)] : []));

/** The pattern of a step's fasteners as it is drawn; undefined where they cannot be laid out. Without a layout they are evenly on a circle. */
export function drawnPattern(
  connection: Connection,
  words: string | undefined,
  fasteners: number,
): Pattern | undefined {
  const style = words === undefined ? undefined : readStyle(words).style;
  const answer = layPattern({
    layout: layoutOf(connection) ?? { circle: fasteners },
    ...(style === undefined ? {} : { style }),
  });
  return "answer" in answer ? answer.answer : undefined;
}
