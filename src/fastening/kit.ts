// Owns the kit of an order: what comes out and must go in again, what is new, what is put in for the job and comes out, and what the storeman lays out.

import type { Counted } from "./bag.ts";
import { type Consumable, gatherConsumables, type Used } from "./consumable.ts";

/** Hardware of a connection: what becomes of it at refit. */
export interface Hardware extends Counted {
  readonly class?: string;
  readonly reuse: boolean;
}

/** What is drained or runs out, litres; without an amount where nobody states one. */
export interface Drained {
  readonly fluid: string;
  readonly litres?: number;
}

/** A step of the work as far as the kit goes, in the order of the work. */
export interface KitStep {
  readonly number: number;
  readonly kind: "release" | "refit" | "other";
  /** The connection or task. */
  readonly id: string;
  readonly label: string;
  /** Where it is done, as people call it; absent: anywhere. */
  readonly position?: string | undefined;
  readonly tools: readonly string[];
  /** Of a release what comes out, of a refit what goes in; nothing where it is only loosened. */
  readonly hardware: readonly Hardware[];
  /** What a refit wants new: "seal 32", "2 × O-ring 17×3". */
  readonly fresh: readonly string[];
  readonly plugsIn: readonly Counted[];
  readonly plugsOut: readonly Counted[];
  /** Other things that are there for the job only: straps, guide studs, jacks. */
  readonly putIn: readonly Counted[];
  readonly takeOut: readonly Counted[];
  readonly drained: readonly Drained[];
  /** What is used up: rag, grease, thread-lock. */
  readonly consumables: readonly Consumable[];
}

export interface KitQuestion {
  readonly steps: readonly KitStep[];
  /** Where a thing lies in the store, if that is known; the storeman walks in the order of these names. */
  readonly shelfOf?: (item: string) => string | undefined;
  /** How many of a thing lie there, if that is known. */
  readonly stockOf?: (item: string) => number | undefined;
}

/** One bag: what came out of a connection, tagged with its name, and what becomes of it. */
export interface KitBag {
  readonly connection: string;
  readonly label: string;
  /** Counted out at this step, in at that; absent: the work ends without it. */
  readonly out: number;
  readonly in?: number;
  readonly position?: string;
  readonly hardware: readonly Hardware[];
  /** Pieces to count back in: those that are used again. */
  readonly again: number;
  /** Pieces to throw away at release. */
  readonly scrap: number;
}

/** So many of a thing, and the steps that want it, the first named first. */
export interface Wanted extends Counted {
  readonly steps: readonly number[];
}

export interface Fluid {
  readonly fluid: string;
  /** What runs out as far as the file says. */
  readonly litres: number;
  /** Where it runs out and nobody says how much. */
  readonly unstated: readonly string[];
}

export const PICKS = ["tool", "plug", "put in for the job", "new part", "fluid", "consumable"] as const;

/** A line of the storeman's list. */
export interface Pick {
  readonly kind: (typeof PICKS)[number];
  readonly item: string;
  /** Pieces; of what is measured so much of `unit`. */
  readonly count: number;
  readonly unit?: "L" | "kg" | "m";
  /** Needed first at this step. */
  readonly first: number;
  readonly shelf?: string;
  /** How many lie there; absent: nobody said. */
  readonly stock?: number;
}

/** Something that does not come out even: the plan leaves it so, and somebody has to know. */
export interface Uneven {
  readonly what:
    | "put in and never taken out"
    | "taken out and never put in"
    | "goes in and never came out"
    | "comes out and never goes in";
  readonly item: string;
  readonly count: number;
  readonly at: string;
  readonly step: number;
}

/** Hardware that the file uses again and common practice does not; the maker decides. */
export interface UsuallyNew extends Counted {
  readonly at: string;
  readonly step: number;
}

export interface Kit {
  readonly bags: readonly KitBag[];
  readonly newParts: readonly Wanted[];
  readonly fluids: readonly Fluid[];
  readonly consumables: readonly Used[];
  /** Caps and plugs by size: as many as are in at once, for one that comes out serves again. */
  readonly plugs: readonly Wanted[];
  readonly temporary: readonly Wanted[];
  readonly tools: readonly {
    readonly position: string;
    readonly tools: readonly { readonly tool: string; readonly steps: readonly number[] }[];
  }[];
  readonly picking: readonly Pick[];
  readonly uneven: readonly Uneven[];
  readonly usuallyNew: readonly UsuallyNew[];
}

/** What is new every time by common practice: what locks by being bent or squeezed, and what seals by it. */
const NEW_EACH_TIME =
  /split pin|cotter|lock ?nut|self-locking|nylon|(tab|spring|copper|crush|sealing) washer|sealing ring|gasket|O-ring|\bseal\b/i;

/** Numbers in names by their size: plug 6 before plug 16. */
const naturally = new Intl.Collator("en", { numeric: true }).compare;

/** "2 × seal 16" and "seal 16 2 off" as a count and an item; without a count it is one. */
export function readCounted(text: string): Counted {
  const match = /^\s*(\d+)\s*[×x]\s+(.*\S)\s*$/.exec(text);
  if (match !== null) return { item: match[2] as string, count: Number(match[1]) };
  // As a parts list of the trade has it: the thing, then how many off.
  const off = /^\s*(.*\S)\s+(\d+) off\s*$/.exec(text);
  return off === null ? { item: text.trim(), count: 1 } : { item: off[1] as string, count: Number(off[2]) };
}

/** The same thing in the singular and in the plural. */
const alike = (one: string, other: string): boolean => singular(one) === singular(other);
const singular = (item: string): string => item.toLowerCase().replace(/(?<=\p{L}{3})s\b/gu, "");

/** The whole kit of the steps. */
export function makeKit({ steps, shelfOf, stockOf }: KitQuestion): Kit {
  const plugs = through(
    steps,
    ({ plugsIn }) => plugsIn,
    ({ plugsOut }) => plugsOut,
  );
  const temporary = through(
    steps,
    ({ putIn }) => putIn,
    ({ takeOut }) => takeOut,
  );
  const newParts = gather(steps, newAt);
  const consumables = gatherConsumables(steps);
  const fluids = fluidsOf(steps);
  const tools = toolsOf(steps);
  const hardware = bagsOf(steps);
  const line =
    (kind: Pick["kind"]) =>
    (one: Wanted, unit?: Pick["unit"]): Pick => {
      const shelf = shelfOf?.(one.item);
      const stock = stockOf?.(one.item);
      return {
        kind,
        item: one.item,
        count: one.count,
        ...(unit === undefined ? {} : { unit }),
        first: one.steps[0] as number,
        ...(shelf === undefined ? {} : { shelf }),
        ...(stock === undefined ? {} : { stock }),
      };
    };
  const allTools = gather(steps, (step) => [...new Set(step.tools)].map((item) => ({ item, count: 1 })));
  const picking = [
    // "axle stands 5 t" among the tools are the four "axle stand 5 t" that go in for the job.
    ...allTools
      .filter(({ item }) => !temporary.wanted.some((one) => alike(one.item, item)))
      .map((tool) => line("tool")({ ...tool, count: 1 })),
    ...plugs.wanted.map((one) => line("plug")(one)),
    ...temporary.wanted.map((one) => line("put in for the job")(one)),
    ...newParts.map((one) => line("new part")(one)),
    ...fluids
      .filter(({ litres }) => litres > 0)
      .map(({ fluid, litres, steps: at }) => line("fluid")({ item: fluid, count: litres, steps: at }, "L")),
    ...consumables.map(({ item, amount, steps: at }) =>
      line("consumable")({ item, count: amount?.value ?? 1, steps: at }, amount?.unit),
    ),
  ];
  return {
    bags: hardware.bags,
    newParts,
    fluids: fluids.map(({ fluid, litres, unstated }) => ({ fluid, litres, unstated })),
    consumables,
    plugs: plugs.wanted,
    temporary: temporary.wanted,
    tools,
    picking: picking.sort(inWalkingOrder),
    uneven: [...hardware.uneven, ...plugs.uneven, ...temporary.uneven],
    usuallyNew: steps.flatMap(({ kind, hardware: pieces, fresh, label, number }) =>
      kind !== "refit"
        ? []
        : pieces.flatMap(({ item, count, reuse }) =>
            reuse && NEW_EACH_TIME.test(item) && !fresh.some((one) => one.includes(item))
              ? [{ item, count, at: label, step: number }]
              : [],
          ),
    ),
  };
}

/** Shelf by shelf; what has no shelf by kind, and within it by name and size: like things lie together. */
function inWalkingOrder(a: Pick, b: Pick): number {
  if (a.shelf !== b.shelf) {
    if (a.shelf === undefined) return 1;
    if (b.shelf === undefined) return -1;
    return naturally(a.shelf, b.shelf);
  }
  return PICKS.indexOf(a.kind) - PICKS.indexOf(b.kind) || naturally(a.item, b.item);
}

/** What a refit wants new: hardware that is not used again, and what the file names; a thing named both ways counts once, at the greater number. */
function newAt({ kind, hardware, fresh }: KitStep): readonly Counted[] {
  if (kind !== "refit") return [];
  const named = new Map<string, number>();
  for (const { item, count } of fresh.map(readCounted)) named.set(item, (named.get(item) ?? 0) + count);
  const wanted: Counted[] = [];
  for (const { item, count, reuse } of hardware) {
    if (reuse) continue;
    // "bolt M12×90 10.9" is the new one for the hardware "bolt M12×90".
    const same = [...named.keys()].find((name) => name === item || name.startsWith(`${item} `));
    if (same === undefined) wanted.push({ item, count });
    else named.set(same, Math.max(count, named.get(same) as number));
  }
  return [...[...named].map(([item, count]) => ({ item, count })), ...wanted];
}

/** The same things of all steps together. */
function gather(steps: readonly KitStep[], of: (step: KitStep) => readonly Counted[]): Wanted[] {
  const wanted = new Map<string, { count: number; readonly steps: number[] }>();
  for (const step of steps)
    for (const { item, count } of of(step)) {
      const known = wanted.get(item);
      if (known === undefined) wanted.set(item, { count, steps: [step.number] });
      else {
        known.count += count;
        if (known.steps.at(-1) !== step.number) known.steps.push(step.number);
      }
    }
  return [...wanted].map(([item, one]) => ({ item, ...one })).sort((a, b) => naturally(a.item, b.item));
}

/** Things that go in and come out again: the most that are in at once, and what does not come out even. */
function through(
  steps: readonly KitStep[],
  into: (step: KitStep) => readonly Counted[],
  outOf: (step: KitStep) => readonly Counted[],
): { readonly wanted: Wanted[]; readonly uneven: Uneven[] } {
  const used = new Map<string, { now: number; most: number; readonly steps: number[] }>();
  const held = new Map<
    string,
    { readonly item: string; readonly id: string; readonly label: string; count: number; readonly step: number }
  >();
  const uneven: Uneven[] = [];
  for (const step of steps) {
    for (const { item, count } of outOf(step)) {
      const key = `${step.id}\n${item}`;
      const one = held.get(key);
      const out = Math.min(count, one?.count ?? 0);
      if (one !== undefined) one.count -= out;
      const kind = used.get(item);
      if (kind !== undefined) kind.now -= out;
      if (count > out)
        uneven.push({
          what: "taken out and never put in",
          item,
          count: count - out,
          at: step.label,
          step: step.number,
        });
    }
    for (const { item, count } of into(step)) {
      const key = `${step.id}\n${item}`;
      const one = held.get(key);
      if (one === undefined) held.set(key, { item, id: step.id, label: step.label, count, step: step.number });
      else one.count += count;
      const kind = used.get(item) ?? { now: 0, most: 0, steps: [] };
      used.set(item, kind);
      kind.now += count;
      kind.most = Math.max(kind.most, kind.now);
      if (kind.steps.at(-1) !== step.number) kind.steps.push(step.number);
    }
  }
  for (const { item, label, count, step } of held.values())
    if (count > 0) uneven.push({ what: "put in and never taken out", item, count, at: label, step });
  return {
    wanted: [...used]
      .map(([item, { most, steps: at }]) => ({ item, count: most, steps: at }))
      .sort((a, b) => naturally(a.item, b.item)),
    uneven,
  };
}

function bagsOf(steps: readonly KitStep[]): { readonly bags: KitBag[]; readonly uneven: Uneven[] } {
  const out = new Map<string, KitStep>();
  const bags: KitBag[] = [];
  const uneven: Uneven[] = [];
  const pieces = (hardware: readonly Hardware[], reuse: boolean): number =>
    hardware.reduce((sum, one) => sum + (one.reuse === reuse ? one.count : 0), 0);
  const bag = (step: KitStep, back?: KitStep): KitBag => ({
    connection: step.id,
    label: step.label,
    out: step.number,
    ...(back === undefined ? {} : { in: back.number }),
    ...(step.position === undefined ? {} : { position: step.position }),
    hardware: step.hardware,
    again: pieces(step.hardware, true),
    scrap: pieces(step.hardware, false),
  });
  for (const step of steps) {
    if (step.hardware.length === 0) continue;
    if (step.kind === "release") out.set(step.id, step);
    if (step.kind !== "refit") continue;
    const released = out.get(step.id);
    out.delete(step.id);
    if (released !== undefined) bags.push(bag(released, step));
    for (const { item, count, reuse } of step.hardware) {
      const there = released?.hardware.find((one) => one.item === item)?.count ?? 0;
      if (reuse && count > there)
        uneven.push({
          what: "goes in and never came out",
          item,
          count: count - there,
          at: step.label,
          step: step.number,
        });
    }
  }
  for (const step of out.values()) {
    bags.push(bag(step));
    for (const { item, count, reuse } of step.hardware)
      if (reuse) uneven.push({ what: "comes out and never goes in", item, count, at: step.label, step: step.number });
  }
  return { bags: bags.sort((a, b) => a.out - b.out), uneven };
}

function fluidsOf(steps: readonly KitStep[]): (Fluid & { readonly steps: readonly number[] })[] {
  const fluids = new Map<string, { litres: number; readonly unstated: string[]; readonly steps: number[] }>();
  for (const { drained, label, number } of steps)
    for (const { fluid, litres } of drained) {
      const one = fluids.get(fluid) ?? { litres: 0, unstated: [], steps: [] };
      fluids.set(fluid, one);
      if (litres === undefined) one.unstated.push(label);
      else one.litres += litres;
      one.steps.push(number);
    }
  return [...fluids]
    .map(([fluid, one]) => ({ fluid, ...one, litres: Number(one.litres.toFixed(9)) }))
    .sort((a, b) => naturally(a.fluid, b.fluid));
}

function toolsOf(steps: readonly KitStep[]): Kit["tools"] {
  const places = new Map<string, Map<string, number[]>>();
  for (const { position = "Anywhere", tools, number } of steps)
    for (const tool of tools) {
      const here = places.get(position) ?? new Map<string, number[]>();
      places.set(position, here);
      here.set(tool, [...(here.get(tool) ?? []), number]);
    }
  return [...places].map(([position, tools]) => ({
    position,
    tools: [...tools].map(([tool, at]) => ({ tool, steps: at })).sort((a, b) => naturally(a.tool, b.tool)),
  }));
}
