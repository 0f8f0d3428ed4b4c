// Owns the measure of the ledger: folds and gates at size, a replan, interleavings that end in one state, and gates against a second reading.

import {
  askGate,
  type Body,
  type Brief,
  briefOf,
  type Entry,
  Ledger,
  replanRun,
  type Told,
  verifyEntries,
} from "../../src/ledger/index.ts";
import { orderFor, type Plan } from "../../src/plan/index.ts";
import { missingForLift, missingForStart } from "../../test/gate-oracle.ts";
import {
  chanceOf,
  jobOf,
  MORNING,
  PEOPLE,
  pictureOf,
  playJob,
  type Saying,
  TestDevice,
  writeJob,
} from "../../test/run.ts";

export interface LedgerRow {
  readonly what: string;
  readonly least: number;
  readonly median: number;
  readonly unit: string;
  readonly bar: number | string;
}

export interface TrialRow {
  readonly what: string;
  readonly trials: number;
  readonly failed: number;
  readonly note: string;
}

const CONNECTIONS = 2000;
const ENTRIES = 20_000;

/** A machine of so many connections between two halves, each with a torque; no real one. */
const largeBrief = (): Brief => {
  const joints = Array.from({ length: CONNECTIONS }, (_, n) => ({
    id: `joint-${n}`,
    label: `Joint ${n}`,
    joins: ["frame", `part-${n % 100}`],
    planned: "release" as const,
    before: false,
    hidden: n % 7 === 0,
    torque: { aim: 40, written: "40 N·m", proposal: false },
    critical: n % 10 === 0,
    locks: n % 9 === 0,
    plugs: n % 3,
    hardware: [{ item: "bolt M10×30", count: 4 }],
    fresh: [],
  }));
  const parts = [
    { id: "frame", label: "Frame", fixed: true },
    ...Array.from({ length: 100 }, (_, n) => ({ id: `part-${n}`, label: `Part ${n}`, fixed: false })),
  ];
  return {
    ...jobOf("bench-pump", "shaft-seal").brief,
    joints,
    parts,
    steps: [],
    looks: [],
    lifts: [
      {
        task: "lift-off",
        label: "Lift",
        parts: parts.slice(1).map(({ id }) => id),
        cut: joints.map(({ id }) => id),
        empties: [],
      },
    ],
  };
};

/** Out and back of every connection: ten entries each. */
const largeRun = (): readonly Told[] => {
  const device = new TestDevice(5, "run-1");
  const told: Told[] = [];
  const say = (author: string, body: Body) => told.push(device.write(author, body, MORNING + told.length * 1000));
  for (let n = 0; n < CONNECTIONS; n++) {
    const at = `joint-${n}`;
    say("emil", { kind: "match marked", at });
    say("emil", { kind: "released", at });
    say("emil", { kind: "counted", at, item: "bolt M10×30", count: 4, way: "out" });
    say("frida", { kind: "verified", at, found: "loose" });
  }
  for (let n = 0; n < CONNECTIONS; n++) {
    const at = `joint-${n}`;
    say("emil", { kind: "in place", at });
    say("emil", { kind: "torqued", at, torque: "40 N·m", tool: "torque wrench" });
    say("dora", { kind: "torque value", at, torque: "40 N·m", tool: "other wrench" });
    say("emil", { kind: "counted", at, item: "bolt M10×30", count: 4, way: "in" });
    say("emil", { kind: "refitted", at });
    say("frida", { kind: "verified", at, found: "made" });
  }
  return told;
};

/** Least and median of some goes, in milliseconds. */
const timed = (what: string, bar: number | string, goes: number, work: () => unknown): LedgerRow => {
  const times = Array.from({ length: goes }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return { what, least: times[0] ?? 0, median: times[Math.floor(goes / 2)] ?? 0, unit: "ms", bar };
};

export const measureLedger = (): readonly LedgerRow[] => {
  const brief = largeBrief();
  const told = largeRun();
  const entries = told.map(({ entry }) => entry);
  const standing = (of: Ledger) =>
    of.contradictions().length + brief.joints.filter(({ id }) => of.joint(id).state === "proved").length;
  if (entries.length !== ENTRIES) throw new Error(`${entries.length} entries`);
  const rows = [
    timed(`fold of ${ENTRIES} entries, every connection asked`, 150, 9, () => standing(new Ledger(brief, entries))),
    timed("the same from their texts", "", 5, () =>
      standing(
        new Ledger(
          brief,
          told.map(({ text }) => JSON.parse(text) as Entry),
        ),
      ),
    ),
  ];
  const ledger = new Ledger(brief, entries.slice(0, -2000));
  standing(ledger);
  let next = ENTRIES - 2000;
  rows.push(
    timed("one more entry, and the contradictions", 1, 1000, () => {
      ledger.add(entries[next++] as Entry);
      return ledger.contradictions().length;
    }),
  );
  const half = new Ledger(brief, entries.slice(0, CONNECTIONS * 4));
  rows.push(
    timed(`lift gate over ${CONNECTIONS} connections, loose`, 50, 15, () => askGate(half, "lift", { decides: true })),
  );
  rows.push(
    timed(`lift gate, nothing folded yet`, "", 5, () =>
      askGate(new Ledger(brief, entries.slice(0, CONNECTIONS * 4)), "lift", { decides: true }),
    ),
  );
  const whole = new Ledger(brief, entries);
  rows.push(
    timed(`start-up gate over ${CONNECTIONS} connections`, 50, 15, () => askGate(whole, "start-up", { decides: true })),
  );
  const device = told[0]?.entry.device ?? "";
  const key = new TestDevice(5, "run-1").pens.pen.identity.key;
  rows.push(
    timed("proof of 2,000 entries, hashes and signatures", "", 1, () =>
      verifyEntries("run-1", told.slice(0, 2000), new Map([[device, key]])),
    ),
  );
  rows.push(...measureReplan());
  return rows;
};

/** A finding in the middle of the demo's main job, with a hundred steps and more left. */
const measureReplan = (): readonly LedgerRow[] => {
  const { brief, vehicle } = jobOf("plover-28", "clutch-plate");
  const made = (plan: Plan) =>
    briefOf(vehicle, plan, { run: "run-1", order: "order-1", plan: "plan-2", version: 1, people: PEOPLE });
  return [0.3, 0.6].map((share) => {
    const said = playJob(brief);
    const device = new TestDevice(1, "run-1");
    const entries = writeJob(said.slice(0, Math.floor(share * said.length)), device).map(({ entry }) => entry);
    const open =
      brief.joints.find(
        ({ id, planned }) => planned !== undefined && !entries.some(({ body }) => "at" in body && body.at === id),
      )?.id ?? "bell-bolts";
    const finding: Body = { kind: "finding", what: "seized", about: open, takes: "20 min", text: "seized" };
    const ledger = new Ledger(brief, [...entries, device.write("emil", finding, MORNING + 1e9).entry]);
    const replan = () => replanRun(vehicle, orderFor("clutch-plate"), ledger, made);
    const found = replan();
    const left = found.kind === "plan" ? found.left : 0;
    return timed(`replan on a finding, ${left} person-minutes left`, 500, 7, replan);
  });
};

/** Histories on 3 to 8 devices with partitions, duplicates and clocks that are an hour wrong; each shuffled again and again. */
export const interleave = (histories: number, each: number): TrialRow => {
  const { brief } = jobOf("bench-pump", "shaft-seal");
  let failed = 0;
  for (let seed = 1; seed <= histories; seed++) {
    const chance = chanceOf(seed);
    const pick = <T>(list: readonly T[]): T => list[Math.floor(chance() * list.length)] as T;
    const devices = Array.from(
      { length: 3 + (seed % 6) },
      (_, n) => new TestDevice(seed * 100 + n, "run-1", (chance() - 0.5) * 7_200_000),
    );
    const told: Told[] = [];
    const job: readonly Saying[] = playJob(brief);
    for (const [n, said] of job.entries()) {
      const device = pick(devices);
      if (chance() < 0.3) device.see(told.filter(() => chance() < 0.7));
      const now = MORNING + n * 60_000;
      const { author, body } = chance() < 0.1 ? { author: pick(PEOPLE).id, body: pick(job).body } : said;
      told.push(device.write(author, body, now));
      if (chance() < 0.05)
        told.push(device.write("frida", { kind: "correction", of: pick(told).entry.id, why: "by mistake" }, now));
    }
    const entries = told.map(({ entry }) => entry);
    const wanted = pictureOf(new Ledger(brief, entries));
    for (let round = 0; round < each; round++) {
      const order = [...entries, ...entries.filter(() => chance() < 0.2)]
        .map((entry) => [chance(), entry] as const)
        .sort(([a], [b]) => a - b);
      if (
        pictureOf(
          new Ledger(
            brief,
            order.map(([, entry]) => entry),
          ),
        ) !== wanted
      )
        failed++;
    }
  }
  return {
    what: "interleavings that end in one state",
    trials: histories * each,
    failed,
    note: `${histories} histories`,
  };
};

/** Random histories of a job; a gate that is open while the second reading finds something missing has failed. */
export const contest = (histories: number): readonly TrialRow[] => {
  const { brief } = jobOf("bench-pump", "shaft-seal");
  const lift = brief.lifts[0]?.task ?? "";
  const job = playJob(brief);
  const until = job.findIndex(({ body }) => body.kind === "passed" && body.gate === "lift");
  const count = { lift: { open: 0, failed: 0 }, start: { open: 0, failed: 0 } };
  for (let seed = 1; seed <= histories; seed++) {
    const entries = (said: readonly Saying[], salt: number): readonly Entry[] => {
      const chance = chanceOf(seed * 7 + salt);
      const much = [0.005, 0.02, 0.08][seed % 3] ?? 0;
      const pick = <T>(list: readonly T[]): T => list[Math.floor(chance() * list.length)] as T;
      const device = new TestDevice(seed, "run-1");
      const told: Told[] = [];
      for (const [n, { author, body }] of said.entries()) {
        if (chance() < much) continue;
        const now = MORNING + n * 60_000;
        const one = device.write(chance() < much ? pick(PEOPLE).id : author, body, now);
        told.push(one);
        if (body.kind === "approval")
          told.push(device.write("store", { kind: "confirmed", approval: one.entry.id }, now));
        if (chance() < much / 4)
          told.push(device.write("frida", { kind: "correction", of: pick(told).entry.id, why: "by mistake" }, now));
        if (chance() < much / 4) told.push(device.write("emil", pick(said).body, now));
      }
      return told.map(({ entry }) => entry);
    };
    const lifting = entries(job.slice(0, until), 1);
    if (askGate(new Ledger(brief, lifting), "lift", { decides: true })[0]?.open === true) {
      count.lift.open++;
      if (missingForLift(brief, lift, lifting).length > 0) count.lift.failed++;
    }
    const all = entries(job, 2);
    if (askGate(new Ledger(brief, all), "start-up", { decides: true })[0]?.open === true) {
      count.start.open++;
      if (missingForStart(brief, all).length > 0) count.start.failed++;
    }
  }
  return [
    {
      what: "lift gate open with something missing",
      trials: histories,
      failed: count.lift.failed,
      note: `${count.lift.open} open`,
    },
    {
      what: "start-up gate open with something missing",
      trials: histories,
      failed: count.start.failed,
      note: `${count.start.open} open`,
    },
  ];
};
