// Owns the order: one request to plan, and what is wrong with it as data before anything is computed.

import type { Vehicle } from "../vehicle/index.ts";

/** Somebody who can work on this order. */
export interface Person {
  readonly id: string;
  readonly label?: string;
  readonly skills: readonly string[];
}

/** One request: which jobs, with whom, with what. Ids are those of the vehicle file. */
export interface Order {
  readonly jobs: readonly string[];
  /** Parts that may not go up with any lift. */
  readonly keep: readonly string[];
  /** Parts that must go up with a lift, still tied to it. */
  readonly take: readonly string[];
  /** The hoist for every lift; absent: the one the task names, else the one that allows most at that reach. */
  readonly hoist?: string;
  /**
   * The crew: persons with their skills, or a number of people with every skill. Absent: the people of the shop, or anyone
   * where the file names none.
   */
  readonly people?: number | readonly Person[];
  /** Absent: the tools of the shop, or all where the file names none. */
  readonly tools?: readonly string[];
  /** Tools that are not to be had, whatever the shop owns. */
  readonly withoutTools?: readonly string[];
  /** Connections already released. */
  readonly released: readonly string[];
}

/** An order with nothing in it but its jobs. */
export const orderFor = (...jobs: readonly string[]): Order => ({ jobs, keep: [], take: [], released: [] });

/** What is wrong with an order. `at` is the place in the order (`jobs[0]`), `nearest` the id that looks most like the one given. */
export interface OrderFault {
  readonly at: string;
  readonly what: string;
  readonly mend: string;
  readonly value?: string;
  readonly nearest?: string;
}

/** Who and what an order can count on. A field that is absent sets no limit. */
export interface Means {
  readonly people?: number;
  readonly skills?: ReadonlySet<string>;
  readonly tools?: ReadonlySet<string>;
  readonly missing: ReadonlySet<string>;
}

/** The crew and the tools of an order, the shop's where the order says nothing. */
export const meansOf = (vehicle: Vehicle, order: Order): Means => {
  const { people: asked } = order;
  const persons =
    typeof asked === "number"
      ? undefined
      : (asked ?? (vehicle.shop.people.length > 0 ? vehicle.shop.people : undefined));
  const people = typeof asked === "number" ? asked : persons?.length;
  const tools = order.tools ?? (vehicle.shop.tools.length > 0 ? vehicle.shop.tools : undefined);
  return {
    ...(people === undefined ? {} : { people }),
    ...(persons === undefined ? {} : { skills: new Set(persons.flatMap((person) => person.skills)) }),
    ...(tools === undefined ? {} : { tools: new Set(tools) }),
    missing: new Set(order.withoutTools),
  };
};

interface Asked {
  readonly field: "jobs" | "keep" | "take" | "hoist" | "withoutTools" | "released";
  readonly kind: string;
  readonly given: readonly string[];
  readonly known: readonly string[];
}

/** More names than this are no help in a message. */
const FEW = 20;

/** Every tool that the file names. */
export const toolsOf = (vehicle: Vehicle): readonly string[] => [
  ...vehicle.shop.tools,
  ...vehicle.connections.flatMap((one) => [
    ...one.refit.tools,
    ...one.ways.flatMap((way) => [...way.tools, ...(way.refit?.tools ?? [])]),
  ]),
  ...vehicle.tasks.flatMap((task) => task.tools),
  ...vehicle.parts.flatMap((part) => part.hang.flatMap((hang) => hang.tools)),
  ...vehicle.jobs.flatMap((job) => job.work.flatMap((work) => work.tools)),
];

/**
 * Everything that is wrong with an order for this vehicle; empty when it can be planned.
 *
 * @param nearest gives the known name that an unknown one most likely meant.
 */
export const faultsOf = (
  vehicle: Vehicle,
  order: Order,
  nearest: (name: string, known: readonly string[]) => string | undefined,
): readonly OrderFault[] => {
  const ids = (list: readonly { readonly id: string }[]) => list.map((one) => one.id);
  const loose = vehicle.parts.filter((part) => !part.fixed);
  const asked: readonly Asked[] = [
    { field: "jobs", kind: "job", given: order.jobs, known: ids(vehicle.jobs) },
    { field: "keep", kind: "part", given: order.keep, known: ids(vehicle.parts) },
    { field: "take", kind: "part that is not fixed", given: order.take, known: ids(loose) },
    {
      field: "hoist",
      kind: "hoist",
      given: order.hoist === undefined ? [] : [order.hoist],
      known: ids(vehicle.hoists),
    },
    {
      field: "withoutTools",
      kind: "tool",
      given: order.withoutTools ?? [],
      known: order.withoutTools === undefined ? [] : toolsOf(vehicle),
    },
    { field: "released", kind: "connection", given: order.released, known: ids(vehicle.connections) },
  ];
  const unknown = asked.flatMap(({ field, kind, given, known: names }) => {
    const known = new Set(names);
    return given.flatMap((id, index): OrderFault[] => {
      if (known.has(id)) return [];
      const near = nearest(id, [...known]);
      const some = known.size > FEW ? `It has ${known.size} others.` : `There are: ${[...known].join(", ")}.`;
      const list = known.size > 0 ? some : "The file has none.";
      const at = field === "hoist" ? field : `${field}[${index}]`;
      return [
        {
          at,
          what: `there is no ${kind} called ${id}`,
          mend: near === undefined ? list : `Nearest: ${near}.`,
          value: id,
          ...(near === undefined ? {} : { nearest: near }),
        },
      ];
    });
  });
  const both = order.take.filter((id) => order.keep.includes(id));
  const people = typeof order.people === "number" ? order.people : order.people?.length;
  return [
    ...unknown,
    ...(order.jobs.length + order.take.length > 0
      ? []
      : [{ at: "jobs", what: "the order asks for nothing", mend: "Name at least one job, or a part to take out." }]),
    ...both.map((id) => ({
      at: "take",
      what: `${id} is both to be kept and to be taken`,
      mend: "Name it in one of the two only.",
      value: id,
    })),
    ...(people !== undefined && !(Number.isInteger(people) && people >= 1)
      ? [{ at: "people", what: `a crew of ${people}`, mend: "Give at least one person, or leave it out for anyone." }]
      : []),
  ];
};
