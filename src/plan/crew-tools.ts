// Owns what a crew shares: the tools that exist in a number, and the systems that one step works at a time.

import type { Stock } from "../crew/index.ts";
import type { Connection, Task, Vehicle } from "../vehicle/index.ts";
import type { Crew } from "./crew.ts";
import type { JobStep } from "./whole-job.ts";

/**
 * Systems that nobody shares unless the crew file lets them: fuels, what the brakes work by, refrigerant. Others are worked by as many as find room; that two
 * people at the same fuel, brake or high-voltage system do not know of one another is an old cause of accidents.
 */
const FUEL = /fuel|diesel|petrol|gasoline|lpg|cng|hydrogen/i;
const ALONE = /\bair\b|brake|refrigerant/i;

/** Volts of direct current above which a system is worked by one step at a time: voltage class B of ISO 6469-3 begins above 60 V. */
const LOW_VOLTAGE = 60;

const isHigh = (energy: string): boolean => Number(/(\d+(?:\.\d+)?)\s*V/.exec(energy)?.[1] ?? 0) > LOW_VOLTAGE;

/** The fluids and energies that a step works on. */
const systemsOf = (connection: Connection | undefined, task: Task | undefined): readonly string[] => [
  ...(connection?.holds === undefined ? [] : [connection.holds.fluid]),
  ...(connection?.live === undefined ? [] : [connection.live]),
  ...(connection?.isolates ?? []),
  ...(task?.drains ?? []),
  ...(task?.isolates ?? []),
];

const toolStock = (tool: string): string => `tool:${tool}`;
const systemStock = (system: string): string => `system:${system}`;

/** What a stock is called: a tool by its name, a system as one. */
export const stockLabel = (stock: string): string => {
  const name = stock.slice(stock.indexOf(":") + 1);
  return stock.startsWith("system:") ? `the ${name} system` : name;
};

/**
 * Tools that exist in a number. What only tasks ask for is equipment (jack, crane, stand, recovery unit): there is one of it, or as many as the shop's list names
 * it. What releases, refits or the jobs' work ask for is a hand tool, of which everybody has one. The crew file counts otherwise.
 */
const countsOf = (vehicle: Vehicle, crew: Crew): ReadonlyMap<string, number> => {
  const byHand = new Set([
    ...vehicle.connections.flatMap((one) => [
      ...one.refit.tools,
      ...one.ways.flatMap((way) => [...way.tools, ...(way.refit?.tools ?? [])]),
    ]),
    ...vehicle.jobs.flatMap((job) => job.work.flatMap((work) => work.tools)),
  ]);
  const equipment = [...vehicle.tasks, ...vehicle.parts.flatMap((part) => part.hang)]
    .flatMap((work) => work.tools)
    .filter((tool) => !byHand.has(tool));
  const listed = (tool: string) => vehicle.shop.tools.filter((one) => one === tool).length;
  return new Map([...equipment.map((tool) => [tool, Math.max(1, listed(tool))] as const), ...crew.tools]);
};

export class Shares {
  private readonly tools: ReadonlyMap<string, number>;
  private readonly systems: ReadonlyMap<string, number>;
  private readonly connections: ReadonlyMap<string, Connection>;
  private readonly tasks: ReadonlyMap<string, Task>;

  constructor(vehicle: Vehicle, crew: Crew) {
    this.tools = countsOf(vehicle, crew);
    this.connections = new Map(vehicle.connections.map((one) => [one.id, one]));
    this.tasks = new Map(vehicle.tasks.map((task) => [task.id, task]));
    const all = [
      ...vehicle.connections.flatMap((one) => systemsOf(one, undefined)),
      ...vehicle.tasks.flatMap((task) => systemsOf(undefined, task)),
    ];
    const guarded = all
      .filter((one) => FUEL.test(one) || ALONE.test(one) || isHigh(one))
      .map((one) => [one, 1] as const);
    this.systems = new Map([...guarded, ...crew.systems]);
  }

  /** How many there are of a tool; undefined: enough. */
  countOf(tool: string): number | undefined {
    return this.tools.get(tool);
  }

  usesOfTools(tools: readonly string[]): readonly { readonly stock: string; readonly count: number }[] {
    return [...new Set(tools)]
      .filter((tool) => this.tools.has(tool))
      .map((tool) => ({ stock: toolStock(tool), count: 1 }));
  }

  /** A step that opens, drains or closes something with fuel in it. */
  isOnFuel({ says }: JobStep): boolean {
    return systemsOf(this.connections.get(says.id), this.tasks.get(says.id)).some((one) => FUEL.test(one));
  }

  uses({ says }: JobStep): readonly { readonly stock: string; readonly count: number }[] {
    if (says.action === "verify" || says.action === "work") return this.usesOfTools(says.tools);
    const worked = systemsOf(this.connections.get(says.id), this.tasks.get(says.id));
    return [
      ...this.usesOfTools(says.tools),
      ...[...new Set(worked)]
        .filter((system) => this.systems.has(system))
        .map((system) => ({ stock: systemStock(system), count: 1 })),
    ];
  }

  /** Every stock that some work takes. */
  stocks(taken: ReadonlySet<string>): readonly Stock[] {
    return [
      ...[...this.tools].map(([tool, count]) => ({ id: toolStock(tool), count })),
      ...[...this.systems].map(([system, count]) => ({ id: systemStock(system), count })),
    ].filter(({ id }) => taken.has(id));
  }
}
