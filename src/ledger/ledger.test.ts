import { expect, test } from "vitest";
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
import { compareEntries, type Entry, type Told } from "./entry.ts";
import { type Body, KINDS } from "./kinds.ts";
import { Ledger } from "./ledger.ts";
import { RULES, type RuleId } from "./rules.ts";
import { TASK_STATES, TASK_TABLE } from "./task.ts";

const { brief } = jobOf("bench-pump", "shaft-seal");

const write = (...said: readonly (readonly [author: string, body: Body])[]) => {
  const device = new TestDevice(3, "run-1");
  return said.map(([author, body], n) => device.write(author, body, MORNING + n * 1000).entry);
};
const rulesOf = (entries: readonly Entry[]): readonly RuleId[] =>
  new Ledger(brief, entries).contradictions().map(({ rule }) => rule);

test("the table of tasks, walked to by entries", () => {
  const road = { open: [], done: ["done"], failed: ["failed"] } as const;
  const bodyOf = (kind: keyof (typeof TASK_TABLE)["open"]): Body =>
    kind === "drained" || kind === "filled"
      ? { kind, task: "drain-oil", amounts: { "hydraulic oil": "12 L" } }
      : kind === "failed"
        ? { kind, task: "drain-oil", reading: "it drips" }
        : { kind, task: "drain-oil" };
  for (const state of TASK_STATES)
    for (const move of ["done", "undone", "failed", "drained", "filled"] as const) {
      const entries = write(...[...road[state], move].map((kind) => ["emil", bodyOf(kind)] as const));
      const ledger = new Ledger(brief, entries);
      const cell = TASK_TABLE[state][move];
      const rules = ledger.contradictions().map(({ rule }) => rule);
      const isRule = cell.startsWith("T");
      expect([ledger.task("drain-oil").state, rules], `${state} × ${move}`).toEqual([
        isRule ? state : cell,
        isRule ? [cell] : [],
      ]);
    }
});

test("[K1] [K2] [K3] only who holds the key restores an energy", () => {
  expect(
    rulesOf(
      write(
        ["emil", { kind: "isolated", energy: "24 V", key: "emil" }],
        ["dora", { kind: "isolated", energy: "24 V", key: "dora" }],
      ),
    ),
  ).toEqual(["K1"]);
  expect(rulesOf(write(["emil", { kind: "restored", energy: "24 V" }]))).toEqual(["K2"]);
  const entries = write(
    ["emil", { kind: "isolated", energy: "24 V", key: "emil" }],
    ["dora", { kind: "restored", energy: "24 V" }],
  );
  expect(rulesOf(entries)).toEqual(["K3"]);
  expect(new Ledger(brief, entries).energy("24 V").off?.key).toBe("emil");
});

test("[P1] [P2] a part is where somebody put it", () => {
  expect(rulesOf(write(["emil", { kind: "brought back", part: "valve" }]))).toEqual(["P1"]);
  const two = write(
    ["emil", { kind: "hung aside", part: "valve", to: "stand" }],
    ["dora", { kind: "hung aside", part: "valve", to: "pump" }],
  );
  expect(rulesOf(two)).toEqual(["P2"]);
  const laid = write(
    ["emil", { kind: "hung aside", part: "valve", to: "stand" }],
    ["emil", { kind: "set aside", part: "valve", place: "bench 1" }],
  );
  expect(rulesOf(laid)).toEqual([]);
  expect(new Ledger(brief, laid).part("valve").away).toMatchObject({ how: "set aside", place: "bench 1" });
});

test("[M1] more caps out than in", () => {
  const entries = write(
    ["emil", { kind: "put in", item: "guide stud", count: 2 }],
    ["emil", { kind: "taken out", item: "guide stud", count: 3 }],
  );
  expect(rulesOf(entries)).toEqual(["M1"]);
  expect(rulesOf(entries.toReversed())).toEqual(["M1"]);
});

test("[U1] an id that the vehicle file does not have is kept and shown", () => {
  const ledger = new Ledger(brief, write(["emil", { kind: "released", at: "couplin" }]));
  expect(ledger.contradictions()).toMatchObject([{ rule: "U1", about: "couplin" }]);
});

test("[F1] released before what must come first, by the clock and not by the order of arrival", () => {
  const marten = jobOf("marten-t1", "swap-module").brief;
  const device = new TestDevice(3, "run-1");
  const early = device.write("emil", { kind: "released", at: "dc-plus" }, MORNING);
  const said = playJob(marten).slice(0, 30);
  const rest = writeJob(said, device);
  const late = new Ledger(
    marten,
    [...rest, early].map(({ entry }) => entry),
  );
  expect(late.contradictions().map(({ rule, about }) => [rule, about])).toContainEqual(["F1", "dc-plus"]);
  // What the plan opens to get at the first things is no breach.
  expect(late.contradictions().map(({ about }) => about)).not.toContain("floor-plate-screws");
});

test("a correction takes its entry back; a correction of that brings it back; neither is ever deleted", () => {
  const device = new TestDevice(3, "run-1");
  const one = device.write("emil", { kind: "released", at: "coupling" }, MORNING);
  const two = device.write("emil", { kind: "correction", of: one.entry.id, why: "wrong one" }, MORNING + 1);
  const three = device.write("emil", { kind: "correction", of: two.entry.id, why: "right after all" }, MORNING + 2);
  const state = (...told: readonly Told[]) =>
    new Ledger(
      brief,
      told.map(({ entry }) => entry),
    ).joint("coupling").state;
  expect([state(one), state(one, two), state(two, one), state(three, two, one), state(three, one, two)]).toEqual([
    "released",
    "tied",
    "tied",
    "released",
    "released",
  ]);
});

test("[C1] nobody takes another's entry back but a foreman", () => {
  const device = new TestDevice(3, "run-1");
  const found = device.write(
    "emil",
    { kind: "finding", what: "sheared", text: "stud", about: "flange-bolts" },
    MORNING,
  );
  const dora = device.write("dora", { kind: "correction", of: found.entry.id, why: "no matter" }, MORNING + 1);
  const ledger = new Ledger(brief, [found.entry, dora.entry]);
  expect(ledger.findings()).toMatchObject([{ state: "open" }]);
  expect(ledger.contradictions()).toMatchObject([{ rule: "C1", entries: [dora.entry.id] }]);
  ledger.add(
    device.write("frida", { kind: "correction", of: found.entry.id, why: "booked on the wrong run" }, MORNING + 2)
      .entry,
  );
  expect(ledger.findings()).toEqual([]);
});

test("a contradiction stands until an entry settles it, and stands again when that is taken back", () => {
  const device = new TestDevice(3, "run-1");
  const entries = ["emil", "dora"].map(
    (author, n) => device.write(author, { kind: "released", at: "coupling" }, MORNING + n).entry,
  );
  const ledger = new Ledger(brief, entries);
  const [found] = ledger.contradictions();
  const settled = device.write(
    "frida",
    { kind: "settled", contradiction: found!.key, how: "Emil did, Dora looked" },
    MORNING + 5,
  );
  ledger.add(settled.entry);
  expect(ledger.contradictions()).toEqual([]);
  ledger.add(
    device.write("frida", { kind: "correction", of: settled.entry.id, why: "asked again" }, MORNING + 6).entry,
  );
  expect(ledger.contradictions()).toEqual([found]);
});

test("[D1] two entries with one id: both orders of arrival stand alike, and it is shown", () => {
  const one = new TestDevice(3, "run-1").write("emil", { kind: "released", at: "coupling" }, MORNING).entry;
  const two: Entry = { ...one, signature: "0".repeat(128), body: { kind: "released", at: "case-drain" } };
  const [a, b] = [new Ledger(brief, [one, two]), new Ledger(brief, [two, one])];
  expect(pictureOf(a)).toBe(pictureOf(b));
  expect(a.contradictions().map(({ rule }) => rule)).toEqual(["D1"]);
});

test("[W1] the shift is taken over by the one it was handed to, by name", () => {
  expect(
    rulesOf(write(["emil", { kind: "handing over", to: "dora" }], ["dora", { kind: "taken over", from: "emil" }])),
  ).toEqual([]);
  expect(
    rulesOf(write(["emil", { kind: "handing over", to: "dora" }], ["frida", { kind: "taken over", from: "emil" }])),
  ).toEqual(["W1"]);
  expect(rulesOf(write(["dora", { kind: "taken over", from: "emil" }]))).toEqual(["W1"]);
});

test("a claim is a person's own: he comes, and goes, and others see him there", () => {
  const entries = write(
    ["emil", { kind: "claimed", place: "far", system: "hydraulics" }],
    ["dora", { kind: "claimed", system: "hydraulics" }],
    ["emil", { kind: "left", place: "far" }],
  );
  const ledger = new Ledger(brief, entries);
  expect(ledger.claims().map(({ kind, place, people }) => [kind, place, [...people.keys()]])).toEqual([
    ["system", "hydraulics", ["emil", "dora"]],
  ]);
});

test("every rule of the ledger is worn by a test here, in joint.test.ts or in gate.test.ts", async () => {
  const { readFileSync } = await import("node:fs");
  const texts = ["ledger", "joint", "gate"].map((name) =>
    readFileSync(new URL(`./${name}.test.ts`, import.meta.url), "utf8"),
  );
  const table = JSON.stringify(TASK_TABLE);
  const bare = Object.keys(RULES).filter(
    (rule) => !texts.some((text) => text.includes(`[${rule}]`)) && !table.includes(`"${rule}"`),
  );
  // J2, J4 to J7 are cells of the joint's table, each walked to there.
  expect(bare).toEqual(["J2", "J4", "J5", "J6", "J7"]);
  expect(Object.keys(KINDS).length).toBeGreaterThan(40);
});

/** A job done on several devices that hear of each other now and then, with clocks that are wrong, and people who do the same twice or take things back. */
const history = (seed: number): readonly Told[] => {
  const chance = chanceOf(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(chance() * list.length)] as T;
  const devices = Array.from(
    { length: 3 + Math.floor(chance() * 6) },
    (_, n) => new TestDevice(seed * 100 + n, "run-1", (chance() - 0.5) * 7_200_000),
  );
  const said: Saying[] = [...playJob(brief)];
  for (let n = 0; n < 15; n++)
    said.splice(Math.floor(chance() * said.length), chance() < 0.5 ? 1 : 0, { ...pick(said), author: pick(PEOPLE).id });
  const told: Told[] = [];
  for (const [n, { author, body }] of said.entries()) {
    const device = pick(devices);
    if (chance() < 0.3) device.see(told.filter(() => chance() < 0.8));
    const now = MORNING + n * 60_000;
    told.push(device.write(author, body, now));
    const other = pick(told).entry;
    if (chance() < 0.06)
      told.push(
        device.write(
          pick([other.author, "frida", "dora"]),
          { kind: "correction", of: other.id, why: "by mistake" },
          now + 1,
        ),
      );
  }
  const [trouble] = new Ledger(
    brief,
    told.map(({ entry }) => entry),
  ).contradictions();
  if (trouble !== undefined)
    told.push(pick(devices).write("frida", { kind: "settled", contradiction: trouble.key, how: "asked" }, MORNING));
  return told;
};

const shuffled = <T>(list: readonly T[], chance: () => number): readonly T[] =>
  list
    .map((one) => [chance(), one] as const)
    .sort(([a], [b]) => a - b)
    .map(([, one]) => one);

test("any order of arrival, anything twice, in any parts: one standing", () => {
  for (let seed = 1; seed <= 12; seed++) {
    const entries = history(seed).map(({ entry }) => entry);
    const wanted = pictureOf(new Ledger(brief, entries));
    const chance = chanceOf(seed);
    for (let round = 0; round < 8; round++) {
      const ledger = new Ledger(brief);
      for (const [n, entry] of shuffled([...entries, ...entries.filter(() => chance() < 0.3)], chance).entries()) {
        ledger.add(entry);
        // Looked at in between, it must not remember what it saw.
        if (n % 17 === 0) ledger.contradictions();
      }
      expect(pictureOf(ledger), `seed ${seed}, round ${round}`).toBe(wanted);
    }
  }
});

test("the one order never puts an entry before what its device had seen", () => {
  const told = history(5).map(({ entry }) => entry);
  const byNumber = new Map(told.map((entry) => [`${entry.device} ${entry.number}`, entry]));
  for (const entry of told) {
    for (const [device, number] of Object.entries(entry.seen))
      expect(compareEntries(byNumber.get(`${device} ${number}`)!, entry)).toBeLessThan(0);
    const before = byNumber.get(`${entry.device} ${entry.number - 1}`);
    if (before !== undefined) expect(compareEntries(before, entry)).toBeLessThan(0);
  }
});
