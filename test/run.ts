// Owns the run that the tests of the ledger play: a demo's plan as a brief, devices with pens, and every entry of a job from the first isolation to the hand-over.

import { readFileSync } from "node:fs";
import {
  askGate,
  type Body,
  type Brief,
  type BriefPerson,
  briefOf,
  type Ledger,
  makeIdentity,
  type Pen,
  see,
  type Told,
  takePen,
  write,
} from "../src/ledger/index.ts";
import { makePlan, orderFor, type Plan, translate } from "../src/plan/index.ts";
import { solve } from "../src/release/index.ts";
import { nodesSigner } from "../src/server/signatures.ts";
import { readVehicle, type Vehicle } from "../src/vehicle/index.ts";

/** Three people of no real name: two who work, and one who answers for the lift. */
export const PEOPLE: readonly BriefPerson[] = [
  { id: "dora", label: "Dora", roles: ["mechanic", "verifier", "lift approver"], skills: ["fitter", "rigger"] },
  { id: "emil", label: "Emil", roles: ["mechanic", "verifier"], skills: ["fitter"] },
  { id: "frida", label: "Frida", roles: ["mechanic", "verifier", "foreman"], skills: ["electrician", "refrigerant"] },
];

const planned = new Map<string, { vehicle: Vehicle; plan: Plan; brief: Brief }>();

/** A demo file's job, planned once and kept. */
export const jobOf = (name: string, ...jobs: readonly string[]) => {
  const key = [name, ...jobs].join(" ");
  const known = planned.get(key);
  if (known !== undefined) return known;
  const reading = readVehicle(`demo/${name}.vehicle.yaml`, (path) => readFileSync(path, "utf8"));
  const vehicle = reading.vehicle;
  if (vehicle === undefined) throw new Error(`no vehicle in ${name}`);
  const question = translate(vehicle, orderFor(...jobs));
  const plan = makePlan(question, solve(question.problem));
  if (plan === undefined) throw new Error(`no plan for ${key}`);
  const brief = briefOf(vehicle, plan, { run: "run-1", order: "order-1", plan: "plan-1", version: 1, people: PEOPLE });
  const made = { vehicle, plan, brief };
  planned.set(key, made);
  return made;
};

/** Somebody says something. */
export interface Saying {
  readonly author: string;
  readonly body: Body;
}

/**
 * Everything that is entered in a job done as planned: Emil works, Frida verifies what he did, Dora answers for the lift. What only a proposal tightens gets the
 * figure of the proposal, and the gate stays shut for it.
 */
export const playJob = (brief: Brief): readonly Saying[] => {
  const said: Saying[] = [];
  const say = (author: string, body: Body) => said.push({ author, body });
  const joints = new Map(brief.joints.map((one) => [one.id, one]));
  const tasks = new Map(brief.tasks.map((one) => [one.id, one]));
  const hangs = new Map(brief.hangs.map((one) => [one.id, one]));
  const isolates = (id: string, isOff: boolean) => {
    for (const { energy, by } of brief.energies)
      if (by === id) say("emil", isOff ? { kind: "isolated", energy, key: "emil" } : { kind: "restored", energy });
  };
  const isolated = new Set<string>();
  const passIsolation = () => {
    if (isolated.has("passed")) return;
    isolated.add("passed");
    say("frida", { kind: "passed", gate: "isolation" });
  };
  for (const step of brief.steps) {
    const { id, action } = step;
    const joint = joints.get(id);
    const task = tasks.get(id);
    const hang = hangs.get(id);
    for (const part of step.fetch) say("emil", { kind: "brought back", part });
    if (action === "release" || action === "loosen") {
      if (joint?.matchMark !== undefined) say("emil", { kind: "match marked", at: id });
      say("emil", { kind: action === "release" ? "released" : "loosened", at: id });
      for (const { item, count } of joint?.hardware ?? [])
        say("emil", { kind: "counted", at: id, item, count, way: "out" });
      if ((joint?.plugs ?? 0) > 0) say("emil", { kind: "plugged", at: id });
      isolates(id, true);
    } else if (action === "do" && hang !== undefined) say("emil", { kind: "hung aside", part: hang.part, to: hang.to });
    else if (action === "undo" && hang !== undefined) say("emil", { kind: "brought back", part: hang.part });
    else if (action === "do" && task !== undefined) {
      const lift = brief.lifts.find((one) => one.task === id);
      if (lift !== undefined) {
        for (const one of lift.cut) say("frida", { kind: "verified", at: one, found: "loose" });
        say("dora", { kind: "approval", gate: "lift", lift: id, plan: brief.plan, signaller: "dora" });
        const load = lift.band === undefined ? "1 kN" : `${Math.round((lift.band.low + lift.band.high) / 2)} N`;
        say("dora", { kind: "trial", lift: id, load });
        say("dora", { kind: "passed", gate: "lift", lift: id });
      }
      const amounts = Object.fromEntries(task.drains.map((fluid) => [fluid, "5 L"]));
      say("emil", task.drains.length > 0 ? { kind: "drained", task: id, amounts } : { kind: "done", task: id });
      isolates(id, true);
    } else if (action === "work" || action === "perform") say("emil", { kind: "done", task: id });
    else if (action === "undo") {
      say("emil", { kind: "undone", task: id });
      isolates(id, false);
    } else if (action === "return") {
      const amounts = Object.fromEntries((task?.drains ?? []).map((fluid) => [fluid, "5 L"]));
      const isHang = hang !== undefined;
      if (isHang) say("emil", { kind: "brought back", part: hang.part });
      else if ((task?.drains.length ?? 0) > 0) say("emil", { kind: "filled", task: id, amounts });
      else say("emil", { kind: "undone", task: id });
      isolates(id, false);
    } else if (action === "refit" || action === "tighten") {
      if ((joint?.plugs ?? 0) > 0) say("emil", { kind: "unplugged", at: id });
      if (action === "refit") say("emil", { kind: "in place", at: id });
      if (joint?.torque !== undefined) {
        say("emil", { kind: "torqued", at: id, torque: joint.torque.written, tool: "torque wrench" });
        if (joint.critical)
          say("frida", { kind: "torque value", at: id, torque: joint.torque.written, tool: "torque wrench" });
      }
      if (joint?.locks === true) say("emil", { kind: "locked", at: id });
      for (const { item, count } of joint?.hardware ?? [])
        say("emil", { kind: "counted", at: id, item, count, way: "in" });
      say("emil", { kind: "refitted", at: id });
      isolates(id, false);
    } else if (action === "verify")
      for (const one of step.verify) say("frida", { kind: "verified", at: one, found: "made" });
    for (const { item, count } of step.putIn) say("emil", { kind: "put in", item, count, at: id });
    for (const { item, count } of step.takeOut) say("emil", { kind: "taken out", item, count, at: id });
    for (const part of step.setAside) say("emil", { kind: "set aside", part, place: "bench 2" });
    if (brief.first.length > 0 && brief.first.at(-1) === id && step.phase === "out") passIsolation();
  }
  say("frida", { kind: "passed", gate: "start-up" });
  return said;
};

/** Chance with a seed: mulberry32. */
export const chanceOf = (seed: number): (() => number) => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
};

/** A tablet or a terminal: it writes, it sees, and its clock may be wrong. */
export class TestDevice {
  readonly pens: { pen: Pen };
  readonly skew: number;
  private readonly chance: () => number;
  private readonly sign = nodesSigner();

  constructor(seed: number, run: string, skew = 0) {
    this.chance = chanceOf(seed);
    this.pens = { pen: takePen(makeIdentity(this.bytes(32)), run, []) };
    this.skew = skew;
  }

  write(author: string, body: Body, now: number): Told {
    const said = { author, body, now: now + this.skew, random: this.bytes(16) };
    const { told, pen } = write(this.pens.pen, said, this.sign);
    this.pens.pen = pen;
    return told;
  }

  see(told: readonly Told[]): void {
    this.pens.pen = see(this.pens.pen, told);
  }

  private bytes(count: number): Uint8Array {
    return Uint8Array.from({ length: count }, () => Math.floor(this.chance() * 256));
  }
}

/** 2026-03-02, 07:30 UTC. */
export const MORNING = Date.UTC(2026, 2, 2, 7, 30);

/** A job as one device writes it down, a minute between entries; the store takes each approval as it comes. */
export const writeJob = (said: readonly Saying[], device: TestDevice = new TestDevice(1, "run-1")): readonly Told[] => {
  const told: Told[] = [];
  for (const { author, body } of said) {
    const one = device.write(author, body, MORNING + told.length * 60_000);
    told.push(one);
    if (body.kind === "approval")
      told.push(device.write("store", { kind: "confirmed", approval: one.entry.id }, MORNING + told.length * 60_000));
  }
  return told;
};

/** How everything stands, as one text: two ledgers that stand alike have the same. */
export const pictureOf = (ledger: Ledger): string => {
  const { brief } = ledger;
  const plain = (_key: string, value: unknown): unknown => {
    if (value instanceof Map) return [...value].sort(([a], [b]) => (String(a) < String(b) ? -1 : 1));
    return value instanceof Set ? [...value].sort() : value;
  };
  const bySelf = (list: readonly unknown[]) => list.map((one) => JSON.stringify(one, plain)).sort();
  return JSON.stringify(
    {
      joints: [...brief.joints, ...brief.works].map(({ id }) => ledger.joint(id)),
      tasks: [...brief.tasks, ...brief.works].map(({ id }) => ledger.task(id)),
      energies: brief.energies.map(({ energy }) => ledger.energy(energy)),
      parts: brief.parts.map(({ id }) => ledger.part(id)),
      things: bySelf(ledger.things()),
      tools: bySelf(ledger.tools()),
      claims: bySelf(ledger.claims()),
      findings: bySelf(ledger.findings()),
      plan: ledger.planInForce(),
      contradictions: ledger.contradictions(),
      gates: [
        ...askGate(ledger, "isolation", { decides: true }),
        ...askGate(ledger, "lift", { decides: true }),
        ...askGate(ledger, "start-up", { decides: true }),
      ],
    },
    plain,
    1,
  );
};
