// Owns what a file says of how a joint is fastened: its hardware, where its bolts are, the state of its threads, what is used up.

import { type Measure, metres, readQuantity } from "../quantity/index.ts";
import type { Consumed, Hardware, Layout, Refit, Rubbing, ThreadState, Torque } from "./model.ts";
import { THREAD_STATES } from "./model.ts";
import {
  count,
  define,
  flag,
  type JsonSchema,
  list,
  may,
  measure,
  must,
  otherwise,
  quantity,
  record,
  row,
  type Shape,
  text,
  WRITTEN,
  word,
} from "./shape.ts";
import { isEmpty } from "./source.ts";

export const hardware: Shape<Hardware> = define(
  "hardware",
  record(
    "an item of hardware",
    {
      item: must(text, "?", "what it is: bolt M10×45, washer 10, cotter pin 3×20"),
      class: may(text, "property class as marked on the head: 8.8, 10.9, A2-70"),
      count: otherwise(count, 1, "how many; 1 where it is not said"),
      reuse: may(flag, "whether it goes back in; true where it is not said, false of what is tightened once only"),
      once: otherwise(flag, false, "may be tightened once only: bolts that stretch, bolts with dried thread-lock"),
      holes: otherwise(
        list(text),
        [],
        "the places of the layout it belongs in, where lengths differ: [1, 7], [A1, A5]",
      ),
    },
    ({ reuse, once, holes, ...rest }): Hardware => ({
      ...rest,
      reuse: reuse ?? !once,
      ...(once ? { once } : {}),
      ...(holes.length === 0 ? {} : { holes }),
    }),
  ),
);

/** "circle of 8", "2 x 5", "edge of 3 x 4", "line of 6". */
const NAMED =
  /^(?:(?<circle>circle|line) of (?<n>\d{1,3})|(?<edge>edge of )?(?<rows>\d{1,2}) ?[x×] ?(?<columns>\d{1,2}))$/i;
const LAYOUT = "circle of 8, line of 6, 2 x 5, edge of 3 x 4, or { at: [[x, y], …] }";

const places = record(
  "the places of the bolts",
  {
    at: must(
      list(row<readonly [number, number]>("a place: [x, y]", quantity("length", true), quantity("length", true))),
      [],
      "where each bolt is, [x, y] with units as seen from the wrench, x to the right, y up; numbered from 1 in this order",
    ),
  },
  ({ at }): Layout => ({ at: at.map(([x, y]) => [metres(x), metres(y)] as const) }),
);

/** A named layout in a few words, or the places themselves. */
export const layout: Shape<Layout> = define("layout", {
  called: `a layout: ${LAYOUT}`,
  read(node, desk, key) {
    if (node.kind !== "text" || isEmpty(node)) return places.read(node, desk, key);
    const named = NAMED.exec(node.text.trim())?.groups;
    const [n, rows, columns] = [named?.n, named?.rows, named?.columns].map(Number);
    if (named?.circle !== undefined && n) return named.circle.toLowerCase() === "line" ? { line: n } : { circle: n };
    if (rows && columns) return { rows, columns, edge: named?.edge !== undefined };
    desk.fault("bad-layout", node, `${key} is "${node.text}", which is no layout.`, `Write ${LAYOUT}.`, {
      key,
      text: node.text,
    });
    return undefined;
  },
  schema: (definitions): JsonSchema => ({
    anyOf: [{ type: "string", description: LAYOUT }, places.schema(definitions)],
  }),
});

/** 0.12, 0.10..0.16, K 0.2, K 0.15..0.3 */
const FRICTION = /^(?<factor>K ?)?(?<low>\d?\.\d+)(?:\.\.(?<high>\d?\.\d+))?$/i;
/** What no thread has: above this two gears would be meant. */
const MOST_FRICTION = 1;

const friction: Shape<Rubbing> = {
  called: "a coefficient: 0.12 or 0.10..0.16; a nut factor: K 0.2",
  read(node, desk, key) {
    const found = node.kind === "text" ? FRICTION.exec(node.text.trim())?.groups : undefined;
    const low = Number(found?.low);
    const high = Number(found?.high ?? found?.low);
    if (found !== undefined && low > 0 && low <= high && high < MOST_FRICTION)
      return {
        kind: found.factor === undefined ? "coefficient" : "nut factor",
        low,
        nominal: (low + high) / 2,
        high,
      };
    const says = node.kind === "text" ? `"${node.text}"` : `a ${node.kind}`;
    desk.fault(
      "not-a-friction",
      node,
      `${key} is ${says}, which is no friction that threads have.`,
      "Write a coefficient, 0.12 or 0.10..0.16 (0.08 to 0.24 as a rule), or a nut factor, K 0.2 (0.1 to 0.5).",
      { key },
    );
    return undefined;
  },
  schema: () => ({ ...WRITTEN, description: "0.12 or 0.10..0.16, or a nut factor: K 0.2" }),
};

const AMOUNTS = ["volume", "mass", "length"] as const;

/** How much of a thing: by volume, mass or length, whichever its unit says. */
const amount: Shape<NonNullable<Consumed["amount"]>> = {
  called: "a volume, a mass or a length: 2 mL, 10 g, 0.3 m",
  read(node, desk, key) {
    const written = text.read(node, desk, key);
    if (written === undefined) return undefined;
    for (const dimension of AMOUNTS) {
      const reading = readQuantity(written, dimension);
      if ("value" in reading && reading.value.low > 0) return { value: reading.value.nominal, dimension };
    }
    desk.fault("bad-amount", node, `${key} is "${written}", which is no amount.`, `Write ${amount.called}.`, {
      key,
      text: written,
    });
    return undefined;
  },
  schema: () => ({ type: "string", pattern: "[0-9].*[A-Za-zµμ]" }),
};

const consumedRecord = record(
  "something used up",
  {
    item: must(text, "?", "what it is: grease, thread-lock medium, sealant, paint mark"),
    amount: may(amount, "how much: 2 mL, 10 g, 0.3 m; as needed where it is not said"),
  },
  (values): Consumed => values,
);

/** A name alone: as much as it takes. */
const consumed: Shape<Consumed> = {
  called: "the name of a thing, or { item, amount }",
  read(node, desk, key) {
    if (node.kind !== "text") return consumedRecord.read(node, desk, key);
    const item = text.read(node, desk, key);
    return item === undefined ? undefined : { item };
  },
  schema: (definitions) => ({ anyOf: [text.schema(definitions), consumedRecord.schema(definitions)] }),
};

const threadState: Shape<ThreadState> = word(THREAD_STATES);

const measuredTorque = measure("torque");
/** How a value is written that has limits beside it. */
const TOLERANCE = /±|\+\/?-|\.\./;

/** A torque with the tolerance that its source gives, if it gives one. One that no wrench could keep is none. */
const torque: Shape<Torque> = {
  ...measuredTorque,
  read(node, desk, key) {
    const read: Measure<"torque"> | undefined = measuredTorque.read(node, desk, key);
    if (read === undefined) return undefined;
    const { nominal, low, high } = read;
    const written = node.kind === "text" ? node.text : "";
    if (TOLERANCE.test(written) && (low === high || low === 0)) {
      desk.fault(
        "bad-limits",
        node,
        low === high
          ? `${key} is "${written}", which leaves nothing to the wrench.`
          : `${key} is "${written}", which allows none at all.`,
        "Write the tolerance that its source gives: 48 N·m ± 5 %, or 45..50 N·m; or leave it out.",
        { key, text: written },
      );
      return undefined;
    }
    return { nominal, low, high };
  },
};

/** The keys of a refit that say how tight, and how. */
export const tightening = {
  torque: may(
    torque,
    "the tightening torque: 48 N·m, 35 lbf·ft; with its tolerance: 48 N·m ± 4 N·m, 48 N·m ± 5 %, 45..50 N·m",
  ),
  preload: may(quantity("force"), "the preload of each fastener instead of a torque, which is then reckoned: 25 kN"),
  turn: may(quantity("angle"), "turned on by so much after the torque: 90°"),
  grip: may(quantity("length"), "the length that is clamped between head and nut or thread; with turn"),
  stages: otherwise(
    list(quantity("torque")),
    [],
    "the torques of the stages, the last the full one: [15 N·m, 30 N·m, 48 N·m]",
  ),
  pattern: may(text, "the order of tightening: cross, spiral from the middle, in two stages"),
  threads: may(threadState, `the state of the threads as they go in: ${THREAD_STATES.join(", ")}`),
  meant: may(threadState, "the state of the threads that the torque is meant for, as its source says"),
  friction: may(friction, "a measured coefficient of thread and head, 0.12 or 0.10..0.16, or a nut factor, K 0.2"),
  running: may(
    quantity("torque"),
    "the running torque of a locknut or insert, measured short of the seat; it is added",
  ),
  clamp: may(quantity("force"), "what all its fasteners together must clamp: 60 kN"),
  pressure: may(quantity("pressure"), "the pressure that pushes the joint apart; with bore"),
  bore: may(quantity("length"), "the diameter of the seal that the pressure stands on; with pressure"),
  consumes: otherwise(list(consumed), [], "what is used up: grease, thread-lock medium, sealant"),
} as const;

/** What is not said leaves no trace: an empty list of stages is none. */
export const stated = ({
  stages,
  consumes,
  ...rest
}: Omit<Refit, "after" | "tools" | "fresh" | "then" | "stages" | "consumes"> & {
  readonly stages: NonNullable<Refit["stages"]>;
  readonly consumes: readonly Consumed[];
}) => ({
  ...rest,
  ...(stages.length === 0 ? {} : { stages }),
  ...(consumes.length === 0 ? {} : { consumes }),
});

/** The names of a layout's places: numbers of a circle, a line and listed places; A1, A2 … from the upper left of a rectangle. */
export function placeNames(where: Layout): readonly string[] {
  const numbers = (n: number) => Array.from({ length: n }, (_, i) => String(i + 1));
  if ("circle" in where) return numbers(where.circle);
  if ("line" in where) return numbers(where.line);
  if ("at" in where) return numbers(where.at.length);
  const { rows, columns, edge } = where;
  return Array.from({ length: rows * columns }, (_, i) => [Math.floor(i / columns), i % columns] as const)
    .filter(([r, c]) => !edge || r === 0 || c === 0 || r === rows - 1 || c === columns - 1)
    .map(([r, c]) => `${letters(r)}${c + 1}`);
}

const letters = (index: number): string =>
  (index >= 26 ? letters(Math.floor(index / 26) - 1) : "") + String.fromCharCode(65 + (index % 26));
