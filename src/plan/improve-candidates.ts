// Owns the rules that look at a vehicle and at the plans of its jobs for what might be made quicker: each change they propose, with what made it worth trying.
//
// The minutes of a changed step are first guesses: out of the catalogue of times where it has them, else ours and called so.

import { guess, medianOf, TOOLS } from "../times/index.ts";
import type { Connection, Kind, Need, Vehicle } from "../vehicle/index.ts";
import { accessOf } from "./access.ts";
import type { Reckoned } from "./improve-base.ts";
import { type Change, changeOf } from "./improve-change.ts";
import { refitOf } from "./refit.ts";

/** A job with how often it comes. */
export interface Weighed {
  readonly weight: number;
  readonly base: Reckoned;
}

/** Minutes to part and to join a coupling that shuts itself, with a look at it: ours. */
const QUICK = { off: 0.5, on: 0.5 };
const QUICK_KINDS: readonly Kind[] = ["hose", "line"];
const SOFT_KINDS: readonly Kind[] = ["hose", "line", "cable", "wire"];
const CAPTIVE_KINDS: readonly Kind[] = ["cover fixing", "flange", "bracket"];
const TOOL_KINDS: readonly Kind[] = ["bolted joint", "mount", "flange", "shaft joint", "coupling", "bracket"];
/** (0.15 + 0.20) ÷ (0.21 + 0.46): captive screw against machine screw, off and on, as MIL-HDBK-472 Procedure V has them (from memory). */
const CAPTIVE = 0.35 / 0.67;

/** Opening and closing a hatch with four quarter-turn fasteners, out of the catalogue. */
const hatchOf = (): { readonly off: number; readonly on: number } => {
  const made = guess({ kind: "cover fixing", fastener: "quarter-turn", count: 4 });
  const tenths = (value: number) => Math.round(value * 10) / 10;
  return "off" in made ? { off: tenths(medianOf(made.off)), on: tenths(medianOf(made.on)) } : { off: 0, on: 0 };
};

const idsIn = (need: Need): readonly string[] => {
  if ("all" in need) return need.all.flatMap(idsIn);
  if ("any" in need) return need.any.flatMap(idsIn);
  return "id" in need ? [need.id] : [];
};

interface Proposal {
  readonly change: Change;
  /** Person-minutes that it is about, weighed: no more than a measure of what to try first. */
  readonly about: number;
}

class Proposer {
  private readonly vehicle: Vehicle;
  private readonly jobs: readonly Weighed[];
  private readonly connections: ReadonlyMap<string, Connection>;
  private readonly proposals = new Map<string, Proposal>();

  constructor(vehicle: Vehicle, jobs: readonly Weighed[]) {
    this.vehicle = vehicle;
    this.jobs = jobs;
    this.connections = new Map(vehicle.connections.map((one) => [one.id, one]));
  }

  propose(most: number): readonly Change[] {
    this.crew();
    this.dearest();
    for (const { weight, base } of this.jobs) {
      const lifted = new Set(base.plan.lifts.flatMap(({ parts }) => parts));
      const chain = this.chain(base);
      for (const { id, way } of base.plan.releases) {
        const connection = this.connections.get(id);
        if (connection === undefined) continue;
        this.quick(connection, way, weight);
        this.captive(connection, way, weight);
        this.hatch(connection, way, weight);
        if (connection.joins.some((part) => lifted.has(part)) && !connection.joins.every((part) => lifted.has(part)))
          this.edge(connection, way, weight);
        if (chain.has(way)) this.tool(connection, way, weight);
      }
      for (const id of base.plan.tasks) this.drained(id, weight);
    }
    return [...this.proposals.values()]
      .sort((a, b) => b.about - a.about || a.change.id.localeCompare(b.change.id))
      .slice(0, most)
      .map(({ change }) => change);
  }

  /** Proposed for several jobs it is about all of them. */
  private add(change: Change, about: number): void {
    if (about <= 0) return;
    const known = this.proposals.get(change.id);
    this.proposals.set(change.id, { change: known?.change ?? change, about: about + (known?.about ?? 0) });
  }

  private minutes(connection: Connection, wayId: string): number {
    const way = connection.ways.find(({ id }) => id === wayId);
    if (way === undefined) return 0;
    const refit = refitOf(connection, way);
    return way.people * way.time + refit.people * refit.time;
  }

  /** Person-minutes of the connections of these that are released in some plan anyhow for nobody knows what. */
  private behind(needs: readonly Need[]): readonly Connection[] {
    return [...new Set(needs.flatMap(idsIn))].flatMap((id) => this.connections.get(id) ?? []);
  }

  private quick(connection: Connection, way: string, weight: number): void {
    if (!QUICK_KINDS.includes(connection.kind)) return;
    const spared = this.minutes(connection, way) - QUICK.off - QUICK.on;
    const change = changeOf(
      `quick:${connection.id}`,
      `Quick coupling: ${connection.label}`,
      "quick coupling",
      `${QUICK.off} min off and ${QUICK.on} min on, shut by itself (ours)`,
    );
    this.add({ ...change, steps: [{ of: connection.id, ...QUICK }] }, weight * spared);
  }

  private captive(connection: Connection, way: string, weight: number): void {
    const bolts = connection.hardware.filter(({ item }) => /\b(bolt|screw|nut)\b/i.test(item));
    const count = bolts.reduce((sum, one) => sum + one.count, 0);
    if (!CAPTIVE_KINDS.includes(connection.kind) || count < 2) return;
    const change = changeOf(
      `captive:${connection.id}`,
      `Captive bolts: ${connection.label}`,
      "captive bolts",
      `${count} fasteners; times ${CAPTIVE.toFixed(2)}, captive screw against machine screw (MIL-HDBK-472 Procedure V, from memory)`,
    );
    this.add(
      { ...change, steps: [{ of: connection.id, times: CAPTIVE }] },
      weight * this.minutes(connection, way) * (1 - CAPTIVE),
    );
  }

  /** Where a way needs others off first: a hatch, so that it needs none. */
  private hatch(connection: Connection, wayId: string, weight: number): void {
    const way = connection.ways.find(({ id }) => id === wayId);
    if (way === undefined) return;
    const behind = this.behind(way.needs);
    const about = behind.reduce((sum, one) => sum + Math.min(...one.ways.map(({ id }) => this.minutes(one, id))), 0);
    const hatch = hatchOf();
    const refit = refitOf(connection, way);
    const change = changeOf(
      `hatch:${connection.id}`,
      `Access hatch: ${connection.label}`,
      "access hatch",
      `it waits for ${behind.map(({ label }) => label).join(", ")}; the hatch takes ${hatch.off.toFixed(1)} min to open and ${hatch.on.toFixed(1)} min to shut (catalogue: four quarter-turn fasteners)`,
    );
    this.add(
      {
        ...change,
        ways: [
          {
            of: connection.id,
            label: "by a hatch",
            ...(way.at === undefined ? {} : { at: way.at }),
            off: way.people * way.time + hatch.off,
            on: refit.people * refit.time + hatch.on,
          },
        ],
      },
      weight * about,
    );
  }

  /** What crosses the edge of a lifted group parts where it crosses, at a place that is open. */
  private edge(connection: Connection, wayId: string, weight: number): void {
    const way = connection.ways.find(({ id }) => id === wayId);
    const open = this.vehicle.positions.find(({ needs, without }) => needs.length + without.length === 0);
    if (way === undefined || open === undefined || !SOFT_KINDS.includes(connection.kind)) return;
    const behind = this.behind(way.needs);
    if (behind.length === 0) return;
    const about = behind.reduce((sum, one) => sum + Math.min(...one.ways.map(({ id }) => this.minutes(one, id))), 0);
    const refit = refitOf(connection, way);
    const change = changeOf(
      `edge:${connection.id}`,
      `Re-routed to break at the group's edge: ${connection.label}`,
      "breaks at the edge",
      `parted at ${open.label} in the same time, with nothing off first`,
    );
    this.add(
      {
        ...change,
        ways: [{ of: connection.id, label: "at the edge", at: open.id, off: way.time, on: refit.time }],
      },
      weight * about,
    );
  }

  /** The step that most is done to get at, in each job: a hatch there is tried whatever else is. */
  private dearest(): void {
    for (const { weight, base } of this.jobs) {
      const { dearest } = accessOf(base.question, base.plan);
      const connection = dearest === undefined ? undefined : this.connections.get(dearest.id);
      const way = base.plan.releases.find(({ id }) => id === dearest?.id)?.way;
      if (dearest === undefined || connection === undefined || way === undefined) continue;
      this.hatch(connection, way, weight);
      const known = this.proposals.get(`hatch:${connection.id}`);
      if (known !== undefined)
        this.proposals.set(known.change.id, { ...known, about: known.about + weight * dearest.labour });
    }
  }

  /** Ways on the longest binding chain: the schedule becomes no shorter while they are as long. */
  private chain({ planned, works, elapsed }: Reckoned): ReadonlySet<string> {
    const binding = [...works].filter(
      ([id, work]) =>
        this.connections.has(work.replace(/^back:/, "").replace(/\/\d+$/, "")) &&
        (planned.finishes(new Map([[id, 0.5]]))[0] ?? elapsed) < elapsed - 1e-6,
    );
    return new Set(binding.map(([, work]) => work.replace(/^back:/, "")));
  }

  private tool(connection: Connection, way: string, weight: number): void {
    const factor = TOOLS.find(({ id }) => id === "power");
    if (factor === undefined || !TOOL_KINDS.includes(connection.kind)) return;
    const change = changeOf(
      `tool:${connection.id}`,
      `Special tool: ${connection.label}`,
      "special tool",
      `on the longest chain of a job; times ${factor.times}, as the catalogue has a power tool (${factor.origin.source})`,
    );
    this.add(
      { ...change, steps: [{ of: connection.id, times: factor.times }] },
      weight * this.minutes(connection, way) * (1 - factor.times),
    );
  }

  private drained(id: string, weight: number): void {
    const task = this.vehicle.tasks.find((one) => one.id === id);
    if (task === undefined || task.drains.length === 0) return;
    const change = changeOf(
      `drained:${id}`,
      `Nothing to drain: ${task.label}`,
      "nothing to drain",
      `${task.drains.join(", ")} kept in by valves at the edge, or drained beforehand by somebody else`,
    );
    const back = task.back === undefined ? 0 : task.back.people * task.back.time;
    this.add({ ...change, spare: [id] }, weight * (task.people * task.time + back + (task.wait ?? 0)));
  }

  /** Always worth a trial: it is the whole job's. */
  private crew(): void {
    const count = Math.max(...this.jobs.map(({ base }) => base.crew.crew.people.length));
    const able = this.jobs.every(({ base }) => base.crew.crew.able);
    if (able)
      this.add(
        {
          ...changeOf(
            "one-more",
            `One person more: ${count + 1} people`,
            "one person more",
            "labour stays, the schedule shortens",
          ),
          people: 1,
        },
        Number.POSITIVE_INFINITY,
      );
    for (const { weight, base } of this.jobs)
      for (const tool of base.scarce) {
        const have = base.crew.problem.stocks.find(({ id }) => id === `tool:${tool}`)?.count ?? 1;
        this.add(
          {
            ...changeOf(
              `second:${tool}`,
              `One more: ${tool}`,
              "one tool more",
              `there ${have === 1 ? "is one" : `are ${have}`}, and the longest chain of a job waits for it`,
            ),
            tools: [tool],
          },
          weight * Number.MAX_SAFE_INTEGER,
        );
      }
  }
}

/** The changes most worth trying, at most so many. */
export const candidates = (vehicle: Vehicle, jobs: readonly Weighed[], most: number): readonly Change[] =>
  jobs.length === 0 ? [] : new Proposer(vehicle, jobs).propose(most);
