// The pages made of a ledger: progress, the change of shift, the past, the run as a file, the doubt of a torque, who sees what.
import { expect, test } from "vitest";
import { jobOf, MORNING, pictureOf, playJob, type Saying, TestDevice, writeJob } from "../../test/run.ts";
import { knownTo, ledgerAt } from "./history.ts";
import { Ledger } from "./ledger.ts";
import { sayPhrase } from "./phrase.ts";
import { progressOf } from "./progress.ts";
import { readRun, writeRun } from "./run-file.ts";
import { shiftPage } from "./shift.ts";
import { isHidden, torquesFor } from "./sight.ts";
import { doubtTorque } from "./torque-doubt.ts";

const { brief } = jobOf("bench-pump", "shaft-seal");
const plover = jobOf("plover-28", "clutch-plate").brief;
const emil = (body: Saying["body"]): Saying => ({ author: "emil", body });
const ledgerOf = (...said: readonly Saying[]) =>
  new Ledger(
    brief,
    writeJob(said).map(({ entry }) => entry),
  );

test("as a job is entered its steps are done in the plan's order, each once, to the last", () => {
  for (const one of [brief, plover]) {
    const entries = writeJob(playJob(one)).map(({ entry }) => entry);
    const ledger = new Ledger(one);
    let [done, furthest] = [0, 0];
    for (const entry of entries) {
      ledger.add(entry);
      const { steps } = progressOf(ledger);
      const now = steps.filter((step) => step.done).length;
      furthest = Math.max(furthest, steps.findLastIndex((step) => step.done) + 1);
      done = Math.max(done, now);
    }
    const { steps, next, apart, back, planned } = progressOf(ledger);
    expect(steps.filter((step) => !step.done).map(({ action, id }) => `${action} ${id}`)).toEqual([]);
    expect([next, furthest, done]).toEqual([[], steps.length, steps.length]);
    expect([apart, back]).toEqual([planned, planned]);
  }
}, 60_000);

test("what comes next is what the plan has first of what is not done", () => {
  expect(progressOf(new Ledger(brief)).next[0]).toMatchObject({ number: 1, done: false });
  const first = brief.steps.find(({ action }) => action === "release")!;
  const ledger = ledgerOf(emil({ kind: "released", at: first.id }));
  expect(progressOf(ledger).next.map(({ number }) => number)).not.toContain(first.number);
});

test("the page of a shift change: half done, snug, waiting, lying, off, on, in, out, and who is where", () => {
  const page = shiftPage(
    ledgerOf(
      emil({ kind: "claimed", place: "near", system: "hydraulics" }),
      emil({ kind: "drained", task: "drain-oil", amounts: { "hydraulic oil": "11.6 L" } }),
      emil({ kind: "done", task: "sling" }),
      emil({ kind: "released", at: "case-drain" }),
      emil({ kind: "loosened", at: "flange-bolts" }),
      emil({ kind: "released", at: "coupling" }),
      emil({ kind: "snug", at: "coupling" }),
      emil({ kind: "set aside", part: "guard", place: "tray 1" }),
      emil({ kind: "put in", item: "guide stud M12", count: 2, at: "flange-bolts" }),
      emil({ kind: "tool out", tool: "spanner 24", count: 1 }),
      emil({ kind: "finding", what: "damaged", about: "return-hose", text: "chafed" }),
      emil({ kind: "handing over", to: "dora" }),
    ),
  );
  expect(page).toMatchObject({
    snug: [{ id: "coupling", by: ["Emil"] }],
    half: [{ id: "flange-bolts", state: "loosened" }],
    toVerify: [{ id: "case-drain", who: ["Dora", "Frida"], where: { label: "Far side of the stand" } }],
    lying: [{ part: "guard", where: "tray 1" }],
    on: [{ task: "drain-oil", drained: { "hydraulic oil": "11.6 L" } }, { task: "sling" }],
    things: [{ item: "guide stud M12", count: 2, at: "flange-bolts" }],
    tools: [{ tool: "spanner 24", by: ["Emil"] }],
    claims: [
      { place: "Near side of the stand", people: ["Emil"] },
      { place: "hydraulics", people: ["Emil"] },
    ],
    findings: [{ found: { text: "chafed" } }],
    handing: { from: "Emil", to: "Dora" },
  });
  expect(page.next.length).toBeGreaterThan(0);
  const marten = jobOf("marten-t1", "swap-module").brief;
  const off = shiftPage(
    new Ledger(
      marten,
      writeJob(playJob(marten).slice(0, 20)).map(({ entry }) => entry),
    ),
  ).off;
  expect(off.every(({ key }) => key === "Emil") && off.length > 0).toBe(true);
});

test("how it stood at a moment is how a ledger stands that ends there", () => {
  const entries = writeJob(playJob(brief)).map(({ entry }) => entry);
  for (const n of [0, 5, 20, entries.length - 1])
    expect(pictureOf(ledgerAt(brief, entries, MORNING + n * 60_000))).toBe(
      pictureOf(new Ledger(brief, entries.slice(0, n + 1))),
    );
});

test("who knew what: a device knows what it wrote, what it saw, and what those had seen whom it saw", () => {
  const [one, two, three] = [1, 2, 3].map((seed) => new TestDevice(seed, "run-1")) as [
    TestDevice,
    TestDevice,
    TestDevice,
  ];
  const note = (device: TestDevice, text: string, now: number) =>
    device.write("emil", { kind: "note", text }, MORNING + now);
  const a1 = note(one, "a1", 1);
  const b1 = note(two, "b1", 2);
  two.see([a1]);
  const b2 = note(two, "b2", 3);
  const a2 = note(one, "a2", 4);
  three.see([b2]);
  const c1 = note(three, "c1", 5);
  const all = [a1, b1, b2, a2, c1].map(({ entry }) => entry);
  const known = (device: TestDevice, number: number) =>
    knownTo(all, device.pens.pen.identity.device, number).map(({ body }) => (body.kind === "note" ? body.text : ""));
  expect(known(three, 1)).toEqual(["a1", "b1", "b2", "c1"]);
  expect(known(two, 1)).toEqual(["b1"]);
  expect(known(two, 2)).toEqual(["a1", "b1", "b2"]);
  expect(known(one, 2)).toEqual(["a1", "a2"]);
});

const device = new TestDevice(1, "run-1");
const told = writeJob(playJob(brief).slice(0, 12), device);
const keys = new Map([[device.pens.pen.identity.device, device.pens.pen.identity.key]]);
const lines = writeRun(
  brief,
  keys,
  told.map(({ text }) => text),
);
const rulesOf = (text: string) => readRun(text).faults.map(({ line, rule }) => `${line} ${rule}`);

test("a run as a file is read again as it was written", () => {
  const reading = readRun(`${lines.join("\n")}\n`);
  expect(reading.faults).toEqual([]);
  expect(reading.told).toEqual(told);
  expect(reading.head?.brief).toEqual(brief);
});

test("[V10] [V11] [V12] no run, cut off, a line too few: each is named, and what can be read is given", () => {
  expect(rulesOf("hello\n")).toEqual(["1 V10"]);
  const cut = readRun(lines.slice(0, 8).join("\n"));
  expect([cut.told.length, cut.faults.map(({ rule }) => rule)]).toEqual([7, ["V11"]]);
  // Entry 5 is on line 6; it is missed by the one after it, and by the count.
  expect(rulesOf(lines.toSpliced(5, 1).join("\n"))).toEqual(["6 V5", `${lines.length - 1} V12`]);
  const torn = readRun(lines.join("\n").slice(0, -300));
  expect(torn.faults.map(({ rule }) => rule)).toContain("V11");
});

test("[E1] [V3] a byte changed in the middle of the file names the line and the entry", () => {
  const { entry } = told[4]!;
  const changed = lines.with(5, lines[5]!.replace('"author":"emil"', '"author":"anna"'));
  expect(readRun(changed.join("\n")).faults[0]).toMatchObject({ line: 6, rule: "V3", entry: entry.id });
  const broken = lines.with(5, lines[5]!.slice(0, -9));
  expect(readRun(broken.join("\n")).faults[0]).toMatchObject({ line: 6, rule: "E1" });
});

test("a torque that does not fit is asked about, with the units in which it would", () => {
  // 59.0 lbf·ft = 80.0 N·m and 708 lbf·in = 80.0 N·m (NIST SP 811, B.8).
  expect(doubtTorque({ aim: 80 }, "80 N·m")).toBeUndefined();
  expect(doubtTorque({ aim: 80 }, "59 lbf·ft")).toBeUndefined();
  expect(doubtTorque({ aim: 80 }, "708 lbf·in")).toBeUndefined();
  expect(doubtTorque({ aim: 80 }, "708 lbf·ft")).toEqual({
    read: "708 lbf·ft",
    wanted: "59 lbf·ft (56.1–61.9 lbf·ft)",
    fits: ["708 lbf·in"],
  });
  expect(doubtTorque({ aim: 80 }, "80 lbf·ft")?.fits).toEqual(["80 N·m"]);
  expect(doubtTorque({ aim: 80 }, "59 N·m")?.fits).toEqual(["59 lbf·ft"]);
  const far = doubtTorque({ aim: 80 }, "200 N·m");
  expect(far?.fits).toEqual([]);
  expect(far === undefined ? "" : sayPhrase(["torqueDoubt", far.read, far.wanted, far.fits])).toBe(
    "200 N·m was read and 80 N·m (76–84 N·m) is wanted.",
  );
});

test("of a critical torque nobody sees the other's figure before his own is in", () => {
  const first = emil({ kind: "torqued", at: "flange-bolts", torque: "80 N·m", tool: "wrench" });
  const one = ledgerOf(emil({ kind: "released", at: "flange-bolts" }), first);
  const entry = one.all().at(-1)!;
  expect(torquesFor(one, "flange-bolts", "emil")).toHaveLength(1);
  expect(torquesFor(one, "flange-bolts", "dora")).toEqual([]);
  expect([isHidden(one, entry, "dora"), isHidden(one, entry, "emil")]).toEqual([true, false]);
  const both = ledgerOf(emil({ kind: "released", at: "flange-bolts" }), first, {
    author: "dora",
    body: { kind: "torque value", at: "flange-bolts", torque: "79 N·m", tool: "other wrench" },
  });
  expect(torquesFor(both, "flange-bolts", "dora")).toHaveLength(2);
});
